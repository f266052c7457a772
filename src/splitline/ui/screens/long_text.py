"""A sheet for text of more than a line: notes, instructions, cautions."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import TextArea

from splitline.ui.draw.rows import clean
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.bar import Bar, Piece


class LongTextScreen(Sheet[str]):
    """Gives the text, or None for Esc."""

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

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title = title
        self._text = text

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield Bar(id="long-head", ground="ground")
            yield TextArea(self._text, soft_wrap=True, tab_behavior="focus")

    def on_mount(self) -> None:
        self.query_one("#long-head", Bar).show([Piece(f" {clean(self._title)}", "title")])
        self.query_one(TextArea).focus()

    def action_take(self) -> None:
        self.close(self.query_one(TextArea).text)
