"""A question with a few answers; the first is the harmless one and has the cursor."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from splitline.ui.draw.rows import wrap
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import Line, LineView


class ConfirmScreen(Sheet[str]):
    """Gives the key of the answer, or None for Esc."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back")]
    DEFAULT_CSS = """
    ConfirmScreen LineView { height: auto; max-height: 16; }
    """

    def __init__(self, title: str, text: str, choices: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._title = title
        self._text = text
        self._choices = tuple(choices)

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="answers")

    def on_mount(self) -> None:
        view = self.query_one(LineView)
        view.styles.height = min(len(wrap(self._text, 70, 20)) + len(self._choices) * 2 + 3, 22)
        view.show(self._lines)
        view.focus()

    def _lines(self, width: int) -> Sequence[Line]:
        out = [Line(((self._title, "title"),)), Line(())]
        out += [Line(((text, ""),)) for text in wrap(self._text, width, 20)]
        for key, label in self._choices:
            out += [Line(()), Line(((f" {label}", "strong"),), key)]
        return out

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self.close(str(event.target))
