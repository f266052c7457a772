"""A touch counts for the picture it was made on: what was on the glass, in which order, how fast."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from splitline.record.entry import Tightened
from splitline.ui.glass import Touched
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.pulls import Pace
from tests.ui.test_work_desk import started
from tests.ui.test_work_screen import WorkApp, app_for, begun, entries, seen, settle, target


def pulls(path: Path) -> list[tuple[int, ...]]:
    return [entry.bolts for entry in entries(path) if isinstance(entry, Tightened)]


def touch(app: WorkApp, picture: int, *idents: str) -> None:
    """Taps in one frame of the link, made on a picture."""
    app.post_message(Touched(picture))
    for ident in idents:
        region = target(app, ident).region
        x, y = region.x + region.width // 2, region.y + region.height // 2
        for kind in (events.MouseDown, events.MouseUp):
            app.post_message(kind(None, x, y, 0, 0, 1, False, False, False, x, y))


async def at_work(pilot: Pilot[None], app: WorkApp) -> None:
    await begun(pilot, app)
    app.glass.written += 10  # a driver that numbers what it writes


async def test_a_tap_on_the_instruction_before_is_refused_and_said(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_work(pilot, app)
        old = app.glass.written
        assert app.work.shown is not None
        first = app.work.shown.bolts
        touch(app, old, "done")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts != first)
        touch(app, old, "done")  # the second tap of a slow link, on the picture of the first
        await settle(pilot, lambda: "look again" in seen(app))
        assert pulls(at.path) == [first]
        app.glass.written += 5
        second = app.work.shown.bolts
        touch(app, app.glass.written, "done")  # once seen, it counts
        await settle(pilot, lambda: len(pulls(at.path)) == 2)
        assert pulls(at.path) == [first, second]


async def test_a_second_pull_faster_than_a_stroke_is_asked(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        now = [100.0]
        app.work.pace = Pace(2.0, lambda: now[0])
        await pilot.press("enter")
        await settle(pilot, lambda: len(pulls(at.path)) == 1)
        now[0] += 1.0
        await pilot.press("enter")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        assert "pulled so soon?" in seen(app)
        await pilot.press("enter")  # the cursor stands on Back
        await settle(pilot, lambda: app.screen is app.work)
        assert len(pulls(at.path)) == 1
        now[0] += 3.0
        await pilot.press("enter")
        await settle(pilot, lambda: len(pulls(at.path)) == 2)


@pytest.mark.parametrize("number", ["1.35", "0.15", "907.6", "4.42"])
async def test_taps_of_one_frame_stand_in_their_order(tmp_path: Path, number: str) -> None:
    app = app_for(started(tmp_path).path)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        given: list[str | None] = []
        pad = PadScreen("Gap", units=("mm",))
        app.push_screen(pad, given.append)
        await settle(pilot, lambda: pad.is_current and not pad.dark)
        app.glass.written += 10
        touch(app, app.glass.written, *number)
        await settle(pilot, lambda: len(pad.typed) == len(number))
        assert pad.typed == number


async def test_enter_before_the_number_was_seen_is_asked(tmp_path: Path) -> None:
    app = app_for(started(tmp_path).path)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        given: list[str | None] = []
        pad = PadScreen("Gap", units=("mm",))
        app.push_screen(pad, given.append)
        await settle(pilot, lambda: pad.is_current and not pad.dark)
        app.glass.written += 10
        touch(app, app.glass.written, "0", ".", "1", "5", "Enter")
        await settle(pilot, lambda: "Enter was touched before" in seen(app))
        assert given == []
        app.glass.written += 5
        touch(app, app.glass.written, "Enter")
        await settle(pilot, lambda: given != [])
        assert given == ["0.15 mm"]
