"""A canvas of cells with a finer grid of braille dots in it: 2 × 4 dots a cell, so a dot is about square."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from splitline.ui.draw.rows import Row, clean, width

SOLID = ("now", "tag", "coming")  # styles with a ground or a line of their own, which must not run on over blanks
_DOTS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))


class Canvas:
    """Text over braille over fill. Coordinates of text are cells, those of lines are dots; y grows downward."""

    def __init__(self, cells: int, rows: int) -> None:
        self.cells = max(cells, 1)
        self.rows = max(rows, 1)
        self.wide = self.cells * 2
        self.high = self.rows * 4
        self._dots = [[0] * self.cells for _ in range(self.rows)]
        self._ink = [[""] * self.cells for _ in range(self.rows)]
        self._text: list[list[str]] = [[""] * self.cells for _ in range(self.rows)]
        self._style = [[""] * self.cells for _ in range(self.rows)]

    def dot(self, x: int, y: int, style: str = "") -> None:
        if 0 <= x < self.wide and 0 <= y < self.high:
            cx, cy = x >> 1, y >> 2
            self._dots[cy][cx] |= _DOTS[x & 1][y & 3]
            self._ink[cy][cx] = style

    def line(self, x0: float, y0: float, x1: float, y1: float, style: str = "", every: int = 1) -> None:
        """A straight line; ``every`` 2 or more leaves dots out."""
        clipped = _clip(x0, y0, x1, y1, self.wide, self.high)
        if clipped is None:
            return
        x0, y0, x1, y1 = clipped
        steps = int(max(abs(x1 - x0), abs(y1 - y0), 1))
        for i in range(0, steps + 1, every):
            self.dot(round(x0 + (x1 - x0) * i / steps), round(y0 + (y1 - y0) * i / steps), style)

    def poly(
        self, points: Iterable[tuple[float, float]], style: str = "", closed: bool = False, every: int = 1
    ) -> None:
        nodes = list(points)
        if closed and nodes:
            nodes.append(nodes[0])
        for (x0, y0), (x1, y1) in itertools.pairwise(nodes):
            self.line(x0, y0, x1, y1, style, every)

    def box(self, x0: float, y0: float, x1: float, y1: float, style: str = "") -> None:
        self.poly([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], style, closed=True)

    def hatch(self, x0: float, y0: float, x1: float, y1: float, style: str = "", pitch: int = 4, lean: int = 1) -> None:
        """Section hatching of a rectangle; ``lean`` 1 or -1."""
        x0, x1, y0, y1 = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
        for y in range(max(math.ceil(y0), 0), min(int(y1), self.high - 1) + 1):
            for x in range(max(math.ceil(x0), 0), min(int(x1), self.wide - 1) + 1):
                if (x + lean * y) % pitch == 0:
                    self.dot(x, y, style)

    def ellipse(self, cx: float, cy: float, rx: float, ry: float, style: str = "", every: int = 1) -> None:
        if min(rx, ry) < 0:
            return
        steps = min(max(int(2 * math.pi * max(rx, ry)), 12), 2000)
        for i in range(0, steps, every):
            a = 2 * math.pi * i / steps
            self.dot(round(cx + rx * math.cos(a)), round(cy + ry * math.sin(a)), style)

    def text(self, column: int, row: int, text: str, style: str = "", over: bool = True) -> bool:
        """Write text at a cell; with ``over`` false it is left off where it would cover other text. True if written."""
        text = clean(text)
        if not 0 <= row < self.rows:
            return False
        own = width(text)
        if not over and (column < 0 or column + own > self.cells or not self.free(column, row, own)):
            return False
        at = column
        for char in text:
            cells = width(char)
            if cells == 0:
                continue
            if at >= 0 and at + cells <= self.cells:
                self._text[row][at] = char
                self._style[row][at] = style
                if cells == 2:
                    self._text[row][at + 1] = "\0"
            at += cells
        return True

    def free(self, column: int, row: int, cells: int = 1) -> bool:
        """Whether no text stands in these cells."""
        if not 0 <= row < self.rows:
            return False
        return not any(self._text[row][max(column, 0) : column + cells])

    def finish(self) -> list[Row]:
        """Rows of segments, neighbouring cells of one style joined."""
        return [self._row(y) for y in range(self.rows)]

    def _row(self, y: int) -> Row:
        out: list[tuple[str, str]] = []
        run: list[str] = []
        now = ""
        for x in range(self.cells):
            char = self._text[y][x]
            if char == "\0":
                continue
            if char:
                style = self._style[y][x]
            elif self._dots[y][x]:
                char, style = chr(0x2800 + self._dots[y][x]), self._ink[y][x]
            else:
                char, style = " ", "" if now in SOLID else now
            if style != now and run:
                out.append(("".join(run), now))
                run = []
            now = style
            run.append(char)
        out.append(("".join(run), now))
        return tuple(out)


def _clip(x0: float, y0: float, x1: float, y1: float, wide: int, high: int) -> tuple[float, float, float, float] | None:
    """The part of a line inside the canvas (Liang-Barsky), or None."""
    if not all(map(math.isfinite, (x0, y0, x1, y1))):
        return None
    dx, dy = x1 - x0, y1 - y0
    start, end = 0.0, 1.0
    for p, q in ((-dx, x0), (dx, wide - 1 - x0), (-dy, y0), (dy, high - 1 - y0)):
        if p == 0:
            if q < 0:
                return None
            continue
        t = q / p
        if p < 0:
            start = max(start, t)
        else:
            end = min(end, t)
        if start > end:
            return None
    return x0 + start * dx, y0 + start * dy, x0 + end * dx, y0 + end * dy


class Scale:
    """World lengths to dots, one scale for both directions (``most`` dots a length), y up, centred in a window."""

    def __init__(
        self,
        bounds: tuple[float, float, float, float],
        window: tuple[float, float, float, float],
        most: float = math.inf,
    ) -> None:
        x0, y0, x1, y1 = bounds
        u0, v0, u1, v1 = window
        wide, high = max(x1 - x0, 1e-12), max(y1 - y0, 1e-12)
        self.per = max(min((u1 - u0) / wide, (v1 - v0) / high, most), 1e-12)
        self._u = (u0 + u1) / 2 - self.per * (x0 + x1) / 2
        self._v = (v0 + v1) / 2 + self.per * (y0 + y1) / 2

    def __call__(self, x: float, y: float) -> tuple[float, float]:
        return self._u + self.per * x, self._v - self.per * y

    def cell(self, x: float, y: float) -> tuple[int, int]:
        """Column and row of the cell a place falls into."""
        u, v = self(x, y)
        return math.floor(u / 2), math.floor(v / 4)
