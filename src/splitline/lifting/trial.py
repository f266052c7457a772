"""Mass and centre of gravity from a trial lift: load cells in the legs and tilt readings.

All pulls meet at the hook, so a reading gives the weight (their resultant) and one line through the hook that the centre
lies on; a second reading with other leg lengths gives a second line. Source: statics of concurrent forces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from splitline.errors import InputError
from splitline.lifting.hang import Point, as_points
from splitline.lifting.poses import Array

GRAVITY = 9.80665  # m/s2, standard


@dataclass(frozen=True, slots=True)
class Line:
    """What one reading tells: the centre is on the vertical through the hook."""

    hook: Point  # m, load's frame
    up: Point  # unit vector
    weight: float | None  # N, None where only tilt was read


@dataclass(frozen=True, slots=True)
class Found:
    """Mass and centre given back by readings."""

    mass: float | None  # kg, mean of the readings
    centre: Point | None  # m; None with fewer than two lines that cross
    line: Line  # the first line: with one reading all that is known of the centre
    miss: float  # m, greatest distance of the centre found from a line


def hook_place(picks: Sequence[Sequence[float]], distances: Sequence[float], start: Sequence[float]) -> Point:
    """Place at given distances (n >= 3, m) from the picks, least squares (Gauss-Newton) from ``start``; load's frame."""
    points = as_points(picks, "pick points")
    if len(points) < 3:
        raise InputError("three legs at least are needed to place the hook from their lengths")
    far = np.asarray(distances, dtype=float)
    place = as_points([start], "start")[0].copy()
    for _ in range(60):
        legs = place - points
        now = np.linalg.norm(legs, axis=1)
        step = np.linalg.lstsq(legs / now[:, None], far - now, rcond=None)[0]
        place += step
        if float(np.linalg.norm(step)) < 1e-12 * max(1.0, float(far.max())):
            break
    return _point(place)


def from_cells(picks: Sequence[Sequence[float]], hook: Sequence[float], tensions: Sequence[float]) -> Line:
    """Line and weight from the tensions of all legs (N) and the hook's place (load's frame)."""
    points, place = as_points(picks, "pick points"), as_points([hook], "hook")[0]
    legs = place - points
    pulls = np.asarray(tensions, dtype=float)
    if len(pulls) != len(points) or (pulls < 0.0).any() or not np.isfinite(pulls).all():
        raise InputError("a reading needs one tension of 0 or more for every leg")
    total = pulls @ (legs / np.linalg.norm(legs, axis=1)[:, None])
    weight = float(np.linalg.norm(total))
    if weight <= 0.0:
        raise InputError("a reading of 0 in every leg tells nothing")
    return Line(_point(place), _point(total / weight), weight)


def from_tilt(hook: Sequence[float], about_x: float, about_y: float, weight: float | None = None) -> Line:
    """Line from inclinometer readings, rad: turn about the load's x axis (+ lifts its y side) and about its y axis
    (+ lowers its x side), right-handed both."""
    x, y = -math.sin(about_y), math.sin(about_x)
    if x * x + y * y >= 1.0:
        raise InputError("tilt readings add up to more than 90 degrees")
    return Line((hook[0], hook[1], hook[2]), (x, y, math.sqrt(1.0 - x * x - y * y)), weight)


def at_height(line: Line, z: float) -> Point:
    """Where the line passes the height ``z`` of the load's frame; InputError for a line within 5 degrees of level."""
    if line.up[2] < math.sin(math.radians(5.0)):
        raise InputError("the reading says the load hangs on its side: give its tilt in a frame turned with it")
    run = (z - line.hook[2]) / line.up[2]
    return (line.hook[0] + run * line.up[0], line.hook[1] + run * line.up[1], z)


def miss(line: Line, centre: Sequence[float]) -> float:
    """Distance of a centre from the line, m."""
    away = [c - h for c, h in zip(centre, line.hook, strict=True)]
    along = math.fsum(a * u for a, u in zip(away, line.up, strict=True))
    return math.sqrt(max(0.0, math.fsum(a * a for a in away) - along * along))


def meet(lines: Sequence[Line]) -> Found:
    """Mass (mean) and the point nearest all lines (least squares); no centre when they are within 0.5 degree parallel."""
    if not lines:
        raise InputError("no trial-lift reading given")
    weights = [line.weight for line in lines if line.weight is not None]
    mass = math.fsum(weights) / len(weights) / GRAVITY if weights else None
    ups = np.array([line.up for line in lines])
    hooks = np.array([line.hook for line in lines])
    across = np.eye(3)[None] - ups[:, :, None] * ups[:, None, :]
    matrix = across.sum(axis=0)
    if len(lines) < 2 or float(np.linalg.eigvalsh(matrix)[0]) < math.sin(math.radians(0.25)) ** 2:
        return Found(mass, None, lines[0], 0.0)
    centre = np.linalg.solve(matrix, np.einsum("bij,bj->i", across, hooks))
    gaps = np.einsum("bij,bj->bi", across, centre - hooks)
    return Found(mass, _point(centre), lines[0], float(np.linalg.norm(gaps, axis=1).max()))


def _point(values: Array) -> Point:
    return (float(values[0]), float(values[1]), float(values[2]))
