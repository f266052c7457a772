"""What tasks of every kind of item are made of: title, witness and waits, answers, the readings so far."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.plan.model import Item
from splitline.record.entry import Measured, Signed
from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.ui.work.counts import count_lines, counts_open, wait_left
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer
from splitline.units import as_read, show


def used_here(items: Sequence[Item], step: StepPlan | None) -> tuple[Item, ...]:
    """Items of the plan that are used in a step, or in what it works on."""
    names = {step.id, step.item} - {""} if step is not None else set()

    def uses(item: Item) -> tuple[str, ...]:
        return (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()

    return tuple(item for item in items if names & set(uses(item)))


def seal_lines(now: Now, step: StepPlan) -> tuple[tuple[str, str], ...]:
    """What the screen says of seals of this step that stand in the record without batch and cure date."""
    entered = {e.role for e in now.alive if isinstance(e, Signed) and e.act == "part"}
    left = [
        each for each in used_here(now.assessment.plan.items, step) if each.kind == "seal" and each.id not in entered
    ]
    return tuple((f"enter batch and cure date: {each.title} (More, Parts, points)", "on-site") for each in left)


def title_of(step: StepState) -> str:
    return step.plan.text or step.plan.id


def common(step: StepState, now: Now, counts: bool = True) -> tuple[tuple[str, str], ...]:
    """Who is called to witness, waits that are not over; ``counts``: what is to be counted out now."""
    lines: list[tuple[str, str]] = []
    if step.plan.witness:
        said = f", witnessed by {step.witness.done_by}" if step.witness else ": call before it starts"
        lines.append((f"Witness point, {step.plan.witness}{said}", "near"))
    waits = wait_left(now, step)
    if waits:
        lines.append((waits, "fails"))
    if counts:
        lines += count_lines(counts_open(now, step.plan.id))
    lines += seal_lines(now, step.plan)
    return tuple(lines)


def answers(step: StepState, now: Now, ready: bool = True) -> tuple[Answer, ...]:
    """Start where a time limit begins at the start; Done otherwise, when everything is counted out."""
    begins = {window.plan.start for window in now.windows} | {window.plan.end for window in now.windows}
    if step.started is None and f"{step.plan.id}.start" in begins:
        return (Answer("start", "Start", "enter", not wait_left(now, step)), Answer("reading", "Reading", "r"))
    if counts_open(now, step.plan.id):
        rest = (Answer("count", "Count out", "c"), Answer("reading", "Reading", "r"))
        return (Answer("done", "Done", "enter", False), *(rest if ready else reversed(rest)))
    ready = ready and not wait_left(now, step)
    return (Answer("done", "Done", "enter", ready), Answer("reading", "Reading", "r"))


def readings_so_far(now: Now, item: str) -> list[Measured]:
    return [entry for entry in now.alive if isinstance(entry, Measured) and entry.item == item]


def said(entry: Measured, now: Now) -> tuple[str, str]:
    value = entry.typed or show(entry.value, as_read(entry.quantity), now.system)
    where = f" {entry.at}" if entry.at else ""
    if entry.bolt is not None:
        joint = now.job.joint(entry.item)
        where += f" {joint.noun if joint else 'stud'} {entry.bolt}"
    style = {"inside": "ok", "outside": "fails"}.get(entry.verdict, "dim")
    return f"{entry.what}{where}  {value}  {entry.verdict}  {entry.done_by}", style
