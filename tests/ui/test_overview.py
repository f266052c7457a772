"""A plan opens on itself at a glance: what is not in order first, then every item by the figures that decide."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.lift_told import greatest_leg
from splitline.ui.app import SplitlineApp
from splitline.ui.card.overview import overview_lines
from splitline.ui.card.places import fields_in
from splitline.ui.draw.rows import row_width
from splitline.ui.session import Session
from splitline.units import show
from tests.ui.conftest import settled

PLANS = Path(__file__).parents[2] / "plans"


def opened(name: str) -> Session:
    session = Session.open(PLANS / name)
    session.take(*session.compute())
    return session


def text_of(line: Any) -> str:
    return "".join(text for text, _ in line.row)


@pytest.mark.parametrize("cells", [30, 53, 76, 140])
def test_every_line_fits_and_every_item_is_named_once(cells: int) -> None:
    session = opened("k410-closeup.toml")
    lines = overview_lines(session, cells)
    assert max(row_width(line.row) for line in lines) <= cells
    below = lines[next(i for i, line in enumerate(lines) if text_of(line).startswith("joints")) :]
    named = [line.target for line in below if line.target is not None]
    wanted = [("at", k, i) for k in ("joint", "lift", "fit", "insertion", "clearance", "window")
              for i in range(len(session.draft.plan.of_kind(k)))]  # fmt: skip
    assert named == wanted


def test_the_figures_are_those_of_the_assessment() -> None:
    session = opened("k410-closeup.toml")
    line = [line for line in overview_lines(session, 140) if line.target == ("at", "lift", 3)][-1]
    result = session.result("lift", 3)
    assert result is not None
    leg = greatest_leg(result.legs)
    assert leg is not None
    assert show(leg.governing or 0.0, "force") in text_of(line)
    assert show(result.results["hook_load"], "force") in text_of(line)


def test_what_fails_stands_before_what_is_missing() -> None:
    session = opened("wrong-on-purpose.toml")
    marks = [text_of(line)[:1] for line in overview_lines(session, 90) if line.target is not None]
    fails, missing = marks.count("▲"), marks.index("○")
    assert fails > 1
    assert marks.index("▲") == 0 < missing


async def test_a_plan_opens_on_it_and_enter_goes_to_what_is_not_in_order(tmp_path: Path) -> None:
    app = SplitlineApp(Path(shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path)))
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        assert plan.selected == ("plan", 0)
        plan.facts.focus()
        wanted = plan.facts.target
        await pilot.press("enter")
        await settled(pilot)
        assert wanted[0] == "at"
        assert plan.selected == wanted[1:]


def test_fields_of_which_any_will_do_are_told_apart() -> None:
    assert fields_in("hub_material or hub_modulus") == ["hub_material", "hub_modulus"]
    said = "interference, or interference_min and interference_max, or advance with taper"
    assert fields_in(said) == ["interference", "interference_min", "interference_max", "advance", "taper"]
    assert fields_in("case.leak test.pressure") == ["case.leak test.pressure"]
