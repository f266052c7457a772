"""What the number pad gives: every kind of reading a step asks for, shares among them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from splitline.assess.context import Context
from splitline.assess.fit import assess_fit
from splitline.errors import UnitsError
from splitline.library.store import Library
from splitline.plan.read import open_plan
from splitline.ui.work.asks import amount, far_off, limits_said, units_of, value_of
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
        for step in assess_fit(fit, context).fit.mounting
        for limit in (*step.limits, *step.log)
    }
    assert "share" in kinds
    for kind in kinds:
        assert kind in KINDS or kind in ("share", "number", "count"), kind
        assert value_of(f"50 {units_of(kind, 'SI')[0]}".strip(), kind) > 0


@pytest.mark.parametrize(
    ("value", "low", "high", "asked"),
    [
        (8.0e-3, 7e-3, 9e-3, False),
        (80e-3, 7e-3, 9e-3, True),
        (0.8e-3, 7e-3, 9e-3, True),
        (12e-3, 7e-3, 9e-3, False),  # outside, but nobody's slip
        (-8e-3, 7e-3, 9e-3, True),
        (0.0, None, 5e-5, False),
        (5e-3, None, 5e-5, True),
        (10.0, -10.6, -9.05, True),
        (-10.0, -10.6, -9.05, False),
        (-0.2e-3, -0.5e-3, 0.5e-3, False),
        (7.0, None, None, False),
    ],
)
def test_a_likely_slip_of_the_finger_is_asked_about_again(
    value: float, low: float | None, high: float | None, asked: bool
) -> None:
    assert far_off(value, Limits("gap", "length", low, high)) is asked


class Answering:
    """A screen whose questions are answered from a list."""

    def __init__(self, *answers: str | None) -> None:
        self.answers = list(answers)
        self.titles: list[str] = []
        self.desk = SimpleNamespace(assessment=SimpleNamespace(plan=SimpleNamespace(us=False)))

    async def ask(self, question: Any) -> str | None:
        self.titles.append(question._title)
        return self.answers.pop(0)


async def test_going_back_from_the_question_asks_for_the_number_again() -> None:
    limits = Limits("as left", "length", 7e-3, 9e-3)
    screen: Any = Answering("80 mm", None, "8.0 mm")
    assert await amount(screen, limits, "as left") == (pytest.approx(8e-3), "8.0 mm")
    assert screen.titles == ["as left", "Is 80 mm right?", "as left"]
    screen = Answering("80 mm", "yes")
    assert await amount(screen, limits, "as left") == (pytest.approx(80e-3), "80 mm")
