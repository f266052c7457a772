"""Closed forms against the small finite-element solver beside this file: hollow shafts, unlike materials, speed."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.cylinder import Elastic, growth
from splitline.fitting.interference import Pair, Running, hub_stress, pressure_running
from tests.fitting.axisymmetric import fitted, ring

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
