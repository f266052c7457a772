"""A touch target: a box at least three rows high that a glove finds, with its key written in it."""

from __future__ import annotations

from typing import ClassVar, Literal

from rich.segment import Segment
from textual import events
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import label as big_label
from splitline.ui.draw.rows import Row, clean, fit, fit_row, row_width, width, wrap
from splitline.ui.glass import glass_of, refuse
from splitline.ui.theme import ink

ALWAYS = ("danger",)  # taken on whatever picture: a stop too many harms nobody
PRINTED = {"enter": "Enter", "escape": "Esc", "backspace": "⌫"}

# Frame of a box by (has the keys, can be pressed): broken where it cannot, so that greys alone tell it too.
_FRAMES = {
    (True, True): "┏━┓┃┗┛",
    (False, True): "┌─┐│└┘",
    (True, False): "┏╍┓╏┗┛",
    (False, False): "┌╌┐╎└┘",
}


class Target(Widget, can_focus=True):
    """A box with words. Tap, or Enter on it, presses it."""

    DEFAULT_CSS = "Target { width: 1fr; height: 3; min-height: 3; }"
    BINDINGS: ClassVar[list[BindingType]] = [("enter,space", "press", "Press")]

    class Pressed(Message):
        """Somebody pressed it."""

        def __init__(self, target: Target, seen: int | None = None) -> None:
            super().__init__()
            self.target = target
            self.seen = seen  # number of the picture that was on the glass

        def behind(self, ident: str = "") -> bool:
            """Whether the instruction changed since the touch; what makes safe is never refused for that."""
            return ident not in ALWAYS and glass_of(self.target.app).behind(self.seen)

    def __init__(
        self,
        ident: str,
        label: str,
        key: str = "",
        ready: bool = True,
        note: str = "",
        look: str = "",
        big: Literal["", "key", "unit"] = "",
    ) -> None:
        """``big``: its label is drawn as large as it has room; that of a unit keeps its case."""
        super().__init__()
        self.ident = ident
        self.label = label
        self.key = key
        self.ready = ready
        self.note = note
        self.look = look
        self.big = big

    def on_mount(self) -> None:
        glass_of(self.app).change(self.screen)
        self.fit_glove()

    def fit_glove(self) -> None:
        """High enough for a glove on this glass."""
        self.styles.min_height = glass_of(self.app).glove_rows()

    def action_press(self) -> None:
        if not self.is_attached:  # its instruction has gone in the same frame
            return
        glass = glass_of(self.app)
        if self.ident not in ALWAYS and glass.behind():
            refuse(self.app)
        else:
            self.screen.post_message(self.Pressed(self, glass.seen))

    def _forward_event(self, event: events.Event) -> None:
        """Taps and keys go straight into the one queue of the screen: their order is the order of the fingers.

        On their way up from box to row to sheet, taps on boxes of different rows overtook each other.
        """
        if not self.is_attached:
            event._set_forwarded()
        elif isinstance(event, events.Click) or (isinstance(event, events.Key) and event.key in ("enter", "space")):
            event._set_forwarded()
            self.action_press()
        elif isinstance(event, events.Key):
            event._set_forwarded()
            named = next((t for t in self.screen.query(Target) if t.key == event.key and len(t.key) == 1), None)
            if named is not None and named.display:
                named.action_press()
            else:
                self.screen.post_message(event)
        else:
            super()._forward_event(event)

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()

    def _large(self, label: str, cells: int, rows: int) -> list[str]:
        return big_label(label, cells, self.big == "unit") if self.big and rows >= LETTER_ROWS else []

    def _middle(self, cells: int, rows: int) -> list[Row]:
        """Label, and note or key, set in the middle of the box; the note goes beside the label where rows are short."""
        style = self.look or ("strong" if self.ready else "dim")
        label = clean(self.label)
        note = clean(self.note) or PRINTED.get(self.key, self.key)
        if rows < 2:
            room = cells - width(label) - 2
            tail = fit(note, min(width(note), room)) if self.note and room >= 6 else ""
            return [((fit(label, min(width(label), cells)), style), (f"  {tail}" if tail else "", "dim"))]
        large = self._large(label, cells + 2, rows)
        lines: list[Row] = [((line, style),) for line in large or wrap(label, cells, 3)[:rows]]
        if note and len(lines) < rows:
            lines.append(((fit(note, min(cells, width(note))), "dim"),))
        above = (rows - len(lines)) // 2
        blank: Row = (("", ""),)
        return [blank] * above + lines + [blank] * (rows - above - len(lines))

    def render_line(self, y: int) -> Strip:
        theme, cells, rows = self.app.theme, self.size.width, self.size.height
        here = self.has_focus
        frame = ink(theme, "accent" if here else "dim" if self.ready else "rule")
        left, across, right, up, low_left, low_right = tuple(_FRAMES[here, self.ready])
        if y == 0:
            return Strip([Segment(f"{left}{across * (cells - 2)}{right}", frame)], cells)
        if y == rows - 1:
            return Strip([Segment(f"{low_left}{across * (cells - 2)}{low_right}", frame)], cells)
        row = self._middle(cells - 4, rows - 2)[y - 1]
        ground = "cursor" if here else "chip"
        before = (cells - 2 - row_width(row)) // 2
        mark = (
            here
            and bool(row[0][0])
            and row[0][1] != "dim"
            and before >= 2
            and any(char.isalnum() for char in row[0][0])
        )
        padded = fit_row((((" " * (before - 2) + "▸ ") if mark else " " * before, "accent"), *row), cells - 2)
        body = [Segment(text, ink(theme, style, ground)) for text, style in padded]
        return Strip([Segment(up, frame), *body, Segment(up, frame)], cells)


