"""Somebody else saved the plan meanwhile: the difference, and what to do. Whatever is chosen, nothing is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from splitline.ui.draw.rows import clean, rule, wrap
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import Line, LineView

if TYPE_CHECKING:
    from splitline.plan.save import PlanChangedError


class ConflictScreen(Sheet[str]):
    """Gives "stay", "copy", "theirs", "mine" or None."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back")]
    DEFAULT_CSS = """
    ConflictScreen .sheet { width: 110; height: 90%; }
    ConflictScreen #conflict-answers { height: 11; }
    """

    def __init__(self, error: PlanChangedError) -> None:
        super().__init__()
        self._error = error

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="conflict-answers")
            yield LineView(id="conflict-difference", cursor=False)

    def on_mount(self) -> None:
        self.query_one("#conflict-answers", LineView).show(self._answers)
        self.query_one("#conflict-difference", LineView).show(self._difference)
        self.query_one("#conflict-answers", LineView).focus()

    def _answers(self, cells: int) -> list[Line]:
        out = [Line((("Not saved: the file is not as it was", "title"),))]
        out += [Line(((part, ""),)) for part in wrap(str(self._error), cells, 3)]
        choices = [
            ("stay", "Go back to the plan, save nothing yet"),
            ("copy", "Save mine beside it under another name"),
            ("theirs", "Take theirs; mine is saved beside it under another name"),
        ]
        if self._error.seen is not None:
            what = (
                "Write mine over theirs; theirs stays as the .bak file"
                if self._error.seen
                else "Write mine as a new file"
            )
            choices.append(("mine", what))
        return [*out, Line(()), *(Line(((label, "strong"),), key) for key, label in choices)]

    def _difference(self, cells: int) -> list[Line]:
        out = [Line(rule(cells, "difference: - on disk, + on this screen (Tab comes here)"))]
        styles = {"+": "ok", "-": "fails", "@": "head"}
        for text in self._error.difference.splitlines()[:2000]:
            out.append(Line(((clean(text), styles.get(text[:1], "dim")),)))
        return out

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self.close(str(event.target))

    def action_leave(self) -> None:
        self.close(None)
