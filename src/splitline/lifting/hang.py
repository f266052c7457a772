"""Where a rigid load on one hook really hangs, and what each leg really carries.

The hook's place h in the load's frame minimises V(h) = sum 1/2 (EA/L)(|h - p| - L)+^2 - W |h - c|; the vertical is then
up = (h - c)/|h - c|. Legs pull only, are linear (T = EA (l - L)/L) and weightless.
Source: static equilibrium by least potential energy (any statics text); all forces pass through the hook.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from splitline.errors import InputError
from splitline.lifting.poses import Array, Poses, shape
from splitline.lifting.settle import FLAT, SOLVED, Settled, settle

Point = tuple[float, float, float]
STIFF = 1e6  # EA over weight of a leg whose stretch is not given: the unfavourable side for sharing
UNREACHED = 1e4  # tension over weight beyond which two legs are said not to meet at all


@dataclass(frozen=True, slots=True)
class Hang:
    """One hung load, in the load's own frame."""

    hook: Point  # m
    up: Point  # unit vector, the vertical
    tensions: tuple[float, ...]  # N, 0 = slack
    stretched: tuple[float, ...]  # distance pick to hook, m
    angles: tuple[float, ...]  # each leg from the horizontal, rad
    tilt: float  # between the load's z axis and the vertical, rad
    state: str  # "stable", "neutral" or "turns over"
    residual: float  # share of the weight


def as_points(points: Sequence[Sequence[float]], what: str) -> Array:
    """(n, 3) array; InputError names what is not three finite numbers."""
    array = np.array([list(point) for point in points], dtype=float) if len(points) else np.zeros((0, 3))
    if array.ndim != 2 or array.shape[1] != 3 or not np.isfinite(array).all():
        raise InputError(f"{what}: each must be three finite numbers (x, y, z) in metres")
    return array


def poses_of(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
) -> Poses:
    """One checked pose. Picks (n, 3) m, lengths (n,) m, EA (n,) N or None = taken as stiff, centre (3,) m, weight N."""
    points = as_points(picks, "pick points")
    middle = as_points([centre], "centre of gravity")
    count = len(points)
    if count == 0:
        raise InputError("a lift needs at least one leg: give its pick point and length")
    if len(lengths) != count or len(rigidity) != count:
        raise InputError(f"{count} pick points need as many lengths and stiffnesses")
    if not (math.isfinite(weight) and weight > 0.0):
        raise InputError("weight must be above 0 N")
    for number, length in enumerate(lengths, 1):
        if not (math.isfinite(length) and length > 0.0):
            raise InputError(f"leg {number}: length must be above 0 m, omit it to have it computed")
    hard = np.array([STIFF * weight if value is None else value for value in rigidity], dtype=float)
    if not (np.isfinite(hard).all() and (hard > 0.0).all()):
        raise InputError("EA of a leg must be above 0 N: capacity over elongation")
    poses = Poses(points[None], np.array(lengths, dtype=float)[None], hard[None], middle, np.array([weight]))
    _must_meet(poses)
    return poses


def cannot_meet(picks: Sequence[Sequence[float]], lengths: Sequence[float]) -> list[tuple[int, int]]:
    """Pairs of legs (from 1) too short to reach one hook without stretching: L_i + L_j < distance of their picks."""
    points = as_points(picks, "pick points")
    pairs = []
    for i in range(len(points)):
        for j in range(i + 1, len(points)):
            if lengths[i] + lengths[j] < float(np.linalg.norm(points[i] - points[j])) * (1.0 - 1e-9):
                pairs.append((i + 1, j + 1))
    return pairs


def _must_meet(poses: Poses) -> None:
    lengths, hard, weight = poses.lengths[0], poses.rigidity[0], float(poses.weight[0])
    for i, j in cannot_meet(poses.picks[0].tolist(), lengths.tolist()):
        apart = float(np.linalg.norm(poses.picks[0, i - 1] - poses.picks[0, j - 1]))
        both = float(lengths[i - 1] + lengths[j - 1])
        give = float(lengths[i - 1] / hard[i - 1] + lengths[j - 1] / hard[j - 1])
        if (apart - both) / give > UNREACHED * weight:
            raise InputError(
                f"legs {i} and {j} cannot meet at one hook: {both:.4g} m of sling over {apart:.4g} m of load"
            )


def hang(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    start: Sequence[float] | None = None,
) -> Hang:
    """The hung state of one load.

    picks (n, 3) m; lengths (n,) unstretched, m; rigidity (n,) EA in N, None = unstretching; centre (3,) m; weight N;
    start: hook place to begin from (default: upright, legs just taut). Residual < 1e-9 of the weight or InputError.
    Range: rigid load, straight weightless legs, frictionless hook.
    """
    poses = poses_of(picks, lengths, rigidity, centre, weight)
    rest = settle(poses, None if start is None else as_points([start], "start"))
    return one(poses, rest, 0)


def one(poses: Poses, rest: Settled, which: int) -> Hang:
    """Pose ``which`` of a settled batch as a ``Hang``; InputError when it found no equilibrium."""
    left = float(rest.residual[which])
    if left > SOLVED * 10.0:
        raise InputError(
            f"no equilibrium found (out of balance by {left:.1e} of the weight): check lengths and pick points"
        )
    at = shape(poses.take(np.array([which])), rest.hook[which][None])
    up = rest.up[which]
    sines = np.clip(at.along[0] @ up, -1.0, 1.0)
    return Hang(
        hook=_point(rest.hook[which]),
        up=_point(up),
        tensions=tuple(float(value) for value in rest.tension[which]),
        stretched=tuple(float(value) for value in at.distance[0]),
        angles=tuple(math.asin(float(value)) for value in sines),
        tilt=tilt_of(up),
        state=state_of(float(rest.bend[which]), float(up[2])),
        residual=left,
    )


def tilt_of(up: Array) -> float:
    """Angle between the load's z axis and the vertical, rad."""
    return math.atan2(math.hypot(float(up[0]), float(up[1])), float(up[2]))


def state_of(bend: float, upright: float) -> str:
    """One word: "turns over" when up points down in the load's frame, "neutral" without curvature, else "stable"."""
    if upright <= 0.0:
        return "turns over"
    return "stable" if bend > FLAT else "neutral"


def _point(values: Array) -> Point:
    return (float(values[0]), float(values[1]), float(values[2]))
