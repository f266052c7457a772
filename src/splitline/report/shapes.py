"""Shapes of a vector drawing. Lengths in mm of an A4 sheet, origin at the upper left, y down; black and grey only."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Anchor = Literal["left", "middle", "right"]
SCALES = (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)  # times a power of ten: round scales


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``dash`` 0 is drawn through."""

    x0: float
    y0: float
    x1: float
    y1: float
    width: float = 0.2
    dash: float = 0.0
    grey: float = 0.0  # 0 black, 1 white


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; ``fill`` is a grey or None."""

    x: float
    y: float
    r: float
    width: float = 0.2
    fill: float | None = None
    dash: float = 0.0
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed line; ``fill`` is a grey or None."""

    points: tuple[tuple[float, float], ...]
    width: float = 0.2
    fill: float | None = None
    dash: float = 0.0
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """Text whose middle height is at ``y``; ``size`` in points. ``clear`` puts white under it."""

    x: float
    y: float
    text: str
    size: float = 8.0
    anchor: Anchor = "middle"
    strong: bool = False
    clear: bool = False


Shape = Line | Circle | Polygon | Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes on a field ``width`` by ``height`` mm, with what it shows in words for writers that cannot draw."""

    width: float
    height: float
    shapes: tuple[Shape, ...] = field(default=())
    said: str = ""


def scale_for(width: float, height: float, wide: float, high: float, zoom: float = 1.0) -> float:
    """The largest usual scale 1:N at which a thing ``width`` by ``height`` m fits ``wide`` by ``high`` mm of paper; N.

    ``zoom`` is how much larger than drawn here the paper prints (A3: 1.25), so that the printed scale is a usual one.
    """
    need = max(width * 1000 / (wide * zoom), height * 1000 / (high * zoom), 1e-6)
    power = 1.0
    while power > need:
        power /= 10
    while True:
        for step in SCALES:
            if step * power >= need * (1 - 1e-9):
                return step * power
        power *= 10


def scale_said(n: float) -> str:
    """``"1:10"``, or ``"2:1"`` where the drawing is larger than the thing."""
    return f"1:{n:g}" if n >= 1 else f"{1 / n:g}:1"
