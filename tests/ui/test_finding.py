"""The search leads to every field of the item shown, given or not, and names it where room is small."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from splitline.plan.fields import declared
from splitline.ui.app import SplitlineApp
from splitline.ui.card.hints import hint_of
from splitline.ui.card.values import list_text
from splitline.ui.draw.rows import width
from splitline.ui.screens.picker import _trail
from tests.ui.conftest import settled

PLANS = Path(__file__).parents[2] / "plans"
BARE = """[plan]
title = "Bare"

[[joint]]
id = "cover"
title = "Head cover to casing of the second train"

[joint.load]
seal = "o-ring"
"""


async def _opened(tmp_path: Path, text: str) -> SplitlineApp:
    (tmp_path / "bare.toml").write_text(text, encoding="utf-8")
    return SplitlineApp(tmp_path / "bare.toml")


async def test_a_field_nobody_gave_is_found_by_its_name(tmp_path: Path) -> None:
    app = await _opened(tmp_path, BARE)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        plan.select("joint", 0)
        await pilot.press("/", *"pressure diam")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert plan.inputs.target == ("joint", 0, "load", "pressure_diameter")


async def test_a_in_a_heading_offers_items_first(tmp_path: Path) -> None:
    app = await _opened(tmp_path, '[plan]\ntitle = "Bare"\n')
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        plan.inputs.focus()
        await pilot.press("a")
        await settled(pilot)
        picker: Any = app.screen
        assert picker._found[0].value == ("item", "joint")


async def test_a_new_item_stands_on_its_name_wherever_the_cursor_was(tmp_path: Path) -> None:
    app = await _opened(tmp_path, BARE)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        plan.select("joint", 0)
        plan.inputs.focus()
        await pilot.press("end")
        for kind, name in (("lift", "title"), ("fit", "title"), ("step", "text")):
            plan.changes.add_item(kind)
            await settled(pilot)
            assert plan.inputs.target == (kind, 0, name)
            await pilot.press("end")


def test_rows_of_figures_are_told_apart() -> None:
    assert list_text([["50 bar", "600 N*m"], ["700 bar", "5000 N*m"]]) == "50 bar, 600 N*m; 700 bar, 5000 N*m"


async def test_the_foot_says_what_enter_does_in_each_pane(tmp_path: Path) -> None:
    app = SplitlineApp(Path(shutil.copy(PLANS / "k410-closeup.toml", tmp_path)))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        plan.select("joint", 0)
        said = []
        for pane in (plan.contents, plan.facts, plan.inputs):
            pane.focus()
            await settled(pilot)
            said.append(plan.footer()[0].label)
        assert said == ["to the fields", "why", "edit"]


def test_a_long_way_keeps_its_item_and_the_name_at_its_end() -> None:
    way = "Head cover to casing of the second train › bolting › clamp_length"
    assert _trail(way, 100) == way
    assert _trail(way, 36) == "Head cover… › bolting › clamp_length"
    assert _trail(way, 30) == "Head cover… › … › clamp_length"
    assert _trail(way, 18) == "… › clamp_length"
    deep = "Head cover to casing › tightening › tool 1 › torque max"
    assert _trail(deep, 36) == "Head cove… › … › tool 1 › torque max"
    for cells in range(20, 60):
        assert width(_trail(deep, cells)) <= cells
    assert width(_trail("a title without a way, however long it may be", 10)) > 10  # cut by the line, as before


async def test_a_hint_says_the_usual_range_before_the_units_and_each_unit_once(tmp_path: Path) -> None:
    app = await _opened(tmp_path, BARE)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        path = ("joint", 0, "member", "modulus")
        said = hint_of(plan.session, ("joint", 0), path)[1][0]
        field = declared(path)
        assert field is not None
        assert field.usual
        assert said.index("usual") < said.index("units ")
        assert "N/mm2" not in said
        assert said.count("N/mm") == 1
