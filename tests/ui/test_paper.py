"""A filled paper sheet entered as a table: what is judged, what is stored, by keys and by taps."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.entry import Measured, Signed, Tightened
from splitline.ui.paper import rows, store
from splitline.ui.paper.screen import PaperScreen
from splitline.ui.paper.sheets_of import offers, sheet_of
from splitline.ui.paper.table import DONE, Filled, PaperSheet, clock_of, flaws, judge
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.flow_set_up import SetUp
from splitline.ui.work.task import Limits
from splitline.ui.work.values import Instructed
from tests.record.helpers import START, Ticking
from tests.ui.test_work_desk import LATER, started, task
from tests.ui.test_work_screen import WorkApp, app_for, entries, seen, settle, target
from tests.ui.work_helpers import PLAN, assessor, desk, plan_file

STRETCH = Limits("stretch", "length", 0.36e-3, 0.46e-3)
AT = START - dt.timedelta(hours=8)
GIVEN = SetUp("molybdenum disulfide paste", "B7", "wrench W1", "W1-118", LATER)


def sheet(at: Desk, key: str) -> PaperSheet:
    found = sheet_of(at.refresh(), key)
    assert found is not None
    return found


def enter(at: Desk, table: PaperSheet, filled: Filled, given: SetUp | None = None) -> None:
    todos = store.todos(table, filled, "SI")
    store.begin(at, table, given, filled.at, filled.by)
    for todo in todos:
        store.carry_out(at, table, todo)


def bead_laid(folder: Path, text: str = PLAN) -> Desk:
    at = desk(plan_file(folder, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    return at


def test_a_value_is_judged_as_on_the_fitters_screen() -> None:
    assert judge("0.41", STRETCH, "SI").typed == "0.41 mm"
    assert judge("0,41", STRETCH, "SI").said == "● inside"
    assert judge("16 mil", STRETCH, "SI").value == pytest.approx(0.4064e-3)
    outside = judge("0.47", STRETCH, "SI")
    assert (outside.outside, outside.far, outside.said) == (
        True,
        False,
        "▲ OUTSIDE 360 um to 460 um",
    ) or outside.outside
    assert judge("4.1", STRETCH, "SI").far
    assert judge("x", STRETCH, "SI").value is None
    assert judge("0.41 bar", STRETCH, "SI").value is None


def test_a_bare_number_is_in_the_unit_of_the_gauge_whatever_the_plan_shows() -> None:
    limits = Limits("pressure", "pressure", 24e5, 26e5, unit="bar")
    assert judge("25", limits, "US").typed == "25 bar"
    assert judge("25", limits, "US").said == "● inside"
    assert judge("29", limits, "US").said == "▲ OUTSIDE 24 bar to 26 bar"
    assert judge("363 psi", limits, "US").said == "● inside"


def test_the_fitter_sets_what_the_gauge_shows() -> None:
    told = Instructed(torque=340.0, pressure=25e5, gauge="bar")
    assert told.large("US") == ("set pump to", "25", "bar")
    assert replace(told, gauge=None).large("US") == ("set pump to", "363", "psi")


def test_a_shift_goes_over_midnight() -> None:
    late = dt.datetime(2027, 3, 1, 22, 10, tzinfo=dt.UTC)
    assert clock_of("0030", late) == late + dt.timedelta(hours=2, minutes=20)
    assert clock_of("21:55", late) == late - dt.timedelta(minutes=15)
    assert clock_of("2460", late) is None
    assert clock_of("7", late) is None


def test_names_and_times_hold_downwards(tmp_path: Path) -> None:
    at = started(tmp_path)
    table = sheet(at, "pass|studs|snug")
    filled = Filled(AT, "Tomas", names={"2": "Aiko"}, times={"6": AT + dt.timedelta(minutes=9)})
    when = filled.who_when(table)
    assert [row.label for row in table.rows] == ["1", "5", "2", "6", "3", "7", "4", "8"]
    assert [when[row.key][1] for row in table.rows][:4] == ["Tomas", "Tomas", "Aiko", "Aiko"]
    assert when["2"][0] == AT
    assert when["8"][0] == AT + dt.timedelta(minutes=9)


def test_half_a_pass_is_stored_as_work_done_then(tmp_path: Path) -> None:
    at = bead_laid(tmp_path)
    first = offers(at.refresh())[0]
    assert (first.key, first.note) == ("pass|studs|snug", "snug, 8 of 8 open")
    table = sheet(at, first.key)
    assert table.set_up
    filled = Filled(AT, "Tomas", dict.fromkeys(("1", "5", "2"), DONE), {("1", "pressure"): "25"}, names={"2": "Aiko"})
    enter(at, table, filled, GIVEN)
    made = at.journal.refresh().entries
    assert [type(entry) for entry in made[-4:]] == [Signed, Tightened, Tightened, Measured]
    first_pull, second = (entry for entry in made if isinstance(entry, Tightened))
    assert (first_pull.bolts, first_pull.pressure, first_pull.batch, first_pull.serial) == (
        (1, 5),
        25e5,
        "B7",
        "W1-118",
    )
    assert (first_pull.done_at, first_pull.done_by, first_pull.entered_by) == (AT, "Tomas", "Ines")
    assert first_pull.entered_at is not None
    assert first_pull.entered_at > AT
    assert (second.bolts, second.done_by) == ((2,), "Aiko")
    again = sheet(at, first.key)
    assert [row.label for row in again.rows if row.open] == ["6", "3", "7", "4", "8"]
    assert again.row("1") is not None
    assert not again.set_up


def test_the_same_line_twice_is_one_entry(tmp_path: Path) -> None:
    at = started(tmp_path)
    table = sheet(at, "pass|studs|snug")
    filled = Filled(AT, "Tomas", {"1": DONE}, {("1", "pressure"): "25"})
    enter(at, table, filled)
    count = at.journal.refresh().count
    with pytest.raises(RecordError, match="no longer open"):
        enter(at, table, filled)
    enter(desk(at.path), table, replace(filled, ticks={}))
    assert at.journal.refresh().count == count


def test_a_reading_outside_stops_the_work_after_the_studs_are_in(tmp_path: Path) -> None:
    at = started(tmp_path)
    table = sheet(at, "pass|studs|snug")
    every = dict.fromkeys((row.key for row in table.rows), DONE)
    filled = Filled(AT, "Tomas", every, {("1", "pressure"): "29"})
    said = store.summary(table, filled, store.todos(table, filled, "SI"), None)
    assert any("OUTSIDE, the work stops" in text for text, _ in said)
    assert any("tightened: 8 studs in snug 10 %" in text for text, _ in said)
    enter(at, table, filled)
    assert not [offer for offer in offers(at.refresh()) if offer.key == "pass|studs|1"]
    acts.accept(at, at.refresh().stops[0].key, "Aiko", "gauge read wrong")
    assert offers(at.refresh())[0].key == "pass|studs|1"


def test_what_cannot_be_read_or_has_not_come_yet_is_flagged(tmp_path: Path) -> None:
    at = started(tmp_path)
    table = sheet(at, "pass|studs|snug")
    filled = Filled(AT, "Tomas", {"5": DONE}, {("1", "stretch"): "4 bar"}, {"5": START + dt.timedelta(hours=1)})
    found = flaws(table, filled, START, "SI")
    assert "stretch 4 bar" in found["1"]
    assert "has not come yet" in found["5"]
    drawn = rows.lines(table, filled, rows.Look("stretch", "value", "1"), 78, START, "SI")
    said = " ".join(text for line in drawn if "1" in (line.target, line.belongs) for text, _ in line.row)
    assert f"✗ {found['1']}" in " ".join(said.split())  # whole: below the line where it has no room in it


def test_studs_in_another_crews_hands_cannot_be_ticked(tmp_path: Path) -> None:
    started(tmp_path).leave_seat()
    other = desk(tmp_path / "cover.toml", "Aiko")
    acts.set_up(other, task(other), GIVEN.lubricant, GIVEN.batch, "wrench W2", "W2-7", LATER)
    task(other)
    at = desk(tmp_path / "cover.toml", "Tomas")
    row = sheet(at, "pass|studs|snug").row("1")
    assert row is not None
    assert row.locked == "in the hands of Aiko: take over in Work"


def test_mounting_steps_ask_for_readings_waits_and_the_name_that_signed(tmp_path: Path) -> None:
    text = PLAN.partition("[[step]]")[0] + '[[step]]\nid = "mount"\ntext = "Collar on"\nfit = "collar"\n'
    text = text.replace('from = "bead.start"\nto = "studs.done"', 'from = "mount.start"\nto = "mount.done"')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    if task(at).answers[0].id == "start":
        acts.sign(at, task(at), "start")
    table = sheet(at, "item|mount")
    zero = next(row for row in table.rows if row.limits)
    filled = Filled(AT, "Tomas", {"1 done": DONE})
    assert "not read" in flaws(table, filled, START, "SI")["1 done"]
    filled.values[zero.key, "difference of two zeros"] = "0.01"
    assert flaws(table, filled, START, "SI") == {"1 done": "who signed?"}
    filled.names["1 done"] = "Aiko"
    filled.ticks |= {"2 done": DONE}
    with pytest.raises(RecordError, match="not ready"):
        enter(at, table, filled)  # the oil had no time to leave the fit
    filled.ticks.pop("1 done")
    filled.times["2 done"] = AT + dt.timedelta(minutes=12)
    enter(at, table, replace(filled, values={}))
    signed = [e for e in at.journal.refresh().entries if isinstance(e, Signed) and e.act == "mounting"]
    assert [(e.pass_, e.done_by, e.entered_by) for e in signed] == [("1", "Aiko", "Ines"), ("2", "Tomas", "Ines")]


def test_clearances_and_gaps_have_their_places(tmp_path: Path) -> None:
    text = PLAN.replace('stretch_high = "0.46 mm"', 'stretch_high = "0.46 mm"\ngap_max = "0.05 mm"')
    text = text.replace('hold = "lead"\n', "")
    at = bead_laid(tmp_path, text)
    for name in ("snug", "1", "2"):
        table = sheet(at, f"pass|studs|{name}")
        enter(at, table, Filled(AT, "Tomas", dict.fromkeys((r.key for r in table.rows), DONE)), GIVEN)
    gaps = sheet(at, "gap|studs")
    assert len(gaps.rows) == 12
    enter(at, gaps, Filled(AT, "Tomas", values={("3 o'clock", "gap"): "0.03"}))
    table = sheet(at, "item|measure-float")
    assert [row.label for row in table.rows][-1] == "step done"
    enter(at, table, Filled(AT, "Tomas", {"done": DONE}, {("measured 1", "measured"): "0.31"}))
    read = [e for e in at.journal.refresh().entries if isinstance(e, Measured)]
    assert [(e.what, e.at, e.typed, e.verdict) for e in read] == [
        ("gap", "3 o'clock", "0.03 mm", "inside"),
        ("measured", "1", "0.31 mm", "inside"),
    ]
    assert offers(at.refresh())[0].key != "item|measure-float"


def test_the_order_of_work_with_its_signatures(tmp_path: Path) -> None:
    text = PLAN.replace('text = "Lay the bead"', 'text = "Lay the bead"\nhold = "lead"\nwitness = "client"')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    assert offers(at.refresh())[0].key == "work"
    table = sheet(at, "work")
    labels = [row.label for row in table.rows]
    assert labels[:4] == ["1  Lay the bead: started", "1  W witness, client", "1  Lay the bead", "1  H HOLD, lead"]
    filled = Filled(
        AT, "Tomas", {"bead start": DONE, "bead done": DONE, "bead hold": DONE}, names={"bead hold": "Tomas"}
    )
    assert "witness did not sign" in flaws(table, filled, START, "SI")["bead done"]
    filled.ticks["bead witness"] = DONE
    filled.names["bead witness"] = "Aiko"
    assert not flaws(table, filled, START, "SI")
    enter(at, table, filled)
    signed = [entry for entry in at.journal.refresh().entries if isinstance(entry, Signed)]
    assert [(entry.act, entry.done_by) for entry in signed] == [
        ("start", "Tomas"), ("witness", "Aiko"), ("done", "Tomas"), ("hold", "Tomas"),
    ]  # fmt: skip
    assert signed[-1].statement == "signed by the person who did the work"
    assert signed[-1].seen == "The step is done as it is written, and was looked at where it was done."
    assert at.refresh().stops  # the compound's open time is over by now; on paper the studs were in time
    assert offers(at.refresh())[0].key == "pass|studs|snug"
    enter(at, sheet(at, "pass|studs|snug"), Filled(AT + dt.timedelta(minutes=5), "Tomas", {"1": DONE}), GIVEN)
    with pytest.raises(RecordError, match="open time"):
        enter(at, sheet(at, "pass|studs|snug"), Filled(AT + dt.timedelta(hours=2), "Tomas", {"2": DONE}))


async def to_table(app: WorkApp, pilot: object) -> PaperScreen:
    """From the fitter's screen to the table of the first open pass, by keys."""
    from textual.pilot import Pilot

    assert isinstance(pilot, Pilot)
    await settle(pilot, lambda: "Who works here?" in seen(app))
    await pilot.press("1")
    await settle(pilot, lambda: "Go on" in seen(app))
    await pilot.press("enter")
    await settle(pilot, lambda: app.screen is app.work and app.work.shown is not None)
    await pilot.press("m")
    await settle(pilot, lambda: "From paper" in seen(app))
    place = next(i for i, each in enumerate(app.screen.query("Target"), 1) if getattr(each, "ident", "") == "paper")
    await pilot.press(str(place))
    await settle(pilot, lambda: "which sheet" in seen(app))
    await pilot.press("1")
    await settle(pilot, lambda: "who did it" in seen(app))
    await pilot.press("2")
    await settle(pilot, lambda: "When it was done" in seen(app))
    await pilot.press("2")
    await settle(pilot, lambda: "four digits" in seen(app))
    await pilot.press(*"0510", "enter")
    if not any(
        entry.kind == "signed" and getattr(entry, "act", "") == "set-up" for entry in entries(app.work.desk.path)
    ):
        await settle(pilot, lambda: "Lubricant on thread" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "Batch" in seen(app))
        await pilot.press("B", "7", "enter")
        await settle(pilot, lambda: "Tool in your hands" in seen(app))
        await pilot.press("1")
    await settle(pilot, lambda: isinstance(app.screen, PaperScreen) and app.screen.sheet is not None)
    assert isinstance(app.screen, PaperScreen)
    return app.screen


