"""Keyless hubs on oil: AGMA constants, advance, speed, energy, class-society cone formula, seal-line pressures."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.cylinder import Elastic
from splitline.fitting.grip import Duty, grip_factor, needed_normal, torque_capacity
from splitline.fitting.interference import (
    Pair,
    Running,
    contact_pressure,
    letting_go_speed,
    pressure_running,
    speed_loss,
)
from splitline.fitting.mounting import EXPANSION_HIGH, EXPANSION_LOW, ejection_speed, stored_energy
from splitline.fitting.taper import Taper, advance_for, from_inches_per_foot

RPM = math.pi / 30
# ANSI/AGMA 9103-C17 (abstract), steel hub on solid steel shaft
AGMA_STEEL = Elastic(207.0e9, 0.3, density=7830.0, expansion=1.14e-5)
# One hub for the next tests: 100 mm shaft, 180 mm hub, 120 mm long, 0.15 mm diametral interference
HUB = Pair(0.100, 0.0, 0.180, 0.120, AGMA_STEEL, AGMA_STEEL)
INTERFERENCE = 0.15e-3


def test_advance_of_three_quarters_inch_per_foot() -> None:
    # geometry (from memory): 4 in shaft, 0.0015 per unit of diameter
    taper = from_inches_per_foot(0.75)
    assert taper.on_diameter == pytest.approx(0.0625, rel=1e-6)
    assert advance_for(0.0015 * 4.0, taper) == pytest.approx(0.096, rel=1e-6)
    assert taper.advance_per_interference is not None
    assert 0.001 * taper.advance_per_interference == pytest.approx(0.016, rel=1e-6)


def test_advance_of_one_in_twenty() -> None:
    # geometry (from memory): 100 mm shaft
    taper = Taper(0.05)
    assert advance_for(0.15, taper) == pytest.approx(3.0, rel=1e-6)
    assert taper.advance_per_interference is not None
    assert 0.001 * taper.advance_per_interference == pytest.approx(0.02, rel=1e-6)


def test_hub_at_ten_thousand_rpm() -> None:
    # rotating disc formulas
    speed = 10000 * RPM
    assert speed_loss(HUB, speed) / 2 == pytest.approx(0.0138598e-3, rel=1e-4)
    pressure = pressure_running(HUB, INTERFERENCE, Running(speed))
    assert pressure == pytest.approx(87.4984e6, rel=1e-4)
    assert torque_capacity(HUB, pressure, 0.12) == pytest.approx(19.7917e3, rel=1e-4)
    let_go = letting_go_speed(HUB, INTERFERENCE)
    assert let_go is not None
    assert let_go / RPM == pytest.approx(23262.3, rel=1e-4)


def test_energy_stored_in_the_hub() -> None:
    # U = ½ p A δ_r, v = √(2U/m)
    energy = stored_energy(HUB, INTERFERENCE)
    assert energy == pytest.approx(151.739, rel=1e-4)
    assert HUB.hub_mass == pytest.approx(16.5303, rel=1e-4)
    assert ejection_speed(energy, HUB.hub_mass) == pytest.approx(4.28473, rel=1e-4)


def test_least_cone_pressure_for_torque() -> None:
    # classification-society formula for keyless cones (from memory): 20 kN·m, factor 2, half-taper 1:48
    area = 37699.1e-6
    duty = Duty(tangential=2 * 20e3 / 0.1)
    taper = Taper(2 * 0.0208333)
    assert needed_normal(duty, 0.15, taper, 2.0) / area == pytest.approx(147.267e6, rel=1e-4)
    assert needed_normal(duty, 0.15, Taper(0.0), 2.0) / area == pytest.approx(141.471e6, rel=1e-4)


@pytest.mark.parametrize(("axial", "normal"), [(-60e3, 3438.19e3), (60e3, 7267.77e3)])
def test_least_normal_force_with_thrust(axial: float, normal: float) -> None:
    # same formula: thrust pushing up the taper (negative) and pulling off it; friction circle closes
    duty = Duty(150e3, axial)
    taper = Taper(2 * 0.0333333)
    found = needed_normal(duty, 0.13, taper, 2.8)
    assert found == pytest.approx(normal, rel=1e-4)
    assert grip_factor(duty, found, 0.13, taper) == pytest.approx(2.8, rel=1e-9)


def test_published_injection_ratio_lies_in_the_band() -> None:
    # published text on the oil injection method: 1.2 times contact pressure
    assert EXPANSION_LOW < 1.2 < EXPANSION_HIGH


def test_own_finite_elements_of_equal_lengths() -> None:
    # own axisymmetric finite elements (scikit-fem 12): mean pressure and growths, radial interference 0.05 mm
    steel = Elastic(206843.0, 0.3)
    pair = Pair(100.0, 0.0, 180.0, 120.0, steel, steel)
    pressure = contact_pressure(pair, 2 * 0.05)
    assert pressure == pytest.approx(71.5013, rel=1e-4)
    hub = pressure / steel.modulus * 50 * ((180**2 + 100**2) / (180**2 - 100**2) + 0.3)
    assert hub == pytest.approx(0.0379012, rel=1e-4)
    assert hub - 0.05 == pytest.approx(-0.0120988, rel=1e-4)


def test_own_finite_elements_at_loosening_speed() -> None:
    # own axisymmetric finite elements: 100/500 mm disc, 6900 rpm, mean pressure 0 within 0.01 MPa
    steel = Elastic(200e9, 0.3, density=7800.0)
    pair = Pair(0.100, 0.0, 0.500, 0.075, steel, steel)
    interference = 2 * 0.0524957e-3
    assert pressure_running(pair, interference, Running(6900 * RPM)) == pytest.approx(0.0, abs=0.01e6)
    let_go = letting_go_speed(pair, interference)
    assert let_go is not None
    assert let_go / RPM == pytest.approx(6900, rel=1e-4)
