"""What is not given is taken on the safe side and printed, or is missing: never silently ok."""

from __future__ import annotations

from math import pi

import pytest

from splitline.bolting.introduction import TYPES, introduction
from splitline.errors import InputError
from tests.assess.joint_plans import assess, check
from tests.assess.test_joint_seals import SPLIT, ZONE

HOT = {
    "case__0__member_temperature": "200 degC",
    "bolting__hot_yield": [["20 degC", "720 MPa"], ["250 degC", "600 MPa"]],
}


def test_a_name_of_a_case_changes_nothing() -> None:
    """Neither the word test in it nor what looks like the bolts of another size."""
    plain = assess(case__0__name="design")
    for name in ("greatest pressure, trip", "latest", "hydrotest (bolts cold)", "leak test"):
        other = assess(case__0__name=name)
        assert [(c.demand, c.limit, c.verdict) for c in other.checks] == [
            (c.demand, c.limit, c.verdict) for c in plain.checks
        ]
        assert other.results["chance_below_need"] == plain.results["chance_below_need"]


def test_checks_say_what_they_speak_of_as_data() -> None:
    found = assess(size=[{"bolts": [1, 2], "bolting": {"thread": "M56x4"}}])
    about = {(c.case, c.size) for c in found.checks if c.key == "separation_factor"}
    assert about == {("design", tuple(range(3, 25))), ("design", (1, 2))}


def test_a_bolt_temperature_left_open_in_a_hot_case_is_taken_at_its_worse_end() -> None:
    open_, cold, hot = (
        assess(**HOT, **({} if t is None else {"case__0__bolt_temperature": t})) for t in (None, "20 degC", "200 degC")
    )
    low = [f.cases[0].results["residual_clamp"] for f in (open_, cold, hot)]
    high = [f.cases[0].results["bolt_load_high"] for f in (open_, cold, hot)]
    assert low[0] == pytest.approx(min(low[1:]))
    assert high[0] == pytest.approx(max(high[1:]))
    assert "case.0.bolt_temperature" in {d.field for d in open_.defaults}
    assert "case.0.bolt_temperature" not in {d.field for d in cold.defaults}


def test_yield_at_a_temperature_nobody_knows_is_missing_and_names_the_field() -> None:
    temperatures = {"case__0__member_temperature": "120 degC", "case__0__bolt_temperature": "120 degC"}
    told = check(assess(bolting__grade=None, bolting__yield_strength="720 MPa", **temperatures), "bolt_load_high")
    assert told.verdict == "missing"
    assert told.needs == ("bolting.hot_yield",)
    given = assess(**temperatures, bolting__hot_yield=[["20 degC", "720 MPa"], ["220 degC", "620 MPa"]])
    assert check(given, "bolt_load_high").limit == pytest.approx(670e6)
    warm = {"case__0__member_temperature": "45 degC", "case__0__bolt_temperature": "45 degC"}
    assert (
        check(assess(bolting__grade=None, bolting__yield_strength="720 MPa", **warm), "bolt_load_high").limit == 720e6
    )


def test_high_preload_takes_the_greater_of_scatter_and_prediction() -> None:
    """Of 24 bolts the highest is farther out than one bolt's two standard deviations."""
    r = assess().results
    assert r["predicted_high"] > 1.25 * r["preload"]
    assert r["preload_high"] == r["predicted_high"]
    told = check(assess(), "combined_stress")
    assert told.demand == pytest.approx(r["combined_stress_high"])
    few = assess(layout__bolts=4, tightening__scatter=0.25).results
    assert few["preload_high"] == pytest.approx(max(1.25 * few["preload"], few["predicted_high"]))


def test_the_chance_of_yield_includes_torsion() -> None:
    turned, pulled = (
        assess(target__bolt_stress="560 MPa", tightening__method=method) for method in ("torque wrench", "heat")
    )
    assert turned.results["chance_over_yield"] > 2 * pulled.results["chance_over_yield"]


def test_loads_that_end_level_leave_room_for_scatter_and_torsion() -> None:
    r = assess().results
    twist = r["combined_stress"] / r["least_area_stress"]
    most = 0.9 * 720e6 * r["least_area"] / (twist * 1.25)
    assert max(r["levelling_loads"]) <= most * (1 + 1e-9)


def test_torsion_left_in_the_bolt_counts_in_service() -> None:
    found = assess()
    r, case = found.results, found.cases[0].results
    axial = case["bolt_load_high"] / r["least_area"]
    tau = ((r["combined_stress_high"] ** 2 - (r["preload_high"] / r["least_area"]) ** 2) / 3) ** 0.5
    assert tau > 0
    assert case["service_stress"] == pytest.approx((axial**2 + 3 * (tau / 2) ** 2) ** 0.5)


@pytest.mark.parametrize("method", ["turn", "stretch", "torque wrench"])
def test_a_turned_bolt_without_friction_has_no_known_torsion(method: str) -> None:
    found = assess(friction=None, tightening={"method": method, "scatter": 0.25, "relaxation": 0.05})
    assert check(found, "combined_stress").verdict == "missing"
    assert check(found, "bolt_load_high").verdict == "missing"


