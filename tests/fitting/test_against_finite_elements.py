"""Closed forms against the small finite-element solver beside this file: hollow shafts, unlike materials, speed."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.cylinder import Elastic, growth
from splitline.fitting.heating import cooling_drop, heating_rise, opening
from splitline.fitting.interference import Pair, Running, contact_pressure, hub_stress, pressure_running, worst_hub
from tests.fitting.axisymmetric import elements_of, fitted, mises, oiled, ring, warmed

STEEL = Elastic(207e9, 0.29, 7830.0, 11.4e-6)
TITANIUM = Elastic(114e9, 0.34, 4430.0, 8.6e-6)
BRONZE = Elastic(105e9, 0.34, 8800.0, 18e-6)
IRON = Elastic(110e9, 0.26, 7200.0, 10.5e-6)


@pytest.mark.parametrize(
    ("shaft", "hub", "bore", "outer", "rpm", "close"),
    [
        (STEEL, STEEL, 0.0, 180.0, 0, 2e-4),
        (STEEL, IRON, 0.0, 220.0, 0, 2e-4),
        (STEEL, BRONZE, 60.0, 140.0, 0, 2e-4),
        (TITANIUM, STEEL, 80.0, 160.0, 0, 2e-4),
        # At speed the axial strain varies over the radius, which plane stress leaves out: some tenths of a per cent.
        (STEEL, STEEL, 0.0, 180.0, 10000, 5e-3),
        (STEEL, STEEL, 50.0, 180.0, 12000, 5e-3),
        (TITANIUM, STEEL, 40.0, 200.0, 9000, 5e-3),
        (STEEL, IRON, 30.0, 160.0, 8000, 5e-3),
    ],
)
def test_contact_pressure_and_bore_strain(
    shaft: Elastic, hub: Elastic, bore: float, outer: float, rpm: float, close: float
) -> None:
    """100 mm fit, 60 mm long, 0.15 mm diametral."""
    speed, half, radius = rpm * math.pi / 30, 0.03, 0.05
    inner = ring(bore / 2000, radius, half, shaft, speed, (5, 5))
    ring_outside = ring(radius, outer / 2000, half, hub, speed, (5, 5))
    numeric, bore_growth = fitted(inner, ring_outside, radius, half, 0.075e-3)
    pair = Pair(0.1, bore / 1000, outer / 1000, 2 * half, shaft, hub)
    pressure = pressure_running(pair, 0.15e-3, Running(speed))
    assert pressure == pytest.approx(numeric, rel=close)
    # the hoop strain of the bore, and with it the hub's stress
    assert growth(0.1, hub_stress(pair, pressure, speed), hub) / 2 == pytest.approx(bore_growth, rel=close)


@pytest.mark.parametrize(("outer", "half"), [(180.0, 0.06), (205.0, 0.036), (140.0, 0.03), (300.0, 0.08)])
@pytest.mark.parametrize("sealed", [1.0, 0.95, 0.85])
def test_oil_at_removal_stresses_the_hub_no_more_than_the_plan_says(outer: float, half: float, sealed: float) -> None:
    """Bore of 100 mm under 1600 bar between seals 0, 5 and 15 % in from the ends: yield is not passed unseen."""
    cells, radius, oil = (14, 20), 0.05, 160e6
    hub = ring(radius, outer / 2000, half, STEEL, 0.0, cells)
    moved = oiled(hub, half, sealed, oil)
    found = mises(hub, STEEL, moved, elements_of(cells, hub))
    pair = Pair(0.1, 0.0, outer / 1000, 2 * half, STEEL, STEEL)
    most = max(stress for _, _, stress in found)
    # Under full oil the mid-length is Lamé's thick cylinder; bending at a seal line adds at most a few per cent.
    assert most <= worst_hub(pair, oil) * 1.03
    inner = min(r for r, _, _ in found)
    here = max(stress for r, z, stress in found if r == inner and z < half / 10)
    if sealed == 1.0:
        assert here == pytest.approx(hub_stress(pair, oil, at=2 * inner).combined, rel=2e-3)


def test_a_hot_hub_opens_by_the_gap_that_was_asked_for() -> None:
    """Heated by ``heating_rise`` for 0.19 mm and a gap of 0.11 mm, the bore grows by both together; it also shortens cold."""
    cells, half, radius = (4, 5), 0.06, 0.05
    hub = ring(radius, 0.09, half, STEEL, 0.0, cells)
    rise = heating_rise(0.19e-3, 0.11e-3, 0.1, STEEL.expansion)
    moved = warmed(hub, STEEL, rise, elements_of(cells, hub))
    grown = [2 * float(moved[2 * n]) for n in hub.inner]
    assert grown == pytest.approx([0.3e-3] * len(grown), rel=1e-6)
    assert opening(0.1, STEEL.expansion, rise) == pytest.approx(grown[0], rel=1e-6)
    assert max(moved[1::2]) == pytest.approx(STEEL.expansion * rise * half, rel=1e-6)


def test_a_hub_heated_from_outside_opens_more_than_its_bore_and_less_than_its_rim_says() -> None:
    """Rim 200 K, bore 100 K warmer: a thermometer at the bore errs on the safe side, one on the rim does not."""
    cells, radius, outer = (8, 10), 0.05, 0.09

    def rise(r: float) -> float:
        return 100.0 + 100.0 * (r - radius) / (outer - radius)

    def opened(half: float) -> list[float]:
        hub = ring(radius, outer, half, STEEL, 0.0, cells)
        moved = warmed(hub, STEEL, rise, elements_of(cells, hub))
        return [2 * float(moved[2 * node]) for node in hub.inner]

    # far from its ends a long hub opens by the area mean (2/(R² − r²)) ∫ T r dr (Timoshenko & Goodier, §151)
    radii = [radius + (k + 0.5) * (outer - radius) / 2000 for k in range(2000)]
    mean = sum(rise(r) * r for r in radii) / sum(radii)
    assert opened(0.2)[0] == pytest.approx(STEEL.expansion * 0.1 * mean, rel=0.01)
    at_bore, at_rim = (opening(0.1, STEEL.expansion, each) for each in (100.0, 200.0))
    grown = opened(0.06)  # its ends open least, by little more than the bore says
    assert at_bore < min(grown) < 1.1 * at_bore
    assert max(grown) < at_rim


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_a_hub_warmer_than_its_shaft_lets_go_at_the_difference_told_for_removal(share: float) -> None:
    """Contact falls in proportion and is gone at δ/(α d), the difference a hot-mounted hub comes off by."""
    half, radius, delta = 0.03, 0.05, 0.15e-3
    rise = share * heating_rise(delta, 0.0, 0.1, STEEL.expansion)
    inner, outside = ring(0.0, radius, half, STEEL, 0.0, (5, 5)), ring(radius, 0.09, half, STEEL, 0.0, (5, 5))
    left = delta / 2 - STEEL.expansion * radius * rise
    numeric, _ = fitted(inner, outside, radius, half, left)
    pair = Pair(0.1, 0.0, 0.18, 2 * half, STEEL, STEEL)
    full = contact_pressure(pair, delta)
    assert pressure_running(pair, delta, Running(0.0, rise)) == pytest.approx(numeric, abs=2e-4 * full)
    assert numeric == pytest.approx((1 - share) * full, abs=2e-4 * full)


@pytest.mark.parametrize("drop", [60.0, 120.0])
def test_a_cooled_shaft_shrinks_by_what_the_cooling_is_asked_for(drop: float) -> None:
    """The shaft in free space, colder by ``cooling_drop``: its diameter is smaller by the shrinkage it was asked for."""
    cells, half, radius = (4, 5), 0.06, 0.05
    shaft = ring(0.0, radius, half, STEEL, 0.0, cells)
    shrink = STEEL.expansion * 0.1 * drop
    moved = warmed(shaft, STEEL, -cooling_drop(shrink, 0.1, STEEL.expansion), elements_of(cells, shaft))
    assert min(2 * float(each) for each in moved[0::2]) == pytest.approx(-shrink, rel=1e-6)
