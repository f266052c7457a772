"""The plan answers back: goals hold when they are put in, breaks fail where told, movers are what moves."""

from __future__ import annotations

import datetime as dt
import itertools
import os
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from splitline.assess.answers import answers, written
from splitline.assess.assessment import alone, assess
from splitline.assess.context import Context
from splitline.assess.result import Check
from splitline.assess.what_if import REACHED, WANTED, WhatIf, inputs_of
from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.plan.draft import Draft
from splitline.plan.read import open_plan, read_text
from tests.assess.unchanged import plans

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
TODAY = dt.date(2026, 6, 1)


@pytest.fixture(scope="module")
def demo() -> Draft:
    return open_plan(DEMO)


def asked(draft: Draft, kind: str, ident: str) -> WhatIf:
    how = alone(kind, Context(Library.load(), TODAY))
    assert how is not None
    return WhatIf(draft.plan.find(kind, ident), how)


def nearest(found: WhatIf) -> Check:
    return max((c for c in found.result.checks if c.usage is not None), key=lambda c: c.usage or 0.0)


def held(draft: Draft, kind: str, found: WhatIf, check: Check, most: int = 3) -> int:
    """Goals are edits: typed into the plan as they would be, they bring the check where they said."""
    index = next(n for n, item in enumerate(draft.plan.of_kind(kind)) if item.id == found.item.id)
    tried = 0
    for goal in found.goals(check.about)[:most]:
        if goal.input.place is not None:
            continue
        edited = draft.edit((kind, index, *goal.input.path), written(goal.input, goal.value))
        if any(problem.path[:2] == (kind, index) for problem in edited.problems):
            continue  # the bounds of the field are not known to the arithmetic; the plan refuses the edit
        result = assess(edited.plan, Library.load(), TODAY).find(kind, found.item.id)
        assert result is not None
        now = next(c for c in result.checks if c.about == check.about)
        assert now.usage == pytest.approx(WANTED, abs=1.5 * REACHED), goal
        told = {each.check.about for each in goal.worse}
        before = {c.about: c.verdict for c in found.result.checks}
        for other in result.checks:
            if other.about not in told and other.about != check.about and other.verdict == "fails":
                assert before[other.about] == "fails", "a check that fails by the change must have been told"
        tried += 1
    return tried


@pytest.mark.parametrize(
    ("kind", "ident"),
    [
        ("joint", "discharge-head"),
        ("fit", "thrust-collar"),
        ("lift", "discharge-head-lift"),
        ("insertion", "bundle-in"),
    ],
)
def test_a_value_told_brings_the_check_where_it_was_told(demo: Draft, kind: str, ident: str) -> None:
    items = demo.plan.of_kind(kind)
    found = asked(demo, kind, ident if any(item.id == ident for item in items) else items[0].id)
    assert held(demo, kind, found, nearest(found)) > 0


@pytest.mark.long
@pytest.mark.skipif("SPLITLINE_LONG" not in os.environ, reason="every plan of the shaken 200: set SPLITLINE_LONG=1")
def test_values_told_hold_in_hundreds_of_plans() -> None:
    tried = 0
    for name, text in plans():
        try:
            draft = read_text(text, Path(f"{name}.toml"))
        except PlanError:
            continue
        for kind in ("joint", "fit", "insertion"):
            for item in draft.plan.of_kind(kind)[:1]:
                found = asked(draft, kind, item.id)
                checks = [c for c in found.result.checks if c.usage is not None and 0.5 < c.usage < 2]
                if checks:
                    tried += held(draft, kind, found, max(checks, key=lambda c: c.usage or 0.0), 2)
    print(f"{tried} values put in")
    assert tried > 200


def test_movers_are_in_the_order_of_what_they_move(demo: Draft) -> None:
    found = asked(demo, "fit", "thrust-collar")
    check = nearest(found)
    movers = found.movers(check.about)
    assert [m.swing for m in movers] == sorted((m.swing for m in movers), reverse=True)
    first = movers[0]
    again = found.usage(check.about, [(first.input, first.input.value + first.input.doubt)])
    assert again == first.high
    assert {m.input.name for m in movers} > {"friction", "shaft_diameter"}
    assert found.result.checks == asked(demo, "fit", "thrust-collar").result.checks, "asking changes nothing"


def test_a_default_that_moves_a_check_is_marked(demo: Draft) -> None:
    found = asked(demo, "fit", "thrust-collar")
    marked = {each.name: each.default for each in inputs_of(found.item, found.result) if each.default}
    assert "grip_factor" in marked
    text = " ".join(line.text for section in answers(found, nearest(found), lambda _: (), "SI") for line in section)
    assert "DEFAULT, nobody gave it" in text
    assert "grip_factor" not in {goal.input.name for goal in found.goals(nearest(found).about)}


def test_what_breaks_it_is_as_near_as_a_grid_finds(demo: Draft) -> None:
    """Three inputs: every combination of a grid within the doubts, nearest first, against the point told."""
    found = asked(demo, "fit", "thrust-collar")
    check = nearest(found)
    three = [moved.input for moved in found.movers(check.about)[:3]]
    found.inputs = tuple(three)
    told = found.breaks(check.about)
    assert told is not None
    usage = found.usage(check.about, told.values)
    assert usage is None or usage > 1.0
    steps = np.linspace(-1, 1, 9)
    nearest_of_grid = min(
        float(np.linalg.norm(point))
        for point in itertools.product(steps, repeat=3)
        if _over(found, check.about, three, point)
    )
    assert told.share <= nearest_of_grid + 1e-3
    inside = [(each, each.value + 0.98 * (value - each.value)) for each, value in told.values]
    near = found.usage(check.about, inside)
    assert near is not None
    assert near <= 1.0


def _over(found: WhatIf, about: tuple[Any, ...], three: list[Any], point: tuple[float, ...]) -> bool:
    usage = found.usage(about, [(e, e.value + x * e.doubt) for e, x in zip(three, point, strict=True)])
    return usage is not None and usage > 1.0


def test_rows_that_would_do_are_named_and_hold(demo: Draft) -> None:
    found = asked(demo, "fit", "thrust-collar")
    check = nearest(found)
    for choice in found.choices(check.about, Library.load().names)[:3]:
        edited = demo.edit(("fit", 0, *choice.path), choice.name)
        result = assess(edited.plan, Library.load(), TODAY).find("fit", "thrust-collar")
        assert result is not None
        now = next(c for c in result.checks if c.about == check.about)
        assert now.usage == pytest.approx(choice.usage)
        assert now.usage <= WANTED + REACHED
