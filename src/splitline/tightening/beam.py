"""A straight beam with free ends on an elastic face: one side of a split line."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.section import Flange

Array = NDArray[np.float64]

_RIGID = 5e-3  # λL below which bending is under 1e-9 of the descent and the closed form loses digits


def beam_compliance(flange: Flange, places: Sequence[float], start: float, end: float, support: float = 1.0) -> Array:
    """Compliance C of seats at ``places`` (m) on a beam from ``start`` to ``end``, m/N.

    Hetényi, Beams on Elastic Foundation (1946): infinite beam λ/(2k)·e^(−λx)·(cos λx + sin λx), λ = (k/(4·E·I))^¼, with
    end forces that free both ends. ``support`` scales the face's stiffness. InputError when a seat lies off the beam.
    """
    at = np.asarray(places, dtype=np.float64)
    if not end > start or (at.size and (at.min() < start or at.max() > end)):
        raise InputError(f"bolts must lie on the flange, which runs from {start:g} m to {end:g} m")
    face = flange.line_stiffness * support
    decay = (face / (4 * flange.bending)) ** 0.25
    length = decay * (end - start)
    if length < _RIGID:
        middle = at - (start + end) / 2
        rigid: Array = (1 + 12 * np.outer(middle, middle) / (end - start) ** 2) / (face * (end - start))
        return rigid
    left, right = decay * (at - start), decay * (end - at)
    loads = np.stack([_bend(left), -_shear(left), _bend(right), _shear(right)])
    ends = np.linalg.solve(_end_matrix(length), -loads)
    shape = np.stack([_cos(left), _sin(left), _cos(right), _sin(right)])
    between = decay * np.abs(at[:, None] - at[None, :])
    matrix = decay / (2 * face) * (_cos(between) + _sin(between) + shape.T @ ends)
    symmetric: Array = (matrix + matrix.T) / 2
    return symmetric


def infinite_beam_descent(flange: Flange, distance: float) -> float:
    """Descent per newton at ``distance`` (m) from the load on an endless beam, m/N (Hetényi 1946, infinite beam)."""
    decay = (flange.line_stiffness / (4 * flange.bending)) ** 0.25
    along = np.float64(decay * abs(distance))
    return float(decay / (2 * flange.line_stiffness) * (_cos(along) + _sin(along)))


def _end_matrix(length: float) -> Array:
    """Second and third derivative at both free ends of the four decaying shapes (from the left, from the right)."""
    far, zero = np.float64(length), np.float64(0.0)
    columns = []
    for a, b in ((1.0, 0.0), (0.0, 1.0)):
        columns.append([_second(a, b, zero), _third(a, b, zero), _second(a, b, far), _third(a, b, far)])
    for a, b in ((1.0, 0.0), (0.0, 1.0)):
        columns.append([_second(a, b, far), -_third(a, b, far), _second(a, b, zero), -_third(a, b, zero)])
    matrix: Array = np.array(columns, dtype=np.float64).T
    return matrix


def _cos(s: Array | np.float64) -> Array:
    value: Array = np.exp(-s) * np.cos(s)
    return value


def _sin(s: Array | np.float64) -> Array:
    value: Array = np.exp(-s) * np.sin(s)
    return value


def _second(a: float, b: float, s: Array | np.float64) -> Array:
    """Second derivative of e^(−s)(a cos s + b sin s)."""
    return 2 * a * _sin(s) - 2 * b * _cos(s)


def _third(a: float, b: float, s: Array | np.float64) -> Array:
    return 2 * (a + b) * _cos(s) + 2 * (b - a) * _sin(s)


def _bend(s: Array) -> Array:
    return _second(1.0, 1.0, s)


def _shear(s: Array) -> Array:
    return _third(1.0, 1.0, s)
