"""The task of a step that is no joint: a plain one, or that of its item."""

from __future__ import annotations

from splitline.record.order import StepState
from splitline.ui.work.gate import shut_task
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Limits, Task
from splitline.ui.work.tasks_clearance import clearance_task
from splitline.ui.work.tasks_fit import mounted_task, mounting_task
from splitline.ui.work.tasks_insertion import insertion_task
from splitline.ui.work.tasks_lift import lift_task
from splitline.ui.work.tasks_parts import answers, common, title_of
from splitline.ui.work.tasks_test import test_task

# What can be read in a step that points at nothing, and is no test with readings of its own.
PLAIN = ("length", "pressure", "time", "temperature", "force", "torque", "angle")


def item_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The task of a step that can be worked on."""
    kind = step.plan.kind
    if kind and now.assessment.find(kind, step.plan.item) is None:
        lines = (
            ("The plan's numbers for this could not be worked out, or it has a mistake.", "missing"),
            ("Nothing is done here before the planner has mended that.", "strong"),
        )
        return Task("nothing", f"unknown {step.plan.id}", title_of(step), "", "", (), lines, later, step=step)
    shut = shut_task(step, now, later, title_of(step)) if kind != "lift" else None  # a lift shows its load beside it
    if shut is not None:
        return shut
    if kind == "fit":
        found = mounting_task(step, now, later)
        return found if found is not None else mounted_task(step, now, later)
    if kind == "insertion":
        return insertion_task(step, now, later)
    if kind == "clearance":
        return clearance_task(step, now, later)
    if kind == "lift":
        return lift_task(step, now, later)
    return test_task(step, now, later) or _plain(step, now, later)


def _plain(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    lines: list[tuple[str, str]] = [(title_of(step), "strong"), ("", ""), *common(step, now)]
    if step.started is not None:
        lines.append((f"started {step.started:%H:%M}", "dim"))
    number = next((n for n, state in enumerate(now.states, 1) if state.plan.id == step.plan.id), 0)
    return Task(
        kind="plain",
        key=f"step {step.plan.id} {step.started is not None} {now.last_strike}",
        title=title_of(step),
        right=f"step {number} of {len(now.states)}",
        lines=tuple(lines),
        answers=(*answers(step, now), *later),
        readings=tuple(Limits(kind, kind) for kind in PLAIN),
        step=step,
        item=step.plan.item,
    )
