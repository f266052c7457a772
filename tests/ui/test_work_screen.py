"""The fitter's screen, driven by keys and by taps."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from splitline.record.entry import Entry, Measured, Note, SetAside, Signed, Tightened, WrongEntry
from splitline.record.journal import Journal
from splitline.ui import app as application
from splitline.ui.app import SplitlineApp
from splitline.ui.draw.letters import letters
from splitline.ui.work import acts, seat
from splitline.ui.work.body import Body
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.pulls import Pace
from splitline.ui.work.screen import WorkScreen
from splitline.ui.work.target import Target
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import set_up, started, task
from tests.ui.work_helpers import PLAN, assessor, desk, plan_file


class WorkApp(SplitlineApp):
    """The application with a given fitter's screen on it and nothing else."""

    CSS_PATH = Path(str(application.__file__)).with_name("splitline.tcss")

    def __init__(self, path: Path, at: Desk, view_only: bool = False) -> None:
        super().__init__(path, work_only=True, view_only=view_only)
        self.work = WorkScreen(path, at)
        self.work.armed = 0.0
        self.work.pace = Pace(0.0)

    def open_work(self, path: Path) -> None:
        self.push_screen(self.work)


def app_for(path: Path, clock: Ticking | None = None, view_only: bool = False) -> WorkApp:
    return WorkApp(path, Desk(path, clock or Ticking(), assessor, view_only), view_only)


async def settle(pilot: Pilot[None], until: Any) -> None:
    """Wait for something that comes by itself; long enough for a busy machine, a moment on a free one."""
    for _ in range(500):
        await pilot.pause(0.02)
        if until():
            return
    pytest.fail(f"never came: {seen(pilot.app)}")


def large(app: WorkApp, text: str) -> bool:
    """Whether the middle of the fitter's screen says so in capitals."""
    body = app.work.query_one(Body)
    shown = {"".join(text for text, _ in row) for row in body._rows}
    widths = range(body.content_region.width, 20, -1)  # beside the map it has less of the screen
    drawn = {tuple(letters(text, cells, lines)) for cells in widths for lines in range(1, 9)} - {()}
    return any(all(any(part in row for row in shown) for part in each) for each in drawn)


def seen(app: Any) -> str:
    """Text on the screen now."""
    found = re.findall(r">([^<]*)</text>", app.export_screenshot())
    return "\n".join(found).replace("&#160;", " ").replace("&#x27;", "'")


def entries(path: Path) -> tuple[Entry, ...]:
    return Journal(path).refresh().entries


def target(app: Any, ident: str) -> Target:
    return next(each for each in app.screen.query(Target) if each.ident == ident)


async def test_a_shift_by_keys_alone(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "Go on" in seen(app))
        assert "Last entry" in seen(app)
        await pilot.press("enter")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (1, 5))
        await settle(pilot, lambda: app.screen is app.work)
        assert "██" in seen(app)
        await pilot.press("enter")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (2, 6))
        assert "stored 06:00  studs 1 + 5  25 bar" in seen(app)
        assert [e.bolts for e in entries(at.path) if isinstance(e, Tightened)] == [(1, 5)]


async def test_a_shift_by_touch_alone(tmp_path: Path) -> None:
    app = app_for(plan_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Tomas" in seen(app))
        await pilot.click(target(app, "Tomas"))
        await settle(pilot, lambda: app.screen is app.work and bool(app.work.query(Target)))
        assert all(each.region.height >= 3 and each.region.bottom <= 24 for each in app.work.query(Target))
        await pilot.click(target(app, "start"))
        await settle(pilot, lambda: target(app, "done") is not None)
        await pilot.click(target(app, "done"))
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.kind == "set-up")
    assert [e.done_by for e in entries(app.target) if isinstance(e, Signed)] == ["Tomas", "Tomas"]


async def begun(pilot: Pilot[None], app: WorkApp) -> None:
    """Take the first seat and go on."""
    await settle(pilot, lambda: "Who works here?" in seen(app))
    await pilot.press("enter")
    await settle(pilot, lambda: "Go on" in seen(app))
    await pilot.press("enter")
    await settle(pilot, lambda: app.screen is app.work)


