"""Done on studs in hand: what is asked before it is stored, and how fast pulls may follow each other."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from splitline.ui.work import acts, asks
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


class Pace:
    """The last pull stored at this screen. ``least`` in s; 0 asks nothing."""

    # A stroke and the way to the next nut take longer with any tool: common practice, no published source.
    LEAST: ClassVar[float] = 2.0
    SAID: ClassVar[str] = "The one before was stored less than two seconds ago: no tool is that fast."

    def __init__(self, least: float | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        self.least = self.LEAST if least is None else least
        self._clock = clock
        self._last: float | None = None

    def pulled(self) -> None:
        """A pull was stored now."""
        self._last = self._clock()

    def too_soon(self, from_paper: bool = False) -> bool:
        """Whether another one now is faster than hands are; what is entered from paper was done before."""
        return not from_paper and self._last is not None and self._clock() - self._last < self.least


def done(screen: WorkScreen, task: Task, moved: bool) -> None:
    """The studs in hand are pulled: stored, unless something about it is asked first."""
    if screen.pace.too_soon(screen.desk.after is not None):
        screen.start(lambda: _so_soon(screen, task, moved))
    elif task.aside:
        screen.start(lambda: _after_all(screen, task, moved))
    else:
        _store(screen, task, moved)


def _store(screen: WorkScreen, task: Task, moved: bool) -> None:
    if screen.act(lambda: acts.tighten(screen.desk, task, moved)):
        screen.pace.pulled()


async def _so_soon(screen: WorkScreen, task: Task, moved: bool) -> None:
    """Two pulls faster than a stroke takes: asked, because a tap may have bounced or come twice."""
    said = acts.bolts_said(task.bolts, task.noun)
    lines = ((Pace.SAID, "strong"), ("Back: nothing is stored, the work stays here.", "dim"))
    if await asks.sure(screen, f"{said}: pulled so soon?", "Pulled", lines):
        if task.aside:
            await _after_all(screen, task, moved)
        else:
            _store(screen, task, moved)


async def _after_all(screen: WorkScreen, task: Task, moved: bool) -> None:
    """What was set aside is asked about: a hand that taps Done in a row must not close it."""
    said = acts.bolts_said(task.bolts, task.noun)
    why = next((line for line in task.lines if line[0].startswith("DEFERRED")), ("", ""))
    if await asks.sure(screen, f"{said}: tightened after all?", "Tightened", (why,)):
        _store(screen, task, moved)
