"""Order of work, hold points, windows, and what stops the work."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from splitline.errors import RecordError
from splitline.record.compare import digests
from splitline.record.entry import Accepted, Entry, Measured, Planned, Signed, WrongEntry
from splitline.record.job import ItemPlan, Job, StepPlan, WindowPlan, covering
from splitline.record.journal import Record
from splitline.record.order import moments, step_states
from splitline.record.stops import all_stops, check_accept, check_open, open_stops
from splitline.record.windows import window_state
from tests.record.helpers import START, joint, numbered, pull, uid

STEPS = (
    StepPlan("lift", "Head cover lift", "lift", "head-lift", hold="lifting supervisor"),
    StepPlan("bead", "Lay the bead"),
    StepPlan("low", "Studs to 50 %", "joint", "head", ("snug", "1"), hold="lead", witness="owner"),
    StepPlan("full", "Studs to 100 %", "joint", "head", ("2", "round")),
    StepPlan("float", "Float", "clearance", "float", needs=("full",)),
)
WINDOWS = (WindowPlan("open", "Compound open time", "bead.start", "head.done", at_most=2700.0),)
JOB = Job("Close-up", "B", (joint(),), (ItemPlan("lift", "head-lift"), ItemPlan("clearance", "float")), STEPS, WINDOWS)


def sign(act: str, step: str = "", **more: object) -> Signed:
    return Signed(**{"uid": uid(), "done_by": "D. Lead", "act": act, "step": step} | more)


def whole(name: str) -> list[Entry]:
    return [pull(bolt, bolt + 4, pass_=name) for bolt in range(1, 5)]


def record(*entries: Entry) -> Record:
    stamped = numbered(entries)
    return Record(stamped, len(stamped))


def states(*entries: Entry) -> list[str]:
    return [state.state for state in step_states(JOB, numbered(entries))]


def test_a_hold_stops_everything_after_it_until_signed() -> None:
    assert states() == ["now", "waits", "waits", "waits", "waits"]
    assert states(sign("done", "lift")) == ["to sign", "waits", "waits", "waits", "waits"]
    first = step_states(JOB, numbered([sign("done", "lift")]))
    assert "not signed by lifting supervisor" in first[1].why
    lifted = [sign("done", "lift"), sign("hold", "lift", role="lifting supervisor")]
    assert states(*lifted) == ["done", "now", "open", "waits", "waits"]
    later = [*lifted, *whole("snug"), *whole("1")]
    assert states(*later) == ["done", "now", "to sign", "waits", "waits"]
    assert states(*later, sign("witness", "low"), sign("hold", "low")) == ["done", "now", "done", "open", "waits"]


@pytest.mark.parametrize("act", ["witness", "witness-absent"])
def test_a_witness_point_of_a_joint_is_answered_and_nothing_waits_for_it(act: str) -> None:
    lifted = [sign("done", "lift"), sign("hold", "lift")]
    work = [*lifted, *whole("snug"), *whole("1"), sign("hold", "low")]
    (low,) = [state for state in step_states(JOB, numbered(work)) if state.plan.id == "low"]
    assert (low.state, low.asks_witness) == ("to sign", True)
    assert states(*work)[3] == "open"
    answered = numbered([*work, sign(act, "low", role="owner")])
    (low,) = [state for state in step_states(JOB, answered) if state.plan.id == "low"]
    assert (low.state, low.asks_witness, low.absent) == ("done", False, act == "witness-absent")


def test_what_an_older_record_says_of_an_absent_witness_is_understood() -> None:
    """It stood in the statement of the step's end."""
    job = Job(steps=(StepPlan("leak", "Leak test", witness="owner"),))
    (leak,) = step_states(job, numbered([sign("done", "leak", statement="witness called and not present")]))
    assert (leak.state, leak.absent) == ("done", True)


def test_no_start_is_made_up() -> None:
    (lift, *_) = step_states(JOB, numbered([sign("done", "lift")]))
    assert lift.started is None
    assert lift.done is not None
    (lift, *_) = step_states(JOB, numbered([sign("start", "lift"), sign("done", "lift")]))
    assert lift.started == START + timedelta(minutes=1)


def test_a_step_waits_for_what_it_needs() -> None:
    lifted = [sign("done", "lift"), sign("hold", "lift"), *whole("snug"), *whole("1"), sign("hold", "low")]
    last = step_states(JOB, numbered(lifted))[-1]
    assert (last.state, last.why) == ("waits", "needs full first")
    assert states(*lifted, *whole("2"), *whole("round 1"))[-1] == "open"


