"""Bundle insertion from its plan entry."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

import pytest

from splitline.assess.context import Context, Observed
from splitline.assess.insertion import assess_insertion
from splitline.assess.result import ItemResult
from splitline.library.store import Library
from splitline.plan.model import Insertion

TODAY = dt.date(2026, 11, 25)
LIBRARY = Library.load()
PUSH: dict[str, Any] = {
    "id": "push", "title": "Bundle", "mass": f"{60e3 / 9.80665} kg", "friction": 0.12, "track_slope": "0.2 deg", "seals": 2,
    "seal_diameter": "900 mm", "seal_drag": "1 N/mm", "jacks": 2, "jack_area": "2000 mm^2", "jack_stroke": "250 mm",
    "jack_max_pressure": "100 bar", "distance": "1650 mm",
}  # fmt: skip


def insertion(observed: dict[tuple[str, str], Any] | None = None, **changes: Any) -> ItemResult:
    entry = {key: value for key, value in (PUSH | changes).items() if value is not None}
    return assess_insertion(Insertion.model_validate(entry), Context(LIBRARY, TODAY, Observed(observed or {})))


def verdicts(result: ItemResult) -> dict[str, str]:
    return {c.key: c.verdict for c in result.checks}


def test_push_stop_pressure_and_strokes() -> None:
    # F = W (μ cos α + sin α) + n π D f = 13.0643 kN
    r = insertion().results
    assert r["push_force_high"] == pytest.approx(13.0643e3, rel=1e-4)
    assert r["push_force_low"] == pytest.approx(13.0643e3, rel=1e-4)
    assert r["stop_force"] == pytest.approx(1.3 * 13.0643e3, rel=1e-4)
    assert r["jack_pressure"] == pytest.approx(13.0643e3 / (2 * 2000e-6), rel=1e-4)
    assert r["strokes"] == 7
    assert r["push_force_free"] == pytest.approx(7.4094e3, rel=1e-4)


def test_bands_give_low_and_high() -> None:
    r = insertion(friction=[0.02, 0.05], seal_drag=["0.5 N/mm", "2 N/mm"], track_slope="0 deg").results
    assert r["push_force_low"] == pytest.approx(0.02 * 60e3 + 2 * math.pi * 0.9 * 500, rel=1e-6)
    assert r["push_force_high"] == pytest.approx(0.05 * 60e3 + 2 * math.pi * 0.9 * 2000, rel=1e-6)
    assert insertion(friction=[0.05, 0.02]).results["push_force_low"] < r["push_force_high"]


def test_jack_too_small_fails_and_no_jack_is_missing() -> None:
    assert verdicts(insertion(jack_max_pressure="30 bar"))["jack_pressure"] == "fails"
    for field in ("jacks", "jack_area", "jack_max_pressure"):
        assert verdicts(insertion(**{field: None}))["jack_pressure"] == "missing"


@pytest.mark.parametrize("field", ["mass", "friction", "seals", "seal_diameter", "seal_drag"])
def test_push_force_needs_its_inputs(field: str) -> None:
    result = insertion(**{field: None})
    assert verdicts(result)["push_force"] == "missing"
    assert "push_force_high" not in result.results


def test_no_seals_need_no_seal_data() -> None:
    r = insertion(seals=0, seal_diameter=None, seal_drag=None).results
    assert r["push_force_high"] == pytest.approx(r["push_force_free"])


def test_falling_track_needs_a_hold_back() -> None:
    result = insertion(track_slope="-10 deg", friction=0.05)
    assert verdicts(result)["hold_back"] == "near"
    assert any("hold-back" in c.text for c in result.cautions)


def test_force_log_against_stop_force() -> None:
    good = insertion({("push", "force_log"): [7e3, 7.4e3, 9e3, 10.5e3, 12.9e3]})
    assert verdicts(good)["force_log"] == "ok"
    jump = insertion({("push", "force_log"): [7e3, 7.4e3, 12.5e3]})
    assert verdicts(jump)["force_log"] == "fails"
    assert jump.insertion.log[2][1].stop


def test_tracks() -> None:
    places = {"length": "1320 mm", "centre": "640 mm", "supports": ["200 mm", "1120 mm"]}
    result = insertion(**places, track_capacity="3 t")
    r = result.results
    assert r["track_front"] == pytest.approx(60e3 * 480 / 920, rel=1e-6)
    assert r["track_front"] + r["track_rear"] == pytest.approx(60e3)
    assert r["overhang_travel"] == pytest.approx(0.44)
    assert verdicts(result)["tracks"] == "fails"
    assert verdicts(insertion(**(places | {"centre": "100 mm"})))["tipping"] == "fails"
    assert verdicts(insertion(track_capacity="3 t"))["tracks"] == "missing"


def test_cautions_stand_even_without_numbers() -> None:
    assert {c.code for c in insertion(mass=None).cautions} >= {"jack", "hydraulic-energy", "pinch"}
