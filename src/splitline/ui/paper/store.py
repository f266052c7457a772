"""What a filled table becomes: ordinary entries, one act each, by the same way as work on the fitter's screen."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from splitline.errors import RecordError
from splitline.record.entry import AS_FOUND
from splitline.record.order import StepState
from splitline.ui.paper.joints import pass_task
from splitline.ui.paper.table import COUNT, MOVED, TRAVEL, Filled, Judged, PaperRow, PaperSheet, judge
from splitline.ui.work import acts
from splitline.ui.work.desk import After, Desk
from splitline.ui.work.flow_instrument import taken
from splitline.ui.work.flow_set_up import SetUp
from splitline.ui.work.gate import check_gate
from splitline.ui.work.now import Now
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_item import item_task
from splitline.units import System

if TYPE_CHECKING:
    from splitline.ui.paper.screen import PaperScreen

_MOST = 5  # readings outside their limits that are named one by one


@dataclass(frozen=True, slots=True)
class Todo:
    """One entry to be stored: done at, by whom, of which rows."""

    what: str  # "tighten", "read", "tag", or the act of a signature
    rows: tuple[PaperRow, ...]
    at: datetime
    by: str
    read: str = ""  # what is read
    judged: Judged | None = None
    where: str = ""
    moved: bool = False
    statement: str = ""


def todos(sheet: PaperSheet, filled: Filled, system: System) -> list[Todo]:
    """Entries in the order they are stored. Studs before readings: one outside its limits stops what comes after it."""
    when = filled.who_when(sheet)
    pulls: dict[tuple[object, ...], list[PaperRow]] = {}
    rest: list[Todo] = []
    for row in sheet.rows:
        at, by = when[row.key]
        rest += _readings(row, filled, system, at, by)
        tick = filled.ticks.get(row.key)
        if not tick:
            continue
        if row.act == "tighten":
            alike = row.limits.get("torque"), row.limits.get("pressure")
            pulls.setdefault((row.place, tick, at, by, alike), []).append(row)
        else:
            same = acts.SAME_HAND if row.act == "hold" and by in _hands(sheet, filled, row, when) else ""
            rest.append(Todo(row.act, (row,), at, by, statement=same))
    found = [Todo("tighten", tuple(rows), when[rows[0].key][0], when[rows[0].key][1],
                  moved=filled.ticks[rows[0].key] == MOVED) for rows in pulls.values()]  # fmt: skip
    return [*found, *rest]


def _hands(sheet: PaperSheet, filled: Filled, row: PaperRow, when: dict[str, tuple[datetime, str]]) -> set[str]:
    """Who did the work that this row signs, as far as the table tells."""
    own = {when[each.key][1] for each in sheet.rows if each.part == row.part and each.act == "done" and each.open}
    return own or {filled.by}


def _readings(row: PaperRow, filled: Filled, system: System, at: datetime, by: str) -> list[Todo]:
    own = {what: text for (key, what), text in filled.values.items() if key == row.key and text}
    if row.words:
        return [Todo("tag", (row,), at, by, row.words, where=text) for text in own.values()]
    where = judge(own[TRAVEL], row.limits[TRAVEL], system).typed if own.get(TRAVEL) else row.at
    return [
        Todo("read", (row,), at, by, what, judge(own[what], limits, system), where)
        for what, limits in row.limits.items()
        if what in own and what != TRAVEL
    ]


def begin(desk: Desk, sheet: PaperSheet, given: SetUp | None, at: datetime, by: str) -> int:
    """The plan, and the set-up of the pass where it is new, before the first entry; how many entries that made.

    RecordError: the plan was changed since it was worked by, or the set-up is refused.
    """
    known = any(entry.kind == "plan" for entry in desk.journal.refresh().entries)
    if known and desk.changes():
        raise RecordError("the plan was changed since; go on by it in Work first. Nothing was stored")
    made = int(desk.stand_plan())
    if given is not None and sheet.set_up:
        _as_done(
            desk, sheet, at, by,
            lambda: acts.set_up(
                desk, sheet.task, given.lubricant, given.batch, given.tool, given.serial, given.due, given.why, given.dues
            ),
        )  # fmt: skip
        made += 1
    return made


def carry_out(desk: Desk, sheet: PaperSheet, todo: Todo) -> str:
    """Store one entry; what was stored, in words. RecordError: it was not, and why."""
    return _as_done(desk, sheet, todo.at, todo.by, lambda: _act(desk, sheet, todo))


async def instruments(screen: PaperScreen, found: list[Todo]) -> bool:
    """What every kind of reading was taken with, asked once each and person; False: somebody went back."""
    for todo in found:
        limits = todo.rows[0].limits.get(todo.read)
        if todo.what != "read" or limits is None:
            continue
        before, screen.desk.after = screen.desk.after, After(todo.at, todo.by)
        try:
            if not await taken(screen, limits):
                return False
        finally:
            screen.desk.after = before
    return True


def _as_done(desk: Desk, sheet: PaperSheet, at: datetime, by: str, act: Callable[[], str]) -> str:
    before, pairing = desk.after, desk.pairing
    desk.after, desk.pairing = After(at, by), sheet.pairing
    try:
        return act()
    finally:
        desk.after, desk.pairing = before, pairing


def _act(desk: Desk, sheet: PaperSheet, todo: Todo) -> str:
    row = todo.rows[0]
    if todo.what == "read":
        return _read(desk, sheet, todo)
    if todo.what == "tag" and not todo.read.startswith(COUNT):
        return acts.tag(desk, sheet.task, todo.read, todo.where)
    now = desk.refresh()
    state = _state(now, sheet, row)
    if todo.what == "tag":
        return acts.count_out(desk, item_task(state, now, ()), todo.read.removeprefix(COUNT), int(todo.where))
    if todo.what in ("hold", "witness"):
        task = Task("sign", f"sign {state.plan.id} {now.record.count}", step=state, item=state.plan.item)
        return acts.sign(desk, task, todo.what, todo.by, todo.statement)
    if todo.what == "tighten":
        bolts = tuple(each.bolt for each in todo.rows if each.bolt is not None)
        check_gate(now, state.plan)
        task = pass_task(now, state, sheet.task.pass_, bolts)
        if task.kind != "bolts" or task.bolts != bolts or task.pass_ != sheet.task.pass_:
            raise RecordError(f"{acts.bolts_said(bolts)}: no longer open in this pass; nothing was stored")
        _ready(task, "done")
        return acts.tighten(desk, task, todo.moved)
    task = item_task(state, now, ())
    if todo.what == "mounting":
        if task.kind != "mounting" or task.part != row.part:
            raise RecordError(f"mounting step {row.part} is not the next one; nothing was stored")
        _ready(task, "done")
        return acts.sign(desk, task, "mounting", todo.by, task.lines[0][0])
    _ready(task, todo.what)
    return acts.sign(desk, task, todo.what)


def _state(now: Now, sheet: PaperSheet, row: PaperRow) -> StepState:
    step = sheet.task.step.plan.id if sheet.task.step is not None else row.part
    state = next((each for each in now.states if each.plan.id == step), None)
    if state is None:
        raise RecordError("this step is no longer in the plan; nothing was stored")
    return state


def _ready(task: Task, act: str) -> None:
    """RecordError unless the fitter's screen would take this act now."""
    first = task.answers[0] if task.answers else None
    if task.finish:  # its two answers are for one act: did the nut move
        first = next((answer for answer in task.answers if answer.id == act), first)
    if first is not None and first.id == act and first.ready:
        return
    wanting = [text for text, style in task.lines if style in ("fails", "missing", "on-site") and text]
    if first is not None and first.id != act:
        wanting.append(f"{first.label} comes first")
    raise RecordError(f"{task.title}: {wanting[-1] if wanting else 'not ready'}; nothing was stored")


