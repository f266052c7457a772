"""Wind is a check: the hoist line leans, the radius grows, the chart is read there."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.assess.lifts import LUGS, TONNE, assessed, check, legs, lift, verdicts

G = 9.80665
ROPE = {"capacity": "20 t", "elongation": 0.01, "tag": "W-1", "fitting": "lug", "fitting_capacity": "20 t"}
CHART = [
    {"radius": "6 m", "capacity": "20 t"},
    {"radius": "8 m", "capacity": "14 t"},
    {"radius": "10 m", "capacity": "9 t"},
]
CRANE: dict[str, Any] = {"rating": CHART, "radius": "7.9 m", "block": "0 kg", "rigging": "0 kg", "line_length": "20 m"}


def outdoors(mass: float = 5000.0, crane: dict[str, Any] | None = None, **fields: Any) -> dict[str, Any]:
    given = lift(mass, (0.0, 0.0, -0.5), legs(LUGS, [3.0] * 4, **ROPE), crane=CRANE if crane is None else crane)
    return given | {"wind_angle_limit": "3 deg"} | fields


def test_a_wind_greater_than_the_load_fails() -> None:
    """20 kN on a load of 4.9 kN: the line stands 76 degrees off."""
    found = check(assessed(outdoors(500.0, wind_force="20 kN")), "wind_angle")
    assert found.verdict == "fails"
    assert found.demand == pytest.approx(math.atan(20e3 / (500 * G)))


def test_the_lightest_load_leans_most() -> None:
    found = check(assessed(outdoors(wind_force="2 kN", mass_margin=0.1)), "wind_angle")
    assert found.demand == pytest.approx(math.atan(2e3 / (0.9 * 5000 * G)))
    assert found.verdict == "ok"


def test_speed_and_area_give_the_force() -> None:
    """By hand, ½·1.25·9.8²·6·c (ISO 4302 form, from memory): 576 N at c = 1.6, 432 N at c = 1.2."""
    plate = assessed(outdoors(wind_speed="9.8 m/s", wind_area="6 m^2"))
    assert plate.results["wind_load"] == pytest.approx(0.625 * 9.8**2 * 6 * 1.6)
    assert any(each.field == "wind_drag" for each in plate.defaults)
    assert [d.basis for d in plate.defaults if "not checked" in d.basis and d.field == "wind_drag"]
    box = assessed(outdoors(wind_speed="35.28 km/h", wind_area="6 m^2", wind_drag=1.2))
    assert box.results["wind_load"] == pytest.approx(0.625 * 9.8**2 * 6 * 1.2)
    assert check(box, "wind_angle").demand == pytest.approx(math.atan(432.18 / (5000 * G)))


def test_the_chart_is_read_at_the_radius_the_wind_adds_to() -> None:
    """7.9 m + 20 m × tan 2.34° = 8.72 m: past the row of 8 m, so the row of 10 m holds."""
    calm, windy = assessed(outdoors()), assessed(outdoors(wind_force="2 kN"))
    assert calm.results["crane_capacity"] == pytest.approx(14 * TONNE)
    assert windy.results["wind_radius"] == pytest.approx(20 * 2e3 / (5000 * G))
    assert windy.results["crane_capacity"] == pytest.approx(9 * TONNE)
    beyond = assessed(outdoors(wind_force="2 kN", crane=CRANE | {"line_length": "60 m"}, wind_angle_limit="5 deg"))
    assert check(beyond, "crane_usage").verdict == "fails"


def test_what_is_not_given_is_missing_and_no_wind_is_printed() -> None:
    no_line = {name: value for name, value in CRANE.items() if name != "line_length"}
    lacking = check(assessed(outdoors(wind_force="2 kN", crane=no_line)), "crane_usage")
    assert (lacking.verdict, lacking.needs) == ("missing", ("crane.line_length",))
    unlimited = {name: value for name, value in outdoors(wind_force="2 kN").items() if name != "wind_angle_limit"}
    assert check(assessed(unlimited), "wind_angle").needs == ("wind_angle_limit",)
    assert check(assessed(outdoors(wind_speed="9 m/s")), "wind_angle").needs == ("wind_area",)
    indoors = assessed(outdoors())
    assert "wind_angle" not in verdicts(indoors)
    assert any(each.field == "wind_force" for each in indoors.defaults)


def test_one_capacity_cannot_say_what_holds_at_the_grown_radius() -> None:
    one = {"capacity": "20 t", "block": "0 kg", "rigging": "0 kg"}
    assert check(assessed(outdoors(wind_force="2 kN", crane=one)), "wind_radius").verdict == "missing"
    found = check(assessed(outdoors(wind_force="2 kN", crane=one | {"line_length": "20 m"})), "wind_radius")
    assert found.verdict == "near"
