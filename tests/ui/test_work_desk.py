"""The fitter's desk without a screen: tasks, acts, claims of two crews."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from splitline.errors import RecordError
from splitline.record.entry import Measured, Signed, Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from splitline.ui.work import acts, seat
from splitline.ui.work.desk import After, Desk
from splitline.ui.work.holds import AGAIN, BROKEN
from splitline.ui.work.observed import observed_of
from splitline.ui.work.resume import resume_lines
from splitline.ui.work.task import Limits, Task
from tests.record.helpers import START, Ticking, numbered
from tests.ui.work_helpers import PLAN, W1, W2, assessor, desk, joint_settings, plan_file

REST = '[[step]]\nid = "rest"\ntext = "Pull down"\n[[step]]\nid = "studs"'
LATER = dt.date(2099, 1, 1)


def started(tmp_path: Path, bolts: int = 8, person: str = "Ines", **more: Any) -> Desk:
    """A desk whose bead is laid and whose snug pass is set up."""
    found = desk(plan_file(tmp_path, bolts), person, **more)
    found.stand_plan()
    acts.sign(found, task(found), "start")
    acts.sign(found, task(found), "done")
    set_up(found)
    return found


def task(at: Desk) -> Task:
    return at.task()[1]


def set_up(at: Desk, lubricant: str = "molybdenum disulfide paste", batch: str = "B7", due: dt.date = LATER) -> None:
    serial = "W1-118" if at.person == "Ines" else f"W1-{at.person}"  # one wrench is in one pair of hands
    acts.set_up(at, task(at), lubricant, batch, "wrench W1", serial, due)


def test_the_work_goes_step_by_step(tmp_path: Path) -> None:
    at = desk(plan_file(tmp_path))
    at.stand_plan()
    first = task(at)
    assert (first.kind, [answer.id for answer in first.answers][:2]) == ("plain", ["start", "reading"])
    acts.sign(at, first, "start")
    assert task(at).answers[0].id == "done"
    acts.sign(at, task(at), "done")
    assert task(at).kind == "set-up"
    assert [each.text for each in task(at).cautions] == ["Keep hands off the reaction arm."]
    set_up(at)
    now = task(at)
    assert (now.kind, now.bolts, now.pass_, now.place) == ("bolts", (1, 5), "snug", 1)
    assert [(figure.text, figure.unit) for figure in now.figures] == [("1+5", ""), ("25", "bar")]
    assert ("342 N·m", "strong") in now.lines
    assert ("then 2 + 6     3 to go", "") in now.lines
    assert acts.tighten(at, now) == "stored 06:00  studs 1 + 5  25 bar"
    assert task(at).bolts == (2, 6)


def test_an_entry_holds_what_was_instructed_and_with_what(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    entry = at.journal.refresh().entries[-1]
    assert isinstance(entry, Tightened)
    assert (entry.torque, entry.pressure, entry.share) == (pytest.approx(342.0), 25e5, 0.1)
    assert (entry.tool, entry.serial, entry.lubricant, entry.batch, entry.library) == (
        "wrench W1", "W1-118", "molybdenum disulfide paste", "B7", "0123abcd",
    )  # fmt: skip


def test_a_second_tap_on_one_instruction_is_one_entry(tmp_path: Path) -> None:
    at = started(tmp_path)
    now = task(at)
    assert acts.tighten(at, now) == acts.tighten(at, now)
    assert sum(isinstance(entry, Tightened) for entry in at.journal.refresh().entries) == 1


def test_two_crews_never_have_the_same_studs(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    tomas = desk(ines.path, "Tomas", clock)
    assert task(ines).bolts == (1, 5)
    assert task(tomas).kind == "set-up"
    set_up(tomas)
    theirs = task(tomas)
    assert theirs.bolts == (2, 6)
    assert ("▫ 1 + 5 taken by Ines", "accent") in theirs.lines
    assert {mark.bolt: mark.mark for mark in theirs.marks}[1] == "▫"
    acts.tighten(tomas, theirs)
    assert task(tomas).bolts == (3, 7)
    acts.tighten(ines, task(ines))
    assert task(ines).bolts == (4, 8)
    assert {bolt for mark in task(tomas).marks if mark.mark == "✓" for bolt in [mark.bolt]} == {1, 2, 5, 6}


def test_what_another_crew_finished_is_not_entered_again(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    stale = task(ines)
    tomas = desk(ines.path, "Tomas", clock)
    set_up(tomas)
    tomas.take_over(tomas.refresh().others[0])
    acts.tighten(tomas, task(tomas))
    with pytest.raises(RecordError, match="stud 1 is done in pass snug already"):
        acts.tighten(ines, stale)
    assert task(ines).bolts == (2, 6)


def test_a_crew_that_waits_sees_who_holds_the_rest_and_may_take_over(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, bolts=4, clock=clock)
    assert task(ines).bolts == (1, 3)
    tomas = desk(ines.path, "Tomas", clock)
    set_up(tomas)
    acts.tighten(tomas, task(tomas))
    waits = task(tomas)
    assert (waits.kind, waits.answers[0].id) == ("taken", "take-over")
    assert any("Ines" in line for line, _ in waits.lines)
    clock.forward(seconds=30)
    assert any("last seen" in line for line, _ in task(tomas).lines)
    acts.take_over(tomas, tomas.refresh().others[0])
    assert task(tomas).bolts == (1, 3)
    acts.tighten(tomas, task(tomas))
    assert task(tomas).pass_ == "1"


def test_a_killed_screen_of_the_same_name_resumes_on_its_studs(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    acts.tighten(ines, task(ines))
    assert task(ines).bolts == (2, 6)
    clock.forward(seconds=20)
    again = desk(ines.path, "Ines", clock)
    assert again.elsewhere() is None
    assert task(again).bolts == (2, 6)


def test_the_same_name_on_a_screen_still_awake_is_told(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    task(ines)
    again = desk(ines.path, "Ines", clock)
    held = again.elsewhere()
    assert held is not None
    assert held.bolts == (1, 5)
    again.take_over(held)
    assert task(again).bolts == (1, 5)
    assert task(ines).bolts == (2, 6)


def test_a_tablet_that_lost_its_link_goes_on_with_its_own_studs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SPLITLINE_CLIENT", "tablet-1")
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    acts.tighten(ines, task(ines))
    assert task(ines).bolts == (2, 6)
    again = desk(ines.path, "Ines", clock)
    assert task(again).bolts == (2, 6)
    assert task(ines).bolts == (3, 7)
    monkeypatch.setenv("SPLITLINE_CLIENT", "tablet-2")
    assert task(desk(ines.path, "Ines", clock)).bolts == (4, 8)


def test_who_sits_at_a_tablet_is_remembered_for_its_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = tmp_path / "cover.toml"
    seat.remember(plan, "Ines")
    assert seat.remembered(plan) == ""
    monkeypatch.setenv("SPLITLINE_PLACE", str(tmp_path / "place"))
    seat.remember(plan, "Ines")
    assert seat.remembered(plan) == "Ines"
    assert seat.remembered(tmp_path / "other.toml") == ""
    (tmp_path / "place").write_text("{")
    assert seat.remembered(plan) == ""


def test_a_whole_joint_is_done_signed_and_verified(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    for _ in range(100):
        now = task(at)
        if now.kind == "set-up":
            set_up(at)
        elif now.kind == "bolts":
            clock.forward(seconds=30)
            acts.tighten(at, now)
        else:
            break
    assert (now.kind, now.middle) == ("sign", "hold point")
    assert any("signed by: lead" in line for line, _ in now.lines)
    acts.sign(at, now, "hold", "Aiko")
    signed = at.journal.refresh().entries[-1]
    assert isinstance(signed, Signed)
    assert (signed.done_by, signed.entered_by, signed.role) == ("Aiko", "Ines", "lead")
    assert (signed.count, len(signed.head)) == (signed.number - 1, 64)
    assert now.lines[1] == (f"I have seen: {signed.seen}", "strong")  # what it was signed on stood on the screen
    assert signed.seen.startswith("Every fastener of these passes is pulled in the order told")
    assert task(at).title == "Total float"
    assert verify(at.path).ok


def test_a_joint_is_signed_with_the_stretches_that_are_not_read(tmp_path: Path) -> None:
    text = PLAN.replace("stretch_low", "measured_bolts = [1, 3]\nstretch_low", 1)
    at = desk(plan_file(tmp_path, 4, text))
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    assert ("stretch not read yet: 1 3", "on-site") in now.lines
    acts.read(at, now, now.readings[0], 4.1e-4, "0.41 mm", bolt=1)
    assert ("stretch not read yet: 3", "on-site") in task(at).lines
    acts.sign(at, task(at), "hold", "Aiko")
    assert task(at).title == "Total float"


def test_another_tool_in_mid_pass_is_entered_and_the_earlier_pulls_keep_theirs(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.tighten(at, task(at))
    acts.set_up(at, task(at), "molybdenum disulfide paste", "B7", "wrench W2", "77", LATER)
    acts.tighten(at, task(at))
    serials = [entry.serial for entry in at.journal.refresh().entries if isinstance(entry, Tightened)]
    assert serials == ["W1-118", "77"]


def test_a_finishing_round_asks_whether_the_nut_moved(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    while task(at).pass_ != "round 1":
        now = task(at)
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    set_up(at)
    now = task(at)
    assert [answer.label for answer in now.answers[:2]] == ["Nut moved", "Did not move"]  # the last tap was on Done
    assert now.pressure == 290e5
    acts.tighten(at, now, moved=True)
    acts.tighten(at, task(at))
    assert (task(at).kind, task(at).pass_) == ("set-up", "round 2")


def test_set_aside_comes_back_and_can_be_accepted_by_name(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    assert "stays open" in acts.set_aside(at, task(at), (1,), "galled")
    assert task(at).bolts == (3,)
    acts.tighten(at, task(at))
    acts.tighten(at, task(at))
    back = task(at)
    assert (back.bolts, back.aside) == ((1,), True)
    assert any("galled" in line for line, _ in back.lines)
    with pytest.raises(RecordError, match="reason"):
        acts.concede(at, back, "Aiko", " ")
    acts.concede(at, back, "Aiko", "stud replaced at next stop")
    assert (task(at).kind, task(at).pass_) == ("set-up", "1")


def test_what_is_set_aside_leaves_the_hands_until_the_end_of_the_pass(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.set_aside(at, task(at), (1, 3), "galled")
    after = task(at)
    assert (after.bolts, after.aside) == ((2, 4), False)  # not the galled ones again
    acts.tighten(at, after)
    back = task(at)
    assert (back.bolts, back.aside) == ((1, 3), True)
    assert [answer.label for answer in back.answers[:2]] == ["Done", "Accept"]
    assert back.lines[0] == ("DEFERRED: galled", "near")


def test_a_wrong_entry_brings_its_studs_back_as_a_new_instruction(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    first = task(at)
    acts.tighten(at, first)
    number = at.journal.refresh().entries[-1].number
    assert task(at).bolts == (2, 4)
    acts.strike(at, number, "wrong stud")
    acts.tighten(at, task(at))
    again = task(at)
    assert again.bolts == first.bolts
    acts.tighten(at, again)
    assert at.journal.refresh().entries[-1].number == number + 3
    assert task(at).pass_ == "1"


def test_readings_are_judged_at_once_and_stop_the_work(tmp_path: Path) -> None:
    at = started(tmp_path)
    now = task(at)
    stretch = now.readings[0]
    assert (stretch.low, stretch.high) == (pytest.approx(3.6e-5), pytest.approx(4.6e-5))  # a tenth: the snug pass
    assert "inside" in acts.read(at, now, stretch, 4.1e-5, "0.041 mm", bolt=1)
    assert "OUTSIDE" in acts.read(at, now, stretch, 4.7e-5, "0.047 mm", bolt=5)
    stopped = task(at)
    assert (stopped.kind, [a.id for a in stopped.answers if a.guarded]) == ("stopped", ["accept"])
    assert any("stretch of stud 5 reads 0.047 mm" in line for line, _ in stopped.lines)
    with pytest.raises(RecordError, match="work is stopped"):
        acts.tighten(at, now)
    with pytest.raises(RecordError, match="name and a reason"):
        acts.accept(at, stopped.stop, "Aiko", "")
    acts.accept(at, stopped.stop, "Aiko", "maker agrees")
    assert task(at).bolts == (1, 5)


def test_another_lubricant_or_a_lapsed_calibration_stops(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    for _ in range(2):
        acts.tighten(at, task(at))
    set_up(at, lubricant="grease", due=dt.date(2026, 1, 1))
    for word in ("grease in pass 1", "lapsed"):
        stopped = task(at)
        assert stopped.kind == "stopped"
        assert any(word in line for line, _ in stopped.lines)
        acts.accept(at, stopped.stop, "Aiko", "by drawing")
    assert task(at).kind == "bolts"


def test_entered_from_paper(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    clock.forward(hours=3)
    assert task(at).kind == "stopped"
    at.after = After(START + dt.timedelta(minutes=20), "Tomas")
    acts.tighten(at, task(at))
    entry = at.journal.refresh().entries[-1]
    assert (entry.done_by, entry.entered_by, entry.done_at) == ("Tomas", "Ines", START + dt.timedelta(minutes=20))
    assert entry.entered_at == clock.now


def test_a_window_counts_down_and_stops_when_broken(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, clock=clock)
    clock.forward(minutes=40)
    assert [window.said for window in at.refresh().windows] == ["Compound open time: 5:00 min left"]
    clock.forward(minutes=6)
    stopped = task(at)
    assert stopped.kind == "stopped"
    assert "window open-time" in stopped.stop


def finish_head(at: Desk) -> None:
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    acts.sign(at, now, "hold", "Aiko")


def test_a_clearance_is_not_done_without_an_as_left_reading(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    finish_head(at)
    now = task(at)
    assert [(f.caption, f.text, f.unit) for f in now.figures] == [("at least", "0.25", "mm"), ("at most", "0.4", "mm")]
    assert not now.answers[0].ready
    found, left = now.readings
    said = acts.read(at, now, found, 5e-4, "0.50 mm")
    assert "OUTSIDE its limits; noted, the work goes on" in said
    assert len(said) <= 78  # one line of the smallest screen
    assert task(at).kind == "plain"  # noted, it stops nothing
    assert "inside" in acts.read(at, task(at), left, 3e-4, "0.30 mm")
    assert task(at).answers[0].ready
    acts.sign(at, task(at), "done")
    assert task(at).kind == "mounting"


def test_words_for_the_next_shift_go_with_the_work_they_were_about(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.note(at, "stud 2 dry", "handover", "head")
    assert any("stud 2 dry" in text for text, _ in resume_lines(*at.task()))
    finish_head(at)
    assert not any("stud 2 dry" in text for text, style in resume_lines(*at.task()) if style == "near")


def test_a_witness_is_called_before_the_first_pass_of_a_joint(tmp_path: Path) -> None:
    text = PLAN.replace("{bolts}", "4").replace('hold = "lead"', 'witness = "engineer"')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    call = ("Witness point, engineer: call before it starts", "near")
    assert call in task(at).lines
    set_up(at)
    while task(at).kind == "bolts":
        acts.tighten(at, task(at))
    assert task(at).kind == "set-up"
    assert call not in task(at).lines
    assert task(at).middle == "pass 1 of 2   50 %"  # snug and rounds are not counted


def test_the_last_nut_of_a_joint_closes_no_witness_point_unasked(tmp_path: Path) -> None:
    text = PLAN.replace("{bolts}", "4").replace('hold = "lead"', 'witness = "engineer"')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    while (now := task(at)).middle != "witness point":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    assert [answer.id for answer in now.answers][:1] == ["called"]
    acts.sign(at, now, "witness-absent")
    state = next(each for each in at.refresh().states if each.plan.id == "studs")
    assert (state.state, state.absent) == ("done", True)
    assert task(at).title == "Total float"


def test_a_stud_accepted_as_set_aside_leaves_the_instruction_until_it_is_brought_back(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    first = task(at)
    left = first.bolts[-1:]
    acts.set_aside(at, first, left, "galled")
    while not (now := task(at)).aside:
        acts.tighten(at, now)
    acts.concede(at, now, "Dirk", "replaced at the next stop")
    number = next(entry.number for entry in at.journal.record.entries if entry.kind == "set-aside")

    def pulled() -> set[int]:
        found: set[int] = set()
        while (now := task(at)).kind != "sign":
            if now.kind == "set-up":
                set_up(at)
            else:
                found |= set(now.bolts)
                acts.tighten(at, now)
        return found

    seen = pulled()
    assert seen
    assert not seen & set(left)
    said = acts.bring_back(at, task(at), number, "Dirk", "stud replaced")
    assert said.startswith(f"brought back by Dirk: stud {left[0]}")
    assert pulled() == set(left)
    with pytest.raises(RecordError, match="nothing is left out by this entry"):
        acts.bring_back(at, task(at), number, "Dirk", "stud replaced")


def test_a_gap_the_plan_limits_and_nobody_read_is_named_where_the_joint_is_signed(tmp_path: Path) -> None:
    text = PLAN.replace("{bolts}", "4").replace("[joint.acceptance]", '[joint.acceptance]\ngap_max = "0.05 mm"')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    unread = ("gap not read yet: up to 0.05 mm", "on-site")
    assert unread in now.lines
    acts.read(at, now, next(each for each in now.readings if each.what == "gap"), 2e-5, "0.02 mm", at="12 o'clock")
    assert unread not in task(at).lines


def test_who_signs_sees_what_was_read_in_the_step(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.read(at, task(at), task(at).readings[0], 4.1e-5, "0.041 mm", bolt=2)
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    assert ("stretch stud 2  0.041 mm  inside  Ines", "ok") in now.lines


def test_who_signs_is_told_of_readings_struck_after_a_stop(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    now = task(at)
    acts.read(at, now, now.readings[0], 4.7e-5, "0.047 mm", bolt=2)
    acts.strike(at, at.journal.refresh().entries[-1].number, "gauge not zeroed")
    while (now := task(at)).kind != "sign":
        if now.kind == "set-up":
            set_up(at)
        else:
            acts.tighten(at, now)
    said = [line for line, _ in now.lines if "struck after it stopped the work" in line]
    assert len(said) == 1
    assert "stretch of stud 2 0.047 mm" in said[0]
    assert "gauge not zeroed" in said[0]


def test_mounting_steps_ask_for_their_readings_and_count_their_waits_down(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, bolts=4, clock=clock)
    finish_head(at)
    acts.read(at, task(at), Limits("as left", "length", 2.5e-4, 4e-4), 3e-4, "0.30 mm")
    acts.sign(at, task(at), "done")
    now = task(at)
    assert (now.middle, now.answers[0].ready) == ("mounting step 1 of 3", False)
    acts.read(at, now, now.readings[0], 1e-5, "0.01 mm")
    acts.sign(at, task(at), "mounting", "Aiko")
    waiting = task(at)
    assert (waiting.part, waiting.figures[0].text, waiting.answers[0].ready) == ("2", "10:00", False)
    clock.forward(minutes=9, seconds=30)
    assert task(at).figures[0].text == "0:30"
    clock.forward(minutes=1)
    acts.sign(at, task(at), "mounting")
    acts.sign(at, task(at), "mounting")
    assert task(at).kind == "plain"
    acts.sign(at, task(at), "done")
    assert "Everything in the order of work is done" in task(at).lines[0][0]


def test_a_broken_hold_counts_anew_and_is_never_signed_early(tmp_path: Path) -> None:
    clock = Ticking()
    at = started(tmp_path, bolts=4, clock=clock)
    finish_head(at)
    acts.read(at, task(at), Limits("as left", "length", 2.5e-4, 4e-4), 3e-4, "0.30 mm")
    acts.sign(at, task(at), "done")
    acts.read(at, task(at), task(at).readings[0], 1e-5, "0.01 mm")
    acts.sign(at, task(at), "mounting", "Aiko")
    begun = task(at)
    clock.forward(minutes=4)
    with pytest.raises(RecordError, match=r"another 6\.0 min"):
        acts.sign(at, begun, "mounting")
    assert any("over at" in line for line, _ in begun.lines)
    assert [each.what for each in begun.readings][:2] == ["ram pressure", "bore pressure"]
    acts.note(at, "pump failed", BROKEN, "collar")
    broken = task(at)
    assert (next(a.id for a in broken.answers), broken.figures) == ("hold-again", ())
    assert "PRESSURE LOST" in broken.lines[1][0]
    clock.forward(minutes=20)
    with pytest.raises(RecordError, match="to wait"):
        acts.sign(at, begun, "mounting")
    acts.note(at, "the ram holds again", AGAIN, "collar")
    assert task(at).figures[0].text == "10:00"
    clock.forward(minutes=10)
    late = task(at)
    acts.sign(at, late, "mounting")
    other = desk(at.path, "Tomas", clock)
    with pytest.raises(RecordError, match="done already"):
        acts.sign(other, late, "mounting")


def test_a_changed_plan_is_stored_and_stops_the_joint_it_touches(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.tighten(at, task(at))
    text = at.path.read_text("utf-8")
    at.path.write_text(text.replace("0.40 mm", "0.45 mm"), "utf-8")
    assert at.plan_changed()
    at.load()
    assert at.changes().changed == ("clearance float",)
    assert at.stand_plan()
    assert task(at).kind == "bolts"
    at.path.write_text(at.path.read_text("utf-8").replace("passes = [0.5, 1.0]", "passes = [0.4, 1.0]"), "utf-8")
    at.load()
    at.stand_plan()
    assert "plan was changed" in task(at).lines[1][0]


def test_two_steps_that_changed_places_are_told_and_stop_the_work(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.tighten(at, task(at))
    text = at.path.read_text("utf-8")
    head, *steps = text.split("[[step]]")
    assert len(steps) > 1
    at.path.write_text("[[step]]".join([head, *reversed(steps[:2]), *steps[2:]]), "utf-8")
    at.load()
    (said,) = at.changes().moved
    assert said.startswith("order of step: was ")
    assert at.stand_plan()
    assert task(at).kind == "stopped"
    assert said in task(at).lines[1][0]


def test_a_pump_pressure_is_never_another_tools(tmp_path: Path) -> None:
    """W1's and W2's charts differ; a third tool has none in the plan."""

    def charted(plan: Any, folder: Path, observed: Any) -> Any:
        from dataclasses import replace

        found = assessor(plan, folder)
        items = tuple(replace(i, settings=joint_settings(W1, W2)) if i.kind == "joint" else i for i in found.items)
        return replace(found, items=items)

    at = Desk(plan_file(tmp_path, 4), Ticking(), charted)
    at.take_seat("Ines")
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    for pass_, tool, pressure, words in (
        ("snug", "wrench W1", 25e5, "342 N·m"),
        ("1", "wrench W2", None, "below the chart of wrench W2"),
        ("2", "wrench W1 + wrench W2", 290e5, "wrench W2: 295 bar"),
        ("round 1", "wrench W9", None, "wrench W9: its chart is not in the plan"),
    ):
        acts.set_up(at, task(at), "molybdenum disulfide paste", "B7", tool, "1", LATER)
        now = task(at)
        assert (now.pass_, now.pressure) == (pass_, pressure)
        assert any(line.startswith(words) for line, _ in now.lines)
        assert now.torque is not None
        while task(at).pass_ == pass_ and task(at).kind == "bolts":
            acts.tighten(at, task(at))


def test_a_step_waits_for_a_window_to_end_before_it_may_start(tmp_path: Path) -> None:
    text = PLAN.replace('from = "bead.start"', 'from = "bead.done"').replace('to = "studs.done"', 'to = "rest.start"')
    text = text.replace('at_most = "45 min"', 'at_least = "10 min"').replace('[[step]]\nid = "studs"', REST)
    clock = Ticking()
    at = desk(plan_file(tmp_path, text=text), clock=clock)
    acts.sign(at, task(at), "done")
    now = task(at)
    assert (now.title, now.answers[0].id, now.answers[0].ready) == ("Pull down", "start", False)
    assert ("Compound open time: wait another 10:00 min", "fails") in now.lines
    clock.forward(minutes=10)
    assert task(at).answers[0].ready


def test_many_studs_at_once_are_counted_and_listed(tmp_path: Path) -> None:
    def groups(plan: Any, folder: Path, observed: Any) -> Any:
        from dataclasses import replace

        found = assessor(plan, folder)
        order = {"order_steps": [[1, 3, 5, 7, 9, 11], [2, 4, 6, 8, 10, 12]]}
        items = tuple(replace(i, results=dict(i.results) | order) if i.kind == "joint" else i for i in found.items)
        return replace(found, items=items)

    at = started(tmp_path, bolts=12)
    at = Desk(at.path, Ticking(), groups)
    at.take_seat("Ines")
    now = task(at)
    assert (now.figures[0].text, now.figures[0].unit, now.lines[0][0]) == ("6", "studs at once", "1 3 5 7 9 11")
    assert acts.tighten(at, now).endswith("studs 1 + 3 + 5 + 7 + 9 + 11  25 bar")


def test_readings_go_into_the_assessment(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    plan = at.assessment.plan
    entries = numbered(
        [
            Measured(uid="a", done_by="x", item="float", what="as left", value=3e-4, quantity="length"),
            Measured(uid="b", done_by="x", item="push", what="push force", value=5e3, quantity="force"),
            Measured(uid="c", done_by="x", item="push", what="push force", value=6e3, quantity="force"),
            Signed(uid="d", done_by="x", act="set-up", joint="head", tool="wrench W2", serial="77"),
            Signed(uid="e", done_by="x", act="count-out", step="studs", role="plates", count=4),
        ]
    )
    found = observed_of(plan, entries).entered
    assert found == {
        ("float", "as_left"): 3e-4, ("push", "force_log"): (5e3, 6e3), ("head", "tool.2.serial"): "77",
        ("studs", "counted:plates"): 4,
    }  # fmt: skip


def test_a_folder_that_cannot_be_written_stops_the_work_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path, bolts=4)

    def refused(*_: object) -> None:
        raise RecordError("the record cannot be locked (Read-only file system)")

    monkeypatch.setattr("splitline.record.claims.Claims.choose", refused)
    now = task(at)
    assert (now.kind, now.lines[0][0]) == ("nothing", "Nothing can be stored here.")
    assert "Read-only file system" in now.lines[1][0]
    monkeypatch.undo()
    assert task(at).bolts == (1, 3)


def test_an_altered_record_stops_the_work_until_a_named_person_accepts_it(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    acts.tighten(at, task(at))
    record = at.journal.paths.record
    record.write_bytes(record.read_bytes().replace(b"pressure = 2500000.0", b"pressure = 2600000.0"))
    again = desk(at.path, "Tomas")
    stopped = task(again)
    assert stopped.kind == "stopped"
    assert any("was altered" in line for line, _ in stopped.lines)
    acts.accept(again, stopped.stop, "Aiko", "checked on the machine")
    assert task(again).kind == "set-up"
    assert not verify(at.path).ok
    record.unlink()
    lost = desk(at.path, "Tomas")
    assert task(lost).stop.startswith("missing entries 1 to")


def test_a_view_only_desk_shows_and_stores_nothing(tmp_path: Path) -> None:
    at = started(tmp_path, bolts=4)
    before = Journal(at.path).refresh().count
    viewer = desk(at.path, "", view_only=True)
    assert task(viewer).bolts == (1, 3)
    with pytest.raises(RecordError, match="view-only"):
        acts.note(viewer, "hello")
    assert Journal(at.path).refresh().count == before
    assert viewer.refresh().others == ()


def test_mistakes_of_the_plan_are_named_and_nothing_is_called_done(tmp_path: Path) -> None:
    text = '[plan]\ntitle = "x"\n[[joint]]\nid = "head"\ntitle = "Head"\ncolour = "red"\n'
    at = desk(plan_file(tmp_path, text="format = 1\n" + text))
    lines = [line for line, _ in task(at).lines]
    assert lines[0] == "Nothing can be worked on now."
    assert any("colour" in line for line in lines)


def test_a_joint_nobody_knows_the_bolts_of_is_never_done(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    path.write_text(path.read_text("utf-8").replace("bolts = 8", ""), "utf-8")

    def bare(plan: Any, folder: Path, observed: Any) -> Any:
        from splitline.assess.assessment import Assessment

        return Assessment(plan, (), "v", dt.date(2027, 3, 1))

    at = Desk(path, Ticking(), bare)
    at.take_seat("Ines")
    at.chosen = "studs"
    assert "does not say yet" in task(at).lines[0][0]
    assert task(at).answers[0].id == "wrong"


def test_a_time_limit_about_to_run_out_stands_in_the_middle(tmp_path: Path) -> None:
    clock = Ticking()
    at = desk(plan_file(tmp_path), clock=clock)
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    clock.forward(minutes=30)
    assert not any("Compound open time" in line for line, _ in task(at).lines)
    clock.forward(minutes=7)
    text, style = task(at).lines[0]
    assert (style, "Compound open time: 8:00 min left, over at" in text) == ("fails", True)
    assert not at.refresh().stops
    clock.forward(minutes=9)
    assert task(at).kind == "stopped"


def test_a_changed_plan_says_old_and_new_and_marks_what_was_pulled_at_the_old_value(tmp_path: Path) -> None:
    """25 bar are a tenth of the 250 bar of the target; where the plan now asks less they stay, and are marked."""
    at = started(tmp_path)
    acts.tighten(at, task(at))
    text = at.path.read_text("utf-8").replace("snug = 0.1", "snug = 0.08").replace('"0.46 mm"', '"0.44 mm"')
    at.path.write_text(text, "utf-8")
    at.load()
    at.stand_plan()
    stopped = task(at)
    said = [line for line, _ in stopped.lines]
    assert "tightening › snug: was 0.1, now 0.08" in said
    assert "acceptance › stretch_high: was 0.46 mm, now 0.44 mm" in said
    assert "≠ 1 5 pulled in snug at another value than now, the first at 25 bar" in said
    acts.accept(at, stopped.stop, "Aiko", "looked at")
    now = task(at)
    assert now.bolts == (2, 6)
    assert {mark.bolt: mark.mark for mark in now.marks if mark.bolt in (1, 5)} == {1: "≠", 5: "≠"}
    assert any(line.startswith("≠ 1 5 pulled in snug") for line, _ in now.lines)
    acts.tighten(at, now)
    marks = {mark.bolt: mark.mark for mark in task(at).marks}
    assert (marks[1], marks[2], marks[6]) == ("≠", "✓", "✓")


def test_what_was_pulled_to_less_than_the_pass_now_asks_is_pulled_again(tmp_path: Path) -> None:
    """A tenth of the target is not the fifth that the plan asks now, whatever the pass is called."""
    at = started(tmp_path)
    acts.tighten(at, task(at))
    at.path.write_text(at.path.read_text("utf-8").replace("snug = 0.1", "snug = 0.2"), "utf-8")
    at.load()
    at.stand_plan()
    stopped = task(at)
    again = "1 5 pulled in snug to less than it asks now, the first at 25 bar: pulled again"
    assert again in [line for line, _ in stopped.lines]
    acts.accept(at, stopped.stop, "Aiko", "looked at")
    now = task(at)
    assert now.bolts == (1, 5)
    assert again in [line for line, _ in now.lines]
    acts.tighten(at, now)
    assert task(at).bolts == (2, 6)
    assert not any("pulled again" in line for line, _ in task(at).lines)