def test_a_hold_signed_before_the_work_was_done_anew_is_signed_anew() -> None:
    lifted = [sign("done", "lift"), sign("hold", "lift")]
    work = [*lifted, sign("witness", "low"), *whole("snug"), *whole("1"), sign("hold", "low")]
    wrong = WrongEntry(uid=uid(), done_by="x", entry=5, reason="wrong stud")
    assert states(*work, wrong)[2:4] == ["open", "waits"]
    assert states(*work, wrong, pull(2, 6, pass_="snug"))[2] == "to sign"
    assert states(*work, wrong, pull(2, 6, pass_="snug"), sign("hold", "low"))[2] == "done"


def test_every_pass_and_item_is_covered() -> None:
    bare = Job(joints=(joint(),), items=(ItemPlan("fit", "collar", "Collar"),))
    assert [(step.id, step.item) for step in covering(bare)] == [("head", "head"), ("collar", "collar")]
    partial = Job(joints=(joint(),), steps=(StepPlan("a", "", "joint", "head", ("1",)),))
    assert covering(partial)[0].passes == ("1", "snug", "2", "round 1")
    two = Job(joints=(joint(),), steps=(*partial.steps, StepPlan("b", "", "joint", "head", ("2",))))
    assert [step.passes for step in covering(two)] == [("1", "snug"), ("2", "round 1")]


def test_moments_and_the_window_between_them() -> None:
    lifted = [sign("done", "lift"), sign("hold", "lift"), sign("start", "bead"), sign("done", "bead")]
    reached = moments(step_states(JOB, numbered(lifted)))
    assert reached["bead.start"] == START + timedelta(minutes=3)
    assert reached["bead.done"] == START + timedelta(minutes=4)
    assert "head.done" not in reached
    state = window_state(WINDOWS[0], reached, START + timedelta(minutes=13))
    assert (state.phase, state.elapsed, state.left) == ("running", 600.0, 2100.0)
    assert state.said == "Compound open time: 35:00 min left"
    late = window_state(WINDOWS[0], reached, START + timedelta(minutes=49))
    assert (late.phase, late.said) == (
        "broken",
        "Compound open time: broken, 46:00 min and at most 45:00 min is allowed",
    )
    done = numbered([*lifted, *whole("snug"), *whole("1"), sign("hold", "low"), *whole("2"), *whole("round 1")])
    kept = window_state(WINDOWS[0], moments(step_states(JOB, done)), START + timedelta(days=1))
    assert (kept.phase, kept.elapsed) == ("kept", 18 * 60.0)
    assert window_state(WINDOWS[0], {}, START).phase == "not started"


def test_a_wait_is_counted_down_and_broken_when_cut_short() -> None:
    hold = WindowPlan("hold", "Oil hold", "release.done", "ram.start", at_least=600.0)
    released = {"release.done": START}
    waiting = window_state(hold, released, START + timedelta(seconds=90))
    assert (waiting.phase, waiting.wait) == ("running", 510.0)
    assert waiting.said == "Oil hold: wait another 8:30 min"
    assert "waited long enough" in window_state(hold, released, START + timedelta(minutes=11)).said
    early = window_state(hold, released | {"ram.start": START + timedelta(seconds=599)}, START + timedelta(hours=1))
    assert (early.phase, early.said) == ("broken", "Oil hold: broken, 9:59 min and at least 10:00 min is allowed")
    assert window_state(hold, released | {"ram.start": START + timedelta(minutes=10)}, START).phase == "kept"


# --- stops ---------------------------------------------------------------------------------------------------------


def set_up(pass_: str, lubricant: str = "paste", due: date | None = None) -> Signed:
    return sign("set-up", joint="head", pass_=pass_, lubricant=lubricant, tool="W2", serial="7", calibration_due=due)


def accept(stop: str) -> Accepted:
    return Accepted(uid=uid(), done_by="D. Lead", stop=stop, reason="checked with the maker")


def keys(*entries: Entry, item: str = "") -> list[str]:
    return [stop.key for stop in open_stops(JOB, record(*entries), START, item)]


def test_a_second_lubricant_stops_until_accepted() -> None:
    assert keys(set_up("snug"), set_up("1")) == []
    night = [set_up("snug"), set_up("1", "grease")]
    assert keys(*night) == ["second lubricant, entry 2"]
    with pytest.raises(RecordError, match="grease in pass 1, but paste before"):
        check_open(JOB, record(*night), START, "head")
    check_open(JOB, record(*night), START, "another-joint")
    accepted = [*night, accept("second lubricant, entry 2")]
    assert keys(*accepted) == []
    assert keys(*accepted, set_up("2", "grease"), set_up("2")) == []
    assert keys(*accepted, set_up("2", "dry film")) == ["second lubricant, entry 4"]


