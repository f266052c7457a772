"""Help: what is under the cursor, the keys of this screen, the marks. All of it derived."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from splitline.ui import marks
from splitline.ui.actions import PAPER, PLAN, PLANS, RECORD, VIEW, commands_of
from splitline.ui.draw.rows import right, rule, wrap
from splitline.ui.screens.sheet import BACK, Sheet
from splitline.ui.widgets.lines import Line, LineView

_START = {
    PLANS: "Enter opens the plan under the cursor. n starts a new plan from one that is already filled with examples "
    "to replace; each carries the word example beside it until you put your own or take it as right.",
    PLAN: "Left: the order of work, then every item. Right: what came out (drawing, results, checks) and what was "
    "given. Tab goes from pane to pane, arrows within. On a field, Enter edits: write the number with any unit, "
    "as in 268 mm or 10.5 in. a adds an item, a table or a field; u undoes any change; Ctrl+S saves. "
    "A value in dim slanted type is a default nobody gave, with its basis beside it.",
    VIEW: "Arrows play or turn the drawing, letters change to another one, Esc goes back.",
    RECORD: "What was done, page by page: left and right turn them, Enter opens an entry. Nothing is changed here; the "
    "dossier, tables and sheets are written beside the plan.",
    PAPER: "The lines of a filled sheet, in its order. Space ticks a line, figures go in by typing them. Nothing is stored "
    "before Enter all has said what it will store.",
}


class HelpScreen(Sheet[None]):
    """Arrows scroll, Esc leaves."""

    FOOT = BACK
    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,question_mark,f1,enter,q", "leave", "Back"),
    ]
    DEFAULT_CSS = "HelpScreen .sheet { width: 100; height: 90%; }"

    def __init__(self, place: str, view_only: bool, here: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._place = place
        self._view_only = view_only
        self._here = tuple(here)

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(cursor=False)

    def on_mount(self) -> None:
        view = self.query_one(LineView)
        view.show(self._lines)
        view.focus()

    def _lines(self, width: int) -> list[Line]:
        out: list[Line] = []
        if self._here:
            out.append(Line(rule(width, "Under the cursor")))
            for text, style in self._here:
                out += [Line(((part, style),)) for part in wrap(text, width)]
            out.append(Line(()))
        out.append(Line(rule(width, "This screen")))
        out += [Line(((part, ""),)) for part in wrap(_START.get(self._place, ""), width)]
        out += [Line(()), Line(rule(width, "Keys"))]
        for command in commands_of(self._place, self._view_only):
            first, *rest = wrap(command.help, max(width - 27, 20))
            out.append(
                Line(((right(command.printed, 7), "key"), (f"  {command.label:<16}", "strong"), (f"  {first}", "dim")))
            )
            out += [Line(((" " * 27, ""), (part, "dim"))) for part in rest]
        out += [Line(()), Line(rule(width, "Marks"))]
        said = {
            "ok": "usage up to 0.90",
            "near": "usage 0.90 to 1.00",
            "fails": "over its limit",
            "missing": "an input is not given: the check cannot be made",
            "on-site": "known only on the job; blocks that step, not the planning",
        }
        for verdict in reversed(marks.VERDICTS):
            style = marks.style(verdict)
            out.append(
                Line(
                    (
                        (f" {marks.shape(verdict)} ", style),
                        (f"{marks.word(verdict):<14}", style),
                        (said[verdict], "dim"),
                    )
                )
            )
        steps = (
            (marks.OPEN, "open"),
            (marks.NOW, "now"),
            (marks.DONE, "done"),
            (marks.HOLD, "hold point"),
            (marks.WITNESS, "witness point"),
        )
        row = tuple(seg for mark, word in steps for seg in ((f" {mark} ", "strong"), (f"{word}   ", "dim")))
        out.append(Line((*row, (f" {marks.WINDOW} ", "strong"), ("time limit", "dim"))))
        return out