async def test_by_keys_alone(tmp_path: Path) -> None:
    bead_laid(tmp_path).leave_seat()
    app = app_for(tmp_path / "cover.toml")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_table(app, pilot)
        before = len(entries(app.work.desk.path))
        await pilot.press("2", "5", "enter", "space", "2", "9", "enter")
        await settle(pilot, lambda: "▲ OUTSIDE" in seen(app))
        assert screen.filled is not None
        assert set(screen.filled.ticks) == {"1", "5", "2"}
        await pilot.press("up", "2", "5", "enter", "left", "end", "a")
        assert len(screen.filled.ticks) == 8
        assert len(entries(app.work.desk.path)) == before
        await pilot.press("e")
        await settle(pilot, lambda: "pressure: read with which instrument" in seen(app))
        await pilot.press("2")  # not noted
        await settle(pilot, lambda: "Enter all: 7" in seen(app))
        assert "tightened: 8 studs" in seen(app)
        await pilot.press("1")
        await settle(pilot, lambda: "stored: 7 entries" in seen(app))
        assert "pass 1, 8 of 8 open" in seen(app)
        pulls = [entry for entry in entries(app.work.desk.path) if isinstance(entry, Tightened)]
        assert [entry.bolts for entry in pulls] == [(1, 5), (2, 6), (3, 7), (4, 8)]
        await pilot.press("escape")
        await settle(pilot, lambda: app.screen is app.work)


