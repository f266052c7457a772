"""The middle of the fitter's screen: rows drawn for its size."""

from __future__ import annotations

from collections.abc import Callable

from rich.segment import Segment
from textual import events
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from splitline.ui.draw.rows import Row, fit_row
from splitline.ui.theme import ink


class Body(Widget):
    """The instruction, drawn from rows for its size."""

    DEFAULT_CSS = "Body { height: 1fr; width: 1fr; padding: 0 1; }"

    def __init__(self) -> None:
        super().__init__(id="body")
        self._build: Callable[[int, int], list[Row]] = lambda cells, rows: []
        self._rows: list[Row] = []
        self._size_drawn = Size(0, 0)

    def show(self, build: Callable[[int, int], list[Row]]) -> None:
        self._build = build
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        self._draw()

    def _draw(self) -> None:
        region = self.content_region
        if region.width > 0 and region.height > 0:
            rows = self._build(region.width, region.height)
            before, self._rows = self._rows, rows
            if self._size_drawn != region.size:
                self._size_drawn = region.size
                self.refresh()
                return
            # A sign of life, a poll, another crew's stud: what stands there already is not painted and sent again.
            changed = [y for y in range(region.height) if before[y : y + 1] != rows[y : y + 1]]
            if changed:
                self.refresh(*(Region(0, y, region.width, 1) for y in changed))

    def render_line(self, y: int) -> Strip:
        theme, cells = self.app.theme, self.content_region.width
        row = self._rows[y] if y < len(self._rows) else ()
        return Strip([Segment(text, ink(theme, style)) for text, style in fit_row(row, cells)], cells)
