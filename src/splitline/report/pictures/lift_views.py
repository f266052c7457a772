"""A load on its hook to one scale: from the side and from above, with its legs, centre of gravity and hook line."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from splitline.report.pictures.bar import scale_bar
from splitline.report.shapes import Circle, Drawing, Label, Line, Polygon, Shape, scale_for, scale_said
from splitline.units import System

Point = tuple[float, float, float]
View = Callable[[Point], tuple[float, float]]
LINE = 3.0  # mm from line to line along a leg
_EDGES = ((0, 1), (0, 2), (0, 4), (1, 3), (1, 5), (2, 3), (2, 6), (3, 7), (4, 5), (4, 6), (5, 7), (6, 7))


@dataclass(frozen=True, slots=True)
class DrawnLeg:
    """A leg from its upper end to its pick point, m; ``name`` stands at the pick point, ``said`` along the leg."""

    top: Point
    foot: Point
    name: str
    said: str = ""  # lines, the one that matters most first


@dataclass(frozen=True, slots=True)
class Hung:
    """A load as it hangs, in its own frame, m; ``up`` is the vertical."""

    hook: Point
    up: Point
    centre: Point | None
    legs: tuple[DrawnLeg, ...]
    upper: tuple[DrawnLeg, ...] = ()  # above a spreader
    beam: tuple[tuple[Point, Point], ...] = ()
    parts: tuple[Point, ...] = ()
    shift: float = 0.0
    points: tuple[Point, ...] = field(default=())  # what the box round the load must hold
    system: System = "SI"


def side_and_plan(hung: Hung, wide: float, high: float, zoom: float) -> tuple[Drawing, Drawing]:
    """Both views, each to its own scale, ``wide`` by at most ``high`` mm."""
    found = []
    for view, name in zip(_views(hung), ("side view", "from above"), strict=True):
        span = _span([view(point) for point in _all(hung)])
        n = scale_for(span[2], span[3], wide - 26, high - 20, zoom)
        found.append(_drawing(hung, view, span, wide, n, zoom, name))
    return found[0], found[1]


def _views(hung: Hung) -> tuple[View, View]:
    up = _unit(hung.up) or (0.0, 0.0, 1.0)
    seen = _widest(hung, up)
    away = _cross(up, seen)
    return (lambda p: (_dot(p, seen), _dot(p, up))), (lambda p: (_dot(p, seen), _dot(p, away)))


def _widest(hung: Hung, up: Point) -> Point:
    """The level direction in which the pick points spread most: the side view is taken across it."""
    first = _unit(_level((1.0, 0.0, 0.0), up)) or _unit(_level((0.0, 1.0, 0.0), up)) or (1.0, 0.0, 0.0)
    second = _cross(up, first)
    feet = [leg.foot for leg in hung.legs] or [hung.hook]

    def spread(axis: Point) -> float:
        values = [_dot(foot, axis) for foot in feet]
        return max(values) - min(values)

    return first if spread(first) >= spread(second) * 0.999 else second


def _all(hung: Hung) -> list[Point]:
    found = [hung.hook, *_box(hung), *hung.parts]
    for leg in (*hung.legs, *hung.upper):
        found += [leg.top, leg.foot]
    for edge in hung.beam:
        found += edge
    return found


def _box(hung: Hung) -> tuple[Point, ...]:
    """Corners of a box round pick points and centres of the parts: the load's real outline is not in a plan."""
    points = [leg.foot for leg in hung.legs] + list(hung.parts) + list(hung.points)
    if not points:
        return ()
    low = [min(p[i] for p in points) for i in range(3)]
    high = [max(p[i] for p in points) for i in range(3)]
    pad = 0.06 * max(high[i] - low[i] for i in range(3))
    low = [value - pad for value in low]
    high = [high[0] + pad, high[1] + pad, high[2]]
    return tuple((x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2]))


def _span(points: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs) + max(xs)) / 2, max(ys), max(max(xs) - min(xs), 1e-3), max(max(ys) - min(ys), 1e-3)


def _drawing(
    hung: Hung, view: View, span: tuple[float, float, float, float], wide: float, n: float, zoom: float, name: str
) -> Drawing:
    per = 1000 / n / zoom
    high = span[3] * per + 20

    def at(point: Point) -> tuple[float, float]:
        u, v = view(point)
        return wide / 2 + (u - span[0]) * per, 9 + (span[1] - v) * per

    shapes: list[Shape] = [*_load(hung, at), *_rigging(hung, at, name == "side view", high)]
    shapes += _centre(hung, at, per, name != "side view")
    shapes += _names(hung, at)
    if name == "side view":
        shapes += _along(hung, at)
    shapes.append(Label(1, 3, f"{name}, scale {scale_said(n)}", 7.5, "left", strong=True))
    shapes += scale_bar(high - 3, per, 40, hung.system)
    return Drawing(wide, high, tuple(shapes), f"{name} of the lift, scale {scale_said(n)}")