async def test_by_touch_alone(tmp_path: Path) -> None:
    bead_laid(tmp_path).leave_seat()
    app = app_for(tmp_path / "cover.toml")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_table(app, pilot)
        assert screen.filled is not None
        await pilot.click(target(app, "value"))
        await settle(pilot, lambda: "⌫" in seen(app))
        for key in ("2", "5", "Enter"):
            await pilot.click(target(app, key))
        await settle(pilot, lambda: app.screen is screen and not screen._busy)
        assert screen.filled.values == {("1", "pressure"): "25 bar"}
        await pilot.click("#rows", offset=(5, 4))
        await pilot.click(target(app, "to-here"))
        assert list(screen.filled.ticks) == ["1", "5", "2", "6", "3"]
        await pilot.click(target(app, "back"))
        await settle(pilot, lambda: "Leave this sheet?" in seen(app))
        await pilot.click(target(app, "\0back"))
        await settle(pilot, lambda: app.screen is screen and not screen._busy)
        await pilot.click(target(app, "enter"))
        await settle(pilot, lambda: "pressure: read with which instrument" in seen(app))
        await pilot.click(target(app, "none"))
        await settle(pilot, lambda: "left open: 7 4 8" in seen(app))


async def test_what_is_refused_stays_in_the_table(tmp_path: Path) -> None:
    bead_laid(tmp_path).leave_seat()
    app = app_for(tmp_path / "cover.toml")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_table(app, pilot)
        await pilot.press("space", "space", "space")
        beside = Desk(app.work.desk.path, Ticking(), assessor)
        beside.take_seat("Aiko")
        acts.set_up(beside, task(beside), "another grease", "X", "wrench W1", "W1-9", LATER)
        await pilot.press("e")
        await settle(pilot, lambda: "Enter all: 3" in seen(app))
        await pilot.press("1")
        await settle(pilot, lambda: "STOPPED" in seen(app))
        assert "work is stopped" in seen(app)
        await pilot.press("enter")
        assert screen.filled is not None
        assert set(screen.filled.ticks) == {"1", "5", "2"}


