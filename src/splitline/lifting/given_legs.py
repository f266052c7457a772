"""Where the hook comes to stand when some legs are cut already and the others are to hang the load level with them."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from splitline.errors import InputError
from splitline.lifting.poses import Array

TOLERANCE = 1e-6  # share of the weight left unbalanced that counts as balanced
_GRID, _FOLD = 60, 0.5 * (math.sqrt(5.0) - 1.0)


def height_of_given(points: Array, middle: Array, given: Array, hard: Array, weight: float) -> float:
    """Height of the hook (m, load's frame) over ``middle`` at which cut and open legs together hang the load level.

    points (n, 3) m; given (n,) unstretched length m, nan = open; hard (n,) EA in N. A few millimetres of hook height make
    the whole pull of a cut leg, so no height written down can be exact: the one that balances is looked for between where
    the cut legs just come taut and where each would carry twice the weight. InputError when there is none.
    """
    cut = ~np.isnan(given)
    aside = np.hypot(*(points[:, :2] - middle[:2]).T)
    if (given[cut] <= aside[cut]).any():
        raise InputError("a leg of given length is too short to reach a hook over the centre of gravity")
    slack = points[cut, 2] + np.sqrt(given[cut] ** 2 - aside[cut] ** 2)
    far = given[cut] * (1.0 + 2.0 * weight / hard[cut])
    tight = points[cut, 2] + np.sqrt(far**2 - aside[cut] ** 2)
    heights = np.unique(np.concatenate([np.linspace(low, high, _GRID) for low, high in zip(slack, tight, strict=True)]))

    def left(height: float) -> float:
        return unbalanced(points, middle, given, hard, weight, height)[0]

    values = [left(float(height)) for height in heights]
    at = int(np.argmin(values))
    around = heights[max(at - 1, 0)], heights[min(at + 1, len(heights) - 1)]
    best = _least(left, float(around[0]), float(around[1]))
    if left(best) > TOLERANCE * weight:
        low, high = float(slack.min()), float(slack.max())
        raise InputError(
            f"the legs of given length (hook {low:.3f} to {high:.3f} m up in the load's frame) and the open ones do not "
            "balance the load level together: let every leg be found, or give every length"
        )
    return best


def unbalanced(
    points: Array, middle: Array, given: Array, hard: Array, weight: float, height: float
) -> tuple[float, Array]:
    """Force left over (N) at a hook height with the best pull of the open legs, and all tensions (n,), N."""
    legs = np.array([middle[0], middle[1], height]) - points
    distance = np.linalg.norm(legs, axis=1)
    along = legs / distance[:, None]
    cut = ~np.isnan(given)
    tensions = np.where(cut, hard * np.maximum(distance / np.where(cut, given, 1.0) - 1.0, 0.0), 0.0)
    need = np.array([0.0, 0.0, weight]) - tensions @ along
    tensions[~cut] = pulling(along[~cut].T, need)
    return float(np.linalg.norm(np.array([0.0, 0.0, weight]) - tensions @ along)), tensions


def pulling(matrix: Array, need: Array) -> Array:
    """T >= 0 that brings matrix (k, n) @ T nearest to need (k,) (Lawson and Hanson, Solving Least Squares Problems)."""
    count = matrix.shape[1]
    force, live = np.zeros(count), np.zeros(count, dtype=bool)
    small = 1e-12 * max(float(np.linalg.norm(need)), 1e-300)
    for _ in range(6 * count):
        slope = matrix.T @ (need - matrix @ force)
        slope[live] = -np.inf
        if not (slope > small).any():
            break
        live[int(np.argmax(slope))] = True
        while live.any():
            fresh = np.zeros(count)
            fresh[live] = np.linalg.lstsq(matrix[:, live], need, rcond=None)[0]
            if (fresh[live] > 0.0).all():
                force = fresh
                break
            back = live & (fresh <= 0.0)
            share = float(np.min(force[back] / np.maximum(force[back] - fresh[back], 1e-300)))
            force = force + share * (fresh - force)
            live &= force > small
            force[~live] = 0.0
    return np.asarray(force)


def _least(value: Callable[[float], float], low: float, high: float) -> float:
    """Place of the least value between low and high, by golden section."""
    inner = [high - _FOLD * (high - low), low + _FOLD * (high - low)]
    seen = [value(place) for place in inner]
    for _ in range(100):
        if seen[0] <= seen[1]:
            high = inner[1]
            inner = [high - _FOLD * (high - low), inner[0]]
            seen = [value(inner[0]), seen[0]]
        else:
            low = inner[0]
            inner = [inner[1], low + _FOLD * (high - low)]
            seen = [seen[1], value(inner[1])]
    return inner[0] if seen[0] <= seen[1] else inner[1]
