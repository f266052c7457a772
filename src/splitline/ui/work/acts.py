"""What a person at the desk does. Each act stores one entry, checked under the lock, and says what was stored.

RecordError: nothing was stored, and why. With ``desk.after`` set, what is stored was done then and by that person.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from datetime import date
from typing import Any

from splitline.assess.context import Context
from splitline.assess.gauge import gauge_unit
from splitline.assess.item import assess_item
from splitline.assess.result import Check
from splitline.errors import RecordError
from splitline.library.store import Library
from splitline.plan.model import Item
from splitline.record.claims import Claim
from splitline.record.danger import DANGER
from splitline.record.entry import (
    ABSENT,
    AS_FOUND,
    OPEN_POINT,
    POINT_CLOSED,
    WITNESS,
    Accepted,
    Entry,
    Measured,
    Note,
    SetAside,
    Signed,
    Tightened,
    WrongEntry,
)
from splitline.record.facts import closing_note
from splitline.record.job import StepPlan, part_of
from splitline.record.journal import Record
from splitline.record.order import step_states
from splitline.record.progress import brought_back, check_bolts, concession, joint_progress
from splitline.record.stops import check_accept, check_open
from splitline.record.struck import check_strike, live
from splitline.record.tools import check_hands
from splitline.ui.work.counts import counted_in, miscount
from splitline.ui.work.desk import Desk
from splitline.ui.work.gate import ACCEPTED, check_gate
from splitline.ui.work.holds import check_mounting
from splitline.ui.work.instruments import NOT_NOTED, kind_of
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.tasks_fit import alike
from splitline.ui.work.values import tools_said
from splitline.units import System, show

SAME_HAND = "signed by the person who did the work"


def bolts_said(bolts: tuple[int, ...], noun: str = "stud") -> str:
    """``stud 5``, ``bolts 1 + 13``, by what the joint's fasteners are called."""
    if len(bolts) > 6:
        return f"{len(bolts)} {noun}s, {bolts[0]} to {bolts[-1]}"
    return f"{noun}{'s' if len(bolts) > 1 else ''} {' + '.join(map(str, bolts))}"


def stamped(desk: Desk, person: str = "") -> dict[str, Any]:
    """When and by whom: now and here, or as a paper sheet says. ``person``: who signs, where it is somebody else."""
    after = desk.after
    return {
        "done_at": after.at if after else None,
        "done_by": person or (after.by if after else desk.person),
        "entered_by": desk.person,
    }


def _workable(desk: Desk, record: Record, step: str) -> None:
    state = next((s for s in step_states(desk.job, record.entries) if s.plan.id == step), None)
    if state is None:
        raise RecordError("this step is no longer in the plan; nothing was stored")
    if not state.workable:
        raise RecordError(f"{state.plan.text or step}: {state.why or state.state}; nothing was stored")


def tighten(desk: Desk, task: Task, moved: bool = False) -> str:
    """The bolts of the task are pulled."""
    joint, step = desk.job.joint(task.joint), task.step
    if joint is None or step is None or not task.bolts:
        raise RecordError(f"there are no {task.noun}s in hand; nothing was stored")
    now = desk.refresh()
    check_gate(now, step.plan)
    setting = now.set_up(task.joint, task.pass_)
    if lost := now.lost_tool(task.joint, task.pass_):
        raise RecordError(f"{lost}; nothing was stored")
    entry = Tightened(
        uid=desk.uid(task.key),
        **stamped(desk),
        joint=task.joint,
        pass_=task.pass_,
        step=task.place,
        bolts=task.bolts,
        share=task.share,
        torque=task.torque,
        pressure=task.pressure,
        tool=setting.tool if setting else "",
        serial=setting.serial if setting else "",
        lubricant=setting.lubricant if setting else "",
        batch=setting.batch if setting else "",
        library=desk.assessment.library_version,
        moved=moved,
        shown=task.shown,
        crew=desk.person,
        pulled_with=task.pulled_with,
        pressures=task.pressures,
    )
    part = part_of(joint, step.plan.passes, step.plan.bolts)

    def check(record: Record) -> None:
        check_open(desk.job, record, desk.moment(), task.joint, desk.clock_changes(record))
        _workable(desk, record, step.plan.id)
        check_hands(live(record.entries), setting)
        check_bolts(part, record, entry)

    stored = desk.store(entry, check)
    figure = ""
    if task.pressure is not None:
        planned = next((each for each in desk.assessment.plan.joints if each.id == task.joint), None)
        system: System = "US" if desk.assessment.plan.us else "SI"
        figure = show(task.pressure, "pressure", system, gauge_unit(planned))
    elif task.torque is not None:
        figure = show(task.torque, "torque", "US" if desk.assessment.plan.us else "SI")
    turned = "  nut moved" if moved else "  did not move" if task.finish else ""
    return f"stored {stored.entered_at:%H:%M}  {bolts_said(task.bolts, task.noun)}  {figure}{turned}"