async def test_a_reading_on_the_pad_is_judged_while_typed(tmp_path: Path) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("r")
        await settle(pilot, lambda: "What was read" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "Which stud" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "stretch: read with which instrument" in seen(app))
        await pilot.press("2")  # not noted
        await settle(pilot, lambda: "accepted 0.036 mm to 0.046 mm" in seen(app))
        assert all(each.region.height >= 3 and each.region.bottom <= 24 for each in app.screen.query(Target))
        await pilot.press("0", "comma", "0", "4", "9")
        await settle(pilot, lambda: "OUTSIDE" in seen(app))
        await pilot.press("backspace", "1", "enter")
        await settle(pilot, lambda: app.screen is app.work)
        await settle(pilot, lambda: "inside its limits" in seen(app))
    (reading,) = [e for e in entries(at.path) if isinstance(e, Measured)]
    assert (reading.bolt, reading.typed, reading.value) == (5, "0.041 mm", pytest.approx(4.1e-5))


async def test_wrong_entry_and_set_aside_ask_for_a_reason(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("w")
        await settle(pilot, lambda: "Which entry is wrong" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "not done after all" in seen(app))
        await pilot.press("3")
        await settle(pilot, lambda: any(isinstance(e, WrongEntry) for e in entries(at.path)))
        await settle(pilot, lambda: app.screen is app.work)
        await pilot.press("m")
        await settle(pilot, lambda: "Defer" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "stays open until" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "galled" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: any(isinstance(e, SetAside) for e in entries(at.path)))
    last = entries(at.path)[-1]
    assert isinstance(last, SetAside)
    assert last.reason == "galled"


async def test_studs_set_aside_are_asked_about_before_they_count_as_done(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.set_aside(at, task(at), (1, 3), "galled")
    acts.tighten(at, task(at))
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: "tightened after all?" in seen(app))
        await pilot.press("enter")  # the cursor stands on Back
        await settle(pilot, lambda: app.screen is app.work)
        assert isinstance(entries(at.path)[-1], Tightened)
        assert entries(at.path)[-1].bolts == (2, 4)
        await pilot.press("enter")
        await settle(pilot, lambda: "tightened after all?" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: entries(at.path)[-1].bolts == (1, 3))


async def test_stop_work_hands_over_to_the_next_name(tmp_path: Path) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("x")
        await settle(pilot, lambda: "shift ends" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "For whoever goes on" in seen(app))
        await pilot.press(*"stud 7 dry", "enter")
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "Go on" in seen(app))
        assert "Ines stopped 01 Mar 06:00: shift ends" in seen(app)
        assert "“stud 7 dry”" in seen(app)
    assert [(e.topic, e.text) for e in entries(at.path) if isinstance(e, Note)] == [
        ("stop work", "shift ends"), ("handover", "stud 7 dry"),
    ]  # fmt: skip
    assert desk(at.path, "Aiko").refresh().others == ()


async def test_a_set_up_asks_lubricant_batch_tool_and_calibration(tmp_path: Path) -> None:
    at = desk(plan_file(tmp_path))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: "Lubricant on thread" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "Batch of the lubricant" in seen(app))
        await pilot.press("b", "7", "enter")
        await settle(pilot, lambda: "Tool in your hands" in seen(app))
        await pilot.press("2")
        await settle(pilot, lambda: "Serial number of wrench W2" in seen(app))
        await pilot.press("9", "enter")
        await settle(pilot, lambda: "runs out on" in seen(app))
        await pilot.press(*"20990131", "enter")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.kind == "bolts")
    found = entries(at.path)[-1]
    assert isinstance(found, Signed)
    assert (found.lubricant, found.batch, found.tool, found.serial, str(found.calibration_due)) == (
        "molybdenum disulfide paste", "b7", "wrench W2", "9", "2099-01-31",
    )  # fmt: skip


async def test_a_later_pass_is_set_up_as_the_one_before_with_one_tap(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.tighten(at, task(at))
    acts.tighten(at, task(at))
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: "As before" in seen(app))
        assert "Look at the tin" in seen(app)
        await pilot.press("1")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.kind == "bolts")
    snug, first = (e for e in entries(at.path) if isinstance(e, Signed) and e.act == "set-up")
    assert first.pass_ == "1"
    assert (first.lubricant, first.batch, first.tool, first.serial) == (
        snug.lubricant, snug.batch, snug.tool, snug.serial,
    )  # fmt: skip


