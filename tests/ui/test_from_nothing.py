"""A new user, keyboard alone, at 80 x 24: a plan of one head cover and one lift from an empty folder."""

from __future__ import annotations

from pathlib import Path

from textual import events
from textual.pilot import Pilot

from splitline.plan.read import open_plan
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.plan import PlanScreen
from splitline.ui.widgets.editor import FieldEditor
from tests.ui.conftest import settled, text_of


async def pick(pilot: Pilot[None], typed: str) -> None:
    """Add what is found under a text."""
    await pilot.press("a", *typed, "enter")


async def fill(pilot: Pilot[None], steps: int, typed: str) -> None:
    """Go down some lines and write into the field there."""
    await pilot.press(*["down"] * steps, "enter")
    await pilot.pause()
    assert isinstance(pilot.app.focused, FieldEditor)
    pilot.app.focused.post_message(events.Paste(typed))  # quicker than key by key
    await pilot.pause()
    await pilot.press("enter")


async def test_a_cover_and_its_lift_from_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    app = SplitlineApp(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("n", "enter", *"north head", "enter")
        await settled(pilot)
        screen = app.screen
        assert isinstance(screen, PlanScreen)
        await pick(pilot, "lift")
        await fill(pilot, 0, "Head cover")  # the cursor stands on the title
        await pick(pilot, "part")
        await fill(pilot, 0, "2400 kg")  # the cursor stands on it
        await fill(pilot, 1, "0 mm, 0 mm, 150 mm")
        await pick(pilot, "hook")
        await fill(pilot, 0, "2 m")
        await pick(pilot, "leg")
        await fill(pilot, 0, "500 mm, 0 mm, 300 mm")
        await fill(pilot, 2, "4 t")  # past the sling
        await pilot.press("c")  # the second leg as the first, on the other side
        await fill(pilot, 2, "-500 mm, 0 mm, 300 mm")
        await settled(pilot)
        assert "Leg tension, nominal" in text_of(screen, "facts")
        await pilot.press("ctrl+s")
        assert not screen.has_unsaved
    draft = open_plan(folder / "north head.toml")
    assert draft.problems == ()
    lift = draft.plan.lifts[0]
    assert lift.title == "Head cover"
    assert [leg.pick for leg in lift.leg] == [(0.5, 0.0, 0.3), (-0.5, 0.0, 0.3)]
    assert lift.part[0].mass == 2400
    assert lift.leg[0].capacity == lift.leg[1].capacity == 4 * 9806.65
    assert len(draft.plan.joints) == 1


def test_a_new_table_makes_no_figure_up() -> None:
    """A crane's rating that nobody gave must not pass as given."""
    from splitline.plan.fields import every_field
    from splitline.ui.forms.fresh import fresh_table
    from splitline.units import KINDS

    for path, field in every_field():
        if field.is_table and field.model is not None:
            for name, value in fresh_table(field.model).items():
                inner = next(f for p, f in every_field() if p == (*path, name))
                assert inner.kind not in KINDS, (path, name, value)
                assert isinstance(value, str | list | dict), (path, name, value)
