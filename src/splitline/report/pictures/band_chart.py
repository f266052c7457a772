"""Values one after another against their limits: stretch by stud, force by travel. Black and white."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.report.shapes import Circle, Drawing, Label, Line, Polygon, Shape
from splitline.units import System, from_si, show, split

LEFT, RIGHT, TOP, UNDER = 16.0, 3.0, 3.0, 8.0  # mm round the field
_STEPS = (1, 2, 2.5, 5, 10)


@dataclass(frozen=True, slots=True)
class Charted:
    """One value, SI; ``label`` stands under it. None: not known, drawn as a cross on the axis."""

    label: str
    value: float | None
    low: float | None = None
    high: float | None = None
    worst: bool = False
    outside: bool = False
    span: tuple[float, float] | None = None  # its own doubt, SI


def band_chart(
    points: Sequence[Charted], quantity: str, system: System, wide: float, high: float, title: str, along: str
) -> Drawing | None:
    """A dot a value, a filled triangle where it is outside, a ring round the worst; the band grey. None: fewer than two."""
    if sum(point.value is not None for point in points) < 2:
        return None
    return _Chart(points, quantity, system, wide, high).drawing(title, along)


class _Chart:
    def __init__(self, points: Sequence[Charted], quantity: str, system: System, wide: float, high: float) -> None:
        self.points, self.quantity, self.system, self.wide, self.high = points, quantity, system, wide, high
        self.unit = split(0.0, quantity, system)[1]
        every = [v for p in points for v in (p.value, p.low, p.high, *(p.span or ())) if v is not None]
        shown = [from_si(value, quantity, self.unit) for value in every]
        low, top = min(shown), max(shown)
        room = (top - low) * 0.12 or abs(top) * 0.05 or 1.0
        self.least, self.most = low - room, top + room
        self.least = 0.0 if low >= 0 > self.least else self.least
        self.shapes: list[Shape] = []

    def x(self, place: float) -> float:
        return LEFT + (place + 0.5) * (self.wide - LEFT - RIGHT) / len(self.points)

    def y(self, value: float) -> float:
        share = (from_si(value, self.quantity, self.unit) - self.least) / (self.most - self.least)
        return self.high - UNDER - share * (self.high - UNDER - TOP)

    def drawing(self, title: str, along: str) -> Drawing:
        self._band()
        self._axes(title, along)
        for place, point in enumerate(self.points):
            self._point(self.x(place), point)
        return Drawing(self.wide, self.high, tuple(self.shapes), self._said(title))

    def _band(self) -> None:
        """Between its limits grey; an open end goes on to the edge of the field."""
        half = (self.x(1) - self.x(0)) / 2
        for low, high, first, last in _bands(self.points):
            if low is None and high is None:
                continue
            x0, x1 = self.x(first) - half, self.x(last) + half
            y0 = self.y(high) if high is not None else TOP
            y1 = self.y(low) if low is not None else self.high - UNDER
            self.shapes.append(Polygon(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), 0.1, 0.88, grey=0.88))
            self.shapes += [Line(x0, y, x1, y, 0.35, 1.5) for y, end in ((y0, high), (y1, low)) if end is not None]

    def _axes(self, title: str, along: str) -> None:
        x0, x1, y0 = LEFT, self.wide - RIGHT, self.high - UNDER
        self.shapes += [Line(x0, TOP, x0, y0, 0.3), Line(x0, y0, x1, y0, 0.3)]
        for value in ticks(self.least, self.most, 5):
            y = y0 - (value - self.least) / (self.most - self.least) * (y0 - TOP)
            self.shapes += [Line(x0 - 1, y, x0, y, 0.3), Label(x0 - 1.6, y, f"{value:g}", 6.5, "right")]
        self.shapes.append(Label(0, TOP - 1, self.unit, 6.5, "left"))
        size, count = 6.5, len(self.points)
        room = (self.wide - LEFT - RIGHT) / count
        widest = max(len(point.label) for point in self.points) * size * 0.24 + 1.0
        every = max(1, math.ceil(widest / room))
        for place, point in enumerate(self.points):
            if place % every == 0 or point.worst or point.outside:
                strong = point.worst or point.outside
                self.shapes.append(Label(self.x(place), y0 + 2.2, point.label, size, "middle", strong, clear=strong))
        self.shapes.append(Label(x1, self.high - 1.6, along, 6.5, "right"))
        self.shapes.append(Label(x0, self.high - 1.6, title, 7, "left", strong=True))

    def _point(self, x: float, point: Charted) -> None:
        if point.value is None:
            y = self.high - UNDER - 2.0
            self.shapes += [Line(x - 1, y - 1, x + 1, y + 1, 0.4), Line(x - 1, y + 1, x + 1, y - 1, 0.4)]
            return
        y = self.y(point.value)
        if point.span is not None:
            ends = [self.y(end) for end in point.span]
            self.shapes.append(Line(x, ends[0], x, ends[1], 0.35))
            self.shapes += [Line(x - 0.7, end, x + 0.7, end, 0.35) for end in ends]
        if point.outside:
            self.shapes.append(Polygon(((x, y - 1.5), (x + 1.4, y + 1.1), (x - 1.4, y + 1.1)), 0.2, 0.0))
            return
        self.shapes.append(Circle(x, y, 0.7, 0.2, 0.0))
        if point.worst:
            self.shapes.append(Circle(x, y, 1.6, 0.35))

    def _said(self, title: str) -> str:
        """The same in words, for those who cannot see it."""
        known = [p for p in self.points if p.value is not None]
        low = min(known, key=lambda p: p.value or 0.0)
        high = max(known, key=lambda p: p.value or 0.0)
        words = [
            f"{title}: {len(known)} values, lowest {self._show(low)} ({low.label}), highest {self._show(high)} ({high.label})"
        ]
        outside = [f"{p.label} {self._show(p)}" for p in known if p.outside]
        if any(p.low is not None or p.high is not None for p in known):
            words.append(f"outside: {', '.join(outside) or 'none'}")
        lacking = [p.label for p in self.points if p.value is None]
        return "; ".join([*words, *([f"no value: {', '.join(lacking)}"] if lacking else [])])

    def _show(self, point: Charted) -> str:
        return show(point.value or 0.0, self.quantity, self.system)


def _bands(points: Sequence[Charted]) -> list[tuple[float | None, float | None, int, int]]:
    """Runs of points with the same limits."""
    found: list[tuple[float | None, float | None, int, int]] = []
    for place, point in enumerate(points):
        if found and found[-1][:2] == (point.low, point.high):
            found[-1] = (point.low, point.high, found[-1][2], place)
        else:
            found.append((point.low, point.high, place, place))
    return found


def ticks(least: float, most: float, about: int) -> list[float]:
    """Round values between two ends, about as many as wanted."""
    rough = (most - least) / about
    power = 10 ** math.floor(math.log10(rough))
    step = next((k * power for k in _STEPS if k * power >= rough * (1 - 1e-9)), 10 * power)
    first = math.ceil(least / step - 1e-9)
    return [round(step * n, 12) for n in range(first, math.floor(most / step + 1e-9) + 1)]
