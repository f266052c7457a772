"""What the number pad gives: every kind of reading a step asks for, shares among them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from splitline.assess.context import Context
from splitline.assess.fit import assess_fit
from splitline.errors import UnitsError
from splitline.library.store import Library
from splitline.plan.read import open_plan
from splitline.ui.work.asks import limits_said, units_of, value_of
from splitline.ui.work.task import Limits
from splitline.units import KINDS

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def test_a_share_is_typed_in_per_cent() -> None:
    assert value_of("85 %", "share") == 0.85
    assert value_of("85", "share") == 0.85
    assert limits_said(Limits("contact", "share", 0.8), "SI") == "accepted at least 80 %"


@pytest.mark.parametrize("text", ["101 %", "-1 %", "nan", "1e999", "", "8,5 %", "eighty"])
def test_what_is_no_share_is_said(text: str) -> None:
    with pytest.raises(UnitsError):
        value_of(text, "share")


def test_every_reading_of_the_mounting_can_be_typed() -> None:
    context = Context(Library.load(), dt.date(2026, 1, 1))
    kinds = {
        limit.kind
        for fit in open_plan(DEMO).plan.fits
        for step in assess_fit(fit, context).extra["mounting_steps"]
        for limit in (*step.limits, *step.log)
    }
    assert "share" in kinds
    for kind in kinds:
        assert kind in KINDS or kind in ("share", "number", "count"), kind
        assert value_of(f"50 {units_of(kind, 'SI')[0]}".strip(), kind) > 0
