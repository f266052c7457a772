"""The program on a tablet: it sees what was served, and begins where the tablet was."""

from __future__ import annotations

import shutil
from pathlib import Path

from splitline.ui import memory
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.plans import PlansScreen

PLANS = Path(__file__).parents[2] / "plans"


async def test_plans_of_other_folders_are_not_shown(tmp_path: Path) -> None:
    elsewhere, here = tmp_path / "elsewhere", tmp_path / "here"
    for folder in (elsewhere, here):
        folder.mkdir()
        shutil.copy(PLANS / "wrong-on-purpose.toml", folder)
    memory.opened(elsewhere / "wrong-on-purpose.toml")
    for served, shown in ((True, 1), (False, 2)):
        app = SplitlineApp(here, served=served)
        async with app.run_test(size=(100, 32)) as pilot:
            await pilot.pause()
            assert isinstance(app.screen, PlansScreen)
            assert len(app.screen.entries) == shown


async def test_every_row_of_an_entry_opens_it(tmp_path: Path) -> None:
    shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path)
    app = SplitlineApp(tmp_path, served=True)
    async with app.run_test(size=(100, 32)) as pilot:
        await pilot.pause()
        first = app.screen
        await pilot.click("#plans", offset=(10, 2))  # the row with the name of the file
        await pilot.pause()
        assert app.screen is not first


async def test_a_tablet_at_work_begins_on_the_work_screen(tmp_path: Path) -> None:
    from splitline.ui.work.screen import WorkScreen

    plan = Path(shutil.copy(PLANS / "k410-closeup.toml", tmp_path))
    app = SplitlineApp(tmp_path, served=True, resume=plan)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert any(isinstance(screen, WorkScreen) for screen in app.screen_stack)


async def test_the_foot_of_a_tablet_is_three_rows_high_for_fingers(tmp_path: Path) -> None:
    from splitline.ui.widgets.bar import Bar

    shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path)
    for served, high in ((True, 3), (False, 1)):
        app = SplitlineApp(tmp_path, served=served)
        async with app.run_test(size=(82, 34)) as pilot:
            await pilot.pause()
            for bar in app.screen.query(Bar):
                assert bar.size.height == high
            first = app.screen
            foot = app.screen.query_one("#foot", Bar)
            await pilot.click(foot, offset=(3, high - 1))  # the lowest row of the key acts as well
            await pilot.pause()
            assert app.screen is not first
            await pilot.pause(0.2)
            for bar in app.screen.query("#foot"):
                assert bar.size.height == high