def set_aside(desk: Desk, task: Task, bolts: tuple[int, ...], reason: str) -> str:
    """Bolts that cannot be tightened in this pass."""
    joint, step = desk.job.joint(task.joint), task.step
    if joint is None or step is None:
        raise RecordError(f"there are no {task.noun}s to defer; nothing was stored")
    part = part_of(joint, step.plan.passes, step.plan.bolts)
    entry = SetAside(
        uid=desk.uid(f"aside {task.key} {bolts}"), **stamped(desk), joint=task.joint, pass_=task.pass_, bolts=bolts,
        reason=reason,
    )  # fmt: skip

    def check(record: Record) -> None:
        _workable(desk, record, step.plan.id)
        check_bolts(part, record, entry)

    desk.store(entry, check)
    return f"deferred: {bolts_said(bolts, task.noun)}, {reason}. Pass {task.pass_} stays open"


def concede(desk: Desk, task: Task, person: str, reason: str, role: str = "") -> str:
    """A named person lets bolts that were set aside stay so in this pass."""
    joint = desk.job.joint(task.joint)
    if joint is None:
        raise RecordError("no joint is being worked on; nothing was stored")
    state = joint_progress(joint, desk.journal.refresh().entries).named(task.pass_)
    numbers = sorted({entry.number for bolt, entry in state.aside.items() if bolt in task.bolts}) if state else []
    if not numbers or not reason.strip():
        raise RecordError(f"no {task.noun} in hand was deferred, or the reason is missing; nothing was stored")
    for number in numbers:
        desk.store(
            Accepted(uid=uuid.uuid4().hex, done_by=person, entered_by=desk.person, stop=concession(number),
                     reason=reason, role=role)
        )  # fmt: skip
    return f"accepted by {person}: {bolts_said(task.bolts, task.noun)} stay deferred in pass {task.pass_}"


def bring_back(desk: Desk, task: Task, number: int, person: str, reason: str, role: str = "") -> str:
    """A named person brings bolts accepted as set aside by entry ``number`` back into the instruction."""
    joint = desk.job.joint(task.joint or task.item)

    def left(record: Record) -> tuple[int, ...]:
        found = joint_progress(joint, record.entries).left_out if joint is not None else {}
        return tuple(bolt for bolt, entry in found.items() if entry.number == number)

    bolts = left(desk.journal.refresh())
    if not bolts or not reason.strip() or not person.strip():
        raise RecordError("nothing is left out by this entry, or name or reason is missing; nothing was stored")
    entry = Accepted(
        uid=uuid.uuid4().hex, done_by=person, entered_by=desk.person, stop=brought_back(number), reason=reason,
        role=role,
    )  # fmt: skip

    def check(record: Record) -> None:
        if not left(record):
            raise RecordError("it was brought back already; nothing was stored")

    desk.store(entry, check)
    return f"brought back by {person}: {bolts_said(bolts, task.noun)}, {reason}"


