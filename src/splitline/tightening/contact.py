"""Faces not yet in contact: the flange meets its face at many points, each only after its gap has closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.interaction import joint_matrix
from splitline.tightening.joint import Gapped

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


@dataclass(frozen=True, slots=True)
class Flange:
    """A flange section on its face. E in Pa, width across the face and height in m, contact stiffness in Pa/m."""

    modulus: float
    width: float
    height: float
    contact_stiffness: float

    def __post_init__(self) -> None:
        for name in ("modulus", "width", "height", "contact_stiffness"):
            value = getattr(self, name)
            if not 0 < value < float("inf"):
                raise InputError(f"{name.replace('_', ' ')} of the flange must be above 0, is {value:g}")

    @property
    def bending(self) -> float:
        """E·w·h³/12 about the horizontal axis, N·m²."""
        return self.modulus * self.width * self.height**3 / 12

    @property
    def torsion(self) -> float:
        """G·J with G = E/2.6 (ν = 0.3), N·m²."""
        return self.modulus / 2.6 * rectangle_torsion(self.width, self.height)

    @property
    def line_stiffness(self) -> float:
        """Face stiffness per length of flange: contact stiffness × width, N/m²."""
        return self.contact_stiffness * self.width

    @property
    def rocking_stiffness(self) -> float:
        """Face stiffness against rocking about the line of bolts, per length: contact stiffness × w³/12, N."""
        return self.contact_stiffness * self.width**3 / 12


def rectangle_torsion(width: float, height: float) -> float:
    """Torsion constant of a solid rectangle, m⁴: a·b³·(16/3 − 3.36·(b/a)·(1 − b⁴/(12·a⁴))), 2a × 2b, a ≥ b.

    Roark's Formulas for Stress and Strain, table of torsional properties, solid rectangular section; within 0.5 %.
    """
    a, b = max(width, height) / 2, min(width, height) / 2
    return a * b**3 * (16 / 3 - 3.36 * (b / a) * (1 - b**4 / (12 * a**4)))


SUPPORT = 1e-4  # share of the face's stiffness that carries the flange (seal, guide pins) before faces meet


def gapped_ring(
    flange: Flange, radius: float, bolt_stiffness: Sequence[float] | Array, gap: Sequence[float], per_bolt: int = 0
) -> Gapped:
    """A bolt circle whose faces stand ``gap`` (m, one per bolt, straight between bolts) apart before tightening.

    The face is two rows of ``per_bolt`` points per pitch, at ± w/(2√3) about the bolt circle: together they have the line
    and the rocking stiffness of the continuous face. 0 takes 2 up to 100 bolts, else 1. InputError for a gap
    below 0. A flange that touches nowhere rests on a support of 1/10 000 of the face's stiffness.
    """
    bolts = len(bolt_stiffness)
    gaps = _gaps(gap, bolts)
    per = per_bolt or _points_per_bolt(bolts)
    points = bolts * per
    descent, coupling, twist = (circulant(part) for part in folded_harmonics(flange, radius, points, SUPPORT))
    arm = flange.width / (2 * sqrt(3))
    at = np.arange(0, points, per)
    rows = [(at, 0.0), (np.arange(points), -arm), (np.arange(points), arm)]
    compliance = np.block(
        [[(descent + (s + t) * coupling + s * t * twist)[np.ix_(here, there)] for there, t in rows] for here, s in rows]
    )
    spring = flange.line_stiffness * 2 * pi * radius / points / 2
    around = np.interp(np.arange(points) / per, np.arange(bolts), gaps, period=bolts)
    closed = joint_matrix(ring_compliance(flange, radius, bolts), bolt_stiffness)
    return _assembled(compliance, bolt_stiffness, spring, np.concatenate([around, around]), closed)


def gapped_beam(
    flange: Flange,
    places: Sequence[float],
    start: float,
    end: float,
    bolt_stiffness: Sequence[float] | Array,
    gap: Sequence[float],
    per_bolt: int = 0,
) -> Gapped:
    """One side of a split line whose faces stand ``gap`` apart (m, one per bolt, straight between bolts). As for the ring."""
    bolts = len(bolt_stiffness)
    gaps = _gaps(gap, bolts)
    points = bolts * (per_bolt or _points_per_bolt(bolts))
    cell = (end - start) / points
    at = start + cell * (np.arange(points) + 0.5)
    compliance = beam_compliance(flange, [*places, *at], start, end, SUPPORT)
    closed = joint_matrix(beam_compliance(flange, places, start, end), bolt_stiffness)
    spring = flange.line_stiffness * cell
    return _assembled(compliance, bolt_stiffness, spring, np.interp(at, places, gaps), closed)


def gapped_sides(side_a: Gapped, side_b: Gapped) -> Gapped:
    """A split line from its two sides: bolts of a, bolts of b, then the face points of both."""
    count = len(side_a.matrix), len(side_b.matrix)
    whole = np.zeros((sum(count), sum(count)))
    bolts_a, bolts_b = side_a.bolts, side_b.bolts
    points_a, points_b = count[0] - bolts_a, count[1] - bolts_b
    at_a = np.concatenate([np.arange(bolts_a), bolts_a + bolts_b + np.arange(points_a)])
    at_b = np.concatenate([bolts_a + np.arange(bolts_b), bolts_a + bolts_b + points_a + np.arange(points_b)])
    whole[np.ix_(at_a, at_a)], whole[np.ix_(at_b, at_b)] = side_a.matrix, side_b.matrix
    closed = np.zeros((bolts_a + bolts_b,) * 2)
    closed[:bolts_a, :bolts_a], closed[bolts_a:, bolts_a:] = side_a.closed, side_b.closed
    return Gapped(whole, np.concatenate([side_a.gap, side_b.gap]), closed)


def _assembled(
    compliance: Array, bolt_stiffness: Sequence[float] | Array, spring: float, gap: Array, closed: Array
) -> Gapped:
    """M over bolts and points: a point pushes up where a bolt pulls down, hence the signs."""
    bolts = len(closed)
    sign = np.where(np.arange(len(compliance)) < bolts, 1.0, -1.0)
    own = np.full(len(compliance), 1 / spring)
    own[:bolts] = 1 / np.asarray(bolt_stiffness, dtype=np.float64)
    return Gapped(compliance * np.outer(sign, sign) + np.diag(own), gap, closed)


def _points_per_bolt(bolts: int) -> int:
    return 2 if bolts <= 100 else 1


def _gaps(gap: Sequence[float], bolts: int) -> Array:
    gaps = np.asarray(gap, dtype=np.float64)
    if gaps.shape != (bolts,) or not np.isfinite(gaps).all() or (gaps < 0).any():
        raise InputError(f"the initial gap needs one value of 0 or more for each of the {bolts} bolts")
    return gaps
