"""A new plan: from which starting plan, and under what name."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input

from splitline.errors import SplitlineError
from splitline.plan.read import read_text
from splitline.plan.save import save_as
from splitline.plan.start import start_plan
from splitline.plan.starting import TEMPLATES
from splitline.ui.draw.rows import fit, wrap
from splitline.ui.screens.name import path_named
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import Line, LineView

_SAID = {
    "barrel-head-cover": "a head cover, its studs, its order of work",
    "split-casing": "two halves, the upper one's lift, compound",
    "single-lift": "one load on one hook",
}
EMPTY = "empty"


class NewPlanScreen(Sheet[Path]):
    """Gives the path of the plan written, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back")]
    DEFAULT_CSS = """
    NewPlanScreen .sheet { height: 20; width: 84; }
    NewPlanScreen Input { margin: 0 0 0 1; }
    """

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._template = ""
        self._wrong = ""

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="new-templates")

    @property
    def _view(self) -> LineView:
        return self.query_one("#new-templates", LineView)

    def on_mount(self) -> None:
        self._view.show(self._lines)
        self._view.focus()

    def _lines(self, cells: int) -> list[Line]:
        out = [Line((("New plan", "title"),)), Line(())]
        if self._template:
            out += [Line(((f"from {self._template}", "dim"),)), Line(())]
            out += [Line((("Name of the file; Enter writes it, Esc goes back:", ""),))]
            out += [Line(((part, "problem"),)) for part in wrap(self._wrong, cells, 5) if self._wrong]
            return out
        out += [Line((("Start from", ""),)), Line(())]
        for name in (*TEMPLATES, EMPTY):
            said = _SAID.get(name, "heading only" if name == EMPTY else "")
            out.append(Line(((fit(name, 22), "strong"), (said, "dim")), name))
        return [
            *out,
            Line(()),
            Line((("Values to replace carry the word example.", "dim"),)),
        ]

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self._template = str(event.target)
        self._view.show(self._lines)
        self._view.styles.height = 7
        name = Input(placeholder="k-410-discharge-head", id="new-name", max_length=80)
        self.query_one(".sheet").mount(name)
        name.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        try:
            path = path_named(self._folder, event.value)
            self._write(path)
        except SplitlineError as error:
            self._say(str(error))
            return
        self.close(path)

    def _write(self, path: Path) -> None:
        if self._template == EMPTY:
            save_as(read_text('format = 1\n\n[plan]\ntitle = "New plan"\n', path), path)
        else:
            start_plan(self._template, path)

    def _say(self, text: str) -> None:
        self._wrong = text
        self._view.styles.height = 10
        self._view.show(self._lines)

    def action_leave(self) -> None:
        if not self._template:
            self.close(None)
            return
        self._template = self._wrong = ""
        for name in self.query(Input):
            name.remove()
        self._view.styles.height = "1fr"
        self._view.show(self._lines)
        self._view.focus()
