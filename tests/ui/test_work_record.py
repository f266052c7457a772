"""The record's pages and screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.app import App

from splitline.record.as_built import build
from splitline.ui.app import SplitlineApp
from splitline.ui.record_screen import RecordScreen
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.record_rows import details, page, sections
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import started, task
from tests.ui.test_work_screen import seen, settle
from tests.ui.work_helpers import assessor


@pytest.fixture(name="at")
def at_fixture(tmp_path: Path) -> Desk:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    acts.set_aside(at, task(at), (6,), "galled [bold]")
    acts.read(at, task(at), task(at).readings[0], 4.7e-4, "0.47 mm", bolt=1)
    acts.accept(at, task(at).stop, "Aiko", "by drawing")
    acts.tighten(at, task(at))
    acts.strike(at, at.journal.refresh().entries[-1].number, "wrong stud")
    acts.note(at, "stud 6 is galled", "handover")
    return at


def said(at: Desk, key: str, cells: int = 78) -> str:
    now = at.refresh()
    built = build(at.job, now.record, now.at)
    lines = page(built, now.record.entries, key, cells, "SI")
    return "\n".join("".join(text for text, _ in line.row) for line in lines)


def test_pages_tell_everything(at: Desk) -> None:
    now = at.refresh()
    built = build(at.job, now.record, now.at)
    assert [key for key, _ in sections(built)] == ["summary", "joint head", "items", "deviations", "entries"]
    assert "every entry stands" in said(at, "summary")
    assert "handover: stud 6 is galled" in said(at, "summary")
    joint = said(at, "joint head")
    assert "   1  06:00 25 bar Ines" in joint
    assert "▲ stretch 0.47 mm  outside" in joint
    assert "⊘ deferred in snug: galled [bold]" in joint
    deviations = said(at, "deviations")
    for words in (
        "accepted by Aiko: by drawing",
        "⊘ stud 6, Discharge head cover snug: galled",
        "struck (stud 2, Discharge head cover snug): wrong stud",
    ):
        assert words in deviations
    assert "tightened: studs 1 + 5, Discharge head cover snug" in said(at, "entries")
    assert "nothing recorded" in said(at, "items")


def test_the_details_of_an_entry_leave_the_plan_text_out(at: Desk) -> None:
    first = at.journal.record.entries[0]
    assert first.kind == "plan"
    assert not any(text.startswith("text:") for text, _ in details(first))


async def test_pages_turn_and_verify_says(at: Desk) -> None:
    app: App[None] = SplitlineApp(at.path.parent)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = RecordScreen(at.path, Desk(at.path, Ticking(), assessor, view_only=True))
        app.push_screen(screen)
        await settle(pilot, lambda: "Order of work" in seen(app))
        assert "every entry stands" in seen(app)  # from its top, not from the first note
        await pilot.press("right")
        await settle(pilot, lambda: screen.page == "joint head")
        assert "25 bar" in seen(app)
        await pilot.press("v")
        await settle(pilot, lambda: "entries stand as they were written" in seen(app))
        data = at.journal.paths.record.read_bytes()
        at.journal.paths.record.write_bytes(data.replace(b"galled [bold]", b"greasy [bold]"))
        await pilot.press("v")
        await settle(pilot, lambda: "was altered" in seen(app))
