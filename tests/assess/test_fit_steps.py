"""The mounting sequence: order, limits and timers."""

from __future__ import annotations

import pytest

from splitline.assess.fit_steps import MountingStep, mounting_steps
from splitline.assess.result import ItemResult
from splitline.record.judged import judged
from tests.assess.test_fit import fit


def steps(result: ItemResult) -> list[MountingStep]:
    found = result.fit.mounting
    assert [s.number for s in found] == list(range(1, len(found) + 1))
    return list(found)


def test_tapered_hub_on_oil_in_the_order_that_matters() -> None:
    names = [s.name for s in steps(fit(taper="1:20", stop_dimension="31.4 mm"))]
    order = [
        "contact",
        "zero",
        "stop-in-place",
        "up-25",
        "up-100",
        "full",
        "release",
        "hold",
        "ram-off",
        "lock",
        "drain",
    ]
    places = [names.index(name) for name in order]
    assert places == sorted(places)
    assert names[-1] == "stop"


def test_zero_is_witnessed_and_waits_are_timed() -> None:
    by_name = {s.name: s for s in steps(fit(taper="1:20", drain="90 min"))}
    assert by_name["zero"].sign == "hold"
    assert next(limit for limit in by_name["zero"].limits if limit.name == "zero_repeat").high == 0.02e-3
    assert by_name["hold"].wait == 600.0
    assert by_name["drain"].wait == 5400.0
    assert by_name["ram-off"].number > by_name["hold"].number > by_name["release"].number


def test_limits_on_the_way_up_grow_to_the_full_advance() -> None:
    result = fit(taper="1:20", advance_tolerance="0.2 mm")
    by_name = {s.name: s for s in steps(result)}
    half = {limit.name: limit for limit in by_name["up-50"].log}
    full = {limit.name: limit for limit in by_name["full"].limits}
    assert half["bore_pressure"].high == result.results["expansion_pressure_high"] / 2
    assert half["ram_force"].high == result.results["push_force_high"] / 2
    assert full["advance"].low == result.results["advance_low"]
    assert "2.8 mm to 3.2 mm" in full["advance"].said()


def test_heat_measures_the_hot_bore_before_it_is_carried() -> None:
    found = steps(fit(mounting="heat", max_temperature="260 degC"))
    names = [s.name for s in found]
    assert names.index("heat") < names.index("gauge") < names.index("seat")
    gauge = found[names.index("gauge")]
    assert gauge.sign == "hold"
    heat = found[names.index("heat")].limits[0]
    assert heat.low is not None
    assert heat.high is not None
    assert heat.low < heat.high


def test_above_the_stop_no_temperature_is_inside_and_the_step_says_so() -> None:
    heat = next(s for s in steps(fit(mounting="heat")) if s.name == "heat")
    (limit,) = heat.log
    for temperature in (293.15, 333.15, 503.15, 520.0):  # 60 °C is not "inside" because it is below the stop
        assert judged(temperature, limit.low, limit.high, "temperature") == "outside"
    assert "CANNOT BE KEPT" in limit.said()
    assert "Do NOT heat" in heat.text


def test_every_way_has_a_sequence_even_without_figures() -> None:
    for mounting in ("oil", "heat", "press"):
        assert len(steps(fit(mounting=mounting, hub_outer=None))) >= 4
    from splitline.plan.model import Fit

    assert mounting_steps(Fit.model_validate({"id": "a", "title": "A"}), {}) == ()


def test_removal_keeps_the_stop_on() -> None:
    result = fit(taper="1:20", advance_tolerance="0.2 mm")
    found = result.fit.removal
    assert [s.name for s in found] == ["stop-in-place", "up", "off", "release"]
    assert found[0].limits[0].low == result.results["advance_high"]
    assert found[0].sign == "hold"


def test_a_pressed_part_comes_off_too_within_the_force_that_put_it_on() -> None:
    result = fit(mounting="press")
    found = {s.name: s for s in result.fit.removal}
    assert list(found) == ["stop-in-place", "off", "check"]
    assert found["stop-in-place"].sign == "hold"
    assert found["off"].log[0].high == result.results["push_force"]


def test_a_hub_mounted_by_heat_comes_off_by_a_difference_a_puller_and_oil_where_ported() -> None:
    result = fit(mounting="heat")
    found = result.fit.removal
    assert [s.name for s in found] == ["stop-in-place", "heat", "off", "check"]
    assert found[0].sign == "hold"
    # 0.15 mm over 100 mm at 11.4e-6 (linear expansion, by hand): 131.6 K between hub and shaft
    assert found[1].limits[0].low == pytest.approx(131.58, rel=1e-4)
    assert "Oil" not in found[1].text
    assert "Oil" in fit(mounting="heat", oil_ported=True).fit.removal[1].text
