"""One concern of a plan's screen: its commands, apart from the panes they work on."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from splitline.ui.screens.plan import PlanScreen
    from splitline.ui.session import Session


class Controller:
    """Carries out commands (``do_<id>``) on the screen it was made for."""

    def __init__(self, screen: PlanScreen) -> None:
        self.screen = screen

    @property
    def session(self) -> Session:
        """The open plan; commands that need one are asked only when there is one."""
        return self.screen.session
