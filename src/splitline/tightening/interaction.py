"""What pulling one bolt does to the others: the joint's matrices from compliance, or from measured coefficients."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError

Array = NDArray[np.float64]


def joint_matrix(compliance: Array, bolt_stiffness: Sequence[float] | Array) -> Array:
    """M = I/k_b + C, m/N: nut position that belongs to each set of preloads, e = M·F.

    ``compliance`` C of the seats (bolts × bolts, m/N), ``bolt_stiffness`` k_b of each bolt (N/m). InputError when shapes
    differ, a stiffness is not above 0, or C is not symmetric (reciprocity).
    """
    stiffness = np.asarray(bolt_stiffness, dtype=np.float64)
    if compliance.shape != (len(stiffness), len(stiffness)):
        raise InputError(f"compliance {compliance.shape} does not fit {len(stiffness)} bolts")
    if not (np.isfinite(stiffness).all() and (stiffness > 0).all()):
        raise InputError("every bolt stiffness must be above 0")
    if not np.allclose(compliance, compliance.T, rtol=1e-9, atol=1e-12 * np.abs(compliance).max(initial=0.0)):
        raise InputError("the compliance must be symmetric: the descent at i from a load at j is that at j from i")
    matrix: Array = compliance + np.diag(1 / stiffness)
    return matrix


def two_sides(side_a: Array, side_b: Array) -> Array:
    """Compliance of a split line from those of its sides; they rest on the face apart, so nothing passes across."""
    count_a, count = len(side_a), len(side_a) + len(side_b)
    matrix = np.zeros((count, count))
    matrix[:count_a, :count_a] = side_a
    matrix[count_a:, count_a:] = side_b
    return matrix


def interaction(matrix: Array) -> Array:
    """A[i, j] = S[i, j]/S[j, j], S = M⁻¹: change of bolt i's preload per unit put into bolt j with all bolts tight."""
    stiffness = np.linalg.inv(matrix)
    ratio: Array = stiffness / np.diag(stiffness)[None, :]
    return ratio


def measured_circle(coefficients: Sequence[float], bolts: int) -> Array:
    """A from measured coefficients by distance along the circle (0 bolts away = 1, then ...), beyond the list 0."""
    row = _row(coefficients, bolts // 2 + 1)
    place = np.arange(bolts)
    away = np.abs(place[:, None] - place[None, :])
    matrix: Array = row[np.minimum(away, bolts - away)]
    return matrix


def measured_line(coefficients: Sequence[float], on_a: int, on_b: int) -> Array:
    """A from measured coefficients by distance along each side of a split line; nothing passes across."""
    row = _row(coefficients, max(on_a, on_b))
    return two_sides(*(row[np.abs(np.subtract.outer(np.arange(n), np.arange(n)))] for n in (on_a, on_b)))


def _row(coefficients: Sequence[float], needed: int) -> Array:
    values = np.asarray(coefficients, dtype=np.float64)
    if values.ndim != 1 or not len(values) or not np.isfinite(values).all():
        raise InputError("measured coefficients are a list of plain numbers, the first 1.0")
    if abs(values[0] - 1) > 1e-9:
        raise InputError(f"the first coefficient is a bolt's own and must be 1.0, is {values[0]:g}")
    if np.abs(values[1:]).max(initial=0.0) >= 1:
        raise InputError("a coefficient of 1 or more would say a bolt moves its neighbour more than itself")
    row = np.zeros(max(needed, len(values)))
    row[: len(values)] = values
    return row
