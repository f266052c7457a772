"""A hold under pressure that did not last: said with a reason, and begun again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from splitline.ui.work import acts, asks
from splitline.ui.work.holds import AGAIN, BROKEN
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

BROKE = ("ram pressure fell", "pump failed", "ram released too early", "oil leaks", "the part moved")


async def broke(screen: WorkScreen, task: Task) -> None:
    """The hold did not last: a reason, and the full hold time restarts once the ram is back at its pressure."""
    lines = (("What was held so far will not count. It will stand among the deviations.", "caution"),)
    why = await asks.reason(screen, "Pressure lost", BROKE, lines)
    if why:
        screen.act(lambda: acts.note(screen.desk, why, BROKEN, task.item, task.part))


async def again(screen: WorkScreen, task: Task) -> None:
    """The ram is back at its pressure: the full hold time restarts."""
    lines = (("The ram is back at its pressure and the advance was measured.", "strong"),)
    if await asks.sure(screen, "Is the pressure restored?", "Pressure restored", lines):
        screen.act(lambda: acts.note(screen.desk, "the ram is back at its pressure", AGAIN, task.item, task.part))
