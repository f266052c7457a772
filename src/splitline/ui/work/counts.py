"""What keeps a step from going on: waits that are not over, parts not counted out."""

from __future__ import annotations

from splitline.plan.model import Item
from splitline.record.order import StepState
from splitline.ui.work.now import Now


def wait_left(now: Now, step: StepState) -> str:
    """The wait that must be over before this step may start, or be done once it is started; "" if none."""
    moment = "start" if step.started is None else "done"
    names = {f"{step.plan.id}.{moment}", f"{step.plan.item}.{moment}"}
    return next((w.said for w in now.windows if w.phase == "running" and w.wait > 0 and w.plan.end in names), "")


def counts_open(now: Now, step: str) -> tuple[Item, ...]:
    """Items still to be counted out in this step, or counted wrong."""
    result = now.assessment.find("step", step)
    if result is None:
        return ()
    checks = [check for check in result.checks if check.key == "count_out" and check.verdict in ("on-site", "fails")]
    named = {need.removeprefix("counted:") for check in checks for need in check.needs}
    titles = {check.title.removeprefix("Counted out: ") for check in checks}
    return tuple(item for item in now.assessment.plan.items if item.id in named or item.title in titles)


def count_lines(items: tuple[Item, ...]) -> tuple[tuple[str, str], ...]:
    """What the screen says of them."""
    return tuple((f"count out before closing: {item.title}, {_how_many(item)}", "on-site") for item in items)


def _how_many(item: Item) -> str:
    return f"{item.quantity} of them" if item.quantity is not None else "all"
