"""Shrinkage fits of Machinery's Handbook, 31st ed. (2020), pp. 644-645, and an older table of tyre allowances.

The handbook's stress T is a maximum-strain equivalent stress, E_hub × hoop strain at the hub bore. Its factor C is the
shaft's share: allowance per diameter e = T (1/E_hub + C/E_shaft), with cast iron taken at half the modulus of steel.
"""

from __future__ import annotations

import pytest

from splitline.fitting.cylinder import Elastic, growth
from splitline.fitting.interference import Pair, contact_pressure, hub_stress, shaft_stress

RATIOS = (1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.6, 2.8, 3.0, 3.2, 3.4, 3.6, 3.8, 4.0)
STEEL_HUB = (0.227, 0.255, 0.299, 0.333, 0.359, 0.38, 0.397, 0.41, 0.421, 0.43, 0.438, 0.444, 0.45, 0.455)
IRON_HUB = (0.234, 0.263, 0.311, 0.348, 0.377, 0.399, 0.417, 0.432, 0.444, 0.455, 0.463, 0.471, 0.477, 0.482)
HOLLOW = {
    (1.5, 2.0): 0.468,
    (1.5, 3.5): 0.296,
    (2.0, 2.0): 0.696,
    (2.0, 3.0): 0.479,
    (3.0, 2.0): 0.888,
    (3.0, 3.5): 0.562,
    (4.0, 2.0): 0.964,
    (4.0, 3.5): 0.610,
}
STEEL = Elastic(30e6, 1 / 3)  # ratio 1/3 inferred from the table
IRON = Elastic(15e6, 1 / 4)  # ratio 1/4 inferred from the table


def shrink_factor(ratio: float, hub: Elastic, shaft_ratio: float | None = None) -> float:
    """C from our pressure and strains, for D₂/D₁ and, with a hollow shaft, D₁/D₀."""
    bore = 0.0 if shaft_ratio is None else 1 / shaft_ratio
    pair = Pair(1.0, bore, ratio, 1.0, STEEL, hub)
    pressure = contact_pressure(pair, 1e-3)
    hub_strain = growth(1.0, hub_stress(pair, pressure), hub)
    shaft_strain = -growth(1.0, shaft_stress(pair, pressure), STEEL)
    return shaft_strain * STEEL.modulus / (hub_strain * hub.modulus)


@pytest.mark.parametrize(("ratio", "factor"), list(zip(RATIOS, STEEL_HUB, strict=True)))
def test_steel_hub_on_solid_steel_shaft(ratio: float, factor: float) -> None:
    # Table 1 (steel hub)
    assert shrink_factor(ratio, STEEL) == pytest.approx(factor, rel=0.006)


@pytest.mark.parametrize(("ratio", "factor"), list(zip(RATIOS, IRON_HUB, strict=True)))
def test_cast_iron_hub_on_solid_steel_shaft(ratio: float, factor: float) -> None:
    # Table 1 (cast-iron hub)
    assert shrink_factor(ratio, IRON) == pytest.approx(factor, rel=0.004)


@pytest.mark.parametrize(("ratios", "factor"), list(HOLLOW.items()))
def test_cast_iron_hub_on_hollow_steel_shaft(ratios: tuple[float, float], factor: float) -> None:
    # Table 3
    assert shrink_factor(ratios[0], IRON, ratios[1]) == pytest.approx(factor, rel=0.006)


def test_example_1_allowance() -> None:
    # Example 1 in metric: T = 170 MPa on 250/375 mm. The printed metric answer is 25.4 times too large.
    steel = Elastic(206843.0, 1 / 3)
    pair = Pair(250.0, 0.0, 375.0, 100.0, steel, steel)
    per_mm = 1e-3
    bore_strain = growth(250.0, hub_stress(pair, contact_pressure(pair, per_mm * 250)), steel) / 250
    allowance = per_mm * 170 / (steel.modulus * bore_strain)
    assert allowance == pytest.approx(0.001008, rel=0.002)
    assert allowance * 250 == pytest.approx(0.2521, rel=0.002)
