"""A touch target: a box at least three rows high that a glove finds, with its key written in it."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.rows import Row, clean, fit, fit_row, row_width, width, wrap
from splitline.ui.theme import ink

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

        def __init__(self, target: Target) -> None:
            super().__init__()
            self.target = target

    def __init__(
        self, ident: str, label: str, key: str = "", ready: bool = True, note: str = "", look: str = ""
    ) -> None:
        super().__init__()
        self.ident = ident
        self.label = label
        self.key = key
        self.ready = ready
        self.note = note
        self.look = look

    def action_press(self) -> None:
        self.post_message(self.Pressed(self))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.action_press()

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()

    def _middle(self, cells: int, rows: int) -> list[Row]:
        """Label, and note or key, set in the middle of the box; the note goes beside the label where rows are short."""
        style = self.look or ("strong" if self.ready else "dim")
        label = clean(self.label)
        note = clean(self.note) or PRINTED.get(self.key, self.key)
        if rows < 2:
            room = cells - width(label) - 2
            tail = fit(note, min(width(note), room)) if self.note and room >= 6 else ""
            return [((fit(label, min(width(label), cells)), style), (f"  {tail}" if tail else "", "dim"))]
        lines: list[Row] = [((line, style),) for line in wrap(label, cells, 3)[:rows]]
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
        mark = here and bool(row[0][0]) and row[0][1] != "dim" and before >= 2
        padded = fit_row((((" " * (before - 2) + "▸ ") if mark else " " * before, "accent"), *row), cells - 2)
        body = [Segment(text, ink(theme, style, ground)) for text, style in padded]
        return Strip([Segment(up, frame), *body, Segment(up, frame)], cells)


class TargetRow(Horizontal):
    """Targets side by side; left and right go from one to the next."""

    DEFAULT_CSS = "TargetRow { height: auto; }"
    BINDINGS: ClassVar[list[BindingType]] = [("left", "step(-1)", "Left"), ("right", "step(1)", "Right")]

    def action_step(self, by: int) -> None:
        own = list(self.query(Target))
        here = next((i for i, target in enumerate(own) if target.has_focus), None)
        if own and here is not None:
            own[(here + by) % len(own)].focus()