def set_up(
    desk: Desk, task: Task, lubricant: str, batch: str, tool: str, serial: str, due: date | None, why: str = "",
    dues: tuple[str, ...] = (),
) -> str:  # fmt: skip
    """Lubricant and tool of this pass, asked once and locked.

    ``why``: the reason of a batch that was not on this joint; ``dues``: the calibration of each of several tools.
    """
    uid = desk.uid(task.key) if task.kind == "set-up" else uuid.uuid4().hex
    earlier = (e for e in desk.journal.refresh().entries if e.uid != uid)
    before = other_batch(earlier, task.joint, lubricant, batch)
    plan = task.step.plan if task.step is not None else StepPlan("", kind="joint", item=task.joint)
    check_gate(desk.refresh(), plan)
    entry = Signed(
        uid=uid,
        **stamped(desk),
        act="set-up",
        step=task.step.plan.id if task.step else "",
        joint=task.joint,
        pass_=task.pass_,
        lubricant=lubricant,
        batch=batch,
        tool=tool,
        serial=serial,
        calibration_due=due,
        crew=desk.person,
        dues=dues if len(set(dues)) > 1 else (),
        batch_before=before,
        reason=why if before else "",
    )

    def check(record: Record) -> None:
        if task.step is not None:
            _workable(desk, record, task.step.plan.id)

    desk.store(entry, check)
    changed = f", {before} BEFORE" if before else ""
    return f"set up: {lubricant}, batch {batch}{changed}; {tools_said(tool, serial)}"


def other_batch(entries: Iterable[Entry], joint: str, lubricant: str, batch: str) -> str:
    """The last batch of this lubricant on this joint, where ``batch`` was never on it; "" where it was, or none."""
    own = [
        e.batch
        for e in live(entries)
        if isinstance(e, Signed) and (e.act, e.joint, e.lubricant) == ("set-up", joint, lubricant) and e.batch
    ]
    return own[-1] if own and batch not in own else ""


def sign(desk: Desk, task: Task, act: str, person: str = "", statement: str = "") -> str:
    """A name under the step of the task: start, done, hold, witness, mounting."""
    if task.step is None:
        raise RecordError("there is nothing to sign; nothing was stored")
    plan = task.step.plan
    if act not in ("hold", WITNESS, ABSENT):
        check_gate(desk.refresh(), plan)
    record = desk.journal.refresh()
    entry = Signed(
        uid=desk.uid(f"{act} {task.key}"),
        **stamped(desk, person),
        act=act,
        step=plan.id,
        role={"hold": plan.hold, WITNESS: plan.witness, ABSENT: plan.witness}.get(act, ""),
        statement=statement,
        seen=plan.statement if act == "hold" else "",
        pass_=task.part if act == "mounting" else "",
        count=record.count,
        head=record.head if record.count else "",
    )

    def check(now: Record) -> None:
        state = next((s for s in step_states(desk.job, now.entries) if s.plan.id == plan.id), None)
        if act in ("hold", WITNESS, ABSENT):
            if act == "hold" and (state is None or state.state != "to sign"):
                raise RecordError(f"{plan.text or plan.id} is not ready to be signed; nothing was stored")
            return
        check_open(desk.job, now, desk.moment(), plan.item or plan.id, desk.clock_changes(now))
        _workable(desk, now, plan.id)
        if act == "mounting":
            own = alike(desk.assessment.plan, plan.id)
            check_mounting(
                live(now.entries), own, plan.item, task.part, task.wait, desk.moment(), desk.clock_changes(now)
            )

    stored = desk.store(entry, check)
    said = {
        "start": "started",
        "trial": "trial lift done",
        "hold": f"signed by {stored.done_by}",
        "witness": f"witnessed by {stored.done_by}",
        ABSENT: "witness called and not present",
        "mounting": f"mounting step {task.part} done, the fit goes on",
    }
    return f"stored {stored.entered_at:%H:%M}  {plan.text or plan.id}: {said.get(act, 'done')}"


