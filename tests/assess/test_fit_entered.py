"""Diameters entered on the job flow into the interference and the heating at once; shapes outside the study are told."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.assess.context import Context, Observed
from splitline.assess.fit import assess_fit
from splitline.assess.result import ItemResult
from splitline.plan.model import Fit
from splitline.ui.work.observed import _NAMES
from tests.assess.test_fit import CTX, HUB, check, fit

SHAFT, BORE = (0.10016, 0.10015, 0.10017, 0.10016), (0.10000, 0.10001, 0.09999, 0.10000)
HEAT = {"mounting": "heat", "max_temperature": "300 degC", "max_expansion_pressure": None}


def entered(shaft: tuple[float, ...], hub: tuple[float, ...], **changes: Any) -> ItemResult:
    seen: dict[tuple[str, str], Any] = {("hub", "parts_temperature"): 293.15}
    seen |= {("hub", f"{part}.{n}"): v for part, own in (("shaft", shaft), ("hub", hub)) for n, v in enumerate(own, 1)}
    entry = {key: value for key, value in (HUB | changes).items() if value is not None}
    return assess_fit(Fit.model_validate(entry), Context(CTX.library, CTX.today, Observed(seen)))


def test_entered_diameters_are_the_interference_at_once() -> None:
    band = {"interference": None, "interference_min": "0.14 mm", "interference_max": "0.18 mm"}
    result = entered(SHAFT, BORE, **band)
    assert result.results["measured_interference"] == pytest.approx(0.16e-3)  # mean less mean, by hand
    assert check(result, "measured_interference_low").verdict != "fails"
    tight = entered(tuple(v + 0.05e-3 for v in SHAFT), BORE, **band)
    assert check(tight, "measured_interference_high").verdict == "fails"
    assert check(entered(SHAFT[:3], BORE, **band), "measured_interference").verdict == "on-site"


def test_heating_is_for_the_largest_shaft_and_the_smallest_bore() -> None:
    result = entered(SHAFT, BORE, **HEAT).results
    assert result["heating_rise"] == pytest.approx((0.18e-3 + 0.1e-3) / (11.4e-6 * 0.1))
    assert result["bore_gauge"] == pytest.approx(0.10017 + 0.0001)


@pytest.mark.parametrize("mounting", ["oil", "heat", "press"])
def test_the_screen_asks_for_every_diameter_that_is_counted(mounting: str) -> None:
    step = next(s for s in fit(mounting=mounting).fit.mounting if s.name == "measure")
    names = [_NAMES[limit.title] for limit in step.log]
    assert sorted(names) == sorted([f"{p}.{n}" for p in ("shaft", "hub") for n in range(1, 5)] + ["parts_temperature"])


@pytest.mark.parametrize(
    ("changes", "ratio"),
    [
        ({"length": "200 mm"}, 1.85),
        ({"hub_outer": "140 mm"}, 1.76),
        ({"shaft_bore": "60 mm"}, 1.67),
        ({"hub_outer": "140 mm", "length": "200 mm", "shaft_bore": "60 mm"}, 1.99),
        ({}, 1.6),
        ({"hub_outer": "130 mm"}, 2.0),
        ({"length": "210 mm"}, 2.0),
    ],
)
def test_oil_pressure_is_counted_by_the_shape(changes: dict[str, str], ratio: float) -> None:
    """Long, thin and hollow fits need more (finite elements of ``tests/fitting/test_oil_study.py``); beyond them: missing."""
    result = fit(**changes)
    r = result.results
    assert r["oil_ratio"] == pytest.approx(ratio, abs=0.006)
    assert r["removal_pressure"] == pytest.approx(r["oil_ratio"] * r["contact_pressure"])
    told = [c for c in result.checks if c.key == "oil_ratio"]
    assert [c.verdict for c in told] == (["missing"] if ratio == 2.0 else [])
    given = fit(**changes, oil_ratio=1.3)
    assert given.results["removal_pressure"] == pytest.approx(1.3 * r["contact_pressure"])
    assert not [c for c in given.checks if c.key == "oil_ratio"]


def test_a_fit_that_only_locates_has_no_capacity_of_friction() -> None:
    result = fit(locates=True)
    assert "torque_capacity" not in result.results
    assert check(result, "key").verdict == "missing"  # it has a torque, and nothing is said to carry it
    assert not [c for c in result.checks if c.key == "grip"]
