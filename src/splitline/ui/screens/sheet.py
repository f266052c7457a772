"""A sheet laid over a place: a question, a list, a help text."""

from __future__ import annotations

from typing import TypeVar

from textual import events
from textual.screen import ModalScreen

Result = TypeVar("Result")


class Sheet(ModalScreen[Result]):
    """A modal screen that closes once, however fast the keys come: two Enters in its queue must not close what is below."""

    def close(self, result: Result | None) -> None:
        """Give the result and go, unless already gone."""
        if self.is_attached and self.app.screen is self:
            self.dismiss(result)

    def on_click(self, event: events.Click) -> None:
        """A tap beside the sheet goes back, as Esc does."""
        if event.widget is self:
            self.close(None)
