"""The study behind oil pressures of fits: solver beside this file, hub with free ends on a shaft half a hub longer each side.

Oil acts between the seals on bore and shaft; the seal line parts where the opening it makes there equals the interference.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from splitline.fitting.cylinder import Elastic
from splitline.fitting.interference import Pair, contact_pressure, worst_hub, worst_shaft
from splitline.fitting.oil_study import (
    CHORD,
    HOLLOW_SHAFT_OVER_LAME,
    HUB_OVER_LAME,
    LEAST_RATIO,
    OUTSIDE_RATIO,
    SOLID_SHAFT_OVER_LAME,
    opening_ratio,
    studied,
)
from tests.fitting.axisymmetric import Body, elements_of, mises, oiled, ring

STEEL = Elastic(207e9, 0.29, 7830.0, 11.4e-6)
OIL, RADIUS = 1e8, 0.05
WORST = 0.85  # share of the length between the seals


def shape(outer: float, length: float, bore: float) -> Pair:
    return Pair(0.1, 0.1 * bore, 0.1 * outer, 0.1 * length, STEEL, STEEL)


def shaft_of(pair: Pair, across: int, along: int) -> Body:
    return ring(pair.shaft_bore / 2, RADIUS, 0.75 * pair.length, STEEL, 0.0, (across, along * 3 // 2))


def squeezed(shaft: Body, half: float, sealed: float) -> NDArray[np.float64]:
    """Displacements of a shaft under oil on its outside, up to ``sealed`` of the hub's half length."""
    outside = Body(shaft.nodes, shaft.stiffness, shaft.load, shaft.outer, shaft.inner, shaft.axis, shaft.middle)
    return oiled(outside, half, sealed, -OIL)


def parted(pair: Pair, sealed: float = WORST, along: int = 20) -> float:
    """Oil pressure over Lamé's contact pressure at which the seal line parts."""
    half = pair.length / 2
    hub, shaft = ring(RADIUS, pair.hub_outer / 2, half, STEEL, 0.0, (6, along)), shaft_of(pair, 6, along)
    out, pressed = oiled(hub, half, sealed, OIL), squeezed(shaft, half, sealed)
    at = int(np.argmin(abs(hub.nodes[hub.inner, 1] - sealed * half)))
    opening = float(out[2 * hub.inner[at]] - pressed[2 * shaft.outer[at]])
    return OIL / contact_pressure(pair, 2 * opening)


@pytest.mark.parametrize(("sealed", "ratio"), [(0.85, 1.5637), (0.90, 1.4551), (0.95, 1.3229), (1.00, 1.1373)])
def test_the_first_study_is_found_again(sealed: float, ratio: float) -> None:
    """Other elements, another solver: D/d 1.8, L/d 1.2, solid shaft."""
    assert parted(shape(1.8, 1.2, 0.0), sealed) == pytest.approx(ratio, rel=2e-3)


@pytest.mark.parametrize(
    ("outer", "length", "bore", "ratio"),
    [
        (1.8, 2.0, 0.0, 1.834),  # long
        (1.4, 1.2, 0.0, 1.740),  # thin
        (1.8, 1.2, 0.6, 1.649),  # hollow shaft
        (1.4, 2.0, 0.6, 1.966),  # all three: the worst of the study
        (3.0, 1.6, 0.6, 1.710),
        (2.2, 0.9, 0.0, 1.458),
    ],
)
def test_shapes_of_the_table(outer: float, length: float, bore: float, ratio: float) -> None:
    pair = shape(outer, length, bore)
    assert parted(pair) == pytest.approx(ratio, rel=2e-3)
    assert opening_ratio(pair) == pytest.approx(max(LEAST_RATIO, ratio + CHORD), abs=1e-9)
    assert ratio < OUTSIDE_RATIO


@pytest.mark.parametrize(
    ("outer", "length", "bore"),
    [(1.5, 1.05, 0.0), (1.64, 0.58, 0.0), (1.62, 1.09, 0.0), (1.7, 1.4, 0.3), (1.45, 1.8, 0.5), (2.0, 1.9, 0.15)],
)
def test_between_the_shapes_nothing_is_short(outer: float, length: float, bore: float) -> None:
    pair = shape(outer, length, bore)
    found = parted(pair)
    assert found <= opening_ratio(pair) <= max(LEAST_RATIO, found + 0.06)


@pytest.mark.parametrize(
    ("outer", "length", "bore"), [(1.3, 1.0, 0.0), (1.8, 2.1, 0.0), (1.8, 1.0, 0.7), (3.2, 1.0, 0.0)]
)
def test_beyond_the_study_the_higher_ratio_is_taken(outer: float, length: float, bore: float) -> None:
    assert not studied(shape(outer, length, bore))
    assert opening_ratio(shape(outer, length, bore)) == OUTSIDE_RATIO