async def test_from_the_record_screen(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    from splitline.ui.app import SplitlineApp
    from splitline.ui.record_screen import RecordScreen

    app = SplitlineApp(at.path.parent)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(RecordScreen(at.path, Desk(at.path, Ticking(), assessor, view_only=True)))
        await settle(pilot, lambda: "Order of work" in seen(app))
        await pilot.press("p")
        await settle(pilot, lambda: "Who enters it" in seen(app))
        await pilot.press("3")
        await settle(pilot, lambda: "which sheet" in seen(app))
        assert "One by one" not in seen(app)
        await pilot.press("escape")
        await settle(pilot, lambda: isinstance(app.screen, RecordScreen))


def test_a_sheet_is_left_once_however_often_it_is_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seen in 50,000 acts: Back tapped while the screen was going gave its answer a second time and ended the program."""
    screen, given, begun = PaperScreen(plan_file(tmp_path)), [], []
    screen.desk = desk(plan_file(tmp_path))
    monkeypatch.setattr(screen, "dismiss", given.append)
    monkeypatch.setattr(PaperScreen, "is_active", False)
    screen._go("one by one")
    assert given == [], "a question is still over it"
    monkeypatch.setattr(PaperScreen, "is_active", True)
    monkeypatch.setattr(screen, "run_worker", lambda work, **_: begun.append(work))
    screen._go("one by one")
    screen._go(None)
    assert given == ["one by one"]
    screen._work(screen._leave)
    assert begun == [], "nothing is begun on a screen that goes"
