"""What makes the work traceable is asked where it is done, kept in the record, and told."""

from __future__ import annotations

import csv
import datetime as dt
import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from splitline.errors import RecordError
from splitline.record.closing import missing
from splitline.record.entry import Accepted, Measured, Note, Signed, Tightened
from splitline.record.export import csv_text
from splitline.record.fact_kinds import ToolUsed
from splitline.record.facts import closing_note
from splitline.ui.paper import store
from splitline.ui.paper.table import DONE, Filled
from splitline.ui.work import acts, flow_trace, flows, seat
from splitline.ui.work.desk import After, Desk
from splitline.ui.work.entry_words import entry_said
from splitline.ui.work.flow_instrument import taken
from splitline.ui.work.flow_set_up import ask_batch, ask_set_up
from splitline.ui.work.instruments import Instrument, kind_of
from splitline.ui.work.record_file import built_of
from splitline.ui.work.task import LISTED, SWAPPED, UNKNOWN, Limits, Task
from splitline.ui.work.tasks_fit import sequence
from splitline.ui.work.tasks_parts import seal_lines
from splitline.ui.work.tasks_test import to_read
from splitline.ui.work.values import pairs_of
from tests.record.helpers import Ticking
from tests.ui.test_four_other_fits import FITS, SIZES
from tests.ui.test_paper import AT, enter, sheet
from tests.ui.test_work_desk import LATER, started, task
from tests.ui.test_work_lift import ONE_LIFT
from tests.ui.test_work_truth import Asked, last
from tests.ui.work_helpers import PLAN, W1, W2, assessor, joint_settings, plan_file

PASTE = "molybdenum disulfide paste"
TWO = ("wrench W1 + wrench W2", "W1-118 + W2-7")
STRETCH = Limits("stretch", "length")


def charted(plan: Any, folder: Path, observed: Any) -> Any:
    """Both wrenches with charts of their own."""
    found = assessor(plan, folder)
    items = tuple(replace(i, settings=joint_settings(W1, W2)) if i.kind == "joint" else i for i in found.items)
    return replace(found, items=items)


def two_wrenches(tmp_path: Path) -> Desk:
    """In pass 2, where the charts of both reach, with one wrench each."""
    at = Desk(plan_file(tmp_path, 4), Ticking(), charted)
    at.take_seat("Ines")
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    while task(at).pass_ != "2":
        now = task(at)
        if now.kind == "set-up":
            acts.set_up(at, now, PASTE, "B7", "wrench W1", "W1-118", LATER)
        else:
            acts.tighten(at, now)
    acts.set_up(at, task(at), PASTE, "B7", *TWO, LATER)
    return at


def test_which_wrench_is_told_for_which_stud_and_goes_on_record_so(tmp_path: Path) -> None:
    at = two_wrenches(tmp_path)
    now = task(at)
    assert now.lines[0] == ("wrench W1 on 1, wrench W2 on 3", "strong")
    acts.tighten(at, now)
    pulled = last(at)
    assert isinstance(pulled, Tightened)
    assert pulled.pulled_with == ("W1-118", "W2-7")
    assert pulled.pressures == (290e5, 295e5)  # each stud at the pressure of its own wrench's chart


async def test_swapped_tools_are_told_and_recorded_the_other_way_round(tmp_path: Path) -> None:
    at = two_wrenches(tmp_path)
    before = task(at)

    class Screen(Asked):
        async def update(self) -> None:
            self.now = self.desk.refresh()

        def say_here(self, text: str, style: str) -> None:
            self.titles.append(text)

    screen: Any = Screen(at)
    await flow_trace.swap(screen, before)
    assert screen.titles == ["tools told the other way round from here on"]
    now = task(at)
    assert now.key != before.key  # another instruction: no tap on the one before answers it
    assert now.lines[0] == ("wrench W2 on 1, wrench W1 on 3", "strong")
    acts.tighten(at, now)
    assert (last(at).pulled_with, last(at).pressures) == (("W2-7", "W1-118"), (295e5, 290e5))


