"""A reading of a clearance is judged alike on the screen, on paper and in ``check``: inside here is not a failure there."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.clearance import assess_clearance
from splitline.assess.clearance_reading import reading_of
from splitline.assess.context import Context, Observed
from splitline.library.store import Library
from splitline.plan.model import Clearance
from splitline.record.judged import judged
from splitline.ui.work.tasks_clearance import clearance_limits

LIBRARY = Library.load()
PADS = {"kind": "tilting-pad", "pads": 5, "between_pads": False, "diametral": True, "low": "0.14 mm", "high": "0.19 mm"}


def item(**entry: Any) -> Clearance:
    return Clearance.model_validate({"id": "c", "title": "Bearing", "kind": "measure"} | entry)


def verdicts(clearance: Clearance, value: float, name: str = "as_left") -> set[str]:
    seen = Observed({("c", name): value})
    return {c.verdict for c in assess_clearance(clearance, Context(LIBRARY, dt.date(2026, 11, 25), seen)).checks}


def test_a_lift_on_tilting_pads_is_judged_as_a_lift_on_the_screen() -> None:
    # five pads, lift onto a pad: lift over clearance 1.118 (geometry, Nicholas: (1 + 1/cos 36°)/2), so 0.157 to 0.212 mm
    last = clearance_limits(item(**PADS))[-1]
    assert (last.low, last.high) == pytest.approx((0.1565e-3, 0.2124e-3), abs=1e-7)
    assert last.judge(0.15e-3) == "outside"
    assert last.judge(0.20e-3) == "inside"


def test_without_its_geometry_no_lift_is_inside() -> None:
    for name in ("pads", "between_pads", "diametral"):
        last = clearance_limits(item(**{key: value for key, value in PADS.items() if key != name}))[-1]
        assert last.judge(0.15e-3) == "not judged"


def test_a_probe_out_of_its_linear_range_is_outside_on_the_screen_too() -> None:
    only = clearance_limits(item(kind="probe"))[-1]
    assert only.judge(-19.0) == "outside"
    assert only.judge(-1.0) == "outside"
    assert only.judge(-10.0) == "inside"


KINDS = st.sampled_from(("measure", "float-split", "shim", "tilting-pad"))


@settings(deadline=None, max_examples=150)
@given(
    kind=KINDS,
    low=st.integers(-50, 90),
    wide=st.integers(0, 60),
    value=st.integers(-120, 300),
    pads=st.integers(3, 9),
    between=st.booleans(),
    diametral=st.booleans(),
    ends=st.sampled_from(("both", "low", "high")),
)
def test_screen_and_check_never_disagree(
    kind: str, low: int, wide: int, value: int, pads: int, between: bool, diametral: bool, ends: str
) -> None:
    entry: dict[str, Any] = {"kind": kind, "pads": pads, "between_pads": between, "diametral": diametral, "side": "a"}
    if ends != "high":
        entry["low"] = f"{low / 100} mm"
    if ends != "low":
        entry["high"] = f"{(low + wide) / 100} mm"
    clearance = item(**entry)
    shown = clearance_limits(clearance)[-1].judge(value * 1e-5)
    found = verdicts(clearance, value * 1e-5)
    assert (shown == "outside") == ("fails" in found)


@settings(deadline=None, max_examples=80)
@given(low=st.integers(50, 200), wide=st.integers(5, 80), volts=st.integers(-2100, -50))
def test_probe_voltage_is_judged_alike(low: int, wide: int, volts: int) -> None:
    clearance = item(kind="probe", low=f"{low / 100} mm", high=f"{(low + wide) / 100} mm")
    shown = clearance_limits(clearance)[-1].judge(volts / 100)
    assert (shown == "outside") == ("fails" in verdicts(clearance, volts / 100, "reading"))


def test_the_reading_has_a_name_where_it_is_not_the_value() -> None:
    assert reading_of(item(**PADS)).name == "indicator lift"
    assert reading_of(item(low="0.1 mm")).name == ""
    assert judged(0.0, *(None, 1.0), "length") == "inside"
