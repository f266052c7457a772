"""Shown in US units, no text of ours falls back to SI: notes, defaults, cautions, checks and where numbers come from."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from splitline.assess.assessment import Assessment, assess
from splitline.assess.result import ItemResult
from splitline.assess.speak import in_units
from splitline.assess.to_json import assessment_json
from splitline.library.store import Library
from splitline.plan.read import open_plan
from splitline.report.text import assessment_lines

PLANS = sorted((Path(__file__).parents[2] / "plans").glob("*.toml"))
TODAY = dt.date(2026, 11, 25)
# A figure with a unit of the metric display; not names such as "chain grade 80 16 mm", which the library gives.
METRIC = re.compile(r"-?\d[\d.]*\s?(?:mm|m|kN|N·m|bar|MPa|GPa|°C|kJ)(?![\w·/²³*])")
NAMES = re.compile(r"chain grade \d+ \d+ mm|wire rope \d+ mm|M\d+ and M\d+, \d+ mm beyond")


def assessed(path: Path, system: str | None) -> Assessment:
    return assess(open_plan(path).plan, Library.load(path.parent), TODAY, None, system)  # type: ignore[arg-type]


def texts(item: ItemResult) -> Iterator[str]:
    yield from item.notes
    yield from (caution.text for caution in item.cautions)
    yield from (f"{default.said} {default.basis}" for default in item.defaults)
    yield from (f"{check.title} {check.note} {check.basis}" for check in item.checks)
    yield from (line.source for line in item.working)


def metric(said: Iterator[str]) -> list[str]:
    return [text for text in said if METRIC.search(NAMES.sub("", text))]


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_no_text_of_a_us_assessment_speaks_si(path: Path) -> None:
    us = assessed(path, "US")
    assert not metric(text for item in us.items for text in texts(item))
    assert metric(text for item in assessed(path, "SI").items for text in texts(item))  # the search does find them


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_printed_in_us_units(path: Path) -> None:
    assert not metric(assessment_lines(assessed(path, "US"), "US", 4000))


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_numbers_are_si_in_both(path: Path) -> None:
    def numbers(assessment: Assessment) -> list[object]:
        found = assessment_json(assessment)
        return [
            (item["results"], [c.get("usage") for c in item["checks"]]) for item in found["joints"] + found["lifts"]
        ]

    assert numbers(assessed(path, "US")) == numbers(assessed(path, "SI"))


def test_a_plan_that_says_us_is_assessed_in_us(tmp_path: Path) -> None:
    path = tmp_path / "us.toml"
    path.write_text(PLANS[0].read_text("utf-8").replace('display = "SI"', 'display = "US"'), "utf-8")
    assert open_plan(path).plan.us
    assert [list(texts(i)) for i in assessed(path, None).items] == [list(texts(i)) for i in assessed(path, "US").items]


@pytest.mark.parametrize(
    ("said", "in_us"),
    [
        ("bolts lie from 25.4 mm to 1.27 m", "bolts lie from 1 in to 50 in"),
        ("covers shafts of 76.2 to 190.5 mm", "covers shafts of 3 in to 7.5 in"),
        ("the tool pulls 4.4482216152605e3 N", "the tool pulls 1 kip"),
        ("M48x3 of grade 8.8 at 5 W/(m² K)", "M48x3 of grade 8.8 at 5 W/(m² K)"),
    ],
)
def test_figures_of_physics_said_again(said: str, in_us: str) -> None:
    """1 in is 25.4 mm and 1 lbf is 4.4482216152605 N exactly (NIST SP 811, Appendix B)."""
    assert in_units(said, "US") == in_us
    assert in_units(said, "SI") == said
