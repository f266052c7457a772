"""What every question of the fitter's screens has in common: a sheet, a title, lines, targets, Esc goes back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.screen import ModalScreen

from splitline.ui import marks
from splitline.ui.draw.rows import Row, signed
from splitline.ui.glass import glass_of
from splitline.ui.screens.sheet import KeysScreen
from splitline.ui.steady import Steady
from splitline.ui.widgets.lines import Line, LineView
from splitline.ui.work.target import Target

WIDE = 78  # cells of a question, at most
TALL = 38  # rows from which a target may be higher than the three a glove needs


class Words(LineView):
    """Lines to read; no cursor, no focus."""

    DEFAULT_CSS = "Words { height: auto; scrollbar-size-vertical: 0; }"

    def __init__(self, lines: Sequence[tuple[str, str]], *, id: str | None = None) -> None:
        super().__init__(id=id, cursor=False)
        self.can_focus = False
        self._said = tuple(lines)
        self._drawn: tuple[Row, ...] = ()

    def say(self, lines: Sequence[tuple[str, str]], drawn: Sequence[Row] = ()) -> None:
        """Other lines; above them what is drawn, which is never wrapped and keeps its blanks."""
        self._said = tuple(lines)
        self._drawn = tuple(drawn)
        self._fit()

    def on_mount(self) -> None:
        self._fit()

    def on_resize(self, event: Any) -> None:
        self._fit()

    def _rows(self, cells: int) -> list[Row]:
        said = [row for text, style in self._said for row in signed(marks.sign(text, style), text, style, cells, 12)]
        return [*self._drawn, *said]

    def _fit(self) -> None:
        cells = max(self.size.width - 1, 20)
        self.styles.height = max(len(self._rows(cells)), 1)
        self.show(lambda width: [Line(row) for row in self._rows(width)])


ASKED = (
    ("Enter", "answer with the box that has the frame", ""),
    ("↑ ↓", "go from box to box", ""),
    ("1 … 9", "answer with the box of that number", ""),
    ("Esc", "back, without an answer", ""),
)


class Question(ModalScreen[str | None], Steady[str | None]):
    """Gives an answer, or None for Esc. Sub-classes compose their targets in ``answers`` and take presses."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape", "back", "Back"),
        ("question_mark,f1,ctrl+p,f4", "about", "Help"),
        ("down", "move(1)", "Down"),
        ("up", "move(-1)", "Up"),
    ]
    DEFAULT_CSS = """
    Question { align: center middle; }
    Question > .asked { background: $background; border: round $rule; padding: 0 1; width: 78; max-width: 100%; height: auto;
        max-height: 100%; overflow-y: auto; scrollbar-size-vertical: 1; }
    Question.-tall Target { height: 5; }
    """
    PER_ROW = 1  # targets in one row, for the up and down keys

    def __init__(self, title: str, lines: Sequence[tuple[str, str]] = ()) -> None:
        super().__init__()
        self._title = title
        self._lines = tuple(lines)

    def compose(self) -> ComposeResult:
        from textual.containers import Vertical

        self.begin()
        with Vertical(classes="asked"):
            yield Words(((self._title, "title"), *self._lines), id="said")
            yield from self.answers()

    def begin(self) -> None:
        """Before there is anything to style."""
        self.hold()
        self.set_class(self.app.size.height >= TALL, "-tall")
        # Nothing shines through on a tablet: mixing two pictures took its time.
        self.set_class(bool(getattr(self.app, "served", False)), "-glass")

    @property
    def asked(self) -> str:
        """What is asked."""
        return self._title

    @property
    def room(self) -> int:
        """Cells inside its sheet."""
        return max(min(self.app.size.width, WIDE) - 4, 1)

    def say_here(self, text: str, style: str = "") -> None:
        """A word in the frame, which moves no target."""
        from textual.content import Content

        sheet = self.query_one(".asked")
        sheet.border_title = Content(text)
        sheet.styles.border_title_style = "reverse bold"

    def on_screen_resume(self) -> None:
        glass_of(self.app).change(self)
        self.let_go()

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.height >= TALL, "-tall")

    def _on_mount(self, event: events.Mount) -> None:
        super()._on_mount(event)
        glass = glass_of(self.app)
        self.query_one(".asked").styles.scrollbar_size_vertical = glass.glove_cells() if glass.cell[0] else 1

    def answers(self) -> ComposeResult:
        """Targets below the lines."""
        yield from ()

    @property
    def stands(self) -> bool:
        """Whether it is what the screen shows."""
        return self.is_attached and self.is_mounted and self.app.screen is self

    def dismiss(self, result: str | None = None) -> AwaitComplete:
        """Give the answer and go, once: a second tap in the same frame must not close what lies below.

        What arrives before the question stands on the screen was no answer to it.
        """
        if self.stands:
            return super().dismiss(result)
        return AwaitComplete()

    def action_about(self) -> None:
        """The keys of every question. Its targets are all that can be answered."""
        if self.stands:
            self.app.push_screen(KeysScreen(ASKED))

    def action_back(self) -> None:
        self.dismiss(None)

    def action_move(self, by: int) -> None:
        own = [target for target in self.query(Target) if target.display]
        here = next((i for i, target in enumerate(own) if target.has_focus), None)
        if own:
            place = 0 if here is None else min(max(here + by * self.PER_ROW, 0), len(own) - 1)
            own[place].focus()