async def test_a_joint_without_a_planned_lubricant_says_what_its_torque_is_for(tmp_path: Path) -> None:
    text = PLAN.replace('lubricant = "molybdenum disulfide paste"', "thread = 0.12\nbearing = 0.14")
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    app = app_for(at.path)
    async with app.run_test(size=(100, 32)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: "The plan names none" in seen(app))
        assert "0.12" in seen(app)
        assert "0.14" in seen(app)


async def test_a_double_tap_does_not_reach_the_next_studs(tmp_path: Path) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        app.work.armed = 5.0
        app.work._since -= 10.0
        await pilot.click(target(app, "done"), times=2)
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (2, 6))
        await pilot.pause(0.1)
    assert sum(isinstance(e, Tightened) for e in entries(at.path)) == 1


async def test_what_another_crew_stores_is_on_this_screen_within_two_seconds(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    at.leave_seat()
    app = app_for(at.path, clock=clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        other = desk(at.path, "Tomas", clock)
        set_up(other)
        acts.tighten(other, task(other))
        assert task(other).bolts == (3, 7)
        for _ in range(20):
            await pilot.pause(0.1)
            shown = app.work.shown
            if shown and {m.bolt: m.mark for m in shown.marks}.get(2) == "✓" and "3 + 7 taken by Tomas" in seen(app):
                return
        pytest.fail(seen(app))


async def test_a_hold_point_is_signed_with_a_name_from_the_crew(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        assert large(app, "hold point")
        await pilot.press("s")
        await settle(pilot, lambda: "Sign as lead" in seen(app))
        assert "I have seen: Every fastener of these passes" in seen(app)
        await pilot.press("3")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.title == "Total float")
    found = entries(at.path)[-1]
    assert isinstance(found, Signed)
    assert (found.done_by, found.entered_by) == ("Aiko", "Ines")


async def test_view_only_shows_and_offers_nothing(tmp_path: Path) -> None:
    at = started(tmp_path)
    before = len(entries(at.path))
    app = app_for(at.path, view_only=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == (1, 5))
        await settle(pilot, lambda: "view only" in seen(app))
        await pilot.press("enter", "w", "r")
        assert not app.work.query(Target)
    assert len(entries(at.path)) == before


async def test_what_cannot_be_stored_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)

        def full(fd: int) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(app.work.desk.journal, "_sync", full)
        await pilot.press("enter")
        await settle(pilot, lambda: "NOT stored: No space left" in seen(app))
        assert app.work.shown is not None
        assert app.work.shown.bolts == (1, 5)
    assert not any(isinstance(e, Tightened) for e in entries(at.path))


async def test_a_long_list_comes_in_pages_that_fit(tmp_path: Path) -> None:
    app = app_for(plan_file(tmp_path))
    given: list[str | None] = []
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        names = [Choice(f"n{i}", f"Name {i}", "a note") for i in range(31)]
        app.push_screen(ChoiceScreen("Many", names, (("one line", ""),)), given.append)
        await settle(pilot, lambda: "Name 0" in seen(app))
        for _ in range(8):
            assert all(each.region.height >= 3 and each.region.bottom <= 24 for each in app.screen.query(Target))
            if "Name 30" in seen(app):
                break
            more = target(app, "\0next")
            await pilot.click(more)
            await settle(pilot, lambda before=more: before not in app.screen.query(Target))
        await pilot.click(target(app, "n30"))
        await settle(pilot, lambda: given == ["n30"])


@pytest.mark.parametrize(("answer", "plans"), [("enter", 2), ("escape", 1)])
async def test_a_changed_plan_is_shown_before_it_is_worked_by(tmp_path: Path, answer: str, plans: int) -> None:
    at = started(tmp_path)
    at.leave_seat()
    head, *steps = at.path.read_text("utf-8").replace("0.40 mm", "0.45 mm").split("[[step]]")
    at.path.write_text("[[step]]".join([head, *reversed(steps)]), "utf-8")
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "The plan was changed since" in seen(app))
        assert "moved: order of step: was " in seen(app)
        assert "changed: clearance Total float" in seen(app)
        assert "high: was 0.40 mm, now 0.45 mm" in seen(app)
        await pilot.press(answer)
        await settle(pilot, lambda: "Go on" in seen(app) if answer == "enter" else app.work not in app.screen_stack)
    assert sum(entry.kind == "plan" for entry in entries(at.path)) == plans


