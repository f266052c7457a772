"""A bar of pieces, some of which can be tapped: the head and the foot of every screen; three rows high for fingers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rich.segment import Segment
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.rows import clean, fit, width
from splitline.ui.glass import glass_of
from splitline.ui.theme import ink

LEAST = 12  # cells a piece that gives keeps for as long as anything else can go


@dataclass(frozen=True, slots=True)
class Piece:
    """Text in a style; a tap runs ``action`` of the screen (an action string) where there is one.

    Where the line is short, a piece that ``gives`` is cut first, so that the others stand in full.
    """

    text: str
    style: str = ""
    action: str = ""
    gives: bool = False


class Bar(Widget):
    """Pieces from the left, pieces from the right; the left ones give way."""

    DEFAULT_CSS = """
    Bar { height: 1; width: 1fr; }
    Bar.-finger { height: 3; }
    """

    def __init__(self, *, id: str | None = None, ground: str = "chip") -> None:
        super().__init__(id=id)
        self._left: tuple[Piece, ...] = ()
        self._right: tuple[Piece, ...] = ()
        self._ground = ground

    def show(self, left: Sequence[Piece], right: Sequence[Piece] = ()) -> None:
        shown = tuple(left), tuple(right)
        if shown != (self._left, self._right):
            self._left, self._right = shown
            served = bool(getattr(self.app, "served", False))
            finger = served and any(piece.action for piece in (*self._left, *self._right))
            self.set_class(finger, "-finger")
            self.styles.min_height = glass_of(self.app).glove_rows() if finger else None
            self.refresh()

    def _laid_out(self) -> list[Piece]:
        left = [replace(p, text=clean(p.text)) for p in self._left]
        right = [replace(p, text=clean(p.text)) for p in self._right]
        least = sum(min(width(p.text), LEAST) if p.gives else width(p.text) for p in left)
        stays = least if any(p.gives for p in left) else 0
        room = self.size.width - sum(width(p.text) for p in right)
        wanted = min(max(self.size.width // 3, stays), sum(width(p.text) for p in left))
        while right and room < wanted:
            room += width(right.pop(0).text)
        out: list[Piece] = []
        for piece in _cut(left, room):
            text = piece.text
            if room <= 0:
                break
            text = text if width(text) <= room else fit(text, room)
            out.append(Piece(text, piece.style, piece.action))
            room -= width(text)
        out.append(Piece(" " * max(room, 0)))
        return out + right

    def render_line(self, y: int) -> Strip:
        theme = self.app.theme
        if y != self.size.height // 2:
            return Strip.blank(self.size.width, ink(theme, "", self._ground))
        return Strip([Segment(p.text, ink(theme, p.style, self._ground)) for p in self._laid_out()], self.size.width)

    async def on_click(self, event: events.Click) -> None:
        at = 0
        for piece in self._laid_out():
            at += width(piece.text)
            if event.x < at:
                if piece.action:
                    event.stop()
                    await self.screen.run_action(piece.action)
                return


def _cut(pieces: list[Piece], room: int) -> list[Piece]:
    """The pieces, those that give cut until the rest fits."""
    over = sum(width(p.text) for p in pieces) - room
    out = []
    for piece in pieces:
        own = width(piece.text)
        if piece.gives and over > 0:
            kept = max(own - over, min(own, 2))
            over -= own - kept
            piece = replace(piece, text=fit(piece.text.rstrip(), kept))
        out.append(piece)
    return out