def test_tools_are_paired_only_where_as_many_pull_at_once() -> None:
    two = (("W1", "1"), ("W2", "2"))
    assert pairs_of(None, (1, 3), two, LISTED) == two
    assert pairs_of(None, (1, 3), two, SWAPPED) == two[::-1]
    assert pairs_of(None, (1, 3), two, UNKNOWN) == ()
    assert pairs_of(None, (1,), two, LISTED) == ()
    assert pairs_of(None, (1, 3, 5), two, LISTED) == ()
    assert pairs_of(None, (1, 3), two[:1], LISTED) == ()


@pytest.mark.parametrize(("pairing", "serials"), [(SWAPPED, ("W2-7", "W1-118")), (UNKNOWN, ())])
def test_from_paper_the_pairing_is_what_somebody_knows(tmp_path: Path, pairing: Any, serials: tuple[str, ...]) -> None:
    at = two_wrenches(tmp_path)
    at.leave_seat()
    table = replace(sheet(at, "pass|studs|2"), pairing=pairing)
    enter(at, table, Filled(AT, "Tomas", {"1": DONE, "3": DONE}))
    assert last(at).bolts == (1, 3)
    assert last(at).pulled_with == serials
    assert at.pairing == LISTED  # of the screen, as it was


async def test_another_batch_on_a_joint_is_asked_why_and_told(tmp_path: Path) -> None:
    at = started(tmp_path)
    screen: Any = Asked(at, "\0other", "B8", "the tin was empty")
    assert await ask_batch(screen, "head", PASTE) == ("B8", "the tin was empty")
    assert screen.titles[-1] == "Why another batch"
    same: Any = Asked(at, "B7")
    assert await ask_batch(same, "head", PASTE) == ("B7", "")
    said = acts.set_up(at, task(at), PASTE, "B8", "wrench W1", "W1-118", LATER, "the tin was empty")
    assert "batch B8, B7 BEFORE" in said
    assert (last(at).batch_before, last(at).reason) == ("B7", "the tin was empty")
    _, built, _ = built_of(at.path)
    (found,) = [each for each in built.deviations if each.kind == "second batch"]
    assert found.text.endswith("batch B8 of molybdenum disulfide paste in snug, B7 before: the tin was empty")
    assert any("batch B8, B7 BEFORE" in line for line, _ in task(at).lines)
    acts.set_up(at, task(at), PASTE, "B7", "wrench W1", "W1-118", LATER)
    assert last(at).batch_before == ""  # B7 was on it before


async def test_each_of_two_tools_keeps_its_own_calibration_day(tmp_path: Path) -> None:
    at = two_wrenches(tmp_path)
    days = ("2027-02-20", "2027-09-30")
    acts.set_up(at, task(at), PASTE, "B7", *TWO, dt.date(2027, 2, 20), "", days)
    _, built, _ = built_of(at.path)
    rows = {(f.serial, f.calibration_due): f.on_the_day for f in built.facts if isinstance(f, ToolUsed)}
    assert rows["W1-118", dt.date(2027, 2, 20)] == "LAPSED on 2027-03-01"
    assert rows["W2-7", dt.date(2027, 9, 30)] == "in calibration"
    assert "2027-09-30" in csv_text(built)


async def test_a_new_tin_in_mid_pass_keeps_the_tools(tmp_path: Path) -> None:
    at = started(tmp_path)
    screen: Any = Asked(at, "\0other", "B9", "the tin was empty")
    await flow_trace.batch(screen, task(at))
    assert (last(at).batch, last(at).batch_before, last(at).tool, last(at).serial) == (
        "B9",
        "B7",
        "wrench W1",
        "W1-118",
    )
    acts.tighten(at, task(at))
    assert last(at).batch == "B9"


