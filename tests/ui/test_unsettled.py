"""The list of checks that are not ok leads to the very check."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from splitline.ui.app import SplitlineApp
from splitline.ui.card.checks import worst_first
from splitline.ui.card.finding import everything
from tests.ui.conftest import settled

PLANS = Path(__file__).parents[2] / "plans"


async def test_enter_on_a_finding_stands_on_its_check(tmp_path: Path) -> None:
    app = SplitlineApp(Path(shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path)))
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        await pilot.press("f")
        await settled(pilot)
        await pilot.press("down", "enter")
        await settled(pilot)
        await pilot.pause(0.2)
        assert app.screen is plan
        target = plan.facts.target
        assert target[0] == "check"
        every = worst_first(c for r in plan.session.outcome.results.values() for c in r.checks if c.verdict != "ok")
        shown = plan.session.result(*plan.shown_item)
        assert worst_first(shown.checks)[target[2]] is every[1]


async def test_the_search_finds_a_field_nobody_gave(tmp_path: Path) -> None:
    app = SplitlineApp(Path(shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path)))
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        places = {option.value: option.label for option in everything(plan.session, ())}
        assert any(key[1][-1] == "lubricant" and "ubricant" in said for key, said in places.items()), places
