"""A sheet for text of more than a line: notes, instructions, cautions."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import TextArea

from splitline.ui.draw.rows import clean
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.bar import Bar, Piece

KEPT_EVERY = 1.0  # s
_ASK = "not taken yet: Ctrl+S takes it, Esc once more leaves it as it was"


class LongTextScreen(Sheet[str]):
    """Gives the text, or None for Esc. What was typed goes only when that was asked and meant."""

    FOOT = (("Ctrl+S", "take", "take"), ("Esc", "leave as it was", "leave"))
    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape", "leave", "Back"),
        ("ctrl+s,f10", "take", "Take"),
    ]
    DEFAULT_CSS = """
    LongTextScreen .sheet { width: 90; height: 20; max-height: 90%; }
    LongTextScreen TextArea { height: 1fr; border: none; background: $panel; }
    LongTextScreen TextArea:focus { border: none; }
    """

    def __init__(self, title: str, text: str, keep: Callable[[str], None] | None = None) -> None:
        """``keep`` is told the text as it grows, so that it outlives the program."""
        super().__init__()
        self._title = title
        self._text = text
        self._keep = keep
        self._waiting = False
        self._asked = False

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield Bar(id="long-head", ground="ground")
            yield TextArea(self._text, soft_wrap=True, tab_behavior="focus")

    def on_mount(self) -> None:
        self._head("")
        self.query_one(TextArea).focus()

    def action_take(self) -> None:
        self.close(self.query_one(TextArea).text)

    @property
    def changed(self) -> bool:
        return self.query_one(TextArea).text != self._text

    def on_text_area_changed(self) -> None:
        if self._asked:
            self._asked = False
            self._head("")
        if self._keep is not None and not self._waiting and self.changed:
            self._waiting = True
            self.set_timer(KEPT_EVERY, self.keep_now)

    def keep_now(self) -> None:
        """Put what is typed so far where it outlives the program."""
        self._waiting = False
        if self._keep is not None and self.is_attached:
            self._keep(self.query_one(TextArea).text)

    def action_leave(self) -> None:
        if self.changed and not self._asked:
            self._asked = True
            self._head(_ASK)
            return
        self.close(None)

    def tapped_beside(self) -> None:
        """A tap that goes wrong costs no text."""
        if self.changed:
            self._asked = True
            self._head(_ASK)
        else:
            self.close(None)

    def _head(self, said: str) -> None:
        right = [Piece(f"{said} ", "near")] if said else []
        self.query_one("#long-head", Bar).show([Piece(f" {clean(self._title)}", "title")], right)
