"""Faces not yet in contact: the flange meets its face at many points, each only after its gap has closed."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.beam import beam_compliance
from splitline.tightening.interaction import joint_matrix
from splitline.tightening.joint import Gapped
from splitline.tightening.ring import circulant, folded_harmonics, ring_compliance
from splitline.tightening.section import Flange

Array = NDArray[np.float64]

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
