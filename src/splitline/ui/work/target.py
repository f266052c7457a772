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

from splitline.ui.draw.rows import clean, fit, width, wrap
from splitline.ui.theme import ink

PRINTED = {"enter": "Enter", "escape": "Esc", "backspace": "⌫"}


class Target(Widget, can_focus=True):
    """A box with words. Tap, or Enter on it, presses it."""

    DEFAULT_CSS = "Target { width: 1fr; height: 3; min-height: 3; }"
    BINDINGS: ClassVar[list[BindingType]] = [("enter,space", "press", "Press")]

    class Pressed(Message):
        """Somebody pressed it."""

        def __init__(self, target: Target) -> None:
            super().__init__()
            self.target = target

    def __init__(self, ident: str, label: str, key: str = "", ready: bool = True, note: str = "") -> None:
        super().__init__()
        self.ident = ident
        self.label = label
        self.key = key
        self.ready = ready
        self.note = note

    def action_press(self) -> None:
        self.post_message(self.Pressed(self))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.action_press()

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()

    def _middle(self, cells: int, rows: int) -> list[tuple[str, str]]:
        """Label, and key or note, set in the middle of the box."""
        label = clean(self.label)
        lines = [(line, "strong" if self.ready else "dim") for line in wrap(label, cells, 3)]
        key = PRINTED.get(self.key, self.key)
        if self.note and len(lines) < rows:
            lines.append((fit(clean(self.note), min(cells, width(self.note))), "dim"))
        elif key and rows >= 2 and len(lines) < rows:
            lines.append((key, "dim"))
        lines = lines[:rows]
        above = (rows - len(lines)) // 2
        return [("", "")] * above + lines + [("", "")] * (rows - above - len(lines))

    def render_line(self, y: int) -> Strip:
        theme, cells, rows = self.app.theme, self.size.width, self.size.height
        here = self.has_focus
        frame = ink(theme, "accent" if here else "dim" if self.ready else "rule")
        left, across, right, up, low_left, low_right = "┏━┓┃┗┛" if here else "┌─┐│└┘"
        if y == 0:
            return Strip([Segment(f"{left}{across * (cells - 2)}{right}", frame)], cells)
        if y == rows - 1:
            return Strip([Segment(f"{low_left}{across * (cells - 2)}{low_right}", frame)], cells)
        text, style = self._middle(cells - 4, rows - 2)[y - 1]
        room = cells - 2
        before = (room - width(text)) // 2
        mark = "▸" if here and text and style != "dim" and before >= 2 else ""
        inner = " " * (before - 2 * len(mark)) + (mark + " " if mark else "") + text
        ground = "cursor" if here else "chip"
        body = Segment(fit(inner, room), ink(theme, style, ground))
        return Strip([Segment(up, frame), body, Segment(up, frame)], cells)


class TargetRow(Horizontal):
    """Targets side by side; left and right go from one to the next."""

    DEFAULT_CSS = "TargetRow { height: auto; }"
    BINDINGS: ClassVar[list[BindingType]] = [("left", "step(-1)", "Left"), ("right", "step(1)", "Right")]

    def action_step(self, by: int) -> None:
        own = list(self.query(Target))
        here = next((i for i, target in enumerate(own) if target.has_focus), None)
        if own and here is not None:
            own[(here + by) % len(own)].focus()
