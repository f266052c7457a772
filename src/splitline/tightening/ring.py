"""A ring beam through the bolt circle on an elastic face: how far each bolt's seat goes down under each bolt's load."""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.section import Flange

Array = NDArray[np.float64]


def ring_compliance(flange: Flange, radius: float, bolts: int) -> Array:
    """Compliance C of ``bolts`` evenly spaced seats, bolts × bolts, m/N: C[i, j] is the descent of i per newton at j.

    Out-of-plane ring with κ = φ/R − w''/R², τ = φ'/R + w'/R² on a face with line stiffness k and rocking stiffness k_r;
    each harmonic of descent w and twist φ is a 2 × 2 system, so the Fourier series is exact (cut where the rest is
    below 1e-9 of the sum). Thin ring: no shear deformation; R is best above 2 w. InputError for no ring.
    """
    if not radius > 0 or bolts < 1:
        raise InputError(f"a bolt circle needs a radius above 0 and a bolt, has {radius:g} m and {bolts}")
    descent, _, _ = folded_harmonics(flange, radius, bolts)
    return circulant(descent)


def folded_harmonics(flange: Flange, radius: float, points: int, support: float = 1.0) -> tuple[Array, Array, Array]:
    """First columns of the compliances of evenly spaced points: descent per force, per moment, twist per moment.

    ``support`` scales the face's stiffness. Harmonics n, n ± points, ... look alike at the points: the series is
    folded before the transform. m/N, 1/N and rad/(N·m).
    """
    stiff = (flange.line_stiffness * support / (4 * flange.bending)) ** 0.25 * radius
    last = points * int(np.ceil(max(1000.0 * max(stiff, 1.0), 8.0 * points) / points))
    harmonic = np.arange(last, dtype=np.float64)
    weight = np.full(last, 1 / (pi * radius))
    weight[0] /= 2
    series = (_at_points(weight * part, points) for part in _harmonics(flange, radius, harmonic, support))
    descent, coupling, twist = series
    return descent, coupling, twist


def _at_points(series: Array, points: int) -> Array:
    folded = series.reshape(-1, points).sum(axis=0)
    values: Array = np.fft.fft(folded).real
    return values


def circulant(first: Array) -> Array:
    """The symmetric matrix whose entry depends only on the distance around the circle."""
    count = len(first)
    place = np.arange(count)
    matrix: Array = first[(place[:, None] - place[None, :]) % count]
    return matrix


def _harmonics(flange: Flange, radius: float, n: Array, support: float) -> tuple[Any, Any, Any]:
    """Descent per force, descent per moment and twist per moment of harmonic n, for unit line loads cos nθ.

    Determinant and numerators are written out so that nothing is lost by cancellation for a very stiff ring.
    """
    square = n**2
    bend, twist = flange.bending, flange.torsion * square
    face, rock = flange.line_stiffness * support, flange.rocking_stiffness * support
    descent = (bend * square**2 + twist) / radius**4 + face
    rocking = (bend + twist) / radius**2 + rock
    both = (bend * square + twist) / radius**3
    determinant = (
        bend * twist * (square - 1) ** 2 / radius**6
        + (bend * square**2 + twist) / radius**4 * rock
        + face * (bend + twist) / radius**2
        + face * rock
    )
    return rocking / determinant, -both / determinant, descent / determinant
