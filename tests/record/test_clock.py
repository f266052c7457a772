"""A clock that is set while a time limit runs: told, asked, recorded; the machine's own count is what has passed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.clock import Tick, clock_changes
from splitline.record.entry import Accepted, Note, Signed
from splitline.record.job import Job, StepPlan, WindowPlan
from splitline.record.stops import all_stops, check_open, open_stops
from splitline.record.windows import window_state
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from tests.record.helpers import START, Ticking, journal, uid
from tests.ui.work_helpers import assessor, plan_file

OPEN = WindowPlan("open", "Compound open time", "bead.done", "studs.done", at_most=3600.0)
WAIT = WindowPlan("wait", "Compound sets", "bead.done", "studs.done", at_least=3600.0)
JOB = Job("Cover", "A", steps=(StepPlan("bead"), StepPlan("studs")), windows=(OPEN, WAIT))


class Counting:
    """A machine that counts with the real time, whatever the wall clock is set to."""

    def __init__(self, clock: Ticking) -> None:
        self.clock, self.set, self.boot = clock, timedelta(), "one start"

    def __call__(self) -> Tick:
        return Tick(self.boot, (self.clock.now - START - self.set).total_seconds())

    def set_clock(self, **by: float) -> None:
        """Somebody sets the wall clock; no time passes."""
        self.set += timedelta(**by)
        self.clock.forward(**by)


def sign(step: str) -> Signed:
    return Signed(uid=uid(), done_by="Ines", step=step, act="done")


@pytest.mark.parametrize(("hours", "words"), [(-3.0, "back by 3:00 h"), (2.0, "forward by 2:00 h")])
def test_a_clock_that_was_set_is_a_stop_and_time_is_what_the_machine_counted(
    tmp_path: Path, hours: float, words: str
) -> None:
    clock = Ticking()
    machine = Counting(clock)
    book = journal(tmp_path, clock=clock, tick=machine)
    book.append(sign("bead"))
    clock.forward(minutes=20)
    machine.set_clock(hours=hours)
    clock.forward(minutes=50)
    book.append(Note(uid=uid(), done_by="Ines", text="pulling"))
    record = book.refresh()
    stops = open_stops(JOB, record, clock.now)
    assert next(stop.key for stop in stops) == "clock after entry 1"
    assert words in stops[0].text
    with pytest.raises(RecordError, match="clock was set"):
        check_open(JOB, record, clock.now, "head")
    changes = clock_changes(record.entries)
    reached = {"bead.done": record.entries[0].done_at}
    states = [window_state(plan, reached, clock.now, record.entries, changes) for plan in (OPEN, WAIT)]  # type: ignore[arg-type]
    assert [round(state.elapsed) for state in states] == [4200, 4200]
    assert states[0].phase == "broken"  # 70 minutes, whatever the clock says
    assert states[1].phase == "clock changed"
    assert "70:00" in states[1].said or "1:10 h" in states[1].said


def test_an_acceptance_by_name_ends_the_stop_whether_given_before_or_after_the_next_entry(tmp_path: Path) -> None:
    clock = Ticking()
    machine = Counting(clock)
    book = journal(tmp_path, clock=clock, tick=machine)
    book.append(sign("bead"))
    machine.set_clock(hours=-1)
    seen = clock_changes(book.record.entries, clock.now, machine())
    book.append(Accepted(uid=uid(), done_by="Lead", stop=seen[0].key, reason="set to summer time"))
    assert [stop.accepted is not None for stop in all_stops(Job(), book.record, clock.now)] == [True]


def test_without_a_machine_that_counts_only_time_that_ran_backwards_is_known(tmp_path: Path) -> None:
    clock = Ticking()
    book = journal(tmp_path, clock=clock)
    book.append(sign("bead"))
    clock.forward(hours=-2)
    book.append(sign("studs"))
    (change,) = clock_changes(book.record.entries)
    assert not change.exact
    assert "at least 2:00 h" in change.text
    state = window_state(OPEN, {"bead.done": START}, clock.now, book.record.entries, (change,))
    assert state.phase == "clock changed"
    assert "cannot be told" in state.said


def test_a_restart_of_the_machine_and_a_clock_trimmed_by_seconds_are_no_change(tmp_path: Path) -> None:
    clock = Ticking()
    machine = Counting(clock)
    book = journal(tmp_path, clock=clock, tick=machine)
    book.append(sign("bead"))
    machine.set_clock(seconds=12)
    clock.forward(minutes=5)
    book.append(Note(uid=uid(), done_by="Ines", text="a"))
    machine.boot = "another start"
    clock.forward(hours=9)
    book.append(Note(uid=uid(), done_by="Ines", text="b"))
    assert clock_changes(book.record.entries) == ()


def test_a_window_that_ended_before_the_clock_was_set_is_kept(tmp_path: Path) -> None:
    clock = Ticking()
    machine = Counting(clock)
    book = journal(tmp_path, clock=clock, tick=machine)
    book.append(sign("bead"))
    clock.forward(minutes=30)
    book.append(sign("studs"))
    clock.forward(minutes=5)
    machine.set_clock(hours=4)
    book.append(Note(uid=uid(), done_by="Ines", text="later"))
    first, second, _ = book.record.entries
    reached = {"bead.done": first.done_at, "studs.done": second.done_at}
    changes = clock_changes(book.record.entries)
    assert window_state(OPEN, reached, clock.now, book.record.entries, changes).phase == "kept"  # type: ignore[arg-type]


def test_old_entries_without_a_count_read_as_before(tmp_path: Path) -> None:
    book = journal(tmp_path)
    entry = book.append(sign("bead"))
    assert (entry.boot, entry.tick) == ("", None)
    assert b"tick" not in book.paths.record.read_bytes()
    assert replace(entry, boot="x", tick=1.0) != entry


@pytest.mark.parametrize("hours", [2.0, -3.0])
def test_a_hold_is_not_over_because_the_clock_was_set(tmp_path: Path, hours: float) -> None:
    """The ram holds ten minutes by the machine's own count, whatever the wall clock says."""
    clock = Ticking()
    machine = Counting(clock)
    text = '[plan]\ntitle = "T"\n[[fit]]\nid = "collar"\ntitle = "Collar"\n[[step]]\nid = "mount"\nfit = "collar"\n'
    at = Desk(plan_file(tmp_path, text=f"format = 1\n{text}"), clock, assessor, tick=machine)
    at.take_seat("Ines")
    at.stand_plan()
    acts.read(at, at.task()[1], at.task()[1].readings[0], 1e-5, "0.01 mm")
    acts.sign(at, at.task()[1], "mounting", "Aiko")
    clock.forward(minutes=4)
    machine.set_clock(hours=hours)
    now, _ = at.task()
    acts.accept(at, now.stops[0].key, "Tomas", "set to summer time")
    shown = at.task()[1]
    assert (shown.figures[0].text, shown.answers[0].ready) == ("6:00", False)
    end = f"over at {clock.now + timedelta(minutes=6):%H:%M}"
    assert any(end in line for line, _ in shown.lines)
    with pytest.raises(RecordError, match=r"another 6\.0 min"):
        acts.sign(at, shown, "mounting")
    clock.forward(minutes=6)
    acts.sign(at, at.task()[1], "mounting")