def test_a_lubricant_the_torque_is_not_for_stops_at_the_first_set_up() -> None:
    planned = replace(JOB, joints=tuple(replace(joint, lubricant="paste") for joint in JOB.joints))
    first = set_up("snug", "grease")
    (stop,) = open_stops(planned, record(first), START)
    assert (stop.key, stop.text) == (
        "second lubricant, entry 1",
        "head: grease in pass snug, but the torque is for paste",
    )
    assert open_stops(planned, record(set_up("snug")), START) == ()
    assert open_stops(planned, record(first, accept(stop.key), set_up("1", "grease")), START) == ()


def test_a_lapsed_calibration_stops() -> None:
    assert keys(set_up("snug", due=START.date())) == []
    assert keys(set_up("snug", due=START.date() - timedelta(days=1))) == ["calibration, entry 1"]


def test_a_reading_outside_stops_until_accepted_or_struck() -> None:
    reading = Measured(
        uid="r", done_by="x", item="float", what="total float", value=6e-4, quantity="length", low=2.5e-4, high=4e-4
    )
    assert keys(reading) == ["reading, entry 1"]
    assert keys(reading, item="head") == []
    assert keys(reading, accept("reading, entry 1")) == []
    assert keys(reading, WrongEntry(uid="s", done_by="x", entry=1, reason="wrong indicator")) == []


def test_a_broken_window_stops_everything() -> None:
    lifted = [sign("done", "lift"), sign("hold", "lift"), sign("start", "bead"), sign("done", "bead")]
    late = open_stops(JOB, record(*lifted), START + timedelta(hours=2), "head")
    assert [stop.key for stop in late] == ["window open"]


def test_nuts_that_move_in_the_last_round_allowed_stop() -> None:
    work = [*whole("snug"), *whole("1"), *whole("2")]
    for name in ("round 1", "round 2", "round 3"):
        work += [*whole(name)[:3], pull(4, 8, pass_=name, moved=True)]
    assert keys(*work) == ["moving nuts, head round 3"]


def planned(text: str) -> Planned:
    found = digests(text)
    return Planned(uid=uid(), done_by="P. Planner", text=text, digest=found.whole, items=found.items)


def test_a_plan_changed_under_a_joint_in_work_stops_that_joint_only() -> None:
    old = '[[joint]]\nid = "head"\nx = 1\n[[joint]]\nid = "other"\n[[clearance]]\nid = "float"\nlow = "1 mm"\n'
    clearance = old.replace("1 mm", "2 mm")
    cover = old.replace("x = 1", "x = 2")
    work = [planned(old), pull(1, 5, pass_="snug")]
    assert keys(*work, planned(clearance)) == []
    assert keys(planned(old), planned(cover), pull(1, 5, pass_="snug")) == []
    assert keys(*work, planned(clearance), planned(cover)) == ["plan changed, head, entry 4"]


def test_steps_that_changed_places_under_work_stop_everything_and_are_named() -> None:
    old = '[[step]]\nid = "lift"\n[[step]]\nid = "bead"\n[[step]]\nid = "float"\n'
    new = '[[step]]\nid = "bead"\n[[step]]\nid = "lift"\n[[step]]\nid = "float"\n'
    assert keys(planned(old), planned(new), sign("start", "bead")) == []
    for act in (sign("start", "lift"), pull(1, 5, pass_="snug")):
        stopped = record(planned(old), act, planned(new))
        (stop,) = open_stops(JOB, stopped, START)
        assert (stop.key, stop.item) == ("plan changed, order of steps, entry 3", "")
        assert "order of step: was lift, bead; now bead, lift" in stop.text
        assert open_stops(JOB, record(*stopped.entries, accept(stop.key)), START) == ()


def test_an_acceptance_needs_a_stop_a_name_and_a_reason() -> None:
    stopped = record(set_up("snug"), set_up("1", "grease"))
    good = accept("second lubricant, entry 2")
    check_accept(JOB, stopped, START, good)
    for bad, says in (
        (accept("second lubricant, entry 9"), "no stop"),
        (Accepted(uid="a", done_by=" ", stop=good.stop, reason="x"), "name and a reason"),
        (Accepted(uid="a", done_by="x", stop=good.stop, reason=""), "name and a reason"),
    ):
        with pytest.raises(RecordError, match=says):
            check_accept(JOB, stopped, START, bad)
    done = record(*stopped.entries, good)
    with pytest.raises(RecordError, match=r"accepted already by D\. Lead"):
        check_accept(JOB, done, START, good)
    assert all_stops(JOB, done, START)[0].accepted is not None