@pytest.mark.parametrize(("outer", "length"), [(1.25, 1.0), (1.4, 1.3), (1.8, 2.0), (2.4, 1.2), (1.4, 0.6)])
@pytest.mark.parametrize("sealed", [1.0, WORST])
def test_stress_of_the_hub_stays_within_its_margin(outer: float, length: float, sealed: float) -> None:
    pair, cells = shape(outer, length, 0.0), (8, 40)
    hub = ring(RADIUS, pair.hub_outer / 2, pair.length / 2, STEEL, 0.0, cells)
    moved = oiled(hub, pair.length / 2, sealed, OIL)
    most = max(stress for _, _, stress in mises(hub, STEEL, moved, elements_of(cells, hub)))
    assert most <= worst_hub(pair, OIL) * HUB_OVER_LAME


def test_a_thin_hub_needs_the_margin() -> None:
    """Bending between the seals: Lamé alone would miss 6.5 % of the stress at D/d 1.25, L/d 1."""
    pair, cells = shape(1.25, 1.0, 0.0), (8, 40)
    hub = ring(RADIUS, pair.hub_outer / 2, pair.length / 2, STEEL, 0.0, cells)
    moved = oiled(hub, pair.length / 2, WORST, OIL)
    most = max(stress for _, _, stress in mises(hub, STEEL, moved, elements_of(cells, hub)))
    assert most / worst_hub(pair, OIL) == pytest.approx(1.065, abs=0.003)


@pytest.mark.parametrize(
    ("bore", "margin"), [(0.0, SOLID_SHAFT_OVER_LAME), (0.3, HOLLOW_SHAFT_OVER_LAME), (0.6, HOLLOW_SHAFT_OVER_LAME)]
)
@pytest.mark.parametrize("length", [0.6, 1.2, 2.0])
@pytest.mark.parametrize("sealed", [1.0, WORST])
def test_stress_of_the_shaft_stays_within_its_margin(bore: float, margin: float, length: float, sealed: float) -> None:
    """Axial stress that plane stress leaves out: up to a quarter more in a solid shaft."""
    pair = shape(1.8, length, bore)
    shaft = shaft_of(pair, 8, 20)
    moved = squeezed(shaft, pair.length / 2, sealed)
    most = max(stress for _, _, stress in mises(shaft, STEEL, moved, elements_of((8, 30), shaft)))
    assert most <= worst_shaft(pair, OIL) * margin


@pytest.mark.parametrize("outer_length_bore", [(1.8, 1.2, 0.0), (1.8, 2.0, 0.0), (1.4, 1.2, 0.0), (1.4, 2.0, 0.6)])
def test_with_the_lands_in_contact_about_the_contact_pressure_is_enough(
    outer_length_bore: tuple[float, float, float],
) -> None:
    """A film between seals whose lands stay pressed together: the greatest oil pressure any place between needs."""
    pair = shape(*outer_length_bore)
    half, interference = pair.length / 2, 1e-4
    hub, shaft = ring(RADIUS, pair.hub_outer / 2, half, STEEL, 0.0, (5, 20)), shaft_of(pair, 5, 20)
    heights = hub.nodes[hub.inner, 1]
    land = [n for n, z in enumerate(heights) if z >= WORST * half * (1 - 1e-9)]
    split, size = len(shaft.load), len(shaft.load) + len(hub.load)
    matrix = np.zeros((size + len(land),) * 2)
    matrix[:split, :split], matrix[split:size, split:size] = shaft.stiffness, hub.stiffness
    for row, n in enumerate(land, size):
        for place, sign in ((2 * shaft.outer[n], -1.0), (split + 2 * hub.inner[n], 1.0)):
            matrix[row, place] = matrix[place, row] = sign
    fixed = [2 * n for n in shaft.axis] + [2 * n + 1 for n in shaft.middle] + [split + 2 * n + 1 for n in hub.middle]
    free = np.setdiff1d(np.arange(len(matrix)), fixed)
    contact = contact_pressure(pair, 2 * interference)
    gaps = []
    for pressure in (0.0, contact):
        right = np.zeros(len(matrix))
        right[size:] = interference
        for first in range(0, land[0], 2):
            edge = float(heights[first + 2] - heights[first]) * pressure * RADIUS
            for n, share in zip(range(first, first + 3), (1 / 6, 4 / 6, 1 / 6), strict=True):
                right[2 * shaft.outer[n]] -= edge * share
                right[split + 2 * hub.inner[n]] += edge * share
        found = np.zeros(len(matrix))
        found[free] = np.linalg.solve(matrix[np.ix_(free, free)], right[free])
        gaps.append(
            np.array([found[split + 2 * h] - found[2 * s] for h, s in zip(hub.inner, shaft.outer, strict=False)])
        )
    closed, opened = gaps[0] - interference, gaps[1] - interference
    needed = max(-closed[n] / (opened[n] - closed[n]) for n in range(land[0]))
    assert 0.97 <= needed <= 1.05
