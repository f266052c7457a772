"""The program on a tablet: it sees what was served, and begins where the tablet was."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from splitline.record.entry import Tightened
from splitline.ui import memory
from splitline.ui.app import SplitlineApp
from splitline.ui.paper.sheets_of import sheet_of
from splitline.ui.screens.plans import PlansScreen
from splitline.ui.work.desk import Desk
from tests.record.helpers import Ticking
from tests.ui.test_paper import to_table
from tests.ui.test_work_desk import set_up, started, task
from tests.ui.test_work_screen import app_for, begun, entries, seen, settle
from tests.ui.work_helpers import assessor, desk

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


@pytest.mark.parametrize("served", [True, False])
async def test_a_lost_link_leaves_the_studs_in_the_hands_of_the_tablet(tmp_path: Path, served: bool) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    at.leave_seat()
    app = app_for(at.path, clock)
    app.served = served
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (1, 5))
        app.exit()  # what a lost link and a server that stops do
        await pilot.pause(0.1)
    other = desk(at.path, "Tomas", clock)
    set_up(other)
    assert task(other).bolts == ((2, 6) if served else (1, 5))


async def test_leaving_the_screen_gives_the_studs_back(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    at.leave_seat()
    app = app_for(at.path, clock)
    app.served = True
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (1, 5))
        app.work.leave()
        await settle(pilot, lambda: app.screen is not app.work)
        assert desk(at.path, "Tomas", clock).refresh().others == ()


def tree(*folders: Path) -> dict[str, bytes]:
    return {str(p): p.read_bytes() for folder in folders for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("place", ["open_plan", "open_work", "open_record"])
async def test_a_plan_served_alone_serves_no_other(tmp_path: Path, place: str) -> None:
    mine = Path(shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path / "mine.toml"))
    other = Path(shutil.copy(PLANS / "wrong-on-purpose.toml", tmp_path / "other.toml"))
    linked = tmp_path / "deep" / "mine.toml"
    linked.parent.mkdir()
    linked.symlink_to(other)
    app = SplitlineApp(mine, served=True)
    async with app.run_test(size=(100, 32)) as pilot:
        await pilot.pause()
        depth = len(app.screen_stack)
        for path in (other, tmp_path / "x" / ".." / "other.toml", linked):
            getattr(app, place)(path)
            await pilot.pause()
            assert len(app.screen_stack) == depth
        app.pop_screen()
        await pilot.pause()
        assert isinstance(app.screen, PlansScreen)
        assert [path.name for path in app.screen.entries] == ["mine.toml"]
        app.screen.do_new()
        await pilot.pause()
        assert isinstance(app.screen, PlansScreen)


async def test_a_link_to_look_at_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    state, folder, here = tmp_path / "state", tmp_path / "plans", tmp_path / "here"
    for each in (state, folder, here):
        each.mkdir()
    monkeypatch.setenv("XDG_STATE_HOME", str(state))
    monkeypatch.chdir(here)
    plan = Path(shutil.copy(PLANS / "k410-closeup.toml", folder))
    before = tree(state, folder, here)
    app = SplitlineApp(plan, served=True, view_only=True)
    async with app.run_test(size=(100, 32)) as pilot:
        await pilot.pause(0.3)
        await pilot.press("f2", "ctrl+s", "plus", "delete", "v", "f9", "f2")
        await pilot.pause()
        app.open_work(plan)
        await pilot.pause(0.2)
        await pilot.press("enter", "f2", "escape")
        app.open_record(plan)
        await pilot.pause(0.2)
        await pilot.press("f2", "e", "p", "escape")
    assert tree(state, folder, here) == before


@pytest.mark.parametrize("way", ["work", "record"])
async def test_what_was_done_while_not_connected_is_entered_from_paper(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    """The studs stay in the hands of the tablet whose link went; its own crew, and only they, can enter them."""
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    at.leave_seat()
    monkeypatch.setenv("SPLITLINE_CLIENT", "tablet-one")
    app = app_for(at.path, clock)
    app.served = True
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (1, 5))
        app.exit()  # the link is lost; the crew pulls on by the last instruction, on paper
        await pilot.pause(0.1)
    again = Desk(at.path, clock, assessor)
    if way == "work":
        back = app_for(at.path, clock)
        back.served = True
        async with back.run_test(size=(80, 24)) as pilot:
            table = await to_table(back, pilot)
            assert {row.key for row in table.sheet.rows if row.open} == set("12345678")  # type: ignore[union-attr]
            await pilot.press("space", "space", "e")
            await settle(pilot, lambda: "Enter all: 1" in seen(back))
            await pilot.press("1")
            await settle(pilot, lambda: len(pulled(at.path)) == 1)
        assert {bolt for entry in pulled(at.path) for bolt in entry.bolts} == {1, 5}
        assert {entry.entered_by for entry in pulled(at.path)} == {"Ines"}
    else:
        again.take_seat("Ines")
        sheet = sheet_of(again.refresh(), "pass|studs|snug")
        assert sheet is not None
        assert {row.key for row in sheet.rows if row.open} == set("12345678")
    again.leave_seat()


def pulled(plan: Path) -> list[Tightened]:
    return [entry for entry in entries(plan) if isinstance(entry, Tightened)]
