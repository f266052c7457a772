"""The pinned plan and the present one side by side."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from splitline.ui.card.comparing import compare_lines
from splitline.ui.screens.sheet import BACK, Sheet
from splitline.ui.session import Session
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.lines import LineView


class CompareScreen(Sheet[None]):
    """Arrows scroll, Esc goes back to the plan."""

    FOOT = BACK
    BINDINGS: ClassVar[list[BindingType]] = [("escape,k,q", "leave", "Back")]
    DEFAULT_CSS = "CompareScreen { background: $background; layout: vertical; align: left top; }"

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session

    def compose(self) -> ComposeResult:
        yield Bar(id="compare-head")
        yield LineView(id="compare")
        yield Bar(id="compare-foot")

    def on_mount(self) -> None:
        self.query_one("#compare-head", Bar).show([Piece(" Pinned and now, side by side", "title")])
        keys = [Piece(" Esc", "key", "leave"), Piece(" back   ", "", "leave")]
        self.query_one("#compare-foot", Bar).show(
            [*keys, Piece("p pins the plan as it is now, u undoes changes", "dim")]
        )
        view = self.query_one(LineView)
        view.show(lambda cells: compare_lines(self._session, cells))
        view.focus()
