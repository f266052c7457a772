"""A measured dimension on a scale between its limits: as found, as left, wanted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


@dataclass(frozen=True)
class Point:
    """A value on the scale, with what is said of it."""

    value: float
    said: str
    mark: str
    style: str
    below: bool = True


@dataclass(frozen=True)
class Gauge:
    """A scale in one unit; limits None where there is none. ``other`` says the limits again in another measure."""

    low: float | None
    high: float | None
    low_said: str
    high_said: str
    points: Sequence[Point]
    ticks: Sequence[tuple[float, str]]
    low_other: str = ""
    high_other: str = ""
    unit: str = ""


def gauge_range(low: float | None, high: float | None, values: Sequence[float]) -> tuple[float, float]:
    """Ends of a scale that shows both limits, every value, and some room outside."""
    known = [v for v in (low, high, *values) if v is not None]
    if not known:
        return 0.0, 1.0
    least, most = min(known), max(known)
    if low is None and least > 0:
        least = 0.0
    if high is None and most < 0:
        most = 0.0
    spare = 0.3 * (most - least) or 0.3 * abs(most) or 1.0
    first = least - spare
    return (max(first, 0.0) if least >= 0 else first), most + spare


def round_ticks(least: float, most: float, wanted: int = 8) -> list[float]:
    """Round places on a scale, about ``wanted`` of them."""
    raw = (most - least) / max(wanted, 1)
    if raw <= 0:
        return []
    ten = 10.0 ** math.floor(math.log10(raw))
    step = next(s * ten for s in (1, 2, 5, 10) if s * ten >= raw * 0.999)
    first = math.ceil(least / step - 1e-9)
    return [n * step for n in range(first, math.floor(most / step + 1e-9) + 1)]


def gauge(found: Gauge, width_: int, ends: tuple[float, float]) -> list[Row]:
    """A few rows: limits with the accepted band, the scale, and the values below it."""
    canvas = Canvas(width_, 6 + len(found.points))
    start, end = ends
    left, right = 3, max(width_ - 4, 4)

    def column(value: float) -> int:
        share = (value - start) / max(end - start, 1e-30)
        return left + round((right - left) * min(max(share, 0.0), 1.0))

    low = column(found.low) if found.low is not None else left
    high = column(found.high) if found.high is not None else right
    canvas.text(left, 4, "─" * (right - left + 1), "dim")
    canvas.text(low, 3, "▄" * (high - low + 1), "ok")
    word = " accepted "
    if high - low > width(word) + 4:
        canvas.text((low + high - width(word)) // 2, 3, word, "ok")
    for place, text, other, sign in (
        (low, found.low_said, found.low_other, -1),
        (high, found.high_said, found.high_other, 1),
    ):
        if not text:
            continue
        canvas.text(place, 2, "│", "limit")
        canvas.text(place, 3, "┃", "limit")
        canvas.text(place, 4, "┃", "limit")
        tight = width(found.low_said) + width(found.high_said) + 2 > width_
        for row, said, style in ((0 if tight and sign > 0 else 1, text, "strong"), (0, "" if tight else other, "dim")):
            at = place - width(said) + 1 if sign < 0 else place
            canvas.text(max(0, min(at, width_ - width(said))), row, said, style, over=False)
    for value, text in found.ticks:
        place = column(value)
        if canvas.text(max(place - width(text) // 2 - 1, 0), 5, f" {text} ", "dim", over=False):
            canvas.text(
                place, 4, "┴" if place not in (low, high) else "┃", "dim" if place not in (low, high) else "limit"
            )
    canvas.text(width_ - width(found.unit), 5, found.unit, "dim", over=False)
    row = 6
    for point in found.points:
        place = column(point.value)
        canvas.text(place, row, point.mark, point.style)
        fits = place + 2 + width(point.said) <= width_
        canvas.text(place + 2 if fits else max(place - 1 - width(point.said), 0), row, point.said, point.style)
        row += 1
    return canvas.finish()
