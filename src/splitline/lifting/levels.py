"""Leg lengths that hang a load level: geometry at the level pose, stretch taken off.

Hook on the vertical through the centre of gravity; sum T u = W z with T >= 0 of least norm; L = l/(1 + T/EA).
Source: statics; the least-norm choice among more than three legs is ours (the most even set that balances).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from splitline.errors import InputError
from splitline.lifting.given_legs import height_of_given, pulling, unbalanced
from splitline.lifting.hang import STIFF, Point, as_points
from splitline.lifting.poses import TINY, Array

OFF_LINE = 0.005  # m, how far a given hook may stand off the vertical through the centre


@dataclass(frozen=True, slots=True)
class LevelSet:
    """Legs that hang level."""

    hook: Point  # m, load's frame
    lengths: tuple[float, ...]  # unstretched, m
    tensions: tuple[float, ...]  # N at the level pose


def hook_above(picks: Sequence[Sequence[float]], centre: Sequence[float], above: float) -> Point:
    """Hook place ``above`` metres over the highest pick, on the vertical through the centre of gravity."""
    points = as_points(picks, "pick points")
    if len(points) == 0:
        raise InputError("a lift needs at least one leg: give its pick point")
    return (float(centre[0]), float(centre[1]), float(points[:, 2].max()) + above)


def level_lengths(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float | None],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    hook: Sequence[float],
) -> LevelSet:
    """Lengths (None = to be found) that hang the load level with its hook at ``hook``.

    picks (n, 3) m, rigidity (n,) EA in N or None = unstretching, weight N. Legs of given length pull as their stretch
    at the level pose says; where they cannot at this height, the hook comes to the height they set. InputError when no set
    of pulling legs balances (centre outside the picks).
    """
    points, middle = as_points(picks, "pick points"), as_points([centre], "centre of gravity")[0]
    place = as_points([hook], "hook")[0].copy()
    off = float(np.hypot(*(place[:2] - middle[:2])))
    if off > OFF_LINE:
        raise InputError(
            f"hook stands {off * 1e3:.0f} mm off the vertical through the centre of gravity: it cannot hang level"
        )
    if place[2] <= middle[2]:
        raise InputError("hook is not above the centre of gravity: raise it or the load turns over")
    place[:2] = middle[:2]
    legs = place - points
    distance = np.maximum(np.linalg.norm(legs, axis=1), TINY)
    if (distance < 1e-6).any():
        raise InputError("a pick point coincides with the hook: that leg would have no length")
    along = legs / distance[:, None]
    hard = np.array([STIFF * weight if value is None else value for value in rigidity], dtype=float)
    open_legs = np.array([value is None for value in lengths])
    given = np.array([np.nan if value is None else value for value in lengths], dtype=float)
    stretch = np.where(open_legs, 0.0, np.maximum(distance - np.where(open_legs, distance, given), 0.0))
    held = np.where(open_legs, 0.0, hard * stretch / np.where(open_legs, 1.0, given))
    need = np.array([0.0, 0.0, weight]) - held @ along
    found = np.zeros(len(points))
    try:
        found[open_legs] = least_norm(along[open_legs].T, need, weight)
    except InputError:
        if not open_legs.any():
            raise
        if open_legs.all():
            found = _nearly(along, need, legs, weight)
            fresh = distance / (1.0 + found / hard)
            return LevelSet(
                (float(place[0]), float(place[1]), float(place[2])), tuple(map(float, fresh)), tuple(map(float, found))
            )
        place[2] = height_of_given(points, place, given, hard, weight)
        pulls = unbalanced(points, place, given, hard, weight, float(place[2]))[1]
        found, held = np.where(open_legs, pulls, 0.0), np.where(open_legs, 0.0, pulls)
        distance = np.linalg.norm(place - points, axis=1)
    fresh = np.where(open_legs, distance / (1.0 + found / hard), given)
    return LevelSet(
        (float(place[0]), float(place[1]), float(place[2])),
        tuple(float(value) for value in fresh),
        tuple(float(value) for value in found + held),
    )


def _nearly(along: Array, need: Array, legs: Array, weight: float) -> Array:
    """Pulls of legs that hang the load level but for a centre a few millimetres off the legs' plane or outer line.

    Two lugs hold a centre beside their plane by rolling a little: the lengths are those of the level pose, and the hang
    says how far it rolls. InputError where the centre is farther off than ``OFF_LINE``.
    """
    found = pulling(along.T, need)
    left = float(np.linalg.norm(need - found @ along))
    if left * float(legs[:, 2].max()) > OFF_LINE * weight:
        raise InputError(
            "no pulling legs balance the load level at this hook: is the centre of gravity inside the picks?"
        )
    return found


def least_norm(matrix: Array, need: Array, scale: float) -> Array:
    """T >= 0 of least norm with matrix (k, n) @ T = need (k,): T = (matrix' y)+ by Newton on y.

    InputError when no pulling set of legs balances (the line of the weight runs outside the legs).
    """
    if matrix.shape[1] == 0:
        raise InputError("no leg left whose length could be chosen")
    dual: Array = np.asarray(np.linalg.lstsq(matrix @ matrix.T, need, rcond=None)[0])
    damping = 1e-9 * float(np.trace(matrix @ matrix.T)) * np.eye(len(matrix))
    for _ in range(300):
        force = np.maximum(matrix.T @ dual, 0.0)
        error = matrix @ force - need
        if float(np.linalg.norm(error)) < 1e-11 * scale:
            return np.asarray(force)
        live = matrix[:, matrix.T @ dual > 0.0]
        if live.shape[1] == 0:
            break
        step: Array = np.asarray(np.linalg.solve(live @ live.T + damping, error))
        dual = _closer(matrix, need, dual, step)
    raise InputError("no pulling legs balance the load level at this hook: is the centre of gravity inside the picks?")


def _closer(matrix: Array, need: Array, dual: Array, step: Array) -> Array:
    """Newton step shortened until the concave dual y'need - |(matrix' y)+|^2/2 rises."""
    here = _dual_value(matrix, need, dual)
    share = 1.0
    for _ in range(30):
        fresh = dual - share * step
        if _dual_value(matrix, need, fresh) >= here - 1e-15 * abs(here):
            return fresh
        share *= 0.5
    return dual - share * step


def _dual_value(matrix: Array, need: Array, dual: Array) -> float:
    return float(dual @ need - 0.5 * (np.maximum(matrix.T @ dual, 0.0) ** 2).sum())
