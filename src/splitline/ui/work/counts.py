"""What keeps a step from going on: waits that are not over, parts not counted out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from splitline.record.entry import Entry, Signed
from splitline.record.order import StepState
from splitline.ui.work.now import Now


def wait_left(now: Now, step: StepState) -> str:
    """The wait that must be over before this step may start, or be done once it is started; "" if none."""
    own = (step.plan.id, step.plan.item)
    starts = {f"{name}.start" for name in own}
    timed = starts & {moment for window in now.windows for moment in (window.plan.start, window.plan.end)}
    # A step whose start no time limit asks for is done at once: nothing but its end can wait.
    names = starts if step.started is None and timed else {f"{name}.done" for name in own}
    return next((w.holds for w in now.windows if w.holds and w.plan.end in names), "")


@dataclass(frozen=True, slots=True)
class ToCount:
    """An item to be counted out before something is closed."""

    item: str  # its id
    title: str
    wanted: int
    counted: int | None  # how many were counted so far, not the right number
    all_of_them: bool  # the plan gives no number: whoever counts says how many there were


def counts_open(now: Now, step: str) -> tuple[ToCount, ...]:
    """Items still to be counted out in this step, or counted wrong."""
    result = now.assessment.find("step", step)
    if result is None:
        return ()
    checks = [check for check in result.checks if check.key == "count_out" and check.verdict in ("on-site", "fails")]
    named = {check.part for check in checks}
    entries = [e for e in now.alive if isinstance(e, Signed) and e.act == "count-out" and e.step == step]
    counted = {e.role: e.count for e in entries}
    went_in = counted_in(now.alive)
    found = []
    for item in now.assessment.plan.items:
        wanted = went_in.get(item.id, item.quantity)
        if item.id in named and not (wanted is None and counted.get(item.id, 0) > 0):
            found.append(ToCount(item.id, item.title, wanted or 1, counted.get(item.id), wanted is None))
    return tuple(found)


def counted_in(alive: Iterable[Entry]) -> dict[str, int]:
    """How many of each item went in, by the last count of it: as many must come out."""
    return {e.role: e.count for e in alive if isinstance(e, Signed) and e.act == "count-in"}


def count_lines(items: tuple[ToCount, ...]) -> tuple[tuple[str, str], ...]:
    """What the screen says of them."""
    return tuple(
        (f"count out before closing: {item.title}, {how_many(item)}", "on-site")
        if item.counted is None
        else (f"{item.title}: {miscount(item.counted, item.wanted)}", "fails")
        for item in items
    )


def miscount(counted: int, wanted: int) -> str:
    """What a wrong count means, in words."""
    if counted < wanted:
        left = wanted - counted
        return f"{counted} of {wanted} are out, {left} STILL INSIDE. Nothing is closed before all are found"
    return f"{counted} are out, {wanted} were to come. Count again; nothing is closed before it agrees"


def how_many(item: ToCount) -> str:
    """What is expected, in words."""
    return "all of them" if item.all_of_them else f"{item.wanted} of them"
