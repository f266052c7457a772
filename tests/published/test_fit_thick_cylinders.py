"""Thick cylinders and compound tubes of strength-of-materials books, stresses and interference."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.cylinder import Elastic, pressed
from splitline.fitting.grip import friction_capacity, torque_capacity
from splitline.fitting.heating import heating_rise
from splitline.fitting.interference import (
    Pair,
    contact_pressure,
    hub_stress,
    interference_for,
    shaft_stress,
)


def test_ugural_fenster_example_1_allowable_pressures() -> None:
    # Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, ex. 1, p. 239 (bore 300, outer 400 mm)
    inside = pressed(300, 300, 400, inside=1.0)
    outside = pressed(300, 300, 400, outside=1.0)
    assert 250 / inside.hoop == pytest.approx(70.0, rel=0.001)
    assert 250 / abs(outside.hoop) == pytest.approx(54.6875, rel=0.001)


def test_ugural_fenster_example_2_yield_by_three_theories() -> None:
    # same book, ex. 2, p. 241: inside pressure four times the outside one, yield 340 MPa
    bore = pressed(200, 200, 300, inside=1.0, outside=0.25)
    assert 340 / max(abs(bore.hoop), abs(bore.radial)) == pytest.approx(200.0, rel=0.001)
    # The book's Tresca takes σ_t − σ_r (axial stress between them).
    assert 340 / (bore.hoop - bore.radial) == pytest.approx(125.93, rel=0.001)
    assert bore.shear_twice == pytest.approx(bore.hoop - bore.radial)
    assert 340 / bore.combined == pytest.approx(143.8, rel=0.001)


def test_boresi_schmidt_example_3_hollow_shrink_fit() -> None:
    # Boresi & Schmidt, Advanced Mechanics of Materials, ch. 11, ex. 3, p. 398
    steel = Elastic(200e3, 0.29, expansion=1.17e-5)
    pair = Pair(50.0, 20.0, 100.0, 50.0, steel, steel)
    interference = 2 * 0.072
    pressure = contact_pressure(pair, interference)
    assert pressure == pytest.approx(188.97, rel=0.001)
    assert shaft_stress(pair, pressure, at=20.0).hoop == pytest.approx(-449.92, rel=0.001)
    assert shaft_stress(pair, pressure).hoop == pytest.approx(-260.95, rel=0.001)
    assert hub_stress(pair, pressure).hoop == pytest.approx(314.94, rel=0.001)
    assert hub_stress(pair, pressure, at=100.0).hoop == pytest.approx(125.98, rel=0.001)
    assert heating_rise(interference, 2 * 0.025, 50.0, 1.17e-5) == pytest.approx(331.62, rel=0.001)


def test_bhavikatti_example_8_8_15_compound_cylinder() -> None:
    # Bhavikatti, Strength of Materials, ex. 8.8.15, p. 344: shrink pressure 6, then 80 MPa inside
    whole = [pressed(2 * r, 400, 600, inside=80.0).hoop for r in (200, 250, 300)]
    inner = [pressed(2 * r, 400, 500, outside=6.0).hoop for r in (200, 250)]
    outer = [pressed(2 * r, 500, 600, inside=6.0).hoop for r in (250, 300)]
    found = (whole[0] + inner[0], whole[1] + inner[1], whole[1] + outer[0], whole[2] + outer[1])
    assert found == pytest.approx((174.67, 128.83, 189.43, 155.27), rel=0.001)


def test_junnarkar_example_11_compound_tube() -> None:
    # Junnarkar, Mechanics of Structures, ch. 10, ex. 11, p. 404: 6/10/12 in, 1500 psi
    inner = [pressed(d, 6, 10, outside=1500).hoop for d in (6, 10)]
    outer = [pressed(d, 10, 12, inside=1500).hoop for d in (10, 12)]
    assert inner == pytest.approx((-4687.5, -3187.5), rel=0.001)
    assert outer == pytest.approx((8318.2, 6818.2), rel=0.001)


def test_bhandari_example_22_8_interference_from_pressure() -> None:
    # Bhandari, Design of Machine Elements, ex. 22.8: jacket 100/75 on tube 75/50 mm
    steel = Elastic(207e3, 0.3)
    pair = Pair(75.0, 50.0, 100.0, 100.0, steel, steel)
    interference = interference_for(pair, 3.615169)
    assert interference == pytest.approx(0.008084, rel=0.001)
    assert 75.0 - interference == pytest.approx(74.991916, rel=0.001)


def test_flywheel_slides_hollow_steel_shaft_in_cast_iron() -> None:
    # lecture slides on flywheels (from memory): radii 25/50/125 mm, 100 mm long, hub hoop limit 30 MPa, f 0.15
    pair = Pair(0.100, 0.050, 0.250, 0.100, Elastic(210e9, 0.3), Elastic(70e9, 0.25))
    pressure = 30e6 / hub_stress(pair, 1.0).hoop
    assert pressure == pytest.approx(21.72e6, rel=0.005)
    assert interference_for(pair, pressure) / 2 == pytest.approx(0.0324e-3, rel=0.005)
    assert friction_capacity(pair, pressure, 0.15) == pytest.approx(102.4e3, rel=0.005)
    assert torque_capacity(pair, pressure, 0.15) == pytest.approx(5.12e3, rel=0.005)
    assert math.isclose(pair.area, math.pi * 0.1 * 0.1)
