"""Every screen answers `?` and the palette; save as, copy from another plan, documents; the foot offers what works here and now."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.screen import Screen

import splitline.ui
from splitline.plan.read import open_plan
from splitline.plan.start import start_plan
from splitline.ui.app import SplitlineApp
from splitline.ui.record_screen import RecordScreen
from splitline.ui.screens.help import HelpScreen
from splitline.ui.screens.picker import PickerScreen
from splitline.ui.screens.place import Offers, Place
from splitline.ui.screens.sheet import KeysScreen, Sheet
from splitline.ui.widgets.bar import Bar
from splitline.ui.work.asking import Question
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.desk import Desk
from tests.record.helpers import Ticking
from tests.ui.conftest import PLAN, opened, settled
from tests.ui.test_paper import bead_laid, to_table
from tests.ui.test_work_desk import started
from tests.ui.test_work_screen import WorkApp, app_for, begun, seen, settle
from tests.ui.work_helpers import assessor

HELP, PALETTE = ("question_mark", "f1"), ("ctrl+p", "f4")


BASES = (Offers, Place, Sheet, Question)  # never shown themselves


def screens() -> list[type[Screen[object]]]:
    """Every screen class of the program that can be shown."""
    for found in pkgutil.walk_packages(splitline.ui.__path__, "splitline.ui."):
        importlib.import_module(found.name)
    todo, out = [Screen], []
    while todo:
        for each in todo.pop().__subclasses__():
            todo.append(each)
            shown = "compose" in vars(each) or not each.__subclasses__()
            if each.__module__.startswith("splitline.ui.") and shown and each not in BASES:
                out.append(each)
    return sorted(out, key=lambda each: each.__name__)


def test_every_screen_has_keys_for_help_and_palette() -> None:
    lacking = {
        each.__name__: [key for key in (*HELP, *PALETTE) if key not in each._merge_bindings().key_to_bindings]
        for each in screens()
        if each not in (HelpScreen, KeysScreen)  # are the help
    }
    assert len(lacking) >= 18
    assert {name: keys for name, keys in lacking.items() if keys} == {}


async def asks_both(pilot: Pilot[None], help_: str = "question_mark") -> None:
    """Help opens and leaves; the palette opens and leaves."""
    here = pilot.app.screen
    for key in (help_, "ctrl+p"):
        await pilot.press(key)
        await pilot.pause()
        over = pilot.app.screen
        assert isinstance(over, (HelpScreen, KeysScreen, PickerScreen, ChoiceScreen)), (type(here).__name__, key)
        assert over is not here
        await pilot.press("escape")
        await pilot.pause()
        assert pilot.app.screen is here, (type(here).__name__, key)


async def test_lists_cards_drawings_and_sheets_answer_both(plan_file: Path) -> None:
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        await asks_both(pilot)
        screen.select("joint", 0)
        await pilot.press("v")
        await settled(pilot)
        await asks_both(pilot)
        await pilot.press("escape", "slash")
        await asks_both(pilot, "f1")  # "?" is searched for there
        await pilot.press("escape", "escape")
        await settled(pilot)
        await asks_both(pilot)  # the list of plans


async def test_the_fitters_screens_answer_both(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(100, 32)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await asks_both(pilot)
        await begun(pilot, app)
        await settle(pilot, lambda: not app.work._busy)
        await pilot.press("question_mark")
        await settle(pilot, lambda: "Nothing is ever erased" in seen(app))
        await pilot.press("escape")
        await settle(pilot, lambda: app.screen is app.work and not app.work._busy)
        await pilot.press("ctrl+p")
        await settle(pilot, lambda: "From paper" in seen(app))


async def test_the_record_and_a_filled_sheet_answer_both(tmp_path: Path) -> None:
    bead_laid(tmp_path).leave_seat()
    app = app_for(tmp_path / "cover.toml")
    async with app.run_test(size=(80, 24)) as pilot:
        await to_table(app, pilot)
        await asks_both(pilot)
        record = RecordScreen(app.work.desk.path, Desk(app.work.desk.path, Ticking(), assessor, view_only=True))
        app.push_screen(record)
        await settle(pilot, lambda: "Order of work" in seen(app))
        await asks_both(pilot)


async def test_who_only_looks_at_the_work_gets_help_and_leaves_by_escape_alone(tmp_path: Path) -> None:
    at = started(tmp_path)
    app = WorkApp(at.path, Desk(at.path, Ticking(), assessor, view_only=True), view_only=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: app.work.shown is not None)
        await pilot.press("question_mark")
        await settle(pilot, lambda: "Nothing is ever erased" in seen(app))
        await pilot.press("escape")
        await settle(pilot, lambda: app.screen is app.work and not app.work._busy)
        await pilot.press("escape")
        await settle(pilot, lambda: app.work.gone)


def told(app: SplitlineApp) -> str:
    """Messages in the corner."""
    return "\n".join(str(each.message) for each in app._notifications)


def foot(app: SplitlineApp) -> str:
    return "".join(piece.text for piece in app.screen.query_one("#foot", Bar)._laid_out())


async def test_the_foot_offers_only_what_works_here_and_now(plan_file: Path) -> None:
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        assert "save" not in foot(app)  # nothing to save
        assert "drawings" not in foot(app)  # the overview has none
        screen.go_to(("joint", 0, "bolting", "clamp_length"))
        await pilot.pause()
        assert "drawings" in foot(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "take it" in foot(app)
        assert "leave as it was" in foot(app)
        assert "drawings" not in foot(app)  # v is a letter now
        await pilot.press(*"270 mm", "enter")
        await settled(pilot)
        assert "save" in foot(app)
        assert "take it" not in foot(app)
        await pilot.press("enter", "x", "escape")
        await pilot.pause()
        assert "drawings" in foot(app)
        await pilot.press("ctrl+p")
        await pilot.pause()
        offered = {option.value for option in app.screen._options}  # type: ignore[attr-defined]
        assert "undo" in offered
        assert not {"redo", "compare", "problems", "examples", "work"} & offered


async def test_save_as_goes_on_with_the_new_file_and_keeps_undo(plan_file: Path) -> None:
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.changes.put(("plan", "tag"), "K-9")
        before = plan_file.read_bytes()
        await pilot.press("s")
        await pilot.pause()
        await pilot.press(*"cover", "enter")  # there already: nothing is written, another name can be given
        await pilot.pause()
        assert "already there" in seen(app)
        await pilot.press(*["backspace"] * 5, *"other", "enter")
        await settled(pilot)
        new = plan_file.with_name("other.toml")
        assert open_plan(new).get(("plan", "tag")) == "K-9"
        assert "# measured" in new.read_text("utf-8")  # comments came along
        assert plan_file.read_bytes() == before
        assert app.screen is screen
        assert screen.path == new
        assert not screen.has_unsaved
        await pilot.press("u", "ctrl+s")
        await settled(pilot)
        assert open_plan(new).get(("plan", "tag")) is None
        assert plan_file.read_bytes() == before


async def test_an_item_comes_out_of_another_plan_with_an_id_of_its_own(plan_file: Path) -> None:
    other = plan_file.with_name("other.toml")
    other.write_text(PLAN.replace("268 mm", "301 mm"), "utf-8")
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        await pilot.press("n")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*"cover to", "enter")
        await settled(pilot)
        joints = screen.session.draft.tree["joint"]
        assert [joint["id"] for joint in joints] == ["cover", "cover-2"]
        assert joints[1]["bolting"]["clamp_length"] == "301 mm"
        await pilot.press("u")
        assert len(screen.session.draft.tree["joint"]) == 1


async def test_examples_do_not_come_in_as_own_values(plan_file: Path) -> None:
    """A value that is an example in its plan would be nobody's here: it is settled there first."""
    start_plan("single-lift", plan_file.with_name("start.toml"))
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        await pilot.press("n")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("enter")
        await settled(pilot)
        assert not screen.has_unsaved
        assert "still examples in that plan" in told(app)


@pytest.mark.parametrize(("typed", "name"), [("kit", "cover-kit.pdf"), ("sheets of", "cover-cover.pdf")])
async def test_documents_are_printed_from_the_screen(plan_file: Path, typed: str, name: str) -> None:
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.select("joint", 0)
        await pilot.press("d")
        await pilot.pause()
        await pilot.press(*typed, "enter")
        await settle(pilot, lambda: f"written: {name}" in seen(app))
    assert plan_file.with_name(name).read_bytes().startswith(b"%PDF")


async def test_a_dossier_without_a_record_says_so(plan_file: Path) -> None:
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(100, 32)) as pilot:
        await opened(pilot)
        await pilot.press("d")
        await pilot.pause()
        await pilot.press(*"dossier", "enter")
        await settle(pilot, lambda: "no record yet" in told(app))
    assert list(plan_file.parent.glob("*.pdf")) == []
