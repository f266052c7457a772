"""A fit at its running temperature: softer parts grip less. Curves of ASME B31.3 C-6 and II-D TE-1 (the library's)."""

from __future__ import annotations

import pytest

from splitline.fitting.cylinder import Elastic
from splitline.fitting.interference import Pair, Running, contact_pressure, pressure_running
from splitline.library.curves import expansion, modulus
from splitline.library.materials import material
from tests.assess.test_fit import CTX, check, fit

WARM = {"hub_temperature": "150 degC", "shaft_temperature": "150 degC", "speed": "0 rpm"}
STEEL = Elastic(207e9, 0.29, 7830.0, 11.4e-6)
NAMED = {f"{part}_{key}": None for part in ("hub", "shaft") for key in ("modulus", "poisson", "expansion", "density")}


def test_pressure_falls_as_both_moduli_do() -> None:
    """One share for both parts comes out of the bracket of Lamé's formula."""
    pair = Pair(0.1, 0.0, 0.18, 0.12, STEEL, STEEL)
    cold = contact_pressure(pair, 0.15e-3)
    assert pressure_running(pair, 0.15e-3, Running(0.0, 100.0, 100.0, 0.95, 0.95)) == pytest.approx(0.95 * cold)


def test_a_named_steel_follows_its_own_curves() -> None:
    name = "42CrMo4, quenched and tempered"
    found = fit(**NAMED, hub_material=name, shaft_material=name, **WARM).results
    group = CTX.library.find("materials", name)["group"]
    curve = modulus(CTX.library, group)
    share = curve.at(423.15) / curve.at(293.15)
    assert 0.9 < share < 0.99
    assert found["contact_pressure_at_speed"] == pytest.approx(share * found["contact_pressure"])
    warmer = fit(**NAMED, hub_material=name, shaft_material=name, **(WARM | {"hub_temperature": "200 degC"})).results
    growth = expansion(CTX.library, group)
    lost = 0.1 * (growth.at(473.15) * 180 - growth.at(423.15) * 130)
    assert warmer["temperature_loss"] == pytest.approx(lost)
    assert material(CTX.library, name).expansion_curve.at(473.15) > growth.at(323.15)


def test_typed_steel_softens_as_the_softest_and_other_metals_by_a_printed_default() -> None:
    steel = fit(**WARM)
    assert steel.results["contact_pressure_at_speed"] < 0.97 * steel.results["contact_pressure"]
    bronze = fit(**WARM, hub_modulus="105 GPa")
    assert any("8 % lost per 100 K" in each.basis for each in bronze.defaults)
    assert check(fit(**(WARM | {"hub_temperature": "900 degC"})), "contact_pressure_at_speed").verdict == "missing"


def test_stress_does_not_count_on_the_softening() -> None:
    gains = {"hub_temperature": "20 degC", "shaft_temperature": "150 degC", "speed": "3000 rpm"}
    result = fit(**gains).results
    pressure = result["contact_pressure_at_speed"]
    assert result["shaft_stress_at_speed"] >= pressure
