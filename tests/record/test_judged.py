"""Limits of tilt, gap and runout bound a magnitude; screen, paper and check say the same of the same reading.

That a spirit level and a dial read with either sign, and that an upper limit alone bounds the size of what is read:
common practice, no published source.
"""

from __future__ import annotations

import datetime as dt
from itertools import product

import pytest

from splitline.assess.clearance import assess_clearance
from splitline.assess.context import Context, Observed
from splitline.library.store import Library
from splitline.plan.model import Clearance
from splitline.record.entry import Measured
from splitline.record.judged import judged
from splitline.ui.paper.table import judge
from splitline.ui.work.asks import far_off
from splitline.ui.work.task import Limits
from splitline.ui.work.tasks_clearance import clearance_limits


@pytest.mark.parametrize(
    ("value", "low", "high", "quantity", "verdict"),
    [
        (-5e-3, None, 3.6e-3, "angle", "outside"),  # a level turned round reads −5 mm per m
        (-3.6e-3, None, 3.6e-3, "angle", "inside"),
        (3.6e-3 * (1 + 1e-12), None, 3.6e-3, "angle", "inside"),
        (-0.08e-3, None, 0.05e-3, "length", "outside"),
        (-0.03e-3, None, 0.02e-3, "length", "outside"),
        (-0.2e-3, -0.5e-3, 0.5e-3, "length", "inside"),  # a position: signed, a limit at each end
        (-0.6e-3, -0.5e-3, 0.5e-3, "length", "outside"),
        (-0.3e-3, 0.2e-3, 0.4e-3, "length", "outside"),
        (-250.0 + 273.15, None, 60.0 + 273.15, "temperature", "inside"),
        (-12.0, -11.0, -9.0, "voltage", "outside"),
        (-10.0, None, -9.0, "voltage", "inside"),
        (10.0, -11.0, -9.0, "voltage", "inside"),  # leads of the meter the other way round
        (12.0, -11.0, -9.0, "voltage", "outside"),
        (5.0, None, 10.0, "voltage", "inside"),
        (1.0, None, None, "length", "not judged"),
        (0.19, 0.2, None, "length", "outside"),
    ],
)
def test_a_reading_against_its_limits(
    value: float, low: float | None, high: float | None, quantity: str, verdict: str
) -> None:
    assert judged(value, low, high, quantity) == verdict


MM = (-0.60, -0.21, -0.05, -0.04, 0.0, 0.04, 0.05, 0.21, 0.60)
ENDS = (None, 0.0, 0.05, 0.2)


@pytest.mark.parametrize(
    ("low", "high"),
    [(a, b) for a, b in product(ENDS, ENDS) if (a, b) != (None, None) and b != 0.0 and (a or 0) < (b or 1)],
)
@pytest.mark.parametrize("value", MM)
def test_screen_paper_record_and_check_say_the_same(value: float, low: float | None, high: float | None) -> None:
    ends = {name: f"{end} mm" for name, end in (("low", low), ("high", high)) if end is not None}
    item = Clearance.model_validate({"id": "c", "title": "Gap", "kind": "measure"} | ends)
    limits = Limits("as left", "length", item.low, item.high)
    on_paper = judge(f"{value} mm", limits, "SI")
    assert on_paper.value is not None
    on_screen = limits.judge(on_paper.value)
    entry = Measured(
        uid="u", done_by="Ines", item="c", what="as left", value=on_paper.value, quantity="length", low=item.low,
        high=item.high,
    )  # fmt: skip
    assert entry.verdict == on_screen
    assert on_paper.outside is (on_screen == "outside")
    seen = Observed({("c", "as_left"): on_paper.value})
    result = assess_clearance(item, Context(Library.load(), dt.date(2026, 11, 25), seen))
    assert (result.verdict == "fails") is (on_screen == "outside"), result.checks


@pytest.mark.parametrize("gap", [("1.15 mm", "1.35 mm"), (None, "1.35 mm"), ("1.15 mm", None), (None, None)])
@pytest.mark.parametrize("volts", [s * v for s in (-1, 1) for v in (1.9, 2.1, 9.0, 9.06, 9.8, 10.62, 10.7, 17.9, 18.1)])
def test_a_probe_is_judged_alike_on_screen_and_in_check_with_either_sign(
    gap: tuple[str | None, str | None], volts: float
) -> None:
    ends = {name: end for name, end in zip(("low", "high"), gap, strict=True) if end is not None}
    item = Clearance.model_validate({"id": "p", "title": "Probe", "kind": "probe", "sensitivity": 7.87} | ends)
    limits = clearance_limits(item)[-1]
    on_screen = limits.judge(volts)
    on_paper = judge(f"{volts} V", limits, "SI")
    assert on_paper.outside is (on_screen == "outside")
    entry = Measured(uid="u", done_by="Ines", item="p", what=limits.what, value=volts, quantity="voltage", low=limits.low,
                     high=limits.high)  # fmt: skip
    assert entry.verdict == on_screen == limits.judge(-volts)
    result = assess_clearance(item, Context(Library.load(), dt.date(2026, 11, 25), Observed({("p", "reading"): volts})))
    assert (result.verdict == "fails") is (on_screen == "outside"), result.checks


def test_a_level_turned_round_is_no_slip_but_a_sign_before_a_pressure_is() -> None:
    assert not far_off(-2e-3, Limits("tilt", "angle", None, 3.6e-3))
    assert far_off(-50e-3, Limits("tilt", "angle", None, 3.6e-3))
    assert far_off(-50e5, Limits("jack pressure", "pressure", None, 300e5))
