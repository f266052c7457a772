"""The tables of lifts, fits, push-ins and clearances: readings, and what is ticked between them."""

from __future__ import annotations

from splitline.record.order import StepState
from splitline.ui.paper.table import TRAVEL, PaperRow, PaperSheet
from splitline.ui.work.now import Now
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.tasks_fit import alike, mounted, sequence
from splitline.ui.work.tasks_insertion import PUSHED
from splitline.ui.work.tasks_item import item_task
from splitline.ui.work.tasks_lift import TRIAL, enterable, limits_of_leg, on_site, tried
from splitline.ui.work.tasks_parts import readings_so_far

_REPEATS = {"float-split": 3, "shim": 3, "tilting-pad": 3}  # readings the sheet has room for
LOG_LINES = 30


def item_sheet(now: Now, state: StepState, key: str) -> PaperSheet:
    """The table of an item's step."""
    task = item_task(state, now, ())
    kind = state.plan.kind
    if kind == "fit":
        rows = _mounting(now, state)
    elif kind == "lift":
        rows = _lift(now, state, task)
    elif kind == "insertion":
        rows = _push_in(now, state, task)
    else:
        rows = _clearance(now, state, task)
    first = rows[0] if rows else None
    begin = first.act == "start" if first is not None else False
    columns = tuple(dict.fromkeys(what for row in rows for what in row.limits))
    return PaperSheet(
        key=key,
        kind="item",
        title=state.plan.text or state.plan.id,
        middle={"fit": "mounting", "lift": "lift checks", "insertion": "force log"}.get(kind, "readings"),
        columns=columns,
        rows=rows,
        task=task,
        facts=(("its time limit starts with the first line", "near"),) if begin else (),
    )


def _ends(now: Now, state: StepState, task: Task) -> tuple[tuple[PaperRow, ...], PaperRow]:
    """The start where a time limit begins with it, and the end of the step."""
    starts = task.answers[:1] and task.answers[0].id == "start"
    before = (PaperRow("start", "started", "start"),) if starts else ()
    locked = ""
    if state.plan.witness and state.witness is None:
        locked = f"witness point, {state.plan.witness}: close the step in Work"
    elif any(answer.id == "count" for answer in task.answers):
        locked = "parts to be counted out: in Work"
    return before, PaperRow("done", "step done", "done", locked)


def _repeated(limits: Limits, times: int) -> list[PaperRow]:
    return [
        PaperRow(f"{limits.what} {n}", f"{limits.what} {n}", at=str(n), limits={limits.what: limits})
        for n in range(1, times + 1)
    ]


def _clearance(now: Now, state: StepState, task: Task) -> tuple[PaperRow, ...]:
    """As found, as left and the like, each as often as the sheet has blanks for it."""
    item = next((each for each in now.assessment.plan.clearances if each.id == state.plan.item), None)
    times = _REPEATS.get(item.kind or "", 2) if item is not None else 2
    before, after = _ends(now, state, task)
    rows = [row for limits in task.readings for row in _repeated(limits, times)]
    return (*before, *rows, after)


def _lift(now: Now, state: StepState, task: Task) -> tuple[PaperRow, ...]:
    """Tags and radius first, the trial lift, what was read on it, the end."""
    before, after = _ends(now, state, task)
    wanted = on_site(now.assessment.find("lift", state.plan.item))
    tags = [
        PaperRow(name, f"tag of sling, leg {name.split('.')[1]}", words=name)
        for name in wanted
        if enterable(name) and name != "crane.radius"
    ]
    refused = "checks of the plan fail: a named person accepts them in Work"
    locked = refused if task.answers[:1] and task.answers[0].id == "accept-plan" else ""
    others = [name for name in wanted if not enterable(name)]
    locked = locked or (f"the planner still owes: {', '.join(others)}" if others else "")
    reads = [PaperRow(each.what, each.what, limits={each.what: each}) for each in task.readings if not each.legs]
    reads += _leg_rows(now, state, task)
    trial = () if tried(now, state.plan.id) else (PaperRow(TRIAL, "trial lift, hung well", TRIAL, locked),)
    return (*before, *tags, *reads, *trial, PaperRow("done", "lift done", "done", after.locked or locked))


def _leg_rows(now: Now, state: StepState, task: Task) -> list[PaperRow]:
    """A line a leg, where something is read in legs."""
    result = now.assessment.find("lift", state.plan.item)
    legs = range(1, max((each.legs for each in task.readings), default=0) + 1)
    each_leg = [(n, limits_of_leg(result, n, now.system)) for n in legs]
    return [PaperRow(f"leg {n}", f"leg {n}, load", at=f"leg {n}", limits={own.what: own}) for n, own in each_leg]


def _push_in(now: Now, state: StepState, task: Task) -> tuple[PaperRow, ...]:
    """The force log: travel with pressure or force on each line."""
    before, after = _ends(now, state, task)
    done = sum(entry.what in PUSHED for entry in readings_so_far(now, state.plan.item))
    limits = {TRAVEL: Limits(TRAVEL, "length"), **{each.what: each for each in task.readings}}
    rows = [PaperRow(f"log {n}", f"line {n}", limits=limits) for n in range(done + 1, done + LOG_LINES + 1)]
    return (*before, *rows, after)


def _mounting(now: Now, state: StepState) -> tuple[PaperRow, ...]:
    """Every mounting step that is not done yet: its readings, then its tick."""
    steps = sequence(now, state.plan)
    done = mounted(now, state.plan)
    own = alike(now.assessment.plan, state.plan.id)
    rows: list[PaperRow] = []
    for step in steps:
        part = str(step.number)
        if part in done:
            continue
        read = {e.what for e in readings_so_far(now, state.plan.item) if e.pass_ == part and e.step in own}
        for log in step.readable:
            limits = Limits(log.title, log.kind, log.low, log.high)
            rows.append(PaperRow(f"{part} {log.name}", f"{part}  {log.title}", part=part, limits={log.title: limits}))
        needs = tuple(log.title for log in step.log if log.title not in read)
        sign = step.sign or ""
        mark = {"hold": "H HOLD ", "witness": "W WITNESS "}.get(sign, "")
        label = f"{part}  {mark}{step.text}"
        rows.append(PaperRow(f"{part} done", label, "mounting", part=part, sign=sign, needs=needs))
    if len(done) == len(steps):
        rows.append(_ends(now, state, item_task(state, now, ()))[1])
    return tuple(rows)
