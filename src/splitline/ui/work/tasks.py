"""What is to be done now: stops first, then signatures, then the work of the step."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from splitline.record.danger import is_danger
from splitline.record.entry import Measured, WrongEntry
from splitline.record.order import StepState
from splitline.record.stops import Stop
from splitline.ui import marks
from splitline.ui.work.now import Now
from splitline.ui.work.old_values import old_said
from splitline.ui.work.task import Answer, Task
from splitline.ui.work.tasks_fit import sequence
from splitline.ui.work.tasks_item import item_task
from splitline.ui.work.tasks_joint import gap_unread, joint_task, readings_of, to_measure
from splitline.ui.work.tasks_parts import said
from splitline.ui.work.values import instructed
from splitline.units import show

LATER = (
    Answer("wrong", "Correction", "w"),
    Answer("stop", "Stop work", "x"),
    Answer("more", "More", "m"),
)

DETAILS = 4  # values of a changed plan that stand on the screen of its stop
READ = 5  # readings that stand on the screen of a signature
SEEN = "I have seen"  # before the statement a hold is signed on
LAST = 0.2  # share of a time limit from which it stands in the middle of the screen

ACTS = ("stopped", "set-up", "bolts", "mounting", "plain")  # kinds of task in which somebody does something


def task_now(now: Now) -> Task:
    """The one instruction of this screen, with the cautions of its act."""
    task = _task(now)
    if task.step is None or task.kind not in ACTS:
        return task
    return replace(task, cautions=now.assessment.cautions(task.step.plan.id, act_of(task, now)))


def act_of(task: Task, now: Now) -> str:
    """The act of a task, by the name its cautions are asked with."""
    if task.kind == "mounting":
        steps = sequence(now, task.step.plan) if task.step is not None else ()
        return next((each.name for each in steps if str(each.number) == task.part), "")
    return "" if task.kind == "plain" else task.kind


def _task(now: Now) -> Task:
    if now.trouble:
        lines = (
            ("Nothing can be stored here.", "fails"),
            (now.trouble, "strong"),
            ("", ""),
            ("Do not work on.", "strong"),
        )
        return Task("nothing", "trouble", now.job.title, "CANNOT STORE", "", (), lines, LATER[2:])
    step = now.step()
    item = step.plan.item if step else ""
    # A reading of a step that points at nothing stands under the step's own id.
    own = step.plan.id if step is not None else ""
    here = [each for each in now.stops if each.item in ("", item, own)]
    stop = next((each for each in here if is_danger(each.key)), here[0] if here else None)
    if stop is not None:
        return _stopped(stop, here, step, now, item)
    if step is None:
        return _nothing(now)
    if step.state == "waits":
        return _waiting(step)
    if step.state == "to sign":
        return _to_sign(step, now)
    if step.plan.kind == "joint":
        return _hurried(joint_task(step, now, LATER), now)
    return _hurried(item_task(step, now, LATER), now)


def _stopped(stop: Stop, here: list[Stop], step: StepState | None, now: Now, item: str) -> Task:
    """The stop that holds, and what else does; a danger stands alone."""
    if is_danger(stop.key):
        danger_lines = (("DANGER. Make safe. Nobody works on.", "fails"), (now.said(stop), "strong"))
        return Task(
            "stopped", f"stop {stop.key}", _title(step, now), "DANGER", "", (), danger_lines, LATER[2:], item=item
        )
    return Task(
        kind="stopped",
        key=f"stop {stop.key}",
        title=_title(step, now),
        middle="STOPPED",
        lines=(
            ("STOPPED", "fails"),
            (now.said(stop), "strong"),
            *_details(stop, step, now),
            *((f"and then: {now.said(each)}", "near") for each in here[1:3]),
            ("", ""),
            ("It goes on when a named person accepts this with a reason,", "dim"),
            ("or when the entry behind it is struck by a correction.", "dim"),
        ),
        answers=(LATER[0], Answer("accept", "Accept", "a", guarded=True), *LATER[1:]),
        step=step,
        item=item,
        stop=stop.key,
    )


def _waiting(step: StepState) -> Task:
    """A step that is not its turn yet, and why."""
    return Task(
        kind="nothing",
        key=f"waits {step.plan.id}",
        title=step.plan.text or step.plan.id,
        middle="waits",
        lines=(
            (f"{marks.WAITS} This step waits.", "near"),
            (step.why, "strong"),
            ("", ""),
            ("Esc goes back to the step you were at; More › Steps to any other.", "dim"),
        ),
        answers=(Answer("step-back", "Back", "enter"), *LATER),
        step=step,
    )


def _details(stop: Stop, step: StepState | None, now: Now) -> list[tuple[str, str]]:
    """What a stop is about: of a changed plan the values, old and new, and what was pulled at the old ones."""
    lines = [(each, "strong") for each in stop.details[:DETAILS]]
    more = len(stop.details) - DETAILS
    lines += [(f"and {more} more values; the record holds both plans whole", "dim")] if more > 0 else []
    if stop.details and step is not None and step.joint is not None:
        old = (old_said(now, step.plan.item, each) for each in step.joint.passes)
        lines += [(said, "near") for said in old if said]
    return lines


def _hurried(task: Task, now: Now) -> Task:
    """With the time limits that are about to run out above everything else it says."""
    short = [w for w in now.windows if w.phase == "running" and w.left is not None and w.plan.at_most is not None]
    lines = tuple(
        (f"{marks.WINDOW} {w.said}, over at {now.at + timedelta(seconds=w.left):%H:%M}", "fails")
        for w in short
        if w.left is not None and w.left < LAST * (w.plan.at_most or 0.0)
    )
    return replace(task, lines=(*lines, *task.lines)) if lines else task


def fault(error: Exception) -> Task:
    """What stands on the screen when the program itself breaks down."""
    lines = (
        ("This program met a fault of its own. What it said was stored is stored; nothing else is.", "fails"),
        (f"{type(error).__name__}: {error}", ""),
        ("", ""),
        ("Work from the printed sheet, and tell whoever looks after the program.", "strong"),
    )
    return Task("nothing", f"fault {error}", "Fault", "", "", (), lines, LATER[2:])


def _title(step: StepState | None, now: Now) -> str:
    return (step.plan.text or step.plan.id) if step else now.job.title


def _nothing(now: Now) -> Task:
    waiting = [state for state in now.states if state.state == "waits"]
    done = not waiting and bool(now.states) and not now.problems
    said = "Everything in the order of work is done and signed." if done else "Nothing can be worked on now."
    lines = [(said, "strong"), ("", "")]
    lines += [(f"{state.plan.text or state.plan.id}: {state.why}", "dim") for state in waiting[:6]]
    if now.problems:
        lines.append(
            ("The plan has mistakes; what they are in is left out here. Its planner has to mend them:", "fails")
        )
        lines += [(problem, "") for problem in now.problems[:6]]
    return Task(
        "nothing", "nothing", now.job.title, "", "", (), tuple(lines), (Answer("record", "Record", "y"), *LATER)
    )


def _witness(step: StepState, now: Now) -> Task:
    lines = (
        ("◇ WITNESS POINT", "near"),
        (f"{step.plan.text or step.plan.id}: the work is done.", "strong"),
        (f"Called to witness: {step.plan.witness}", "strong"),
        ("", ""),
        ("Whether they were there goes on record; nothing else waits for it.", "dim"),
    )
    return Task(
        kind="sign",
        key=f"witness {step.plan.id} {now.record.count}",
        title=step.plan.text or step.plan.id,
        middle="witness point",
        lines=lines,
        answers=(Answer("called", "Witness", "s"), *LATER),
        step=step,
        item=step.plan.item,
    )


def _to_sign(step: StepState, now: Now) -> Task:
    if step.asks_witness:
        return _witness(step, now)
    last = step.done.strftime("%H:%M") if step.done else ""
    lines = [
        (f"{marks.HOLD} HOLD POINT", "near"),
        *(((f"{SEEN}: {step.plan.statement}", "strong"),) if step.plan.statement else ()),
        (f"{step.plan.text or step.plan.id}: the work is done{f', {last}' if last else ''}.", "strong"),
        (f"To be signed by: {step.plan.hold}", "strong"),
        *_short(step),
        *_read_here(step, now),
        *struck_readings(now, step.plan.item),
        ("", ""),
        ("Nothing later in the order of work starts before that.", "dim"),
        (f"The signature is given on {now.record.count} entries, record code {now.record.head[:12]}.", "dim"),
    ]
    task = Task(
        kind="sign",
        key=f"sign {step.plan.id} {now.record.count}",
        title=step.plan.text or step.plan.id,
        middle="hold point",
        lines=tuple(lines),
        answers=(Answer("sign", "Sign", "s"), *LATER),
        step=step,
        item=step.plan.item,
    )
    return _with_readings(task, step, now) if step.plan.kind == "joint" and step.joint is not None else task


def _short(step: StepState) -> list[tuple[str, str]]:
    """Studs the joint is closed without."""
    short = step.joint.short if step.joint is not None else ()
    said = " + ".join(map(str, short))
    return [(f"CLOSED WITHOUT {said}: deferred and accepted, not pulled to the end", "caution")] if short else []


def _read_here(step: StepState, now: Now) -> list[tuple[str, str]]:
    """What was read in this step, those outside their limits first: it is what the signature stands for."""
    plan = step.plan
    read = [
        e
        for e in now.alive
        if isinstance(e, Measured) and (e.step == plan.id or (not e.step and bool(plan.item) and e.item == plan.item))
    ]
    loud = [e for e in read if e.verdict == "outside"]
    quiet = [e for e in read if e.verdict != "outside"]
    shown = [*loud[-READ:], *quiet[-max(READ - len(loud), 1) :]]
    lines = [said(entry, now) for entry in shown]
    more = len(read) - len(shown)
    return lines + ([(f"and {more} more readings in the record", "dim")] if more else [])


def struck_readings(now: Now, item: str) -> tuple[tuple[str, str], ...]:
    """Readings that had stopped the work and were struck: who signs must know of them."""
    if not item:
        return ()
    entries = {entry.number: entry for entry in now.record.entries}
    out = []
    for strike in now.record.entries:
        old = entries.get(strike.entry) if isinstance(strike, WrongEntry) else None
        if (
            isinstance(old, Measured)
            and isinstance(strike, WrongEntry)
            and old.verdict == "outside"
            and old.item == item
        ):
            joint = now.job.joint(item)
            where = (
                f" of {joint.noun if joint else 'stud'} {old.bolt}" if old.bolt else f" at {old.at}" if old.at else ""
            )
            text = (
                f"struck after it stopped the work: {old.what}{where} {old.typed}, entry {old.number}: {strike.reason}"
            )
            out.append((text, "near"))
    return tuple(out[-4:])


def _with_readings(task: Task, step: StepState, now: Now) -> Task:
    """A joint is signed with its gaps and stretches read."""
    last = step.joint.passes[-1].plan if step.joint and step.joint.passes else None
    if last is None:
        return task
    unread = to_measure(now, step.plan.item, last.bolts) if last.share == 1.0 else ()
    open_ = [(f"stretch not read yet: {' '.join(map(str, unread))}", "on-site")] if unread else []
    gap = gap_unread(now, step.plan.item, step.plan.id)
    if gap is not None:
        open_.append((f"gap not read yet: up to {show(gap, 'length', now.system)}", "on-site"))
    values = instructed(now.joint(step.plan.item), now.assessment.find("joint", step.plan.item), last, last.bolts[0])
    first, *others = task.answers
    return replace(
        task,
        lines=(*task.lines[:4], *open_, *task.lines[4:]),
        doubt="; ".join(text for text, _ in open_),
        answers=(first, Answer("reading", "Reading", "r"), *others),
        readings=readings_of(now, step.plan.item, values, last.share, last.bolts[0]),
        joint=step.plan.item,
        noun=whole.noun if (whole := now.job.joint(step.plan.item)) else "stud",
        pass_=last.name,
        share=last.share,
        bolts=unread[:4],
    )