class TargetRow(Horizontal):
    """Targets side by side; left and right go from one to the next."""

    DEFAULT_CSS = "TargetRow { height: auto; }"
    BINDINGS: ClassVar[list[BindingType]] = [("left", "step(-1)", "Left"), ("right", "step(1)", "Right")]

    def __init__(self, *targets: Target, across: int = 0, id: str | None = None) -> None:
        """``across``: at most so many side by side; 0: all of them."""
        super().__init__(*targets, id=id)
        self._across = across
        self._laid: tuple[int, ...] = ()

    def on_mount(self) -> None:
        self.fit_glove()

    def on_resize(self) -> None:
        self.fit_glove()

    def fit_glove(self) -> None:
        """In one row where each target is wide enough for a glove and for its longest word, else in as few as need be."""
        own = [target for target in self.query(Target) if target.display]
        glass = glass_of(self.app)
        cells = self.size.width or getattr(self.screen, "room", 0)  # before it has its place: what its sheet leaves it
        if not own or not cells or not (glass.cell[0] or self._across):
            return
        fits = len(own)
        if glass.cell[0]:
            word = max(width(part) for target in own for part in (target.label.split() or [""]))
            fits = max(cells // max(glass.glove_cells(), word + 5), 1)
        fits = min(fits, self._across or fits)
        rows = -(-len(own) // fits)
        columns = self._across if rows > 1 and fits == self._across else -(-len(own) // rows)
        wanted = rows, columns, self._high(own)
        if wanted == self._laid:
            return  # a layout that is given anew is worked out anew
        self._laid = wanted
        if rows > 1:
            self.styles.layout = "grid"
            self.styles.grid_size_columns = columns
            self.styles.grid_rows = str(self._high(own)) if self._across else "auto"
        else:
            self.styles.layout = "horizontal"

    def _high(self, own: list[Target]) -> int:
        """Rows of each line of a page of targets: as they ask for, enough for a glove."""
        heights = (target.styles.height for target in own)
        least = glass_of(self.app).glove_rows()
        return max(least, *(int(each.value) for each in heights if each is not None and each.is_cells), least)

    def action_step(self, by: int) -> None:
        own = list(self.query(Target))
        here = next((i for i, target in enumerate(own) if target.has_focus), None)
        if own and here is not None:
            own[(here + by) % len(own)].focus()
