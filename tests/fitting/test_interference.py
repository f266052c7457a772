"""Contact pressure: limits, symmetry of sizes and units, speed and temperature."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.cylinder import Elastic, growth, pressed
from splitline.fitting.interference import (
    Pair,
    Running,
    compliance,
    contact_pressure,
    hub_stress,
    interference_for,
    interference_running,
    letting_go_speed,
    pressure_running,
    shaft_stress,
    smoothing_loss,
    speed_loss,
    temperature_loss,
    worst_hub,
    worst_shaft,
)

STEEL = Elastic(207e9, 0.3, 7830.0, 11.4e-6)
share = st.floats(0.05, 0.95)
ratio = st.floats(1.02, 6.0)
moduli = st.floats(50e9, 250e9)
poissons = st.floats(0.1, 0.45)


@st.composite
def pairs(draw: st.DrawFn) -> Pair:
    d = draw(st.floats(0.02, 1.0))
    bore = d * draw(st.one_of(st.just(0.0), share))
    shaft = Elastic(draw(moduli), draw(poissons), draw(st.floats(1000, 9000)), draw(st.floats(5e-6, 25e-6)))
    hub = Elastic(draw(moduli), draw(poissons), draw(st.floats(1000, 9000)), draw(st.floats(5e-6, 25e-6)))
    return Pair(d, bore, d * draw(ratio), d, shaft, hub)


@given(pairs(), st.floats(1e-4, 3e-3))
def test_hub_and_shaft_growth_make_up_the_interference(pair: Pair, strain: float) -> None:
    """The Lamé displacement of both bodies under the found pressure closes exactly the interference."""
    interference = strain * pair.diameter
    p = contact_pressure(pair, interference)
    hub = growth(pair.diameter, hub_stress(pair, p), pair.hub)
    shaft = growth(pair.diameter, shaft_stress(pair, p), pair.shaft)
    assert hub - shaft == pytest.approx(interference, rel=1e-9)
    assert interference_for(pair, p) == pytest.approx(interference, rel=1e-12)


@given(st.floats(1.2, 5), st.floats(1e-4, 2e-3))
def test_equal_materials_need_no_poisson_ratio(outer: float, strain: float) -> None:
    """Solid shaft and hub of one material: p = E δ/(2 d) (1 − d²/D²)."""
    steel = Elastic(207e9, 0.3)
    pair = Pair(1.0, 0.0, outer, 1.0, steel, steel)
    assert contact_pressure(pair, strain) == pytest.approx(207e9 * strain / 2 * (1 - 1 / outer**2), rel=1e-12)


def test_thin_ring_limit() -> None:
    """A thin ring on a stiff shaft: p = 2 t E δ/d², hoop stress E δ/d."""
    stiff = Elastic(1e17, 0.3)
    d, t, interference = 0.2, 0.2e-3, 0.1e-3
    pair = Pair(d, 0.0, d + 2 * t, 0.05, stiff, STEEL)
    p = contact_pressure(pair, interference)
    assert p == pytest.approx(2 * t * STEEL.modulus * interference / d**2, rel=3e-3)
    assert hub_stress(pair, p).hoop == pytest.approx(STEEL.modulus * interference / d, rel=3e-3)


def test_doubling_the_interference_doubles_the_pressure() -> None:
    """The reader of a drawing who takes radial for diametral is out by exactly this factor."""
    pair = Pair(0.1, 0.02, 0.18, 0.1, STEEL, STEEL)
    assert contact_pressure(pair, 0.3e-3) == pytest.approx(2 * contact_pressure(pair, 0.15e-3), rel=1e-12)


def test_a_clearance_has_no_pressure() -> None:
    assert contact_pressure(Pair(0.1, 0.0, 0.2, 0.1, STEEL, STEEL), -1e-5) == 0.0


@given(pairs(), st.floats(10, 3000))
def test_grip_is_gone_exactly_at_the_letting_go_speed(pair: Pair, speed: float) -> None:
    lost = speed_loss(pair, speed)
    at = letting_go_speed(pair, lost)
    if lost <= 0:
        assert at in (None, 0.0)
        return
    assert at == pytest.approx(speed, rel=1e-9)
    assert interference_running(pair, lost, Running(speed)) == pytest.approx(0.0, abs=1e-12)
    assert pressure_running(pair, lost, Running(speed * 1.01)) == 0.0
    assert pressure_running(pair, lost, Running(speed * 0.99)) > 0.0


def test_coupling_hub_loses_about_a_sixth_at_twelve_thousand_rpm() -> None:
    """A coupling-size hub (75 mm shaft of 140 mm hub, 0.10 mm) loses of the order of a sixth: from memory."""
    pair = Pair(0.075, 0.0, 0.14, 0.08, STEEL, STEEL)
    kept = pressure_running(pair, 0.10e-3, Running(12000 * math.pi / 30)) / contact_pressure(pair, 0.10e-3)
    assert 0.08 < 1 - kept < 0.25


@given(pairs(), st.floats(0, 300))
def test_even_heating_of_one_material_changes_interference_by_its_own_growth(pair: Pair, rise: float) -> None:
    same = Pair(pair.diameter, pair.shaft_bore, pair.hub_outer, pair.length, pair.shaft, pair.shaft)
    assert temperature_loss(same, rise, rise) == 0.0
    hotter_hub = temperature_loss(same, rise + 10, rise)
    assert hotter_hub == pytest.approx(same.diameter * same.hub.expansion * 10, rel=1e-6)


def test_hub_hotter_than_shaft_lets_go_earlier() -> None:
    pair = Pair(0.1, 0.0, 0.18, 0.12, STEEL, STEEL)
    cold = letting_go_speed(pair, interference_running(pair, 0.15e-3, Running()))
    hot = letting_go_speed(pair, interference_running(pair, 0.15e-3, Running(0, hub_rise=80, shaft_rise=40)))
    assert hot is not None
    assert cold is not None
    assert hot < cold
    assert letting_go_speed(pair, interference_running(pair, 0.15e-3, Running(hub_rise=200))) == 0.0


@given(pairs(), st.floats(1e6, 2e8))
def test_worst_places_at_rest_are_the_bores(pair: Pair, p: float) -> None:
    assert worst_hub(pair, p) == pytest.approx(hub_stress(pair, p).combined, rel=1e-9)
    expected = p if pair.shaft_bore == 0 else 2 * p / (1 - (pair.shaft_bore / pair.diameter) ** 2)
    assert worst_shaft(pair, p) == pytest.approx(expected, rel=1e-9)


def test_a_pinhole_doubles_the_stress_of_a_solid_shaft() -> None:
    solid = Pair(0.1, 0.0, 0.2, 0.1, STEEL, STEEL)
    drilled = Pair(0.1, 1e-5, 0.2, 0.1, STEEL, STEEL)
    assert compliance(drilled) == pytest.approx(compliance(solid), rel=1e-6)
    assert worst_shaft(drilled, 1e8) == pytest.approx(2 * worst_shaft(solid, 1e8), rel=1e-6)


@given(st.floats(0.1, 0.9), st.floats(0, 1e8), st.floats(0, 1e8))
def test_boundary_pressures_are_met(bore: float, inside: float, outside: float) -> None:
    assert pressed(bore, bore, 1.0, inside, outside).radial == pytest.approx(-inside, rel=1e-9, abs=1e-3)
    assert pressed(1.0, bore, 1.0, inside, outside).radial == pytest.approx(-outside, rel=1e-9, abs=1e-3)


def test_smoothing_takes_peaks_of_both_parts() -> None:
    # DIN 7190-1 (from memory): 0.8 of the sum of both roughness heights
    assert smoothing_loss(6.3e-6, 3.2e-6) == pytest.approx(7.6e-6)


@pytest.mark.parametrize(
    "sizes", [(0.1, 0.1, 0.2), (0.1, 0.0, 0.1), (0.1, -0.01, 0.2), (0.0, 0.0, 0.2), (math.nan, 0.0, 0.2)]
)
def test_impossible_sizes_are_refused(sizes: tuple[float, float, float]) -> None:
    with pytest.raises(InputError):
        Pair(*sizes, 0.1, STEEL, STEEL)


@pytest.mark.parametrize(("modulus", "poisson"), [(0.0, 0.3), (math.inf, 0.3), (2e11, 0.6), (2e11, -1.0)])
def test_impossible_materials_are_refused(modulus: float, poisson: float) -> None:
    with pytest.raises(InputError):
        Elastic(modulus, poisson)
