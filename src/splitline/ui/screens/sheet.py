"""A sheet laid over a place: a question, a list, a help text."""

from __future__ import annotations

from typing import Any, ClassVar, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen

from splitline.ui.draw.rows import right, rule
from splitline.ui.ready import Ready
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.lines import Line, LineView

Result = TypeVar("Result")
Keys = tuple[tuple[str, str, str], ...]  # key as printed, what it does, action of the screen ("" for none)
BACK: Keys = (("Esc", "back", "leave"),)


class Sheet(ModalScreen[Result], Ready[Result]):
    """A modal screen that closes once, however fast the keys come: two Enters in its queue must not close what is below.

    Its own keys stand in the foot line, over those of the place it lies on.
    """

    DEFAULT_CSS = "Sheet > #sheet-foot { dock: bottom; }"
    FOOT: ClassVar[Keys] = (("Enter", "choose", ""), *BACK)
    BINDINGS: ClassVar[list[Any]] = [("question_mark,f1,ctrl+p,f4", "about", "Help")]

    def on_mount(self) -> None:
        """Textual calls this beside the handler of the sheet itself."""
        if self.FOOT:
            self.mount(Bar(id="sheet-foot"))
            self.call_after_refresh(self._show_foot)

    def _show_foot(self) -> None:
        pieces = [Piece(" ")]
        for key, label, action in self.FOOT:
            pieces += [Piece(key, "key", action), Piece(f" {label}   ", "", action)]
        self.query_one("#sheet-foot", Bar).show(pieces)

    def action_about(self) -> None:
        """The keys of this sheet: all it can do."""
        self.app.push_screen(KeysScreen(self.FOOT))

    def action_leave(self) -> None:
        self.close(None)

    def close(self, result: Result | None) -> None:
        """Give the result and go, unless already gone."""
        if self.is_attached and self.app.screen is self:
            self.dismiss(result)

    def on_click(self, event: events.Click) -> None:
        """A tap beside the sheet goes back, as Esc does."""
        if event.widget is self:
            self.tapped_beside()

    def tapped_beside(self) -> None:
        self.close(None)


class KeysScreen(Sheet[None]):
    """The keys of the sheet it lies on."""

    FOOT = BACK
    BINDINGS: ClassVar[list[BindingType]] = [("escape,question_mark,f1,ctrl+p,f4,enter,q", "leave", "Back")]
    DEFAULT_CSS = "KeysScreen .sheet { width: 50; height: auto; } KeysScreen LineView { height: auto; }"

    def __init__(self, keys: Keys) -> None:
        super().__init__()
        self._keys = keys

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(cursor=False)

    def on_mount(self) -> None:
        view = self.query_one(LineView)
        view.styles.height = len(self._keys) + 2
        view.show(
            lambda width: [
                Line(rule(width, "Keys")),
                *(Line(((right(key, 7), "key"), (f"  {label}", ""))) for key, label, _ in self._keys),
            ]
        )
        view.focus()