def _read(desk: Desk, sheet: PaperSheet, todo: Todo) -> str:
    row, judged = todo.rows[0], todo.judged
    limits = row.limits.get(todo.read)
    task = replace(sheet.task, part=row.part or sheet.task.part)
    if row.reads:  # of a step of the order of work: its own task tells what is read now, and by what it is judged
        now = desk.refresh()
        task = item_task(_state(now, sheet, row), now, ())
        limits = next((each for each in task.readings if each.what == todo.read), None)
        if limits is None:
            raise RecordError(f"{row.label}: not yet, by the time given; nothing was stored")
    if judged is None or judged.value is None or limits is None:
        raise RecordError(f"{todo.read}: the value cannot be read; nothing was stored")
    strike = desk.refresh().last_strike
    same = (task.item, task.pass_, task.part, row.bolt, limits.what, todo.where, judged.typed, todo.at, todo.by, strike)
    uid = uuid.uuid5(uuid.NAMESPACE_OID, "paper " + repr(same)).hex  # the same line of the same sheet, twice, is once
    return acts.read(desk, task, limits, judged.value, judged.typed, row.bolt, todo.where, uid)


def summary(sheet: PaperSheet, filled: Filled, found: list[Todo], given: SetUp | None) -> list[tuple[str, str]]:
    """What Enter all stores, in words, before it does."""
    lines: list[tuple[str, str]] = []
    if given is not None and sheet.set_up:
        lines.append((f"set-up: {given.lubricant}, batch {given.batch}; {given.tool} {given.serial}", ""))
    pulled = [row.bolt for todo in found if todo.what == "tighten" for row in todo.rows if row.bolt is not None]
    if pulled:
        moved = sum(len(todo.rows) for todo in found if todo.moved)
        more = f", {moved} moved" if moved else ""
        lines.append((f"tightened: {len(pulled)} studs in {' '.join(sheet.middle.split())}{more}", ""))
    reads = [todo for todo in found if todo.what == "read"]
    if reads:
        lines.append((f"readings: {len(reads)}", ""))
    outside = [_outside(todo) for todo in reads if todo.judged is not None and todo.judged.outside]
    lines += [(text, "fails") for text in outside[:_MOST]]
    if len(outside) > _MOST:
        lines.append((f"▲ and {len(outside) - _MOST} more OUTSIDE: all in the wrong unit?", "fails"))
    signed = [todo for todo in found if todo.what not in ("read", "tighten")]
    for todo in signed[:6]:
        said = todo.where or todo.by
        lines.append((f"{todo.rows[0].label}: {said}{f', {todo.statement}' if todo.statement else ''}", ""))
    if len(signed) > 6:
        lines.append((f"and {len(signed) - 6} more ticks", ""))
    names = ", ".join(dict.fromkeys(todo.by for todo in found))
    times = [todo.at for todo in found]
    if times:
        span = f"{min(times):%d %b %H:%M}" + (f" to {max(times):%d %b %H:%M}" if max(times) > min(times) else "")
        lines.append((f"done by {names}, {span}", "strong"))
    left = [row.label for row in sheet.rows if row.open and row.key not in filled.ticks] if pulled else []
    if left:
        lines.append((f"left open: {' '.join(left[:24])}{' …' if len(left) > 24 else ''}", "near"))
    return lines


def _outside(todo: Todo) -> str:
    judged = todo.judged
    slip = " A slip of the pen or the finger?" if judged is not None and judged.far else ""
    stops = "noted as a deviation" if todo.read == AS_FOUND else "the work stops until it is accepted"
    return f"▲ {_place(todo)} {todo.read} {judged.typed if judged else ''}: OUTSIDE, {stops}.{slip}"


def _place(todo: Todo) -> str:
    row = todo.rows[0]
    return f"stud {row.bolt}" if row.bolt is not None else todo.where or row.label