def _load(hung: Hung, at: Callable[[Point], tuple[float, float]]) -> list[Shape]:
    corners = _box(hung)
    found: list[Shape] = []
    for a, b in _EDGES if len(corners) == 8 else ():
        found.append(Line(*at(corners[a]), *at(corners[b]), 0.2, 1.5, 0.45))
    for start, end in hung.beam:
        found.append(Line(*at(start), *at(end), 1.2))
    return found


def _rigging(hung: Hung, at: Callable[[Point], tuple[float, float]], from_side: bool, high: float) -> list[Shape]:
    hook = at(hung.hook)
    found: list[Shape] = []
    for leg in (*hung.upper, *hung.legs):
        found.append(Line(*at(leg.top), *at(leg.foot), 0.5))
    for leg in hung.legs:
        found.append(Circle(*at(leg.foot), 1.0, 0.4, 1.0))
    if from_side:
        found.append(Line(hook[0], hook[1], hook[0], high - 7, 0.15, 2.0, 0.4))
        found.append(Line(hook[0], max(hook[1] - 6, 0), hook[0], hook[1], 0.9))
        found.append(Label(hook[0] + 2, max(hook[1] - 3.5, 2.5), "hook", 8, "left", clear=True))
    found.append(Circle(*hook, 1.3, 0.5, 1.0))
    return found


def _centre(hung: Hung, at: Callable[[Point], tuple[float, float]], per: float, circle: bool) -> list[Shape]:
    found: list[Shape] = []
    for part in hung.parts:
        x, y = at(part)
        found += [Line(x - 1.2, y, x + 1.2, y, 0.25, grey=0.3), Line(x, y - 1.2, x, y + 1.2, 0.25, grey=0.3)]
    if hung.centre is None:
        return found
    x, y = at(hung.centre)
    if circle and hung.shift > 0:
        found.append(Circle(x, y, max(hung.shift * per, 1.9), 0.2, None, 0.8))
    found.append(Polygon(((x, y - 1.7), (x + 1.7, y), (x, y + 1.7), (x - 1.7, y)), 0.2, 0.0))
    found.append(Label(x, y + 4.0, "centre of gravity", 7, "middle", clear=True))
    return found


def _along(hung: Hung, at: Callable[[Point], tuple[float, float]]) -> list[Shape]:
    """What is said of each leg, line under line beside its middle; left out where another stands there (the table has them all)."""
    middle = at(hung.hook)[0]
    found: list[Shape] = []
    taken: list[tuple[float, float]] = []
    for leg in hung.legs:
        (x0, y0), (x1, y1) = at(leg.top), at(leg.foot)
        right = x1 >= middle
        lines = leg.said.split("\n")
        for share in (0.55, 0.4, 0.7, 0.3, 0.8):
            x, y = x0 + share * (x1 - x0) + (2 if right else -2), y0 + share * (y1 - y0)
            if leg.said and all(abs(y - b) > LINE * len(lines) + 0.4 or (x > middle) != (a > middle) for a, b in taken):
                taken.append((x, y))
                for number, line in enumerate(lines):
                    said = f"{leg.name}: {line}" if number == 0 else line
                    found.append(Label(x, y + LINE * number, said, 7, "left" if right else "right", clear=True))
                break
    return found


def _names(hung: Hung, at: Callable[[Point], tuple[float, float]]) -> list[Shape]:
    """The number of each leg at its pick point, on its outer side; legs that meet there share the place."""
    middle = at(hung.hook)[0]
    found: list[Shape] = []
    taken: list[tuple[float, float]] = []
    for leg in hung.legs:
        x, y = at(leg.foot)
        for _ in range(6):
            if all(abs(x - a) > 5 or abs(y - b) > 3 for a, b in taken):
                break
            y += 3.2
        taken.append((x, y))
        right = x >= middle
        found.append(Label(x + (2.2 if right else -2.2), y, leg.name, 8, "left" if right else "right", True, True))
    return found


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def _level(a: Point, axis: Point) -> Point:
    d = _dot(a, axis)
    return (a[0] - d * axis[0], a[1] - d * axis[1], a[2] - d * axis[2])


def _cross(a: Point, b: Point) -> Point:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(a: Point) -> Point | None:
    size = math.sqrt(_dot(a, a))
    return None if size < 1e-9 else (a[0] / size, a[1] / size, a[2] / size)
