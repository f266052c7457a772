"""Parts of a step, and seals whose batch and cure date nobody entered yet."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.plan.model import Item
from splitline.record.entry import Signed
from splitline.record.job import StepPlan
from splitline.ui.work.now import Now


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