def read(
    desk: Desk,
    task: Task,
    limits: Limits,
    value: float,
    typed: str,
    bolt: int | None = None,
    at: str = "",
    uid: str = "",
) -> str:
    """A reading, judged at once, with the instrument taken for such readings in this sitting.

    ``uid``: of a reading that may be given in again, off the same paper sheet.
    """
    tool = desk.instruments.get((desk.hand, kind_of(limits)), NOT_NOTED)
    entry = Measured(
        uid=uid or uuid.uuid4().hex,
        **stamped(desk),
        item=task.item or (task.step.plan.id if task.step else "job"),
        what=limits.what,
        at=at,
        step=task.step.plan.id if task.step else "",
        pass_=task.part or task.pass_,
        bolt=bolt,
        value=value,
        quantity=limits.quantity,
        typed=typed,
        low=limits.low,
        high=limits.high,
        instrument=tool.name,
        serial=tool.serial,
        calibration_due=tool.due,
    )
    desk.store(entry)
    where = f" of {task.noun} {bolt}" if bolt else ""
    word = {
        "inside": "inside its limits",
        "outside": "OUTSIDE its limits, the work stops",
        "not judged": "no limits given",
    }[entry.verdict]
    if entry.verdict == "outside" and entry.what == AS_FOUND:
        word = "OUTSIDE its limits; noted, the work goes on"
    return f"{limits.what}{where} {typed}: {word}"


def count_out(desk: Desk, task: Task, item: str, number: int) -> str:
    """Parts of an item counted out before closing."""
    step = task.step.plan.id if task.step else ""
    entry = Signed(uid=uuid.uuid4().hex, **stamped(desk), act="count-out", step=step, role=item, count=number)
    desk.store(entry)
    found = next((each for each in desk.assessment.plan.items if each.id == item), None)
    title = found.title if found is not None else item
    wanted = counted_in(live(desk.journal.refresh().entries)).get(item, found.quantity if found is not None else None)
    if wanted is not None and number != wanted:
        return f"{title}: {miscount(number, wanted)}"
    return f"stored: {number} out, {title}"


def tag(desk: Desk, task: Task, name: str, text: str) -> str:
    """Words only the job knows: the tag of a sling."""
    step = task.step.plan.id if task.step else ""
    desk.store(Signed(uid=uuid.uuid4().hex, **stamped(desk), act="tag", step=step, role=name, statement=text))
    return f"stored: {name} {text}"


def accept_plan(
    desk: Desk, task: Task, keys: tuple[str, ...], person: str, why: str, item: str = "", role: str = ""
) -> str:
    """A named person lets work go on by a plan with checks that fail or cannot be made.

    ``item``: whose checks, where it is not the task's item but its step.
    """
    desk.store(
        Note(
            uid=uuid.uuid4().hex,
            done_by=person,
            entered_by=desk.person,
            topic=ACCEPTED,
            item=item or task.item or (task.step.plan.id if task.step is not None else ""),
            checks=tuple(sorted(set(keys))),
            text=why,
            role=role,
        )
    )
    return f"accepted by {person}: {why}"


def take_over(desk: Desk, claim: Claim) -> str:
    """Another crew's bolts come into this one's hands; nothing goes into the record."""
    desk.take_over(claim)
    return f"{bolts_said(claim.bolts, desk.noun(claim.joint))} taken over from {claim.crew}"


def strike(desk: Desk, number: int, reason: str) -> str:
    """An entry was wrong; it stays readable."""
    entry = WrongEntry(uid=desk.uid(f"strike {number}"), done_by=desk.person, entry=number, reason=reason)
    desk.store(entry, lambda record: check_strike(record, entry))
    return f"entry {number} is struck: {reason}"


def _may_accept(desk: Desk, record: Record, entry: Accepted) -> None:
    check_accept(desk.job, record, desk.moment(), entry, desk.people, desk.clock_changes(record))


def accept(desk: Desk, stop: str, person: str, reason: str, own: bool = False, role: str = "") -> str:
    """A named person takes the responsibility for a stop; ``own``: for their own entry, warned of that."""
    entry = Accepted(uid=uuid.uuid4().hex, done_by=person, entered_by=desk.person, stop=stop, reason=reason, own=own,
                     role=role)  # fmt: skip
    desk.store(entry, lambda record: _may_accept(desk, record, entry))
    return f"accepted by {person}: {reason}"