def test_load_introduction_takes_the_safe_end_of_each_check_until_it_is_given() -> None:
    open_, half, typed = assess(), assess(load__introduction=0.5), assess(load__introduction="SV2")
    phi, force = open_.results["load_factor"], open_.cases[0].results["force_per_bolt"]
    low, high = open_.results["preload_low"], open_.results["preload_high"]
    for found, n in ((open_, (0.0, 1.0)), (half, (0.5, 0.5)), (typed, (0.0, 0.57))):
        case = found.cases[0].results
        assert case["residual_clamp"] == pytest.approx(low - (1 - n[0] * phi) * force)
        assert case["bolt_load_high"] == pytest.approx(high + n[1] * phi * force)
    assert "load.introduction" in {d.field for d in open_.defaults}
    assert "load.introduction" not in {d.field for d in half.defaults}


def test_load_introduction_reads_numbers_and_types_only() -> None:
    assert all(low < high for low, high in TYPES.values())
    with pytest.raises(InputError, match="not a joint type"):
        introduction("SV9")
    with pytest.raises(InputError, match="0 to 1"):
        introduction(1.5)


GASKET = {
    "load__seal": "gasket", "load__gasket_width": "20 mm", "load__gasket_m": 3.0, "load__gasket_y": "69 MPa",
    "load__gasket_inner": "990 mm",
}  # fmt: skip


def test_a_gasket_gives_under_its_own_area_or_is_missing() -> None:
    """δ = t·n/(E·A): in series with the metal, it raises Φ (a stiff joint is not the safe side)."""
    metal = assess(tightening__relaxation=0.05)
    absent = assess(**GASKET, member__contact_stiffness="1 MPa/um")
    assert check(absent, "gasket_stiffness").verdict == "missing"
    assert set(check(absent, "gasket_stiffness").needs) == {"load.gasket_thickness", "load.gasket_modulus"}
    assert "load_factor" not in absent.results
    given = assess(
        **GASKET, load__gasket_thickness="3.2 mm", load__gasket_modulus="1 GPa", member__contact_stiffness="1 MPa/um"
    )
    area = pi / 4 * (1.030**2 - 0.990**2)
    k_m = 1 / (1 / metal.results["member_stiffness"] + 3.2e-3 * 24 / (1e9 * area))
    assert given.results["member_stiffness"] == pytest.approx(k_m)
    assert given.results["load_factor"] > metal.results["load_factor"]


def test_each_stud_of_a_mixed_line_takes_its_own_neighbours() -> None:
    """M48 120 mm apart beside M80 240 mm apart: the big studs' sleeve is not the small ones' pitch, nor under their face."""
    line = SPLIT | {"layout": {"shape": "split-line", "side_a": ["0 mm", "120 mm", "240 mm", "480 mm", "720 mm"],
                               "half_width": "600 mm"}}  # fmt: skip
    big = {
        "bolts": [4, 5, 9, 10],
        "bolting": {"thread": "M80x4", "bearing_diameter": "125.5 mm", "hole_diameter": "86 mm"},
    }
    line |= {"member__flange_width": "400 mm"}
    wide = assess(**line, zone=[ZONE], case__0__pressure=None, size=[big])
    close = [0, 120, 240, 360, 480]
    line["layout"]["side_a"] = [f"{x} mm" for x in close]
    narrow = assess(**line, zone=[ZONE], case__0__pressure=None, size=[big])
    assert wide.results["member_stiffness"] == pytest.approx(narrow.results["member_stiffness"])
    assert wide.sizes[0].results["member_stiffness"] > 1.05 * narrow.sizes[0].results["member_stiffness"]


def test_forces_stand_where_stiffness_is_missing() -> None:
    """Hydrostatic end force, force per bolt and preload against load need no stiffness: Φ = 0 is the side they err on."""
    found = assess(member__modulus=None)
    case = found.cases[0].results
    assert case["pressure_force"] == pytest.approx(60e5 * pi / 4 * 1.01**2)
    assert case["residual_clamp"] == pytest.approx(found.results["preload_low"] - case["force_per_bolt"])
    assert check(found, "separation_factor").verdict == "ok"
    assert check(found, "bolt_load_high").verdict == "missing"
    bare = assess(target=None)
    assert bare.cases[0].results["force_per_bolt"] == pytest.approx(case["force_per_bolt"])


def test_extra_axial_force_opens_a_circle_too() -> None:
    plain, more = (assess(**e).cases[0].results for e in ({}, {"load__extra_axial": "240 kN"}))
    assert more["force_per_bolt"] - plain["force_per_bolt"] == pytest.approx(10e3)
    assert plain["residual_clamp"] - more["residual_clamp"] == pytest.approx(10e3)


def test_temperature_counts_in_gasket_operation_and_at_the_lip() -> None:
    kit = {**GASKET, "load__gasket_thickness": "3.2 mm", "load__gasket_modulus": "1 GPa",
           "member__contact_stiffness": "1 MPa/um"}  # fmt: skip
    hot = {**HOT, "case__0__bolt_temperature": "200 degC"}
    cold, warm = assess(**kit), assess(**kit, **hot)
    change = warm.cases[0].results["thermal_change"]
    assert change < -1e3
    lost = check(cold, "gasket_operating").limit - check(warm, "gasket_operating").limit  # type: ignore[operator]
    assert lost == pytest.approx(-24 * change)
    line = {**SPLIT, "zone": [ZONE], "case__0__pressure": None}
    cold, warm = assess(**line), assess(**line, **hot)
    assert warm.cases[0].results["thermal_change"] < -1e3
    assert warm.cases[0].results["lip_pressure"] < cold.cases[0].results["lip_pressure"]
