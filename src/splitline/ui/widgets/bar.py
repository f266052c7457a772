"""A one-line bar of pieces, some of which can be tapped: the head and the foot of every screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.segment import Segment
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.rows import clean, fit, width
from splitline.ui.theme import ink


@dataclass(frozen=True, slots=True)
class Piece:
    """Text in a style; a tap runs ``action`` of the screen (an action string) where there is one."""

    text: str
    style: str = ""
    action: str = ""


class Bar(Widget):
    """Pieces from the left, pieces from the right; the left ones give way."""

    DEFAULT_CSS = "Bar { height: 1; width: 1fr; }"

    def __init__(self, *, id: str | None = None, ground: str = "chip") -> None:
        super().__init__(id=id)
        self._left: tuple[Piece, ...] = ()
        self._right: tuple[Piece, ...] = ()
        self._ground = ground

    def show(self, left: Sequence[Piece], right: Sequence[Piece] = ()) -> None:
        shown = tuple(left), tuple(right)
        if shown != (self._left, self._right):
            self._left, self._right = shown
            self.refresh()

    def _laid_out(self) -> list[Piece]:
        right = [Piece(clean(p.text), p.style, p.action) for p in self._right]
        room = self.size.width - sum(width(p.text) for p in right)
        while right and room < self.size.width // 3:
            room += width(right.pop(0).text)
        out: list[Piece] = []
        for piece in self._left:
            text = clean(piece.text)
            if room <= 0:
                break
            text = text if width(text) <= room else fit(text, room)
            out.append(Piece(text, piece.style, piece.action))
            room -= width(text)
        out.append(Piece(" " * max(room, 0)))
        return out + right

    def render_line(self, y: int) -> Strip:
        theme = self.app.theme
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