async def test_a_fault_of_the_program_is_said_and_does_not_take_the_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)

        def broken(*_: object) -> None:
            raise ZeroDivisionError("float division")

        monkeypatch.setattr("splitline.ui.work.desk.task_now", broken)
        await app.work.update()
        await settle(pilot, lambda: "ZeroDivisionError" in seen(app))
        assert "Work from the printed sheet" in seen(app)
        monkeypatch.undo()
        await app.work.update()
        await settle(pilot, lambda: "STUDS" in seen(app))


async def test_a_long_title_gives_way_to_the_pass(tmp_path: Path) -> None:
    at = started(tmp_path)
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        assert app.work.shown is not None
        long = "Discharge head cover studs of the recycle machine, final tightening after hydrotest"
        app.work._show_head(replace(app.work.shown, title=long))
        await pilot.pause()
        text = seen(app)
        for word in ("Discharge head", "…", app.work.shown.middle, app.work.shown.right, "Ines"):
            assert word in text


@pytest.mark.parametrize(("kind", "noun"), [("bolt", "bolt"), ("cap-screw", "screw"), ("through-stud", "stud")])
async def test_a_stop_is_said_in_the_words_of_its_joint_and_accept_is_never_under_the_cursor(
    tmp_path: Path, kind: str, noun: str
) -> None:
    at = started(tmp_path, bolts=4)
    at.path.write_text(
        at.path.read_text("utf-8").replace("[joint.layout]", f'[joint.bolting]\nkind = "{kind}"\n[joint.layout]')
    )
    at.load()
    acts.read(at, task(at), task(at).readings[0], 4.7e-5, "0.047 mm", bolt=3)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "plan was changed" in seen(app) or "Go on" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "Last entry" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: app.screen is app.work and app.work.shown is not None and bool(app.work._answers))
        await settle(pilot, lambda: large(app, "STOPPED"))
        assert "STOPPED" not in seen(app)  # it is said once
        assert app.work.shown is not None
        assert f"stretch of {noun} 3 reads 0.047 mm, outside its limits" in app.work.shown.lines[1][0]
        assert large(app, app.work.shown.lines[1][0]) or app.work.shown.lines[1][0] in seen(app)
        focused = app.focused
        assert isinstance(focused, Target)
        assert focused.ident == "wrong"
        for place in range(len(app.work._answers)):
            app.work._focus(place)
            await pilot.pause()
            assert isinstance(app.focused, Target)
            assert app.focused.ident != "accept"


