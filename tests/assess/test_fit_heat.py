"""A hub put on hot: time to the least gap, air as it is, what it is gauged by, what it does on its shoulder."""

from __future__ import annotations

import math

import pytest

from tests.assess.test_fit import check, fit

HOT = {"mounting": "heat", "max_temperature": "300 degC", "max_expansion_pressure": None}


def stepped(air: float, hot: float, closed: float) -> float:
    """Seconds of lumped cooling of the 100/180 × 120 mm hub, stepped through; own model, convection and radiation."""
    volume = math.pi / 4 * (0.18**2 - 0.1**2) * 0.12
    outside = math.pi * 0.18 * 0.12 + math.pi / 2 * (0.18**2 - 0.1**2)
    bore = math.pi * 0.1 * 0.12
    temperature, seconds, step = hot, 0.0, 0.5
    while temperature > closed:
        lost = 8.0 * (outside + bore) * (temperature - air)
        lost += 0.8 * 5.670374e-8 * outside * (temperature**4 - air**4)
        temperature -= lost * step / (7830.0 * 480.0 * volume)
        seconds += step
    return seconds


def test_the_time_to_the_seat_ends_at_the_least_gap() -> None:
    whole, least = fit(**HOT, least_gap="0 mm").results, fit(**HOT, least_gap="0.08 mm").results
    hot = 293.15 + 0.25e-3 / (11.4e-6 * 0.1)
    assert least["carrying_time"] == pytest.approx(stepped(293.15, hot, 293.15 + 0.23e-3 / 1.14e-6), rel=5e-3)
    assert whole["carrying_time"] > 3 * least["carrying_time"]
    usual = fit(**HOT)
    assert usual.results["carrying_time"] == pytest.approx(fit(**HOT, least_gap="0.05 mm").results["carrying_time"])
    assert "least_gap" in {default.field for default in usual.defaults}


def test_air_is_as_cold_as_it_is() -> None:
    """A shaft and air at 0 °C: the hub cools faster than in air of 20 °C would be told."""
    cold = fit(**HOT, ambient="0 degC", least_gap="0 mm").results
    rise = cold["heating_rise"]
    closed = 293.15 + (0.15e-3 - 0.1 * 11.4e-6 * 20) / 1.14e-6
    assert cold["carrying_time"] == pytest.approx(stepped(273.15, 293.15 + rise, closed), rel=5e-3)


def test_the_carry_is_counted_in_the_gap_left_at_the_seat() -> None:
    result = fit(**HOT, carry="2 min")
    drop = result.results["carry_drop"]
    hot = 293.15 + result.results["heating_rise"]
    assert stepped(293.15, hot, hot - drop) == pytest.approx(120.0, abs=1.0)
    assert result.results["gap_at_seat"] == pytest.approx(0.1e-3 - 1.14e-6 * drop)
    at_limit = result.results["carrying_time"]
    assert check(fit(**HOT, carry=f"{at_limit * 1.02} s"), "carry").verdict == "fails"


def test_gauge_and_axial_shrink() -> None:
    result = fit(**HOT).results
    assert result["bore_gauge"] == pytest.approx(0.1001)  # shaft 100 mm and a gap of 0.1 mm
    assert result["axial_shrink"] == pytest.approx(11.4e-6 * 0.12 * result["heating_rise"])
    measured = {"shaft": ["100.14 mm", "100.16 mm"], "hub": ["100 mm"]}
    assert fit(**HOT, measured=measured).results["bore_gauge"] == pytest.approx(0.10026)


@pytest.mark.parametrize("name", ["heat", "gauge", "seat", "cool"])
def test_no_step_of_a_hot_fit_lacks_its_number(name: str) -> None:
    step = next(s for s in fit(**HOT, carry="2 min").fit.mounting if s.name == name)
    assert any(each is not None for limit in step.limits for each in (limit.low, limit.high, limit.target))


def test_a_cold_shaft_shrinks_by_its_own_expansion() -> None:
    """Unlike materials: the shaft at −30 °C is smaller by its own α (16e-6), not by the hub's (linear expansion, by hand)."""
    result = fit(**HOT, ambient="-30 degC", shaft_expansion="16e-6 1/K").results
    assert result["heating_rise"] == pytest.approx((0.25e-3 - 0.1 * 16e-6 * 50) / (0.1 * 11.4e-6))
