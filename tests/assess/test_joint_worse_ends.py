"""The safe side of a joint, further: against both ends of each open input, and what tools and nuts may not do."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from splitline.assess.result import Check, ItemResult
from tests.assess.joint_plans import assess, check

HOT = {"case__0__member_temperature": "120 degC"}
MATERIAL = {"member__material": "ASTM A216 WCB"}
GASKET = {
    "load": {
        "pressure_diameter": "1010 mm", "seal": "gasket", "gasket_width": "20 mm", "gasket_m": 3.0, "gasket_y": "20 MPa",
        "gasket_thickness": "3.2 mm", "gasket_modulus": "1500 MPa",
    },
    "member__contact_stiffness": "2 MPa/um",
}  # fmt: skip
SPLIT: dict[str, Any] = {
    "layout": {"shape": "split-line", "side_a": ["0 mm", "200 mm", "400 mm", "600 mm"], "half_width": "640 mm"},
    "member__outer_diameter": None, "member__inner_diameter": None, "member__flange_width": "160 mm",
    "zone": [{"from": "0 mm", "to": "600 mm", "pressure": "10 bar", "width": "420 mm", "bolt_to_inside": "60 mm",
              "bolt_to_outside": "90 mm"}],
    "case__0__pressure": None,
}  # fmt: skip


def said(found: ItemResult) -> dict[str, str]:
    return {default.field: default.said for default in found.defaults}


def results(found: ItemResult) -> Any:
    return found.cases[0].results


def short(found: ItemResult, key: str) -> float:
    """Usage of a check."""
    return check(found, key).usage or 0.0


# ---- temperature


@pytest.mark.parametrize(("given", "absent"), [("member", "bolt"), ("bolt", "member")])
def test_a_temperature_not_given_takes_the_worse_end_of_each_check(given: str, absent: str) -> None:
    """Bolts of hot parts may be as cold as assembly or as hot as the parts: the clamp counts one, the bolt load the other."""
    one: dict[str, Any] = {f"case__0__{given}_temperature": "120 degC", **MATERIAL}
    open_ = assess(**one)
    ends = [assess(**one, **{f"case__0__{absent}_temperature": f"{at} degC"}) for at in (20, 120)]
    for key in ("separation_factor", "bolt_load_high"):
        assert short(open_, key) == pytest.approx(max(short(end, key) for end in ends), rel=0.03)
        assert short(open_, key) >= max(short(end, key) for end in ends) * (1 - 1e-9)
    assert said(open_)[f"case.0.{absent}_temperature"] == "20 °C or 120 °C"
    assert results(open_)["thermal_change"] < results(open_)["thermal_change_high"]


def test_a_case_without_temperatures_says_that_it_is_as_assembled() -> None:
    assert said(assess())["case.0.member_temperature"] == "20 °C, bolts as well"
    assert "case.0.member_temperature" not in said(assess(**HOT, case__0__bolt_temperature="100 degC"))


NO_CURVE = {"bolting__grade": None, "bolting__yield_strength": "720 MPa", "bolting__tensile_strength": "860 MPa"}


def test_yield_without_a_curve_is_missing_above_50_degrees() -> None:
    both = {"case__0__member_temperature": "51 degC", "case__0__bolt_temperature": "51 degC"}
    absent = check(assess(**NO_CURVE, **both), "bolt_load_high")
    assert (absent.verdict, absent.needs) == ("missing", ("bolting.hot_yield",))
    warm = {"case__0__member_temperature": "50 degC", "case__0__bolt_temperature": "50 degC"}
    assert check(assess(**NO_CURVE, **warm), "bolt_load_high").limit == 720e6
    hot = [["100 degC", "680 MPa"], ["200 degC", "640 MPa"]]
    at = {"case__0__member_temperature": "150 degC", "case__0__bolt_temperature": "150 degC"}
    assert check(assess(**NO_CURVE, **at, bolting__hot_yield=hot), "bolt_load_high").limit == pytest.approx(660e6)
    beyond = {"case__0__member_temperature": "250 degC", "case__0__bolt_temperature": "250 degC"}
    assert check(assess(**NO_CURVE, **beyond, bolting__hot_yield=hot), "bolt_load_high").verdict == "missing"


def test_a_modulus_given_as_one_number_is_no_modulus_of_a_hot_case() -> None:
    """Steel loses some 4 % of its modulus to 120 °C (ASME B31.3 Table C-6): the clamp counts it, the bolt load does not."""
    at = {**HOT, "case__0__bolt_temperature": "120 degC"}
    named, bare = assess(**at, **MATERIAL), assess(**at)
    assert "member.modulus when hot" in said(bare)
    assert results(bare)["thermal_change"] <= results(named)["thermal_change"] <= results(bare)["thermal_change_high"]
    brass = check(assess(**at, member__modulus="100 GPa"), "thermal_change")
    assert (brass.verdict, brass.needs) == ("missing", ("member.material",))


# ---- preload, torsion


def test_the_chance_of_yield_knows_of_torsion() -> None:
    """At 72 % of yield no axial load at 25 % scatter passes yield; with the torsion of dry threads many do."""
    dry: dict[str, Any] = {"friction__thread": 0.18, "friction__bearing": 0.18, "target__bolt_stress": "500 MPa"}
    twisted, pulled = assess(**dry), assess(**dry, tightening__method="heat", tightening__tool=[])
    chance = twisted.results["chance_over_yield"]
    assert chance > 3 * pulled.results["chance_over_yield"]


def test_loads_that_end_level_stop_below_yield_with_torsion_and_scatter() -> None:
    soft = {"member__contact_stiffness": "0.05 MPa/um", "target__bolt_stress": "410 MPa"}
    r = assess(**soft).results
    twist = r["combined_stress"] / r["least_area_stress"]
    cap = 0.9 * 720e6 * r["least_area"] / twist / 1.25
    assert max(r["levelling_loads"]) == pytest.approx(cap)


# ---- where the load enters


def test_where_the_load_enters_takes_the_safe_end_of_each_check() -> None:
    """VDI 2230-1: n·Φ of the load is felt by the bolt. Clamp with n = 0, bolt load with n = 1, unless the plan says."""
    unknown = assess()
    phi, force = unknown.results["load_factor"], results(unknown)["force_per_bolt"]
    r = unknown.results
    assert results(unknown)["residual_clamp"] == pytest.approx(r["preload_low"] - force)
    assert results(unknown)["bolt_load_high"] == pytest.approx(r["preload_high"] + phi * force)
    assert said(unknown)["load.introduction"] == "n = 0 for the clamp, 1 for the bolt"
    for n in (0.0, 0.4, 1.0):
        given = assess(load__introduction=n)
        assert results(given)["residual_clamp"] == pytest.approx(r["preload_low"] - (1 - n * phi) * force)
        assert results(given)["bolt_load_high"] == pytest.approx(r["preload_high"] + n * phi * force)
        assert "load.introduction" not in said(given)
        assert short(unknown, "separation_factor") >= short(given, "separation_factor")
        assert short(unknown, "bolt_load_high") >= short(given, "bolt_load_high")
    kind = assess(load__introduction="SV4")
    assert results(kind)["residual_clamp"] == pytest.approx(r["preload_low"] - force)
    assert results(kind)["bolt_load_high"] == pytest.approx(r["preload_high"] + 0.42 * phi * force)


# ---- stiffness


def test_a_gasket_is_in_the_stiffness_over_its_own_area() -> None:
    """Springs in series by hand: 1/k_m = 1/k_metal + t/(E·π·D·w/24)."""
    metal, soft = assess().results, assess(**GASKET).results
    own = 1.5e9 * pi * 1.01 * 0.02 / 24 / 3.2e-3
    assert 1 / soft["member_stiffness"] == pytest.approx(1 / metal["member_stiffness"] + 1 / own)
    assert soft["load_factor"] > metal["load_factor"]
    layers = [
        {"thickness": "264.8 mm", "modulus": "200 GPa"},
        {"thickness": "3.2 mm", "modulus": "1500 MPa", "gasket": True},
    ]
    bare = {
        **GASKET,
        "load": {k: v for k, v in GASKET["load"].items() if k not in ("gasket_thickness", "gasket_modulus")},
    }  # type: ignore[attr-defined]
    assert assess(**bare, layer=layers).results["member_stiffness"] == pytest.approx(soft["member_stiffness"], rel=0.01)
    lacking = check(assess(**bare), "gasket_stiffness")
    assert (lacking.verdict, lacking.needs) == ("missing", ("load.gasket_thickness", "load.gasket_modulus"))


def test_no_sleeve_is_smaller_than_the_face_that_stands_on_it() -> None:
    free: dict[str, Any] = {"member__inner_diameter": None, "member__outer_diameter": None}
    crowded = assess(**free, layout__diameter="500 mm")  # 65 mm from stud to stud under faces of 74 mm
    just = assess(**free, layout__diameter=f"{74 / 0.1305261922} mm")
    assert crowded.results["member_stiffness"] == pytest.approx(just.results["member_stiffness"])


# ---- what else opens the joint, and temperature where several bolts count


def test_temperature_counts_for_the_gasket_and_for_the_lip() -> None:
    at = {"case__0__member_temperature": "40 degC", "case__0__bolt_temperature": "48 degC"}

    def low(found: ItemResult, key: str) -> Check:
        return check(found, key)

    cold, hot = assess(**GASKET), assess(**GASKET, **at)
    change = results(hot)["thermal_change"]
    assert change < 0
    lost = low(hot, "gasket_operating").limit - low(cold, "gasket_operating").limit  # type: ignore[operator]
    assert lost == pytest.approx(24 * change)
    cold, hot = assess(**SPLIT), assess(**SPLIT, **at)
    change = results(hot)["thermal_change"]
    assert change < 0
    # statics: less clamp at the bolt line of the worst bolt, F/(c·l)·(4 − 6·x/c) with x from the outer edge: 0.15 x 0.2 m
    lost = low(hot, "lip_pressure").limit - low(cold, "lip_pressure").limit  # type: ignore[operator]
    assert lost == pytest.approx(change / (0.15 * 0.2) * (1 + 6 * (0.09 - 0.075) / 0.15), rel=1e-6)


def test_a_tensioner_pulls_the_preload_times_its_loss() -> None:
    pulled = assess(
        friction=None,
        tightening={"method": "hydraulic tensioner", "scatter": 0.15, "relaxation": 0.05,
                    "tool": [{"name": "T", "piston_area": "9000 mm^2", "pressure_max": "1500 bar", "loss": 1.2}]},
    )  # fmt: skip
    r = pulled.results
    assert r["tensioner_pressure"] == pytest.approx(1.2 * r["preload"] / 9e-3)
    assert r["stress_at_pull"] >= 1.2 * r["preload"] / r["least_area"]


def test_a_nut_is_never_turned_back() -> None:
    """After a pass at 120 % a round at 100 % finds every nut tight: it takes nothing back."""
    r = assess(tightening__passes=[0.6, 1.2], tightening__finish_rounds=1).results
    before, after = r["predicted_passes"][-2], r["predicted_passes"][-1]
    assert min(after) > 1.1 * r["preload"]
    assert after == pytest.approx(before)


def test_the_limit_under_the_nut_says_where_it_comes_from_and_what_older_tables_give() -> None:
    """VDI 2230-1:2003 Table A9 has 710 MPa for E295, the 1986 edition 420 MPa; both from memory."""
    steel: dict[str, Any] = {"bolting__bearing_limit": None, "bolting__bearing_material": "ASTM A216 WCB"}
    low = check(assess(**steel, target__bolt_stress="200 MPa"), "bearing_pressure")
    assert low.limit == 710e6
    assert "VDI 2230-1:2003 Table A9" in low.basis
    assert "420 MPa" in low.basis
    assert not low.note
    high = check(assess(**steel, target__bolt_stress="480 MPa"), "bearing_pressure")
    assert 420e6 < (high.demand or 0.0) < 710e6
    assert "420 MPa" in high.note