def test_a_leak_test_and_a_wait_are_not_over_because_the_clock_was_set(tmp_path: Path) -> None:
    clock = Ticking()
    machine = Counting(clock)
    text = """format = 1
[plan]
title = "T"
[[window]]
id = "sets"
title = "Compound sets"
from = "bead.done"
to = "tight.done"
at_least = "60 min"
[[step]]
id = "bead"
text = "Bead"
[[step]]
id = "tight"
text = "Leak test"
test = "gas"
test_pressure = "6 bar"
test_pressure_max = "8 bar"
test_hold = "30 min"
test_drop = "0.1 bar"
"""
    at = Desk(plan_file(tmp_path, text=text), clock, assessor, tick=machine)
    at.take_seat("Ines")
    at.stand_plan()
    acts.sign(at, at.task()[1], "done")
    acts.read(at, at.task()[1], at.task()[1].readings[0], 6.2e5, "6.2 bar")
    clock.forward(minutes=20)
    machine.set_clock(hours=2)
    for stop in at.task()[0].stops:
        acts.accept(at, stop.key, "Tomas", "set to summer time")
    shown = at.task()[1]
    assert (shown.figures[0].caption, shown.figures[0].text) == ("wait another", "10:00")
    clock.forward(minutes=10)
    acts.read(at, at.task()[1], at.task()[1].readings[0], 6.18e5, "6.18 bar")
    waits = at.task()[1]
    assert any("Compound sets: wait another 30:00 min" in line for line, _ in waits.lines)
    assert not waits.answers[0].ready
    clock.forward(minutes=30)
    assert at.task()[1].answers[0].ready


def test_the_screen_stops_at_once_when_the_clock_is_set(tmp_path: Path) -> None:
    clock = Ticking()
    machine = Counting(clock)
    at = Desk(plan_file(tmp_path), clock, assessor, tick=machine)
    at.take_seat("Ines")
    at.stand_plan()
    machine.set_clock(hours=-3)
    now, task = at.task()
    assert task.kind == "stopped"
    assert any("clock was set back by 3:00 h" in line for line, _ in task.lines)
    assert now.stops[0].key.startswith("clock after entry")
    with pytest.raises(RecordError, match="clock was set"):  # under the lock too, whatever a screen still shows
        acts.sign(at, replace(task, step=now.step()), "done")
    acts.accept(at, now.stops[0].key, "Tomas", "set to summer time")
    assert at.task()[1].kind == "plain"
