"""Checks of a joint: what is said when something is missing, wrong, lapsed or unknown until the job."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.assess.context import Observed
from tests.assess.joint_plans import assess, check


def test_a_whole_joint_passes() -> None:
    found = assess()
    assert found.verdict in ("ok", "near"), [(c.title, c.verdict, c.said()) for c in found.checks if c.verdict != "ok"]
    assert all(c.basis for c in found.checks)


@pytest.mark.parametrize(
    ("gone", "key", "needs"),
    [
        ({"friction__thread": None, "friction__bearing": None}, "torque", "friction.lubricant"),
        ({"friction__bearing": None}, "torque", "friction.bearing"),
        ({"bolting__clamp_length": None, "bolting__shank_length": None}, "stretch", "bolting.clamp_length"),
        ({"bolting__engagement": None}, "engagement", "bolting.engagement"),
        ({"bolting__tapped_strength": None}, "engagement", "bolting.tapped_strength"),
        ({"bolting__bearing_limit": None, "member__modulus": "110 GPa"}, "bearing_pressure", "bolting.bearing_limit"),
        ({"bolting__grade": None}, "yield_usage", "bolting.grade"),
        ({"member__modulus": None}, "member_stiffness", "member.modulus"),
        ({"target__bolt_stress": None}, "preload", "target"),
        ({"load__seal": None}, "seal", "load.seal"),
        ({"load__pressure_diameter": None}, "pressure_force", "load.pressure_diameter"),
        ({"case__0__pressure": None}, "pressure_force", "case.0.pressure"),
        ({"case": []}, "pressure_force", "case"),
        ({"load": None}, "pressure_force", "load.pressure_diameter"),
        ({"tightening__tool": []}, "tool", "tightening.tool"),
        ({"tightening__tool__0__torque_max": None}, "tool_range", "tightening.tool.torque_max"),
        ({"tightening": None}, "tightening", "tightening"),
    ],
)
def test_missing_inputs_are_said(gone: dict[str, Any], key: str, needs: str) -> None:
    found = assess(**gone)
    said = check(found, key)
    assert said.verdict == "missing"
    assert needs in said.needs
    assert found.verdict in ("missing", "fails")


def test_steel_of_no_name_takes_the_pressure_of_the_softest_steel_and_says_so() -> None:
    found = assess(bolting__bearing_limit=None)
    assert check(found, "bearing_pressure").limit == 490e6  # VDI 2230-1:2003, mild steel; from memory
    (said,) = [d for d in found.defaults if d.field == "bolting.bearing_limit"]
    assert "softest steel" in said.basis


def test_missing_expansion_matters_only_with_temperature() -> None:
    cold = assess(member__expansion=None)
    assert not [c for c in cold.checks if c.key == "thermal_change"]
    hot = assess(member__expansion=None, case__0__member_temperature="120 degC")
    assert check(hot, "thermal_change").needs == ("member.expansion",)
    assert "residual_clamp" not in hot.cases[0].results


def test_temperature_beyond_the_table_is_a_sentence() -> None:
    found = assess(case__0__bolt_temperature="900 degC", case__0__member_temperature="900 degC")
    said = check(found, "thermal_change")
    assert said.verdict == "missing"
    assert "900 °C" in said.note


def test_a_joint_that_holds_no_pressure_needs_no_case() -> None:
    found = assess(load={"holds_pressure": False}, case=[])
    assert not found.cases
    assert "missing" not in {c.verdict for c in found.checks}


def test_tool_serial_and_calibration() -> None:
    absent = assess(tightening__tool__0__serial=None, tightening__tool__0__calibration_due=None)
    assert check(absent, "tool_serial").verdict == "on-site"
    assert check(absent, "calibration").verdict == "on-site"
    assert absent.verdict == "on-site"
    entered = Observed({("head", "tool.1.serial"): "TW-9"})
    known = assess(observed=entered, tightening__tool__0__serial=None)
    assert not [c for c in known.checks if c.key == "tool_serial"]
    import datetime as dt

    lapsed = assess(tightening__tool__0__calibration_due=dt.date(2026, 11, 24))
    assert check(lapsed, "calibration").verdict == "fails"
    assert check(assess(tightening__tool__0__calibration_due=dt.date(2026, 11, 25)), "calibration").verdict == "ok"


def test_hand_tools_work_from_a_fifth_of_their_range() -> None:
    """ISO 6789: 30 % of about 4.1 kN·m is under a fifth of 8 kN·m."""
    found = assess(tightening__tool__0__torque_max="8000 N*m")
    low = check(found, "tool_low")
    assert low.verdict == "fails"
    assert low.demand == pytest.approx(1600.0)
    weak = assess(tightening__tool__0__torque_max="2000 N*m")
    assert check(weak, "tool_range", "range").verdict == "fails"
    second = [
        {"name": "T2", "serial": "2", "torque_max": "2000 N*m"},
        {"name": "T1", "serial": "1", "torque_max": "8000 N*m"},
    ]
    assert check(assess(tightening__tool=second), "tool_range").verdict == "ok"


def test_the_maker_is_asked_back_when_ten_percent_apart() -> None:
    own = assess().results["torque"]
    assert check(assess(target__maker_torque=f"{own / 1.09} N*m"), "maker_torque").verdict == "ok"
    apart = check(assess(target__maker_torque=f"{own / 1.12} N*m"), "maker_torque")
    assert apart.verdict == "near"
    assert "drawing 1" in apart.basis
    stretch = check(assess(target__maker_stretch="0.30 mm"), "maker_stretch")
    assert stretch.verdict == "near"


def test_overload_takes_low_friction_with_high_preload() -> None:
    """At a fixed torque more preload means less friction: torsion falls, axial stress rises."""
    found = assess().results
    assert found["combined_stress_high"] > found["combined_stress"]
    axial = found["preload_high"] / found["least_area"]
    assert axial < found["combined_stress_high"] < (axial**2 + 3 * (1.25 * found["torsion_stress"]) ** 2) ** 0.5


def test_overload_is_not_ok_while_friction_is_unknown() -> None:
    """By torque the torsion counts; a bolt pulled by a tensioner is not twisted."""
    found = assess(friction=None)
    assert check(found, "combined_stress").verdict == "missing"
    pulled = assess(friction=None, tightening={"method": "hydraulic tensioner", "scatter": 0.15, "relaxation": 0.05})
    said = check(pulled, "combined_stress")
    high = max(1.15 * pulled.results["preload"], pulled.results["predicted_high"])
    assert said.demand == pytest.approx(high / pulled.results["least_area"])


def test_lubricant_range_is_told_beside_the_scatter_not_on_top() -> None:
    plain = assess()
    ranged = assess(friction={"lubricant": "molybdenum disulfide paste"}).results
    assert ranged["preload_friction_high"] < ranged["preload"] < ranged["preload_friction_low"]
    assert ranged["preload_high"] == pytest.approx(plain.results["preload_high"])


def test_defaults_are_printed_with_their_basis() -> None:
    found = assess(
        bolting__hole_diameter=None, bolting__bearing_diameter=None, tightening__scatter=None, tightening__relaxation=None,
        tightening__snug=None, tightening__passes=None, load__assembly_temperature=None,
    )  # fmt: skip
    fields = {d.field for d in found.defaults}
    assert {
        "bolting.hole_diameter", "bolting.bearing_diameter", "tightening.scatter", "tightening.relaxation",
        "tightening.snug", "tightening.passes", "load.assembly_temperature", "case.0.required_separation",
    } <= fields  # fmt: skip
    assert all(d.basis and d.said for d in found.defaults)


def test_a_test_needs_less_separation() -> None:
    """1.2, a test 1.1 (common practice, no published source)."""
    design, trial = assess(case__0__name="latest leak test"), assess(case__0__kind="test")
    ratio = check(design, "separation_factor").demand / check(trial, "separation_factor").demand  # type: ignore[operator]
    assert ratio == pytest.approx(1.2 / 1.1)
    short = check(assess(case__0__pressure="160 bar"), "separation_factor")
    assert short.verdict == "fails"
    assert "short" in short.said()


def test_heater_bore_takes_area_and_stiffness() -> None:
    plain, bored = assess().results, assess(bolting__heater_bore="14 mm").results
    assert plain["least_area"] - bored["least_area"] == pytest.approx(3.14159265 / 4 * 0.014**2, rel=1e-6)
    assert bored["bolt_stiffness"] < plain["bolt_stiffness"]
    assert bored["stress_area"] == plain["stress_area"]


def test_layers_must_add_up() -> None:
    layer = {"thickness": "150 mm", "modulus": "200 GPa", "diameter": "150 mm"}
    assert check(assess(layer=[layer]), "layers").verdict == "fails"
    rest = {"thickness": "118 mm", "modulus": "105 GPa", "diameter": "150 mm"}
    found = assess(layer=[layer, rest])
    assert not [c for c in found.checks if c.key == "layers"]
    assert found.results["member_stiffness"] < assess().results["member_stiffness"]


def test_embedding_is_said_where_it_passes_the_relaxation() -> None:
    long, short = (
        assess(),
        assess(bolting__clamp_length="40 mm", bolting__shank_length=None, bolting__shank_diameter=None),
    )
    assert not [c for c in long.checks if c.key == "relaxation"]
    assert long.results["embedding_loss"] < 0.05 * long.results["preload"]
    assert short.results["embedding_loss"] > long.results["embedding_loss"]
    tight = assess(tightening__relaxation=0.0)
    assert check(tight, "relaxation").verdict == "near"


def test_turn_band_for_the_cross_check() -> None:
    """Torque without load shows by the angle: the band is the scatter round the turn from snug."""
    r = assess().results
    assert (r["turn_low"], r["turn_high"]) == pytest.approx((0.75 * r["turn_angle"], 1.25 * r["turn_angle"]))
