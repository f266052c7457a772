"""An interference fit from its plan entry to results, checks and cautions."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

import pytest

from splitline.assess.context import Context, Observed
from splitline.assess.fit import assess_fit
from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult
from splitline.library.store import Library
from splitline.plan.model import Fit

CTX = Context(Library.load(), dt.date(2026, 11, 25))
STEEL = {f"{part}_{key}": text for part in ("hub", "shaft") for key, text in (
    ("modulus", "207 GPa"), ("density", "7830 kg/m^3"), ("expansion", "11.4e-6 1/K"), ("yield", "600 MPa"))}  # fmt: skip
HUB: dict[str, Any] = {
    "id": "hub",
    "title": "Hub",
    "shaft_diameter": "100 mm",
    "hub_outer": "180 mm",
    "length": "120 mm",
    "interference": "0.15 mm",
    "friction": 0.12,
    "speed": "10000 rpm",
    "torque": "9 kN*m",
    "mounting": "oil",
    "max_expansion_pressure": "2500 bar",
    **STEEL,
}


def fit(**changes: Any) -> ItemResult:
    """The hub above with changes; None takes a field out."""
    entry = {key: value for key, value in (HUB | changes).items() if value is not None}
    return assess_fit(Fit.model_validate(entry), CTX)


def check(result: ItemResult, key: str) -> Check:
    found = [c for c in result.checks if c.key == key]
    assert len(found) == 1, f"{key}: {[c.key for c in result.checks]}"
    return found[0]


def test_keyless_hub_at_speed() -> None:
    # rotating disc and Lamé, hub of 100/180 × 120 mm, 0.15 mm diametral: hand computation with ν = 0.3
    r = fit().results
    assert r["contact_pressure"] == pytest.approx(107.333e6, rel=1e-4)
    assert r["contact_pressure_at_speed"] == pytest.approx(87.4984e6, rel=1e-4)
    assert r["torque_capacity"] == pytest.approx(19.7917e3, rel=1e-4)
    assert r["stored_energy"] == pytest.approx(151.739, rel=1e-4)
    assert r["letting_go_speed"] * 30 / math.pi == pytest.approx(23262.3, rel=1e-4)
    assert r["axial_capacity"] == pytest.approx(2 * r["torque_capacity"] / 0.1)
    assert "contact_pressure_low" not in r


def test_hollow_shrink_fit_of_a_book() -> None:
    # Boresi & Schmidt, Advanced Mechanics of Materials, ch. 11, ex. 3, p. 398 (radial interference 0.072, gap 0.025 mm)
    r = fit(
        shaft_diameter="50 mm", shaft_bore="20 mm", hub_outer="100 mm", interference="0.144 mm", handling_gap="0.05 mm",
        hub_modulus="200 GPa", shaft_modulus="200 GPa", hub_poisson=0.29, shaft_poisson=0.29, mounting="heat",
        hub_expansion="11.7e-6 1/K", speed=None,
    ).results  # fmt: skip
    assert r["contact_pressure"] == pytest.approx(188.97e6, rel=1e-3)
    assert r["shaft_stress"] == pytest.approx(449.92e6, rel=1e-3)
    assert r["heating_rise"] == pytest.approx(331.62, rel=1e-3)
    assert "contact_pressure_at_speed" not in r


def test_least_and_greatest_of_measured_limits() -> None:
    # Shigley instructor's solutions, Prob. 3-64: 40.043/40.059 on 40.000/40.025 mm
    r = fit(
        shaft_diameter="40 mm", hub_outer="80 mm", interference=None, interference_min="0.018 mm",
        interference_max="0.059 mm", speed=None,
    ).results  # fmt: skip
    assert r["contact_pressure_low"] == pytest.approx(34.9e6, rel=5e-3)
    assert r["contact_pressure_high"] == pytest.approx(114.5e6, rel=5e-3)
    assert r["interference_low"] == pytest.approx(0.018e-3)
    assert r["interference_high"] == pytest.approx(0.059e-3)
    # stress at the greatest, grip at the least
    assert r["shaft_stress"] == pytest.approx(r["contact_pressure_high"])
    assert r["torque_capacity"] == pytest.approx(0.12 * r["contact_pressure_low"] * math.pi * 0.04**2 * 0.12 / 2)


def test_advance_and_interference_say_the_same_fit() -> None:
    by_advance = fit(interference=None, advance="3.0 mm", taper="1:20").results
    by_interference = fit(taper="1:20").results
    for key in ("contact_pressure", "advance", "push_force", "stored_energy"):
        assert by_advance[key] == pytest.approx(by_interference[key], rel=1e-12)
    assert by_advance["advance_per_hundredth"] == pytest.approx(0.2e-3)
    assert math.degrees(by_advance["taper_half_angle"]) == pytest.approx(1.4321, abs=1e-4)
    tolerance = fit(interference=None, advance="3.0 mm", advance_tolerance="0.2 mm", taper="1:20").results
    assert tolerance["interference_low"] == pytest.approx(0.14e-3)
    assert (tolerance["advance_low"], tolerance["advance_high"]) == pytest.approx((2.8e-3, 3.2e-3))


def test_oil_mounting() -> None:
    r = fit(taper="1:20", friction_mounting=0.015).results
    p = r["contact_pressure"]
    assert r["push_force"] == pytest.approx(p * math.pi * 0.1 * 0.12 * (1 / 40 + 0.015))
    assert r["expansion_pressure"] == pytest.approx(p)
    assert r["expansion_pressure_high"] == pytest.approx(1.6 * p)
    hoop = 1.6 * p * (180**2 + 100**2) / (180**2 - 100**2)
    assert r["hub_stress_mounting"] == pytest.approx(1.07 * math.sqrt(hoop**2 + hoop * 1.6 * p + (1.6 * p) ** 2))
    assert r["push_off_force"] == pytest.approx(p * math.pi * 0.1 * 0.12 * (1 / 40 - 0.005))


def test_press_takes_the_grip_friction() -> None:
    r = fit(mounting="press", max_expansion_pressure=None).results
    assert r["push_force"] == pytest.approx(0.12 * r["contact_pressure"] * math.pi * 0.1 * 0.12)
    assert "expansion_pressure" not in r


def test_heat_mounting_with_defaults_and_its_limit() -> None:
    result = fit(mounting="heat", max_expansion_pressure=None)
    r = result.results
    # ΔT = (interference + 0.001 d)/(α d), as in a published hub example of 219.298 K
    assert r["heating_rise"] == pytest.approx(219.298, rel=1e-4)
    assert r["hub_temperature_mounting"] == pytest.approx(293.15 + 219.298, rel=1e-4)
    assert r["heating_rise_high"] == pytest.approx(219.298 / 0.95, rel=1e-4)
    assert check(result, "heating_rise").verdict == "fails"  # 231 K are not had below 230 °C
    assert {d.field for d in result.defaults} >= {"handling_gap", "max_temperature", "ambient"}


def test_a_cold_shaft_saves_heat_and_warns() -> None:
    result = fit(mounting="heat", ambient="-60 degC", max_expansion_pressure=None)
    assert result.results["heating_rise"] == pytest.approx(219.298 - 80.0, rel=1e-3)
    assert "cold-parts" in {c.code for c in result.cautions}
    warm = fit(mounting="heat", ambient="35 degC", max_expansion_pressure=None)
    assert warm.results["heating_rise"] == pytest.approx(219.298, rel=1e-3)
    assert warm.results["hub_temperature_mounting"] == pytest.approx(308.15 + 219.298, rel=1e-3)


def test_carrying_too_long_fails() -> None:
    slow = fit(mounting="heat", carry="40 min", max_temperature="300 degC", max_expansion_pressure=None)
    assert check(slow, "carry").verdict == "fails"
    quick = fit(mounting="heat", carry="2 min", max_temperature="300 degC", max_expansion_pressure=None)
    assert check(quick, "carry").verdict == "ok"


def test_running_temperature_of_a_hot_hub() -> None:
    r = fit(hub_temperature="90 degC", shaft_temperature="70 degC").results
    assert r["temperature_loss"] == pytest.approx(0.1 * 11.4e-6 * 20)
    even = fit(hub_temperature="90 degC").results
    assert even["temperature_loss"] == pytest.approx(0.0, abs=1e-15)


def test_fit_that_lets_go_fails() -> None:
    result = fit(speed="24000 rpm")
    assert check(result, "letting_go").verdict == "fails"
    assert result.results["contact_pressure_at_speed"] == 0.0
    grip = check(result, "grip")
    assert (grip.verdict, grip.usage) == ("fails", None)
    assert result.verdict == "fails"


def test_grip_takes_torque_and_axial_force_together() -> None:
    alone = fit(torque="13 kN*m").results["grip_reserve"]
    both = fit(torque="13 kN*m", axial="250 kN").results["grip_reserve"]
    capacity = fit().results
    expected = 1 / math.hypot(13e3 / capacity["torque_capacity"], 250e3 / capacity["axial_capacity"])
    assert both == pytest.approx(expected, rel=1e-9)
    assert both < alone
    # a taper works against the grip
    assert fit(torque="13 kN*m", taper="1:20").results["grip_reserve"] < alone


def test_smoothing_is_taken_off() -> None:
    smooth, rough = fit().results, fit(smoothing="0.01 mm").results
    assert rough["contact_pressure"] == pytest.approx(smooth["contact_pressure"] * 14 / 15)
    assert rough["interference"] == smooth["interference"]


@pytest.mark.parametrize(
    ("changes", "key", "needs"),
    [
        ({"friction": None}, "grip", "friction"),
        ({"torque": None}, "grip", "torque or axial"),
        ({"speed": None}, "grip", "speed"),
        ({"hub_yield": None}, "hub_stress", "hub_yield"),
        ({"max_expansion_pressure": None}, "expansion_pressure", "max_expansion_pressure"),
        ({"hub_modulus": None}, "contact_pressure", "hub_material or hub_modulus"),
        ({"interference": None}, "contact_pressure", "advance with taper"),
        ({"hub_density": None}, "contact_pressure_at_speed", "hub_density"),
        ({"length": None}, "length", "length"),
        ({"mounting": None}, "mounting", "mounting"),
        ({"mounting": "heat", "hub_expansion": None}, "heating_rise", "hub_expansion"),
        ({"mounting": "press", "friction": None}, "push_force", "friction"),
    ],
)
def test_what_is_not_given_is_said_missing(changes: dict[str, Any], key: str, needs: str) -> None:
    result = fit(**changes)
    found = check(result, key)
    assert found.verdict == "missing"
    assert needs in " ".join(found.needs)
    assert result.verdict in ("missing", "fails")


def test_without_length_pressure_is_there_and_forces_are_not() -> None:
    r = fit(length=None).results
    assert r["contact_pressure"] == pytest.approx(107.333e6, rel=1e-4)
    assert not {"torque_capacity", "axial_capacity", "push_force", "stored_energy", "hub_mass"} & set(r)


def test_measured_diameters_are_on_site_until_entered() -> None:
    band = {"interference": None, "interference_min": "0.14 mm", "interference_max": "0.16 mm"}
    assert check(fit(**band), "measured_interference").verdict == "on-site"
    good = fit(**band, measured={"shaft": ["100.150 mm", "100.152 mm"], "hub": ["100.000 mm", "100.002 mm"]})
    assert good.results["measured_interference"] == pytest.approx(0.15e-3)
    assert {check(good, f"measured_interference_{end}").verdict for end in ("low", "high")} <= {"ok", "near"}
    slack = fit(**band, measured={"shaft": ["100.100 mm"], "hub": ["100.000 mm"]})
    assert check(slack, "measured_interference_low").verdict == "fails"
    entered = Context(CTX.library, CTX.today, Observed({("hub", "measured_interference"): 0.155e-3}))
    result = assess_fit(Fit.model_validate({k: v for k, v in (HUB | band).items() if v is not None}), entered)
    assert result.results["measured_interference"] == pytest.approx(0.155e-3)


def test_taper_contact_is_on_site_until_entered() -> None:
    entry = Fit.model_validate(HUB | {"taper": "1:20"})
    assert check(assess_fit(entry, CTX), "taper_contact").verdict == "on-site"
    for share, verdict in ((0.95, "ok"), (0.82, "near"), (0.6, "fails")):
        seen = Context(CTX.library, CTX.today, Observed({("hub", "taper_contact"): share}))
        assert check(assess_fit(entry, seen), "taper_contact").verdict == verdict


@pytest.mark.parametrize(
    ("mounting", "codes"),
    [
        ("oil", {"oil-injection", "floated-hub", "hydraulic-energy", "pinch"}),
        ("heat", {"hot-parts", "pinch"}),
        ("press", {"hydraulic-energy", "pinch"}),
    ],
)
def test_every_way_of_storing_energy_has_its_caution(mounting: str, codes: set[str]) -> None:
    assert {c.code for c in fit(mounting=mounting).cautions} >= codes


def test_a_floated_hub_says_what_it_stores() -> None:
    text = next(c.text for c in fit().cautions if c.code == "floated-hub")
    assert "152 J" in text
    assert "4.3 m/s" in text
    # also where nothing can be computed
    assert "floated-hub" in {c.code for c in fit(hub_outer=None).cautions}


def test_short_waits_are_questioned() -> None:
    result = fit(oil_hold="2 min", drain="20 min")
    assert check(result, "oil_hold").verdict == check(result, "drain").verdict == "near"
    assert fit().results["oil_hold"] == 600.0
    assert fit().results["drain"] == 7200.0


def test_a_material_from_the_library() -> None:
    plain = {f"{part}_{key}": None for part in ("hub", "shaft") for key in ("modulus", "density", "expansion")}
    r = fit(**plain, hub_material="steel for keyless hubs", shaft_material="steel for keyless hubs").results
    assert r["contact_pressure"] == pytest.approx(107.333e6, rel=1e-4)  # ν drops out of a solid shaft of one material


def test_working_lines_carry_the_numbers_put_in() -> None:
    result = fit(taper="1:20")
    lines = {line.key: line for line in result.working}
    for key in ("contact_pressure", "torque_capacity", "push_force", "grip_reserve", "stored_energy", "advance"):
        assert lines[key].formula
        assert lines[key].source
        assert lines[key].puts
    line = lines["push_force"]
    given = {put.symbol: put.value for put in line.puts}
    by_hand = given["p"] * math.pi * given["d"] * given["L"] * (math.tan(given["θ"]) + given["μ"])  # type: ignore[operator, arg-type]
    assert line.value == pytest.approx(by_hand, rel=1e-9)


def test_keys_of_a_band_are_declared() -> None:
    for key in ("contact_pressure", "contact_pressure_at_speed", "interference", "push_force", "advance"):
        assert {f"{key}_low", f"{key}_high"} <= set(registry("fit"))


def test_an_unusual_interference_asks_whether_it_is_radial() -> None:
    assert not any("radial" in note for note in fit().notes)
    assert any("radial" in note for note in fit(interference="0.03 mm").notes)
    assert any("radial" in note for note in fit(interference="0.4 mm").notes)


def test_a_fit_that_gains_by_warmth_is_judged_cold() -> None:
    warm = fit(shaft_temperature="120 degC", hub_temperature="40 degC")
    cold = fit()
    assert warm.results["contact_pressure_at_speed"] > cold.results["contact_pressure_at_speed"]
    assert warm.results["grip_reserve"] == pytest.approx(cold.results["grip_reserve"])
    assert warm.results["letting_go_speed"] == pytest.approx(cold.results["letting_go_speed"])
    # and its stress warm
    assert warm.results["hub_stress_at_speed"] > cold.results["hub_stress_at_speed"]
    standing = fit(shaft_temperature="120 degC", hub_temperature="40 degC", speed="0 rpm").results
    assert standing["hub_stress_at_speed"] > standing["hub_stress"]
