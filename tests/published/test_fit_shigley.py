"""Source: Press fits of Budynas & Nisbett, Shigley's Mechanical Engineering Design, and its instructor's solutions (8th ed.).

The book's examples use radial interference; ours is diametral, twice that.
"""

from __future__ import annotations

import pytest

from splitline.fitting.cylinder import Elastic
from splitline.fitting.interference import (
    Pair,
    contact_pressure,
    hub_stress,
    shaft_stress,
    worst_hub,
    worst_shaft,
)


def same(diameter: float, outer: float, modulus: float, poisson: float = 0.292) -> Pair:
    """Solid shaft and hub of one material, any one unit of length."""
    steel = Elastic(modulus, poisson)
    return Pair(diameter, 0.0, outer, diameter, steel, steel)


def test_problem_3_64_least_and_greatest_pressure() -> None:
    # Prob. 3-64: 40 mm shaft, 80 mm hub
    low, high = 2 * 0.009, 2 * 0.0295  # as printed, radial
    pair = same(40.0, 80.0, 207000.0)
    assert contact_pressure(pair, high) == pytest.approx(114.5, rel=0.005)
    assert contact_pressure(pair, low) == pytest.approx(34.9, rel=0.005)


def test_problem_3_65_in_inches() -> None:
    # Prob. 3-65
    low, high = 0.0007, 0.0023
    pair = same(1.5, 3.0, 30e6)
    assert contact_pressure(pair, high) == pytest.approx(17250, rel=0.001)
    assert contact_pressure(pair, low) == pytest.approx(5250, rel=0.001)


def test_problem_3_68_hoop_stresses() -> None:
    # Prob. 3-68: radial interference 0.001 in
    pair = same(1.0, 2.0, 30e6)
    pressure = contact_pressure(pair, 2 * 0.001)
    assert pressure == pytest.approx(22500, rel=0.001)
    assert hub_stress(pair, pressure).hoop == pytest.approx(37500, rel=0.001)
    assert shaft_stress(pair, pressure).hoop == pytest.approx(-22500, rel=0.001)


def test_problem_5_34_von_mises() -> None:
    # Prob. 5-34(b): radial interference 0.0005 in
    pair = same(2.0, 3.0, 30e6)
    pressure = contact_pressure(pair, 2 * 0.0005)
    assert pressure == pytest.approx(4167, rel=0.001)
    assert hub_stress(pair, pressure).hoop == pytest.approx(10830, rel=0.001)
    assert worst_hub(pair, pressure) == pytest.approx(13410, rel=0.001)
    assert worst_shaft(pair, pressure) == pytest.approx(4167, rel=0.001)


def test_problem_7_24_from_tolerances_to_safety_factor() -> None:
    # Prob. 7-24: H7/s6 on 1.5 in, hub 2.5 in, shaft yield 57 kpsi
    low, high = 0.0007, 0.0023
    pair = same(1.5, 2.5, 30e6)
    assert contact_pressure(pair, high) == pytest.approx(14720, rel=0.008)
    assert contact_pressure(pair, low) == pytest.approx(4480, rel=0.008)
    assert 57000 / worst_shaft(pair, contact_pressure(pair, high)) == pytest.approx(3.9, rel=0.008)
