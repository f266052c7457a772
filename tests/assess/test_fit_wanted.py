"""What the planner asks back of a fit and a push: interference that would do, tapers said otherwise, glands that seal."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from pydantic import ValidationError

from splitline.assess.context import Context
from splitline.assess.insertion import assess_insertion
from splitline.library.store import Library
from splitline.plan.model import Fit, Insertion
from tests.assess.test_fit import check, fit


@pytest.mark.parametrize(
    "changes", [{}, {"taper": "1:30"}, {"hub_temperature": "80 degC", "shaft_temperature": "60 degC"}]
)
@pytest.mark.parametrize("speed", ["0 rpm", "9000 rpm"])
def test_the_interference_that_is_needed_has_the_wanted_capacity_and_no_more(
    changes: dict[str, str], speed: str
) -> None:
    """Turned round: a fit drawn with just that interference comes to the wanted factor."""
    duty = {"speed": speed, "torque": "6 kN*m", "axial": "20 kN"}
    needed = fit(**changes, **duty).results["interference_needed"]
    just = fit(**changes, **duty, interference=f"{needed * 1e3:.9f} mm")
    assert just.results["grip_reserve"] == pytest.approx(1.5, rel=1e-6)


@pytest.mark.parametrize(
    ("written", "one_in"),
    [
        ("1:16", 16.0),
        ("3/4 in/ft", 16.0),  # Machinery's: 3/4 in per foot is 1 in 16
        ("0.75 in/ft", 16.0),
        ("half-angle 1.789911 deg", 16.0),  # atan(1/32), by hand
    ],
)
def test_a_taper_is_written_in_any_of_its_customary_ways(written: str, one_in: float) -> None:
    found = Fit.model_validate({"id": "a", "title": "A", "taper": written}).taper
    assert found is not None
    assert 1 / found == pytest.approx(one_in, rel=1e-5)


@pytest.mark.parametrize(
    "written", ["1:1", "0 in/ft", "7 in/ft", "3/0 in/ft", "half-angle 20 deg", "0.955 deg", "1 in 20"]
)
def test_what_may_be_read_two_ways_is_no_taper(written: str) -> None:
    with pytest.raises(ValidationError, match="taper on diameter"):
        Fit.model_validate({"id": "a", "title": "A", "taper": written})


@pytest.mark.parametrize(
    ("depth", "verdict"),
    [("6.9 mm", "ok"), ("5.5 mm", "fails"), ("8.4 mm", "fails"), ("9 mm", "fails"), (None, "missing")],
)
def test_rings_seal_and_are_not_crushed(depth: str | None, verdict: str) -> None:
    """8.4 mm ring: 17.9 % in 6.9 mm (by hand), 30 % at most at rest; a gland as deep as the ring does not seal."""
    push = {"id": "i", "title": "I", "seal_section": "8.4 mm"} | ({} if depth is None else {"gland_depth": depth})
    result = assess_insertion(Insertion.model_validate(push), Context(Library.load(), dt.date(2026, 11, 25)))
    assert check(result, "seal_squeeze").verdict == verdict
    if verdict == "ok":
        assert result.results["seal_squeeze"] == pytest.approx(1 - 6.9 / 8.4)


def test_roughness_gives_the_smoothing_of_parts_joined_dry() -> None:
    """0.8 (Rz + Rz) of DIN 7190-1 (from memory): 0.8 × (6.3 + 4) µm; nothing where an oil film parts them."""
    rough = {"hub_roughness": "6.3 um", "shaft_roughness": "4 um"}
    dry = fit(mounting="press", **rough)
    assert dry.results["smoothing"] == pytest.approx(0.8 * 10.3e-6)
    plain = fit(mounting="press").results["contact_pressure"]
    assert dry.results["contact_pressure"] == pytest.approx(plain * (0.15e-3 - 0.8 * 10.3e-6) / 0.15e-3)
    assert fit(**rough).results["smoothing"] == 0.0
    assert check(fit(mounting="press", hub_roughness="6.3 um"), "smoothing").verdict == "missing"


def test_what_the_hub_may_not_be_heated_is_told_as_cooling_of_the_shaft() -> None:
    """With the shaft cooled by just that much, the heating comes to its limit (coefficients 5 % low on both sides)."""
    hot = {"mounting": "heat", "max_temperature": "150 degC"}
    told = fit(**hot)
    assert check(told, "heating_rise").verdict == "fails"
    drop = told.results["shaft_cooling"]
    rise, room, alpha, d = told.results["heating_rise"], 130.0, 11.4e-6, 0.1
    assert drop * 0.95 * alpha * d == pytest.approx((rise - 0.95 * room) * alpha * d)
    cold = fit(**hot, shaft_cooled_to=f"{20 - drop:.6f} degC")
    assert cold.results["heating_rise_high"] <= room * (1 + 1e-9)
    assert "shaft_cooling" not in cold.results
    assert any(c.code == "cold-parts" for c in fit(**hot, shaft_cooled_to="-70 degC").cautions)
    assert math.isclose(cold.results["hub_temperature_mounting"], 293.15 + cold.results["heating_rise"])
