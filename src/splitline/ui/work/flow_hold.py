"""A hold under pressure that did not last: said with a reason, and begun anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from splitline.ui.work import acts, asks
from splitline.ui.work.holds import AGAIN, BROKEN
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

BROKE = ("ram pressure fell", "pump failed", "ram released too early", "oil leaks", "the part moved")


async def broke(screen: WorkScreen, task: Task) -> None:
    """The hold did not last: a reason, and the clock begins anew once the ram holds again."""
    lines = (("What was held so far will not count. It stands among the deviations.", "caution"),)
    why = await asks.reason(screen, "Hold broken", BROKE, lines)
    if why:
        screen.act(lambda: acts.note(screen.desk, why, BROKEN, task.item, task.part))


async def again(screen: WorkScreen, task: Task) -> None:
    """The ram holds again: the whole time is counted from now."""
    lines = (("The ram is back at its pressure and the advance was measured.", "strong"),)
    if await asks.sure(screen, "Begin the hold anew?", "The ram holds", lines):
        screen.act(lambda: acts.note(screen.desk, "the ram holds again", AGAIN, task.item, task.part))
