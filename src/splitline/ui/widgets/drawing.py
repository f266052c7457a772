"""A drawing that fills its room, drawn line by line from a pure function of its size."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.rows import Row, fit_row
from splitline.ui.theme import ink

Draw = Callable[[int, int], Sequence[Row]]


class Drawing(Widget):
    """Rows from ``draw(width, height)``, kept until the size, the theme or the drawing changes."""

    DEFAULT_CSS = "Drawing { width: 1fr; height: 1fr; }"

    def __init__(self, draw: Draw | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._draw = draw
        self._kept: tuple[tuple[int, int], Sequence[Row]] | None = None

    def show(self, draw: Draw) -> None:
        self._draw = draw
        self._kept = None
        self.refresh()

    @property
    def rows(self) -> Sequence[Row]:
        """The rows as they stand now."""
        size = (self.size.width, self.size.height)
        if self._kept is None or self._kept[0] != size:
            self._kept = (size, self._draw(*size) if self._draw is not None and min(size) > 0 else ())
        return self._kept[1]

    def render_line(self, y: int) -> Strip:
        theme = self.app.theme
        rows = self.rows
        if y >= len(rows):
            return Strip.blank(self.size.width, ink(theme, ""))
        row = fit_row(rows[y], self.size.width)
        return Strip([Segment(text, ink(theme, style)) for text, style in row], self.size.width)
