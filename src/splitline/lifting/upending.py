"""Turning a load up between a head hook and a tail (second hook, or the floor it pivots on).

Both hoist lines vertical; the load turns in the vertical plane through head and tail. With horizontal places x at a
given angle: head = W (x_c - x_tail)/(x_head - x_tail), tail = W - head. Source: statics of two parallel forces.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from splitline.errors import InputError

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Upending:
    """Loads at each angle of the head-to-tail turn from the drawn, lying pose."""

    angles: tuple[float, ...]  # rad, 0 lying to pi/2 up
    head: tuple[float, ...]  # N
    tail: tuple[float, ...]
    head_low: tuple[float, ...]  # over the centre's shift
    head_high: tuple[float, ...]
    tail_low: tuple[float, ...]
    tail_high: tuple[float, ...]
    ups: tuple[Point, ...]  # the vertical in the load's frame at each angle: direction of both pulls
    tail_slack: (
        float | None
    )  # rad, from where the tail carries nothing, 0 = from the start; None = it carries to the end
    changeover: float | None  # rad, where the head carries more than the tail from there on; None = never or always
    runaway: float | None  # rad, where the centre passes over the tail, 0 = beyond it from the start; None = never
    runaway_early: float | None  # rad, the same at the earliest within the centre's doubt


def upending(
    head: Sequence[float],
    tail: Sequence[float],
    centre: Sequence[float],
    weight: float,
    shift: float = 0.0,
    steps: int = 18,
) -> Upending:
    """Loads from lying (as drawn, 0) to up (90 degrees), head rising; points (3,) m in the load's frame, weight N.

    shift: radius of doubt of the centre, m, taken along the horizontal at every angle (any direction in the plane).
    A load drawn standing (head over tail) is laid down first. Nothing pulls less than 0: past slack the other holds all.
    The centre over the tail is a place of the centre alone: the head passing over the tail is no runaway.
    """
    if not weight > 0.0 or shift < 0.0 or steps < 1:
        raise InputError("weight must be above 0, centre shift 0 or more, steps 1 or more")
    plane = _plane(head, tail, centre)
    points = [_in_plane(point, tail, plane) for point in (head, centre)]
    if plane.standing:
        points = [(z, -s) for s, z in points]
    if math.hypot(*points[0]) < 1e-6:
        raise InputError("head and tail pick points coincide: nothing turns")
    angles = [math.pi / 2.0 * step / steps for step in range(steps + 1)]
    exact = [_head(points, angle, weight, 0.0) for angle in angles]
    low, high = ([_head(points, angle, weight, side * shift) for angle in angles] for side in (-1.0, 1.0))
    return Upending(
        angles=tuple(angles),
        head=tuple(exact),
        tail=tuple(weight - value for value in exact),
        head_low=tuple(map(min, low, high, exact)),
        head_high=tuple(map(max, low, high, exact)),
        tail_low=tuple(weight - max(values) for values in zip(low, high, exact, strict=True)),
        tail_high=tuple(weight - min(values) for values in zip(low, high, exact, strict=True)),
        ups=tuple(plane.up(angle - (math.pi / 2.0 if plane.standing else 0.0)) for angle in angles),
        tail_slack=_first(lambda a: _out(points[1], a) - _out(points[0], a)),
        changeover=_turned(lambda a: _out(points[1], a) - 0.5 * _out(points[0], a)),
        runaway=_first(lambda a: -_out(points[1], a)),
        runaway_early=_first(lambda a: shift - _out(points[1], a)),
    )


@dataclass(frozen=True, slots=True)
class _Plane:
    along: tuple[float, float]  # horizontal direction tail to head in the load's frame
    standing: bool  # drawn with the head over the tail

    def up(self, angle: float) -> Point:
        """Vertical in the load's frame after turning by ``angle``, head rising."""
        s = math.sin(angle)
        return (s * self.along[0], s * self.along[1], math.cos(angle))


def _plane(head: Sequence[float], tail: Sequence[float], centre: Sequence[float]) -> _Plane:
    dx, dy, dz = (h - t for h, t in zip(head, tail, strict=True))
    flat = math.hypot(dx, dy)
    if flat >= abs(dz):
        return _Plane((dx / flat, dy / flat) if flat > 0.0 else (1.0, 0.0), False)
    if dz < 0.0:
        raise InputError("the head's pick points are drawn below the tail: swap them or redraw the load")
    # standing: the tail side leads when it is laid down; head moves away from it
    cx, cy = (head[0] - tail[0], head[1] - tail[1]) if flat > 1e-6 else (centre[0] - tail[0], centre[1] - tail[1])
    size = math.hypot(cx, cy)
    return _Plane((cx / size, cy / size) if size > 1e-6 else (1.0, 0.0), True)


def _in_plane(point: Sequence[float], tail: Sequence[float], plane: _Plane) -> tuple[float, float]:
    along = (point[0] - tail[0]) * plane.along[0] + (point[1] - tail[1]) * plane.along[1]
    return (along, point[2] - tail[2])


def _out(point: tuple[float, float], angle: float) -> float:
    """Horizontal distance of a place from the tail, towards the lying head, at an angle of turn, m."""
    return point[0] * math.cos(angle) - point[1] * math.sin(angle)


def _head(points: Sequence[tuple[float, float]], angle: float, weight: float, shift: float) -> float:
    head, centre = _out(points[0], angle), _out(points[1], angle) + shift
    if head <= 1e-9 * math.hypot(*points[0]):  # head over the tail or past it: nothing holds a centre beyond
        return weight if centre > 0.0 or abs(head) <= 1e-9 >= abs(centre) else 0.0
    return weight * max(0.0, min(1.0, centre / head))


def _turned(value: Callable[[float], float]) -> float | None:
    """As ``_first``, None for what is so from the start."""
    return None if value(0.0) >= 0.0 else _first(value)


def _first(value: Callable[[float], float]) -> float | None:
    """First angle (to 1e-6 rad) where ``value`` is 0 or more, None where it never is up to standing."""
    grid = [math.pi / 2.0 * step / 900 for step in range(901)]
    if value(0.0) >= 0.0:
        return 0.0
    for low, high in pairwise(grid):
        if value(high) >= 0.0:
            for _ in range(30):
                middle = 0.5 * (low + high)
                low, high = (low, middle) if value(middle) >= 0.0 else (middle, high)
            return high
    return None
