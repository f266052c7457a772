"""A screen that comes up is painted when all of it stands, not once for every part that finds its place.

On a tablet each picture is worked out, sent, drawn and numbered; a question of ten boxes came up in four of them.
"""

from __future__ import annotations

from typing import TypeVar

from splitline.ui.glass import glass_of
from splitline.ui.ready import Ready

PATIENCE = 0.25  # s after which it is painted whatever has not found its place: a glass never stays dark
Given = TypeVar("Given")


class Steady(Ready[Given]):
    """``hold`` keeps the picture that stands; ``let_go`` paints once. What holds too long lets go by itself."""

    # Nothing of it is styled by its width: its styles are worked out once.
    HORIZONTAL_BREAKPOINTS = []  # noqa: RUF012 (the base class declares them so)
    VERTICAL_BREAKPOINTS = []  # noqa: RUF012
    _steady_turn = 0
    _steady_held = 0  # the turn that holds; 0: none

    @property
    def dark(self) -> bool:
        """Whether the glass still shows what was there before this screen."""
        return bool(self._steady_held) and self.is_current

    def hold(self) -> None:
        """Paint nothing of this screen until ``let_go``. Until then every touch is one on an older picture."""
        self._steady_turn += 1
        self._steady_held = self._steady_turn
        glass_of(self.app).held = self
        self.set_timer(PATIENCE, self._in_time)

    def let_go(self) -> None:
        """Paint what stands, once what was asked for by now has happened."""
        if self._steady_held:
            self.call_later(self.call_later, self._paint, self._steady_held)

    def _in_time(self) -> None:
        self._paint(self._steady_held)

    def _paint(self, turn: int) -> None:
        if turn and turn == self._steady_held:
            self._steady_held = 0
            glass_of(self.app).change(self)
            self.refresh()

    def _compositor_refresh(self) -> None:
        if self.dark:
            self._dirty_widgets.clear()  # all of it is painted in the end
        else:
            super()._compositor_refresh()
