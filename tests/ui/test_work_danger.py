"""DANGER stops every screen of the plan at once; only another named person in a role releases it, with words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from splitline.errors import RecordError
from splitline.record.entry import Accepted, Note, Tightened
from splitline.record.evidence import verify
from splitline.record.stops import all_stops
from splitline.ui.work import acts
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.danger import DangerScreen, large
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Limits
from tests.ui.test_work_desk import started, task
from tests.ui.test_work_screen import WorkApp, app_for, begun, entries, seen, settle, target
from tests.ui.work_helpers import assessor, desk


def stop_of(at: Desk) -> Any:
    return next(stop for stop in at.refresh().stops if stop.key.startswith("danger"))


def test_nothing_but_words_is_stored_on_any_screen_until_another_person_releases_it(tmp_path: Path) -> None:
    at = started(tmp_path)
    other = desk(at.path, "Tomas", at.clock)
    pull = task(at)
    acts.call_danger(other, "Discharge head studs", "head")
    for tried in (
        lambda: acts.tighten(at, pull),
        lambda: acts.read(at, pull, Limits("gap", "length"), 1e-5, "0.01 mm"),
        lambda: acts.set_aside(at, pull, (1,), "galled"),
        lambda: acts.sign(at, pull, "done"),
        lambda: acts.strike(at, 2, "wrong"),
    ):
        with pytest.raises(RecordError, match="DANGER was called by Tomas"):
            tried()
    acts.note(at, "pump is off")
    assert task(at).middle == "DANGER"
    key = stop_of(at).key
    with pytest.raises(RecordError, match="another person"):
        acts.release(at, key, "tomas ", "supervisor", "safe")
    with pytest.raises(RecordError, match="role"):
        acts.release(at, key, "Aiko", "", "safe")
    with pytest.raises(RecordError, match="reason"):
        acts.release(at, key, "Aiko", "supervisor", " ")
    acts.release(at, key, "Aiko", "supervisor", "hose changed, pressure off")
    at.refresh()
    acts.tighten(at, task(at))
    found = entries(at.path)
    assert [e.bolts for e in found if isinstance(e, Tightened)] == [(1, 5)]
    (release,) = [e for e in found if isinstance(e, Accepted)]
    assert (release.done_by, release.role, release.reason) == ("Aiko", "supervisor", "hose changed, pressure off")
    deviation = next(s for s in all_stops(at.job, at.journal.record, at.clock()) if s.key == key)
    assert deviation.accepted is not None
    assert verify(at.path).ok


def test_a_danger_is_never_struck(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.call_danger(at, "Discharge head studs")
    with pytest.raises(RecordError):
        acts.strike(at, at.journal.record.count, "wrong words")
    acts.release(at, stop_of(at).key, "Aiko", "lead", "hose changed")
    number = next(e.number for e in entries(at.path) if isinstance(e, Note))
    with pytest.raises(RecordError, match="never struck"):
        acts.strike(at, number, "wrong words")


async def test_the_touch_stores_it_and_the_screen_turns_red(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("x")
        await settle(pilot, lambda: "shift ends" in seen(app))
        first = next(iter(app.screen.query("Target")))
        assert (first.ident, first.look, first.has_focus) == ("DANGER: make safe first", "danger", False)
        await pilot.click(first)
        await settle(pilot, lambda: isinstance(app.screen, DangerScreen))
        (note,) = [e for e in entries(at.path) if isinstance(e, Note)]
        assert note.topic == "danger"
        await settle(pilot, lambda: "██████" in seen(app))
        await pilot.press("escape", "enter", "m")
        assert isinstance(app.screen, DangerScreen)
        await pilot.click(target(app, "release"))
        await settle(pilot, lambda: "as whom" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "who" in seen(app) and "Tomas" in seen(app))
        await pilot.press("1")  # Ines, who called it
        await settle(pilot, lambda: "What was made safe" in seen(app))
        await pilot.press("o", "k", "enter")
        await settle(pilot, lambda: "NOT RELEASED" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: isinstance(app.screen, DangerScreen))
        await pilot.press("r")
        await settle(pilot, lambda: "as whom" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "Tomas" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "What was made safe" in seen(app))
        await pilot.press("o", "k", "enter")
        await settle(pilot, lambda: app.screen is app.work)
    (release,) = [e for e in entries(at.path) if isinstance(e, Accepted)]
    assert (release.done_by, release.role) == ("Tomas", "lead")


async def test_another_screen_turns_red_over_what_it_was_asking(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    other = desk(at.path, "Tomas", at.clock)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("m")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        acts.call_danger(other, "Discharge head studs")
        await settle(pilot, lambda: isinstance(app.screen, DangerScreen))
        await settle(pilot, lambda: "Called by Tomas" in seen(app))
        acts.release(other, stop_of(other).key, "Aiko", "lead", "hose changed")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))


async def test_a_view_shows_it_and_cannot_release_it(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.call_danger(at, "Discharge head studs")
    app = WorkApp(at.path, Desk(at.path, at.clock, assessor, True), True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: isinstance(app.screen, DangerScreen))
        assert [each.ident for each in app.screen.query("Target")] == ["leave"]
        await pilot.click(target(app, "leave"))
        await settle(pilot, lambda: len(app.screen_stack) == 1)


@pytest.mark.parametrize(("cells", "rows"), [(76, 14), (96, 20), (156, 40), (40, 8), (10, 3)])
def test_the_word_fills_what_there_is_and_never_more(cells: int, rows: int) -> None:
    lines = large(cells, rows)
    assert all(len(line) <= cells for line in lines)
    assert len(lines) <= rows
    assert cells < 40 or len(lines) >= 5
