"""One flow at a time on the fitter's screen, whatever arrives in whatever frames; what was stored is said by the record."""

from __future__ import annotations

import os
import random
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from splitline.record.entry import Note, Tightened
from splitline.record.evidence import verify
from splitline.ui.paper.screen import PaperScreen
from splitline.ui.record_screen import RecordScreen
from splitline.ui.work import acts
from splitline.ui.work.asking import Question
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.danger import DangerScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.pulls import Pace
from splitline.ui.work.screen import WorkScreen
from splitline.ui.work.steps import StepsScreen
from splitline.ui.work.target import Target
from splitline.ui.work.task import Answer
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import started
from tests.ui.test_work_screen import WorkApp, app_for, begun, entries, seen, settle, target
from tests.ui.work_helpers import assessor, plan_file

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def in_one_frame(app: Any, *keys: str) -> None:
    """Keys as the tablet's socket gives them: all there before any of them is looked at."""
    for key in keys:
        app.post_message(events.Key(key, key if len(key) == 1 else None))


def sheets(app: Any) -> list[str]:
    return [type(screen).__name__ for screen in app.screen_stack[1:]]


async def test_two_taps_in_one_frame_open_one_sheet_and_leave_leaves(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        before = len(entries(at.path))
        in_one_frame(app, "m", "m")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        await pilot.pause(0.05)
        assert sheets(app) == ["WorkScreen", "ChoiceScreen"]
        leave = target(app, "leave")
        leave.action_press()
        leave.action_press()  # the second half of a double tap
        await settle(pilot, lambda: sheets(app) == [])
        assert "NOT STORED" not in seen(app)
    assert len(entries(at.path)) == before


async def test_a_flow_that_begins_keeps_done_from_being_stored_beside_it(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        in_one_frame(app, "m", "enter", "x", "w")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        await pilot.pause(0.05)
        assert sheets(app) == ["WorkScreen", "ChoiceScreen"]
    assert not [e for e in entries(at.path) if isinstance(e, Tightened)]


async def test_stop_work_by_double_taps_is_stored_once_and_never_called_not_stored(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        in_one_frame(app, "x", "x")
        await settle(pilot, lambda: "shift ends" in seen(app))
        in_one_frame(app, "2", "2")
        await settle(pilot, lambda: "For whoever goes on" in seen(app))
        in_one_frame(app, "escape", "escape")
        await settle(pilot, lambda: "Who works here?" in seen(app))
        assert sheets(app) == ["WorkScreen", "ChoiceScreen"]
        await pilot.press("escape")
        await settle(pilot, lambda: sheets(app) == [])
        assert "NOT STORED" not in seen(app)
    assert [e.text for e in entries(at.path) if isinstance(e, Note)] == ["shift ends"]


async def test_an_act_that_breaks_after_it_was_stored_says_that_it_was_stored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    whole = acts.tighten

    def breaks(*given: Any) -> str:
        whole(*given)
        raise ZeroDivisionError

    monkeypatch.setattr(acts, "tighten", breaks)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        said = seen(app)
        assert "STORED, THEN A FAULT" in said
        assert "NOT STORED" not in said
        assert f"stored: entry {len(entries(at.path))}, tightened" in said
    assert len([e for e in entries(at.path) if isinstance(e, Tightened)]) == 1


async def test_a_flow_that_breaks_says_what_it_had_stored_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)

    async def breaks(screen: WorkScreen) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(WorkScreen, "leave_and_resume", breaks)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("x")
        await settle(pilot, lambda: "shift ends" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "For whoever goes on" in seen(app))
        await pilot.press("escape")
        await settle(pilot, lambda: "THEN A FAULT" in seen(app))
        assert "note, Ines" in seen(app)


async def test_a_refused_stop_keeps_its_crew_at_the_screen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from splitline.errors import RecordError

    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)

    def full(*_: Any, **__: Any) -> Any:
        raise RecordError("NOT stored: no space left on device")

    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        monkeypatch.setattr(Desk, "store", full)
        await pilot.press("x")
        await settle(pilot, lambda: "shift ends" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "For whoever goes on" in seen(app))
        await pilot.press("escape")
        await settle(pilot, lambda: "no space left" in seen(app))
        assert app.work.desk.person == "Ines"


# a driver: random keys and taps, two in a frame now and then

_NAMED = "enter enter enter escape escape up down left right tab shift+tab backspace space f1 f2"
_KEYS = [
    *"abcdehinmrstuwxy0123456789.-? ",
    *_NAMED.split(),
]
_DEEPEST = 5  # work, paper or record, a sheet on it, the question whether to leave


def _taps(app: Any) -> Iterable[Target]:
    return [each for each in app.screen.query(Target) if each.display]


async def drive(app: WorkApp, acts_: int, seed: int) -> int:
    """Act at random; how many acts reached a fitter's screen. Fails on a stuck sheet or a fault of the program."""
    rng = random.Random(seed)
    reached = 0
    async with app.run_test(size=(80, 24)) as pilot:
        for number in range(acts_):
            if not any(isinstance(screen, WorkScreen) for screen in app.screen_stack):
                await pilot.pause()
                while len(app.screen_stack) > 1:  # what the rest of that frame opened on the list of plans
                    app.pop_screen()
                    await pilot.pause()
                app.work = WorkScreen(app.target, Desk(app.target, app.clock, app.assessor))
                app.work.armed = 0.0
                app.work.pace = Pace(0.0)
                app.push_screen(app.work)
                await pilot.pause()
            reached += 1
            _act(app, rng)
            if rng.random() < 0.7:
                await pilot.pause()
            assert app._exception is None, f"act {number}: {app._exception!r}"
            assert app.is_running, f"act {number} ended the program"
            names = sheets(app)
            assert len(names) <= _DEEPEST, names
            assert names.count("WorkScreen") <= 1, names
            most = 2 if "DangerScreen" in names else 1  # it lies over whatever is being asked, and asks for its release
            assert sum(isinstance(screen, Question) for screen in app.screen_stack) <= most, (number, names)
            if number % 10 == 0:
                _sound(app, number)
        await _out(app, pilot)
    return reached


def _act(app: Any, rng: random.Random) -> None:
    twice = 2 if rng.random() < 0.3 else 1
    found = list(_taps(app))
    if isinstance(app.screen, (PaperScreen, RecordScreen)) and rng.random() < 0.2:
        in_one_frame(app, "escape")
    elif found and rng.random() < 0.6:
        hit = rng.choice(found)
        for _ in range(twice):
            hit.action_press()
    elif app.screen.query(Input) and rng.random() < 0.5:
        in_one_frame(app, *rng.choice(["7", "B12", "0310"]), "enter")
    else:
        in_one_frame(app, *(rng.choice(_KEYS) for _ in range(rng.choice([1, 1, 2, 3]))))


def _sound(app: Any, number: int) -> None:
    said = [text for screen in app.screen_stack if isinstance(screen, Question) for text, _ in screen._lines]
    work = next((s for s in app.screen_stack if isinstance(s, WorkScreen)), None)
    if work is not None:
        said += [text for text, _ in work.shown.lines] if work.shown is not None else []
        said.append(work._said.text)
    bad = [text for text in said if "fault of" in text]
    assert not bad, f"act {number}: {bad}"


async def _out(app: Any, pilot: Pilot[None]) -> None:
    """Esc and Back lead to the fitter's screen from anywhere, and More › Leave away from it."""
    for _ in range(60):
        await pilot.pause(0.01)
        if isinstance(app.screen, DangerScreen):  # stays until it is released; its Leave always leads away
            target(app, "leave").action_press()
            continue
        if isinstance(app.screen, WorkScreen) and not app.screen._busy:
            break
        if len(app.screen_stack) == 1:
            return
        leave = [each for each in _taps(app) if each.ident == "yes" and "Leave" in each.label]
        if leave:
            leave[0].action_press()
        else:
            in_one_frame(app, "escape")
    assert isinstance(app.screen, WorkScreen), f"stuck: {sheets(app)}: {seen(app)}"
    if not app.screen.shown.key.startswith("waits "):
        app.screen.action_flow("more")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        for _ in range(100):
            if [each for each in _taps(app) if each.ident == "leave"]:
                break
            for more in [each for each in _taps(app) if each.label.startswith("More")][:1]:
                more.action_press()  # none while the list is still being laid
            await pilot.pause(0.02)
        target(app, "leave").action_press()
        await settle(pilot, lambda: len(app.screen_stack) == 1)


class Driven(WorkApp):
    def __init__(self, path: Path, clock: Ticking, assess: Any) -> None:
        self.clock, self.assessor = clock, assess
        super().__init__(path, Desk(path, clock, assess))

    async def action_quit(self) -> None:
        """Not taken: keys of one frame may leave the fitter's screen, ask whether to end the program, and say yes."""


@pytest.mark.parametrize("seed", [1, 2])
async def test_random_taps_trap_nobody(tmp_path: Path, seed: int) -> None:
    path = plan_file(tmp_path)
    assert await drive(Driven(path, Ticking(), assessor), 200, seed) == 200
    if path.with_name("cover.record.toml").exists():
        assert verify(path).ok


@pytest.mark.long
@pytest.mark.skipif("SPLITLINE_LONG" not in os.environ, reason="50,000 acts: set SPLITLINE_LONG=1 to run")
@pytest.mark.parametrize("seed", range(25))
async def test_fifty_thousand_acts_trap_nobody(tmp_path: Path, seed: int) -> None:
    from splitline.assess.each_alone import assessed

    if seed % 2:
        path, assess = plan_file(tmp_path), assessor
    else:
        path, assess = tmp_path / "demo.toml", assessed
        shutil.copy(DEMO, path)
    assert await drive(Driven(path, Ticking(), assess), 2000, seed) == 2000
    assert verify(path).ok


async def test_the_cursor_finds_a_box_while_the_boxes_are_being_laid_anew(tmp_path: Path) -> None:
    """Seen in 50,000 acts: back from a question in the moment when one box of the new instruction stood and two were told."""
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        for each in list(app.work.query(Target))[1:]:
            await each.remove()
        app.work._answers = (
            Answer("accept", "Accept", "a", guarded=True),
            Answer("wrong", "Correction", "w"),
            *app.work._answers,
        )
        app.work.on_screen_resume()
        app.work._focus(0)
        assert isinstance(app.focused, Target)


async def test_keys_that_come_before_what_they_open_stands_do_nothing(tmp_path: Path) -> None:
    """Seen in 50,000 acts: the keys of one frame reached a list and a paper table before they were composed."""
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        listed = StepsScreen(app.work.now.states, "")
        app.push_screen(listed)
        await app.run_action("move(1)", listed)
        await settle(pilot, lambda: listed.is_mounted and app.screen is listed)
        await app.run_action("back", listed)
        await settle(pilot, lambda: app.screen is app.work)
        paper = PaperScreen(at.path)
        app.push_screen(paper)
        await app.run_action("command('back')", paper)
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        assert app._exception is None


async def test_a_box_whose_instruction_has_gone_takes_no_touch(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        gone = target(app, "done")
        await gone.remove()
        before = len(entries(at.path))
        gone.action_press()
        for key in ("enter", "m"):
            gone._forward_event(events.Key(key, None))
        await pilot.pause()
        assert app._exception is None
        assert len(entries(at.path)) == before