async def test_a_set_up_of_the_next_pass_asks_why_the_batch_is_another(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    while task(at).pass_ == "snug":
        acts.tighten(at, task(at))
    screen: Any = Asked(at, "anew", PASTE, "\0other", "B8", "the old tin was dirty", "0")
    found = await ask_set_up(screen, task(at))
    assert found is not None
    assert (found.batch, found.why, found.serial) == ("B8", "the old tin was dirty", "W1-118")


async def test_an_instrument_is_asked_once_a_person_and_kind_of_reading_and_again_when_it_lapsed(
    tmp_path: Path,
) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    screen: Any = Asked(at, "\0other", "depth micrometer", "DM-3", "20270310")
    assert await taken(screen, STRETCH)
    assert await taken(screen, STRETCH)  # nothing more is asked
    acts.read(at, task(at), STRETCH, 4.1e-5, "0.041 mm", bolt=1)
    read = last(at)
    assert (read.instrument, read.serial, read.calibration_due) == ("depth micrometer", "DM-3", dt.date(2027, 3, 10))
    other: Any = Asked(at, "none")
    assert await taken(other, Limits("gap", "length"))  # another kind of reading: asked anew
    at.take_seat("Tomas")
    tomas: Any = Asked(at, "0")  # the one of the record is offered first
    assert await taken(tomas, STRETCH)
    assert at.instruments["Tomas", kind_of(STRETCH)].serial == "DM-3"
    clock.forward(days=10)  # its last day is over
    late: Any = Asked(at, "0", None)
    assert not await taken(late, STRETCH)
    assert late.titles[-1] == "Use it all the same?"


def test_places_of_one_diameter_are_read_with_one_instrument() -> None:
    shaft = [Limits(f"shaft, plane {n}, 0\u00b0", "length") for n in (1, 2)]
    assert kind_of(shaft[0]) == kind_of(shaft[1]) != kind_of(Limits("bore, plane 1, 0\u00b0", "length"))


async def test_instruments_of_the_plan_are_offered_by_what_they_read(tmp_path: Path) -> None:
    item = (
        '[[item]]\nid = "dm"\nkind = "instrument"\ntitle = "Depth micrometer"\nserial = "DM-3"\n'
        'calibration_due = 2027-09-30\nreads = "length"\n[[step]]\nid = "bead"'
    )
    at = Desk(plan_file(tmp_path, 4, PLAN.replace('[[step]]\nid = "bead"', item, 1)), Ticking(), assessor)
    at.take_seat("Ines")
    screen: Any = Asked(at, "0")
    assert await taken(screen, STRETCH)
    assert at.instruments["Ines", kind_of(STRETCH)] == Instrument("Depth micrometer", "DM-3", dt.date(2027, 9, 30))
    force: Any = Asked(at, "0")
    with pytest.raises(IndexError):
        await taken(force, Limits("load cell", "force"))  # it reads no force: nothing of the plan is offered


def test_a_lapsed_instrument_stops_the_work_once_an_item(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.instruments["Ines", kind_of(STRETCH)] = Instrument("depth micrometer", "DM-8", dt.date(2027, 2, 20))
    acts.read(at, task(at), STRETCH, 4.1e-5, "0.041 mm", bolt=1)
    number = last(at).number
    assert task(at).stop == f"calibration, entry {number}"
    assert any("calibration of depth micrometer DM-8 lapsed on 2027-02-20" in line for line, _ in task(at).lines)
    acts.accept(at, task(at).stop, "Aiko", "agrees with DM-3", role="machinery engineer")
    acts.read(at, task(at), STRETCH, 4.2e-5, "0.042 mm", bolt=2)
    assert task(at).kind == "bolts"  # the acceptance holds for this instrument on this joint


async def test_as_whom_somebody_accepts_is_asked_once_and_kept(tmp_path: Path) -> None:
    at = started(tmp_path)
    gap = Limits("gap", "length", None, 5e-5)
    acts.read(at, task(at), gap, 9e-5, "0.09 mm")
    screen: Any = Asked(at, "Aiko", "machinery engineer", "by drawing")
    await flows.accept(screen, task(at))
    assert isinstance(last(at), Accepted)
    assert last(at).role == "machinery engineer"
    acts.read(at, task(at), gap, 8e-5, "0.08 mm")
    screen.answers, screen.now = ["Aiko", "by drawing"], at.refresh()
    await flows.accept(screen, task(at))
    assert last(at).role == "machinery engineer"
    acts.set_aside(at, task(at), (1,), "galled")
    screen.answers, screen.now = ["Tomas", "lead", "by drawing"], at.refresh()
    await flows.concede(screen, replace(task(at), bolts=(1,)))
    assert (last(at).done_by, last(at).role) == ("Tomas", "lead")


SEAL = (
    '[[item]]\nid = "ring"\nkind = "seal"\ntitle = "Cover O-ring"\nquantity = 1\nused_in = "bead"\n'
    'cure_date = 2026-06-10\n[[item]]\nid = "plates"\ntitle = "Plates"\nquantity = 4\ncount_out = true\nused_in = "bead"\n'
)


def with_seal(tmp_path: Path) -> Desk:
    text = PLAN.replace('[[step]]\nid = "bead"', SEAL + '[[step]]\nid = "bead"', 1)
    at = Desk(plan_file(tmp_path, 4, text), Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    return at


async def test_a_seal_is_entered_with_batch_and_cure_date(tmp_path: Path) -> None:
    at = with_seal(tmp_path)
    now, shown = at.task()
    assert shown.step is not None
    (line,) = seal_lines(now, shown.step.plan)
    assert line in shown.lines
    lacking = "Cover O-ring: batch and cure date of what was fitted not entered"
    assert lacking in missing(built_of(at.path)[1])
    screen: Any = Asked(at, "ring", "1", "\0other", "OR-5512", "\0other", "20260712")
    await flow_trace.part(screen, shown)
    used = last(at)
    assert isinstance(used, Signed)
    assert (used.act, used.role, used.count, used.batch, used.cure_date, used.step) == (
        "part", "ring", 1, "OR-5512", dt.date(2026, 7, 12), "bead",
    )  # fmt: skip
    now, shown = at.task()
    assert shown.step is not None
    assert not seal_lines(now, shown.step.plan)
    assert lacking not in missing(built_of(at.path)[1])
    other: Any = Asked(at, "\0other", "sealing compound", "2", "none")
    at.after = After(AT, "Tomas")  # one by one from paper
    await flow_trace.part(other, shown)
    assert (last(at).role, last(at).count, last(at).batch) == ("sealing compound", 2, "")
    assert (last(at).done_by, last(at).entered_by, last(at).done_at) == ("Tomas", "Ines", AT)
    assert entry_said(used, titles=at.titles) == "used 1, Cover O-ring, batch OR-5512"


async def test_a_seal_beyond_its_shelf_life_is_asked_about_and_told_as_a_deviation(tmp_path: Path) -> None:
    """Nitrile 7 years (ISO 2230, from memory): cured 2018, fitted on 2027-03-01."""
    text = PLAN.replace('[[step]]\nid = "bead"', SEAL.replace('"Cover O-ring"', '"Cover O-ring"\nmaterial = "NBR 70"')
                        + '[[step]]\nid = "bead"', 1)  # fmt: skip
    at = Desk(plan_file(tmp_path, 4, text), Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    back: Any = Asked(at, "ring", "1", "none", "\0other", "20180301", None)
    before = at.journal.record.count
    await flow_trace.part(back, task(at))
    assert back.titles[-1] == "Fit Cover O-ring all the same?"
    assert at.journal.refresh().count == before
    screen: Any = Asked(at, "ring", "1", "none", "\0other", "20180301", "yes")
    await flow_trace.part(screen, task(at))
    assert last(at).checks == ("shelf_life",)
    (found,) = [each for each in built_of(at.path)[1].deviations if each.kind == "part fitted all the same"]
    assert found.text.startswith("ring: fitted all the same: Shelf life in years: cured 2018-03-01")
    assert acts.aged(at, at.assessment.plan.items[0], dt.date(2026, 6, 10)) == ()


async def test_what_went_in_must_come_out_whatever_was_planned(tmp_path: Path) -> None:
    at = with_seal(tmp_path)
    acts.sign(at, task(at), "start")  # the time limit begins
    screen: Any = Asked(at, "plates", "5")
    await flow_trace.count_in(screen, task(at))
    assert "4 of 5 are out, 1 STILL INSIDE" in acts.count_out(at, task(at), "plates", 4)
    assert not task(at).answers[0].ready
    assert acts.count_out(at, task(at), "plates", 5) == "stored: 5 out, Plates"
    assert task(at).answers[0].ready


async def test_open_points_are_listed_before_handover_until_they_are_closed(tmp_path: Path) -> None:
    at = started(tmp_path)
    screen: Any = Asked(at, "new", "paint the guard", "Tomas", "day", "20270201")
    await flow_trace.points(screen, task(at))
    point = last(at)
    assert isinstance(point, Note)
    assert (point.text, point.owner, point.due, point.item) == ("paint the guard", "Tomas", dt.date(2027, 2, 1), "head")
    (left,) = [text for text in missing(built_of(at.path)[1]) if text.startswith("open point")]
    assert left.startswith(f"open point, entry {point.number}: paint the guard (Tomas, ")
    screen.answers, screen.now = [str(point.number), "painted twice"], at.refresh()
    await flow_trace.points(screen, task(at))
    assert closing_note(point.number, at.refresh().alive) is not None
    assert not [text for text in missing(built_of(at.path)[1]) if text.startswith("open point")]
    with pytest.raises(RecordError, match="there is no open point"):
        acts.close_point(at, point.number, "again")
    with pytest.raises(RecordError, match="who sees to it"):
        acts.open_point(at, task(at), "x", " ", None)


async def test_a_leg_is_read_with_its_number_and_held_against_what_governs(tmp_path: Path) -> None:
    at = Desk(plan_file(tmp_path, text=ONE_LIFT), Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    place = next(i for i, each in enumerate(task(at).readings) if each.legs)
    screen: Any = Asked(at, str(place), "2", "none", "5 kN")
    await flows.reading(screen, task(at))
    read = last(at)
    assert isinstance(read, Measured)
    assert (read.what, read.at, read.verdict) == ("leg load", "leg 2", "inside")
    result = at.assessment.find("lift", "discharge-head-lift")
    assert result is not None
    assert read.high == result.legs[1].governing
    tag: Any = Asked(at, "3", "CHN-09")
    await flow_trace.sling_tag(tag, task(at))
    assert (last(at).role, last(at).statement) == ("leg.3.tag", "CHN-09")


def test_a_plain_step_takes_pressure_and_time(tmp_path: Path) -> None:
    at = Desk(plan_file(tmp_path), Ticking(), assessor)
    at.take_seat("Ines")
    at.stand_plan()
    assert {"pressure", "time", "temperature", "length", "force", "torque"} <= {
        each.quantity for each in task(at).readings
    }
    acts.read(at, task(at), Limits("pressure", "pressure"), 6e5, "6 bar")
    acts.read(at, task(at), Limits("time", "time"), 1800.0, "30 min")
    assert [(e.what, e.typed, e.step) for e in at.journal.refresh().entries if isinstance(e, Measured)] == [
        ("pressure", "6 bar", "bead"), ("time", "30 min", "bead"),
    ]  # fmt: skip


def test_a_leak_test_is_entered_from_paper_start_and_end(tmp_path: Path) -> None:
    """6.2 bar held 30 min may fall by 0.1 bar: the end is judged by the start of this very sheet."""
    text = (
        'format = 1\n[plan]\ntitle = "Close-up"\n[[step]]\nid = "tight"\ntext = "Leak test"\ntest = "gas"\n'
        'test_pressure = "6 bar"\ntest_hold = "30 min"\ntest_drop = "0.1 bar"\n'
    )
    at = Desk(plan_file(tmp_path, text=text), Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    table = sheet(at, "work")
    start, end, done = table.rows
    assert [start.reads, end.reads, done.act] == [True, True, "done"]
    early = Filled(AT, "Tomas", values={(start.key, *start.limits): "6.2", (end.key, *end.limits): "6.15"})
    with pytest.raises(RecordError, match="not yet, by the time given"):
        enter(at, table, early)  # both at one time: the hold was not over
    table = sheet(at, "work")
    step = at.assessment.plan.steps[0]
    assert len(to_read(step, at.refresh())) == 1  # the start is in
    (end, done) = table.rows
    filled = Filled(AT + dt.timedelta(minutes=31), "Tomas", {done.key: DONE}, {(end.key, *end.limits): "6.15"})
    enter(at, table, filled)
    read = [e for e in at.journal.refresh().entries if isinstance(e, Measured)]
    assert [(e.typed, e.low, e.verdict) for e in read] == [("6.2 bar", 6e5, "inside"), ("6.15 bar", 6.1e5, "inside")]
    assert at.refresh().states[0].state == "done"


async def test_instruments_of_a_paper_sheet_are_asked_by_who_read(tmp_path: Path) -> None:
    at = started(tmp_path)
    at.leave_seat()
    table = sheet(at, "pass|studs|snug")
    filled = Filled(AT, "Tomas", values={("1", "stretch"): "0.041", ("5", "stretch"): "0.042", ("1", "pressure"): "25"})
    found = store.todos(table, filled, "SI")
    screen: Any = Asked(at, "\0other", "depth micrometer", "DM-3", "20270930", "none")
    assert await store.instruments(screen, found)
    assert not screen.answers  # each kind once
    enter(at, table, filled)
    read = [(e.what, e.serial, e.done_by) for e in at.journal.refresh().entries if isinstance(e, Measured)]
    assert ("stretch", "DM-3", "Tomas") in read
    assert ("pressure", "", "Tomas") in read


def test_an_entry_names_the_device(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platform.node", lambda: "crew-hut")
    at = started(tmp_path)
    assert last(at).device == "crew-hut"
    monkeypatch.setenv(seat.CLIENT, "0123456789abcdef")
    assert seat.device() == "tablet 012345 at crew-hut"


def test_more_offers_what_fits_the_work(tmp_path: Path) -> None:
    at = two_wrenches(tmp_path)
    screen: Any = Asked(at)
    offered = [choice.value for choice in flow_trace.offers(screen, task(at))]
    assert offered == ["set-up", "batch", "swap", "part", "points"]
    assert [choice.value for choice in flow_trace.offers(screen, Task("plain", "k"))] == ["part", "points"]


@pytest.mark.parametrize("fit", ["sleeve", "straight"])
def test_measured_shaft_and_bore_stand_in_the_record_with_their_instrument(tmp_path: Path, fit: str) -> None:
    text = f'format = 1\n[plan]\ntitle = "One fit"\n[[fit]]\nid = "hub"\ntitle = "Hub"\n{SIZES}{FITS[fit]}'
    (tmp_path / "one.toml").write_text(f'{text}[[step]]\nid = "on"\ntext = "On with it"\nfit = "hub"\n', "utf-8")
    at = Desk(tmp_path / "one.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    now, shown = at.task()
    assert shown.step is not None
    measure = next(
        each for each in sequence(now, shown.step.plan) if any(log.title.startswith("shaft, ") for log in each.log)
    )
    wanted = [
        Limits(log.title, log.kind, log.low, log.high)
        for log in measure.log
        if log.title.startswith(("shaft, ", "bore, "))
    ]
    assert len(wanted) == 8  # two planes by two directions, of both parts
    for part in ("shaft", "bore"):
        at.instruments["Ines", f"{part} length"] = Instrument(f"{part} micrometer", f"M-{part}", LATER)
    for each in wanted:
        acts.read(at, shown, each, 0.1001 if each.what.startswith("shaft") else 0.1, "")
    rows = list(csv.DictReader(io.StringIO(csv_text(built_of(at.path)[1]))))
    read = {(row["measured"], row["serial"]) for row in rows if row["kind"] == "measured"}
    assert len(read) == 8
    assert ("shaft, plane 1, 0°", "M-shaft") in read
    assert ("bore, plane 2, 90°", "M-bore") in read
