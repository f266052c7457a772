"""A name for a file: one line to type, and why a name will not do."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input

from splitline.errors import PlanError, SplitlineError
from splitline.ui.draw.rows import wrap
from splitline.ui.screens.sheet import BACK, Sheet
from splitline.ui.widgets.lines import Line, LineView


def path_named(folder: Path, typed: str) -> Path:
    """The file of a plan by the name somebody typed. PlanError: it is no name."""
    name = typed.strip().removesuffix(".toml").strip()
    if not re.fullmatch(r"[\w][\w .-]*", name):
        raise PlanError("A name of letters, digits, hyphens is needed, as in k-410-discharge-head.")
    return folder / f"{name}.toml"


class NameScreen(Sheet[Path]):
    """Gives the path that ``write`` took; a SplitlineError of it is shown, and another name can be given."""

    FOOT = (("Enter", "save", ""), *BACK)
    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back")]
    DEFAULT_CSS = """
    NameScreen .sheet { width: 84; height: auto; }
    NameScreen LineView { height: 6; }
    """

    def __init__(self, title: str, said: str, folder: Path, name: str, write: Callable[[Path], None]) -> None:
        super().__init__()
        self._title = title
        self._said = said
        self._folder = folder
        self._name = name
        self._write = write
        self._wrong = ""

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="name-said", cursor=False)
            yield Input(self._name, id="file-name", max_length=80, select_on_focus=True)

    def on_mount(self) -> None:
        view = self.query_one("#name-said", LineView)
        view.can_focus = False
        view.show(self._lines)
        self.query_one(Input).focus()

    def _lines(self, cells: int) -> list[Line]:
        out = [Line(((self._title, "title"),))]
        out += [Line(((part, "dim"),)) for part in wrap(self._said, cells, 2)]
        return [*out, *(Line(((part, "problem"),)) for part in wrap(self._wrong, cells, 3) if self._wrong)]

    def on_input_submitted(self, event: Input.Submitted) -> None:
        try:
            path = path_named(self._folder, event.value)
            self._write(path)
        except SplitlineError as error:
            self._say(str(error))
            return
        self.close(path)

    def _say(self, text: str) -> None:
        self._wrong = text
        self.query_one("#name-said", LineView).show(self._lines)