async def test_leaving_for_the_list_forgets_the_seat(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(seat.PLACE, str(tmp_path / "place.json"))
    path = plan_file(tmp_path)
    app = app_for(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Tomas" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: app.work.shown is not None and app.screen is app.work)
        assert seat.remembered(path) == "Ines"
        app.work.leave()
        await pilot.pause()
        assert seat.remembered(path) == ""


@pytest.mark.parametrize(("size", "high"), [((80, 24), 3), ((82, 52), 5)])
async def test_the_number_pad_is_larger_where_there_is_room(tmp_path: Path, size: tuple[int, int], high: int) -> None:
    app = app_for(plan_file(tmp_path))
    async with app.run_test(size=size) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        app.push_screen(PadScreen("Torque"))
        await settle(pilot, lambda: isinstance(app.screen, PadScreen) and bool(app.screen.query(Target)))
        await settle(pilot, lambda: {each.region.height for each in app.screen.query(Target)} == {high})
        assert all(each.region.bottom <= size[1] for each in app.screen.query(Target))


async def test_what_cannot_be_pressed_has_a_broken_frame(tmp_path: Path) -> None:
    app = app_for(started(tmp_path).path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        assert "╌╌╌" not in seen(app)
        target(app, "reading").ready = False
        target(app, "reading").refresh()
        await settle(pilot, lambda: "╌╌╌" in seen(app))
        app.work.say_here("nothing was kept", "fails")
        await settle(pilot, lambda: "▲ nothing was kept" in seen(app))


async def test_a_lapsed_tool_is_said_before_it_is_taken_and_a_set_up_is_struck_for_its_own_reasons(
    tmp_path: Path,
) -> None:
    path = plan_file(tmp_path)
    path.write_text(
        path.read_text("utf-8").replace("calibration_due = 2099-01-01", "calibration_due = 2020-01-01"), "utf-8"
    )
    at = desk(path)
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    app = app_for(path)
    async with app.run_test(size=(100, 32)) as pilot:
        await begun(pilot, app)
        await pilot.press("enter")
        await settle(pilot, lambda: "Lubricant on thread" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "Batch of the lubricant" in seen(app))
        await pilot.press("b", "7", "enter")
        await settle(pilot, lambda: "CALIBRATION LAPSED 2020-01-01" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "ran out on 2020-01-01" in seen(app))
        assert target(app, "\0back").has_focus
        await pilot.press("1")
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.kind == "stopped")
        await pilot.press("w")
        await settle(pilot, lambda: "set-up snug: molybdenum" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "wrong calibration date" in seen(app))


async def test_work_stopped_in_a_hold_because_the_pump_failed_breaks_the_hold(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    text = path.read_text("utf-8")
    head, *steps = text.split("[[step]]")
    path.write_text(f"{head}[[step]]{next(each for each in steps if 'fit =' in each)}", "utf-8")
    at = desk(path)
    at.stand_plan()
    now = task(at)
    assert now.kind == "mounting"
    acts.read(at, now, now.readings[0], 1e-5, "0.01 mm")
    acts.sign(at, task(at), "mounting", "Aiko")
    app = app_for(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.part == "2")
        await pilot.press("x")
        await settle(pilot, lambda: "Stop work" in seen(app) and "pump failed" in seen(app))
        await pilot.press("3")
        await settle(pilot, lambda: "For whoever goes on" in seen(app))
        await pilot.press("escape")
        await settle(pilot, lambda: "Who works here?" in seen(app))
    assert [(e.topic, e.text) for e in entries(path) if isinstance(e, Note)] == [
        ("pressure lost", "pump failed"), ("stop work", "pump failed"),
    ]  # fmt: skip


async def test_the_habit_of_done_never_says_that_a_nut_stood_still(tmp_path: Path) -> None:
    """The box under the last tap on Done, and the one Enter presses, both cost a round; standing still takes its own key."""
    at = started(tmp_path, bolts=4)
    while (now := task(at)).pass_ != "round 1" or now.kind == "set-up":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await settle(pilot, lambda: bool(app.work._answers) and isinstance(app.focused, Target))
        assert [each.id for each in app.work._answers][:2] == ["moved", "done"]
        assert isinstance(app.focused, Target)
        assert app.focused.ident == "moved"
        await pilot.press("d")
        await settle(pilot, lambda: any(isinstance(e, Tightened) and e.pass_ == "round 1" for e in entries(at.path)))
    last = [e for e in entries(at.path) if isinstance(e, Tightened)][-1]
    assert (last.pass_, last.moved) == ("round 1", False)


async def test_lists_of_entries_show_titles(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    at.leave_seat()
    app = app_for(at.path)
    async with app.run_test(size=(100, 32)) as pilot:
        await begun(pilot, app)
        await pilot.press("w")
        await settle(pilot, lambda: "Which entry is wrong" in seen(app))
        await settle(pilot, lambda: bool(app.screen.query(Target)))
        labels = [each.label for each in app.screen.query(Target)]
        assert {"studs 1 + 5, Discharge head cover snug", "done Lay the bead"} <= set(labels)


async def test_the_page_is_told_when_letters_are_asked_for_and_when_no_longer(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    app = app_for(at.path)
    told: list[bool] = []
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        app._driver.tell_typing = told.append  # type: ignore[union-attr]
        app.work.action_flow("note")
        await settle(pilot, lambda: told == [True])
        await pilot.press("o", "k", "enter")
        await settle(pilot, lambda: told == [True, False])
