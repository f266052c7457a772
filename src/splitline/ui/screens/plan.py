"""The planner's screen of a plan: saving and leaving on top of panes, editing and getting about."""

from __future__ import annotations

from splitline.ui.screens.plan_go import PlanGoing


class PlanScreen(PlanGoing):
    """One plan: order of work and items left, the selected item's card right."""

    @property
    def has_unsaved(self) -> bool:
        return self.session_or_none is not None and self.session.changed

    def do_save(self) -> None:
        self.save_now()

    def save_now(self) -> bool:
        """Save; True when the file holds what is on the screen."""
        return False

    def let_go(self) -> None:
        """Leave without saving, on purpose."""

    def do_back(self) -> None:
        self.dismiss(None)
