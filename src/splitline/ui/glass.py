"""Which picture stood on the glass when somebody touched it.

On a tablet the picture comes late and the touch goes back late. A tap that was meant for one instruction must never be
taken for the next. Every piece of output is numbered by the driver; the page returns with each touch the number of the
last one it drew. Whoever changes an instruction says so here (``change``); a touch on an older picture is ``behind``
and is refused with ``LOOK_AGAIN``. On a terminal at hand nothing is numbered and no touch is behind.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal, Protocol

from textual.message import Message

if TYPE_CHECKING:
    from textual.app import App
    from textual.screen import Screen

LOOK_AGAIN = "The work went on: look again. That touch was not taken."
TOO_LATE = "A touch came too late and was not taken: look again."
LATE = 3.0  # s a touch may be on its way; after that the page has said "not connected", and nothing of it may count
Feel = Literal["stored", "refused", "stop"]


class Touched(Message, bubble=False):
    """What follows was touched on picture ``seen``. The driver sends it before the touch, through the same queue."""

    def __init__(self, seen: int | None) -> None:
        super().__init__()
        self.seen = seen


class CameLate(Message, bubble=False):
    """A touch was on its way for longer than ``LATE`` and was dropped."""


GLOVE = 15.0  # mm a target is high and wide at least: a finger in a glove
PX_PER_MM = 6.0  # CSS pixels of the densest usual tablets and phones; on others a target comes out larger


class Sized(Message, bubble=False):
    """The size of a cell on the glass is known, or another one."""


class Held(Protocol):
    """A screen that is painted when all of it stands: ``ui/steady.py``."""

    @property
    def dark(self) -> bool:
        """Whether the glass still shows what was there before it."""
        ...


class Glass:
    """The pictures of one application. ``written`` is counted by the driver, ``seen`` follows the touches."""

    def __init__(self) -> None:
        self.written = 0
        self.seen: int | None = None
        self.cell = (0.0, 0.0)  # width and height in mm; 0 where not known, on a terminal at hand
        self._fresh = 0  # number of the first picture that shows the present instruction
        self._turn = 0
        self.held: Held | None = None  # a screen that is not painted yet

    def change(self, screen: Screen[Any]) -> None:
        """The instruction is another one from the next picture on."""
        self._turn += 1
        self._fresh = self.written + 1
        screen.call_after_refresh(self._drawn, self._turn)

    def _drawn(self, turn: int) -> None:
        if turn == self._turn:
            self._fresh = max(self._fresh, self.written)

    def glove_rows(self, least: int = 3) -> int:
        """Rows of a target for a glove."""
        return max(least, math.ceil(GLOVE / self.cell[1] - 1e-6)) if self.cell[1] else least

    def glove_cells(self, least: int = 9) -> int:
        """Cells of a target for a glove."""
        return max(least, math.ceil(GLOVE / self.cell[0] - 1e-6)) if self.cell[0] else least

    def mark(self) -> int:
        """The number from which on what is written next stands on the glass."""
        return self.written + 1

    def behind(self, seen: int | None = None) -> bool:
        """Whether a touch, the one at hand unless ``seen`` is given, was on a picture older than the last change."""
        seen = self.seen if seen is None else seen
        return seen is not None and (seen < self._fresh or (self.held is not None and self.held.dark))


def glass_of(app: App[Any]) -> Glass:
    """The glass of an application; a fresh one where it has none, on which nothing is ever behind."""
    found = getattr(app, "glass", None)
    return found if isinstance(found, Glass) else Glass()


def feel(app: App[Any], what: Feel) -> None:
    """Let the hand feel and the ear hear it, where the tablet can."""
    tell = getattr(getattr(app, "_driver", None), "tell_feel", None)
    if tell is not None:
        tell(what)


def typing(app: App[Any], asked: bool) -> None:
    """Tell the page whether letters are asked for: its Type key says so, and its keyboard goes when they no longer are."""
    tell = getattr(getattr(app, "_driver", None), "tell_typing", None)
    if tell is not None:
        tell(asked)


def reading(app: App[Any], large: bool) -> None:
    """Tell the page that the screen is one to read: larger letters, fewer of them. Another size comes back as a resize."""
    tell = getattr(getattr(app, "_driver", None), "tell_reading", None)
    if tell is not None:
        tell(large)


def refuse(app: App[Any], said: str = LOOK_AGAIN) -> None:
    """Tell that a touch was not taken, where the screen says such things: never over what is touched."""
    tell = getattr(app.screen, "say_here", None)
    if tell is not None:
        tell(said, "near")
    else:
        app.notify(said, severity="warning", markup=False, timeout=4)
    feel(app, "refused")
