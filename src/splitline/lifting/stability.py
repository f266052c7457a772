"""Will it hang upright: centre of gravity against hook, pick plane and pick polygon; the spigot's axis against its bore."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.errors import InputError

Point = tuple[float, float, float]
Flat = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Standing:
    """Centre of gravity against the pick points and the hook."""

    below_hook: float  # m, hook over centre along the vertical; below 0 it turns over
    below_picks: float  # m, lowest pick over centre; below 0 the centre is above some pick
    inside: bool  # centre within the picks' polygon in plan
    margin: float  # m, distance in plan from the polygon's edge, negative outside; from the picks' line for two picks


def standing(picks: Sequence[Sequence[float]], centre: Sequence[float], hook: Sequence[float]) -> Standing:
    """Plan polygon is the convex hull of the picks (load's frame, x and y); two picks or a line have margin <= 0."""
    if not picks:
        raise InputError("a lift needs at least one leg: give its pick point")
    corners = hull([(pick[0], pick[1]) for pick in picks])
    margin = edge_distance(corners, (centre[0], centre[1]))
    low = min(pick[2] for pick in picks) - centre[2]
    return Standing(hook[2] - centre[2], low, margin >= -1e-9, margin)


def pick_line(picks: Sequence[Sequence[float]]) -> Point | None:
    """Direction of the line all picks lie on, a unit vector; None for a single pick or picks that span a plane."""
    first = picks[0]
    far = max(picks, key=lambda pick: math.dist(pick, first))
    size = math.dist(far, first)
    if size < 1e-9:
        return None
    x, y, z = ((b - a) / size for a, b in zip(first, far, strict=True))
    for pick in picks:
        away = [p - f for p, f in zip(pick, first, strict=True)]
        along = away[0] * x + away[1] * y + away[2] * z
        if math.sqrt(max(0.0, math.fsum(a * a for a in away) - along * along)) > 1e-6 * size:
            return None
    return (x, y, z)


def hull(points: Sequence[Flat]) -> list[Flat]:
    """Convex hull in plan, counter-clockwise (monotone chain)."""
    ordered = sorted({(round(x, 9), round(y, 9)) for x, y in points})
    if len(ordered) <= 2:
        return ordered
    chains = []
    for run in (ordered, ordered[::-1]):
        chain: list[Flat] = []
        for point in run:
            while len(chain) >= 2 and _cross(chain[-2], chain[-1], point) <= 0.0:
                chain.pop()
            chain.append(point)
        chains.append(chain[:-1])
    return chains[0] + chains[1]


def edge_distance(corners: Sequence[Flat], point: Flat) -> float:
    """Distance of a point from a hull's edge, m, negative outside; from a single point or a line never above 0."""
    if len(corners) == 1:
        return -math.hypot(point[0] - corners[0][0], point[1] - corners[0][1])
    pairs = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    nearest = min(_to_segment(a, b, point) for a, b in pairs)
    if len(corners) == 2:
        return -nearest
    return nearest if all(_cross(a, b, point) >= 0.0 for a, b in pairs) else -nearest


def axis_tilt(up: Sequence[float], axis: Sequence[float]) -> float:
    """How far the load's ``axis`` leaves its level-pose slope when the vertical in the load's frame is ``up``, rad.

    |asin(up.a) - asin(z.a)|: yaw is turned by hand, slope is not. Vertical axis: the whole tilt.
    """
    size = math.hypot(*axis)
    if size <= 0.0:
        raise InputError("spigot axis needs a direction other than (0, 0, 0)")
    unit = [value / size for value in axis]
    now = math.fsum(u * a for u, a in zip(up, unit, strict=True))
    if abs(unit[2]) > 1.0 - 1e-9:
        return math.atan2(math.hypot(up[0], up[1]), up[2])
    return abs(math.asin(max(-1.0, min(1.0, now))) - math.asin(max(-1.0, min(1.0, unit[2]))))


def clocking(up: Sequence[float], axis: Sequence[float]) -> float:
    """Turn of the load about a not vertical ``axis``, away from the level pose, rad: what the stud holes are off by."""
    size = math.hypot(*axis)
    if size <= 0.0:
        raise InputError("spigot axis needs a direction other than (0, 0, 0)")
    a = [value / size for value in axis]
    if abs(a[2]) > 1.0 - 1e-9:
        return 0.0
    flat_z = [(1.0 if i == 2 else 0.0) - a[2] * a[i] for i in range(3)]
    along = math.fsum(u * v for u, v in zip(up, a, strict=True))
    flat_up = [up[i] - along * a[i] for i in range(3)]
    cross = (
        (flat_z[1] * flat_up[2] - flat_z[2] * flat_up[1]) * a[0]
        + (flat_z[2] * flat_up[0] - flat_z[0] * flat_up[2]) * a[1]
        + (flat_z[0] * flat_up[1] - flat_z[1] * flat_up[0]) * a[2]
    )
    return abs(math.atan2(cross, math.fsum(u * v for u, v in zip(flat_z, flat_up, strict=True))))


def spigot_limit(clearance: float, engagement: float) -> float:
    """Permissible tilt entering a bore: half of diametral clearance/engagement, rad (the whole is two-point contact)."""
    if clearance <= 0.0 or engagement <= 0.0:
        raise InputError("spigot clearance and engagement must be above 0")
    return 0.5 * clearance / engagement


def _cross(a: Flat, b: Flat, c: Flat) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _to_segment(a: Flat, b: Flat, point: Flat) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    part = 0.0 if size == 0.0 else max(0.0, min(1.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / size))
    return math.hypot(point[0] - a[0] - part * dx, point[1] - a[1] - part * dy)