def call_danger(desk: Desk, where: str, item: str = "") -> str:
    """DANGER: everything on this plan stops, on every screen, until another person releases it."""
    desk.store(
        Note(uid=uuid.uuid4().hex, done_by=desk.person, topic=DANGER, item=item, text=f"make safe first, {where}")
    )
    return "DANGER stored: every screen of this plan has stopped. Make safe, then call"


def release(desk: Desk, stop: str, person: str, role: str, words: str) -> str:
    """Another named person releases a DANGER, in a role and with words."""
    entry = Accepted(
        uid=uuid.uuid4().hex, done_by=person, entered_by=desk.person or person, stop=stop, reason=words, role=role
    )
    desk.store(entry, lambda record: _may_accept(desk, record, entry))
    return f"DANGER released by {person}, {role}: {words}"


def note(desk: Desk, text: str, topic: str = "note", item: str = "", part: str = "") -> str:
    """Words into the record; ``part``: in which mounting step."""
    desk.store(Note(uid=uuid.uuid4().hex, done_by=desk.person, topic=topic, item=item, part=part, text=text))
    return f"stored: {topic}"


def _step(task: Task) -> str:
    return task.step.plan.id if task.step else ""


def part_used(
    desk: Desk, task: Task, item: str, count: int, batch: str, cured: date | None = None, failed: tuple[Check, ...] = ()
) -> str:
    """A part or consumable of the plan (``item`` is its id) or another one (``item`` is what it is called) was used.

    ``failed``: checks of the plan it does not pass, which somebody was told of and fitted it all the same.
    """
    if not item.strip():
        raise RecordError("which part it was is missing; nothing was stored")
    entry = Signed(
        uid=uuid.uuid4().hex, **stamped(desk), act="part", step=_step(task), role=item, count=count, batch=batch,
        cure_date=cured, checks=tuple(check.key for check in failed),
        statement="; ".join(f"{check.title}: {check.note}" for check in failed),
    )  # fmt: skip
    desk.store(entry)
    said = f", cured {cured.isoformat()}" if cured is not None else ""
    return f"stored: {count} {desk.titles.get(item, item)}, batch {batch or 'not noted'}{said}"


def aged(desk: Desk, item: Item, cured: date) -> tuple[Check, ...]:
    """Checks a seal of this cure date does not pass on the day it is fitted: its shelf life, by the plan's own assessment."""
    plan = desk.assessment.plan
    context = Context(Library.load(desk.path.parent), desk.moment().date(), system="US" if plan.us else "SI")
    return assess_item(item.model_copy(update={"cure_date": cured}), plan, context).checks_of("fails")


def count_in(desk: Desk, task: Task, item: str, number: int) -> str:
    """Parts that have to come out again counted as they go in."""
    desk.store(Signed(uid=uuid.uuid4().hex, **stamped(desk), act="count-in", step=_step(task), role=item, count=number))
    return f"stored: {number} in, {desk.titles.get(item, item)}"


def open_point(desk: Desk, task: Task, text: str, owner: str, due: date | None) -> str:
    """Something left to do: what, who sees to it, by when."""
    if not text.strip() or not owner.strip():
        raise RecordError("an open point says what is to be done and who sees to it; nothing was stored")
    desk.store(
        Note(uid=uuid.uuid4().hex, **stamped(desk), topic=OPEN_POINT, item=task.item, text=text, owner=owner, due=due)
    )
    return f"open point stored: {text}, {owner}{f' by {due.isoformat()}' if due else ''}"


def close_point(desk: Desk, number: int, text: str) -> str:
    """An open point is done; ``text`` says what was done."""

    def check(record: Record) -> None:
        alive = live(record.entries)
        open_ones = {e.number for e in alive if isinstance(e, Note) and e.topic == OPEN_POINT}
        if number not in open_ones or closing_note(number, alive) is not None:
            raise RecordError(f"there is no open point in entry {number}; nothing was stored")

    entry = Note(uid=uuid.uuid4().hex, **stamped(desk), topic=POINT_CLOSED, text=text, closes=number)
    desk.store(entry, check)
    return f"open point {number} closed: {text}"
