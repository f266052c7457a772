"""Clearances of every kind from their plan entries."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from splitline.assess.clearance import assess_clearance
from splitline.assess.context import Context, Observed
from splitline.assess.result import ItemResult
from splitline.library.store import Library
from splitline.plan.model import Clearance

LIBRARY = Library.load()


def clearance(observed: dict[str, Any] | None = None, **entry: Any) -> ItemResult:
    seen = Observed({("c", name): value for name, value in (observed or {}).items()})
    item = Clearance.model_validate({"id": "c", "title": "Gap", "kind": "measure"} | entry)
    return assess_clearance(item, Context(LIBRARY, dt.date(2026, 11, 25), seen))


def verdicts(result: ItemResult) -> dict[str, str]:
    return {c.key: c.verdict for c in result.checks}


def test_measured_value_is_on_site_until_entered() -> None:
    limits = {"low": "0.20 mm", "high": "0.30 mm", "diametral": True}
    assert verdicts(clearance(**limits)) == {"limits": "on-site"}
    assert clearance(**limits, as_left="0.25 mm").verdict == "ok"
    assert clearance({"as_left": 0.35e-3}, **limits).verdict == "fails"
    assert clearance(**limits, as_left="0.15 mm").verdict == "fails"
    assert verdicts(clearance()) == {"limits": "missing"}


def test_as_found_is_said_but_does_not_fail_the_plan() -> None:
    result = clearance(low="0.20 mm", high="0.30 mm", as_found="0.42 mm")
    assert result.verdict == "on-site"
    assert any("outside" in note for note in result.notes)


def test_diametral_and_radial_are_both_said() -> None:
    whole = clearance(low="0.20 mm", high="0.30 mm", diametral=True, as_left="0.24 mm").results
    half = clearance(low="0.10 mm", high="0.15 mm", diametral=False, as_left="0.12 mm").results
    assert whole["radial_value"] == pytest.approx(half["radial_value"])
    assert whole["diametral_value"] == pytest.approx(half["diametral_value"]) == pytest.approx(0.24e-3)


def test_signed_limits_count_from_their_middle() -> None:
    position = {"low": "-0.3 mm", "high": "0.3 mm"}
    assert clearance(**position, as_left="-0.1 mm").verdict == "ok"
    assert clearance(**position, as_left="-0.29 mm").verdict == "near"
    assert clearance(**position, as_left="-0.4 mm").verdict == "fails"


def test_float_split_by_offset_and_by_ratio() -> None:
    # total float 6.4, offset 0.2 from the middle: 3.4 mm from the stop (arithmetic)
    r = clearance(kind="float-split", low="6 mm", high="7 mm", offset="0.2 mm", as_left="6.4 mm").results
    assert (r["active_side"], r["inactive_side"]) == pytest.approx((3.4e-3, 3.0e-3))
    ratio = clearance(kind="float-split", low="6 mm", high="7 mm", split=0.6, as_found="6.0 mm").results
    assert ratio["active_side"] == pytest.approx(3.6e-3)
    half = clearance(kind="float-split", low="6 mm", high="7 mm")
    assert "split" in {d.field for d in half.defaults}


def test_offset_beyond_the_float_is_refused_in_words() -> None:
    result = clearance(kind="float-split", low="0.2 mm", high="0.5 mm", offset="0.4 mm", as_left="0.4 mm")
    assert any("offset" in c.note for c in result.checks_of("missing"))


def test_shim_says_how_much_and_on_which_side() -> None:
    # float 0.52 mm, wanted 0.25 to 0.40 mm: add 0.12 to 0.27 mm (arithmetic)
    thrust = {"kind": "shim", "low": "0.25 mm", "high": "0.40 mm", "side": "inactive", "shim": "2.00 mm"}
    result = clearance(**thrust, as_found="0.52 mm")
    r = result.results
    assert (r["shim_change_low"], r["shim_change_high"]) == pytest.approx((0.12e-3, 0.27e-3))
    assert r["shim_new"] == pytest.approx(2.00e-3 + 0.52e-3 - 0.325e-3)
    assert any("Add 0.12 mm to 0.27 mm" in note and "inactive" in note for note in result.notes)
    tight = clearance(**thrust, as_found="0.10 mm")
    assert any("Take out 0.15 mm to 0.3 mm" in note for note in tight.notes)
    assert tight.results["shim_change"] == pytest.approx(-0.225e-3)
    wanted = clearance(**thrust, as_found="0.52 mm", wanted="0.30 mm").results
    assert wanted["shim_change"] == pytest.approx(0.22e-3)


def test_shim_without_side_or_stock() -> None:
    thrust = {"kind": "shim", "low": "0.25 mm", "high": "0.40 mm", "as_found": "0.05 mm"}
    assert verdicts(clearance(**thrust))["side"] == "missing"
    assert verdicts(clearance(**thrust, side="active", shim="0.10 mm"))["shim"] == "fails"


def test_tilting_pad_lift_is_not_the_clearance() -> None:
    bearing = {
        "kind": "tilting-pad",
        "pads": 5,
        "between_pads": False,
        "diametral": True,
        "low": "0.14 mm",
        "high": "0.19 mm",
    }
    r = clearance(**bearing).results
    assert r["lift_factor"] == pytest.approx(1.11803, rel=1e-4)
    assert (r["lift_low"], r["lift_high"]) == pytest.approx((0.14e-3 * 1.11803, 0.19e-3 * 1.11803), rel=1e-4)
    # a lift of 0.20 mm would be out of the limits read as clearance, and is within them as lift
    good = clearance({"as_left": 0.20e-3}, **bearing)
    assert good.results["lift_clearance"] == pytest.approx(0.17889e-3, rel=1e-4)
    assert good.verdict in ("ok", "near")
    assert clearance({"as_left": 0.23e-3}, **bearing).verdict == "fails"
    radial = clearance({"as_left": 0.20e-3}, **(bearing | {"diametral": False, "low": "0.07 mm", "high": "0.095 mm"}))
    assert radial.results["lift_low"] == pytest.approx(r["lift_low"])
    assert radial.verdict in ("ok", "near")


@pytest.mark.parametrize("field", ["pads", "between_pads", "diametral"])
def test_tilting_pad_needs_its_geometry(field: str) -> None:
    bearing = {"kind": "tilting-pad", "pads": 5, "between_pads": False, "diametral": True}
    del bearing[field]
    assert verdicts(clearance(**bearing, low="0.1 mm", high="0.2 mm")) == {"lift_factor": "missing"}


def test_probe_voltage() -> None:
    probe = {"kind": "probe", "low": "1.0 mm", "high": "1.5 mm"}
    assert verdicts(clearance(**probe)) == {"probe": "on-site"}
    set_right = clearance({"reading": -10.0}, **probe)
    assert set_right.results["probe_gap"] == pytest.approx(1.27e-3, rel=1e-3)  # 50 mil at 200 mV/mil
    ends = [set_right.results[key] for key in ("probe_voltage_low", "probe_voltage_high")]
    assert ends == pytest.approx([-7.874, -11.811], rel=1e-3)  # 1.0 and 1.5 mm at 200 mV/mil
    assert set_right.verdict == "ok"
    assert clearance({"reading": -19.0}, **probe).verdict == "fails"
    assert clearance({"reading": -1.0}, **probe).verdict == "fails"


def test_gap_map_of_a_joint() -> None:
    joint = {"low": "0 mm", "high": "0.05 mm"}
    closed = clearance({"gaps": [0.0, 0.01e-3, 0.02e-3, 0.0]}, **joint)
    assert closed.verdict == "ok"
    assert closed.results["gap_spread"] == pytest.approx(0.02e-3)
    open_joint = clearance({"gaps": [0.0, 0.08e-3, 0.02e-3, 0.06e-3]}, **joint)
    assert open_joint.verdict == "fails"
    assert "reading 2, 4" in open_joint.checks[0].note
