"""Crane: rating at a radius, load on hook and crane, shares of two cranes, headroom, wind."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from splitline.errors import InputError

CLEAR = 0.150  # m kept between the underside and what it passes over (common practice, no published source)
AIR = 1.25  # kg/m3 (ISO 4302, from memory)


@dataclass(frozen=True, slots=True)
class Rating:
    """Capacity at a radius, and at the next larger radius of the chart."""

    capacity: float  # straight between the chart's rows, same unit as the chart
    next_lower: float  # rating of the next larger radius in the chart: the cautious reading


def rating(chart: Sequence[tuple[float, float]], radius: float) -> Rating:
    """Rating at ``radius`` from rows (radius m, capacity); straight between rows, never beyond them (InputError)."""
    rows = sorted(chart)
    if not rows:
        raise InputError("the crane's chart has no rows")
    if len({row[0] for row in rows}) != len(rows):
        raise InputError("the crane's chart gives one radius twice")
    if not rows[0][0] <= radius <= rows[-1][0]:
        raise InputError(f"radius {radius:.4g} m is outside the chart ({rows[0][0]:.4g} to {rows[-1][0]:.4g} m)")
    for (low, first), (high, second) in pairwise(rows):
        if low <= radius <= high:
            if radius == low:
                return Rating(first, first)
            return Rating(first + (second - first) * (radius - low) / (high - low), second)
    return Rating(rows[0][1], rows[0][1])


def hook_load(weight: float, factor: float, dynamic: float, spreader: float = 0.0, rigging: float = 0.0) -> float:
    """Load below the hook, N: dynamic x (weight x mass factor + spreader + rigging): all that hangs is accelerated alike."""
    return dynamic * (weight * factor + spreader + rigging)


def tandem(load: float, first: float, second: float) -> tuple[float, float]:
    """Shares of two cranes at distances ``first`` and ``second`` (m, both above 0) from the centre, N: L b/(a + b)."""
    if first < 0.0 or second < 0.0 or first + second <= 0.0:
        raise InputError("distances of both hooks from the centre must be 0 or more, not both 0")
    return (load * second / (first + second), load * first / (first + second))


def underside_drop(hook: Sequence[float], up: Sequence[float], places: Sequence[Sequence[float]]) -> float:
    """Greatest depth of the load's lowest places (load's frame) below the hook as it hangs, m."""
    if not places:
        raise InputError("no place of the load is known")
    return max(math.fsum((h - p) * u for h, p, u in zip(hook, place, up, strict=True)) for place in places)


def headroom(hook_height: float, drop: float, clear_over: float) -> float:
    """What is left below the load with the hook at its highest, m: hook height - drop - clear_over."""
    return hook_height - drop - clear_over


def wind_force(speed: float, area: float, drag: float = 1.2, density: float = AIR) -> float:
    """Wind on a load, 1/2 rho v^2 A c, N; m/s, m2. Source: ISO 4302 form."""
    if speed < 0.0 or area < 0.0 or drag < 0.0:
        raise InputError("wind speed, area and drag coefficient must be 0 or more")
    return 0.5 * density * speed * speed * area * drag


def line_angle(side: float, weight: float) -> float:
    """Hoist line off the vertical under a steady side force, atan(F/W), rad."""
    if weight <= 0.0:
        raise InputError("weight must be above 0")
    return math.atan2(side, weight)
