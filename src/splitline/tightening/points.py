"""Orders for bolts at any places: taken as a ring by their angle about the middle, or from the middle outwards."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, hypot, tau

from splitline.errors import InputError
from splitline.tightening.circle import Step
from splitline.tightening.order import chunked, circle_steps

Point = tuple[float, float]


def ring_of(points: Sequence[Point]) -> tuple[int, ...]:
    """Bolt numbers (from 1) as met going round the middle of the pattern, bolt 1 first."""
    x, y = _middle(points)
    angles = [atan2(point[1] - y, point[0] - x) for point in points]
    ranked = sorted(range(len(points)), key=lambda at: ((angles[at] - angles[0]) % tau, at))
    return tuple(at + 1 for at in ranked)


def points_steps(order: str, points: Sequence[Point], tools: int = 1) -> tuple[Step, ...]:
    """Steps for bolts at ``points`` (m): cross, quadrant or round on the ring of their angles, or centre-out by distance.

    Common practice for covers that are neither round nor a split line. InputError for another order.
    """
    if order == "centre-out":
        if tools not in (1, 2, 4):
            raise InputError(f"{tools} tools together; 1, 2 or 4 are possible")
        x, y = _middle(points)
        away = [round(hypot(px - x, py - y), 9) for px, py in points]
        return chunked(tuple(at + 1 for at in sorted(range(len(points)), key=lambda at: (away[at], at))), tools)
    ring = ring_of(points)
    return tuple(tuple(ring[bolt - 1] for bolt in step) for step in circle_steps(order, len(points), tools))


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
