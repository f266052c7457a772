"""The record says what was done: what was shown, what was not read, how far it got, who wrote the plan, in which step."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from splitline.record.entry import KINDS, Note, Planned, Signed, Tightened, from_table, to_pairs
from splitline.ui.work import acts, flows
from splitline.ui.work.flow_hold import broke
from splitline.ui.work.flow_set_up import _lubricant
from splitline.ui.work.task import Task
from splitline.ui.work.values import Instructed
from tests.ui.test_work_desk import started, task


class Asked:
    """A fitter's screen whose questions are answered from a list; acts are carried out at its desk."""

    def __init__(self, desk: Any, *answers: str | None) -> None:
        self.desk, self.answers = desk, list(answers)
        self.titles: list[str] = []
        self.now = desk.refresh()
        self.system = "SI"

    async def ask(self, question: Any) -> str | None:
        self.titles.append(question._title)
        return self.answers.pop(0)

    def act(self, todo: Any) -> bool:
        todo()
        return True


def last(at: Any) -> Any:
    return at.journal.refresh().entries[-1]


def test_a_pull_holds_the_set_value_that_was_shown(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    pulled = last(at)
    assert isinstance(pulled, Tightened)
    assert (pulled.shown, pulled.pressure) == ("25 bar", 25e5)


def test_a_wrench_s_torque_is_recorded_as_it_was_to_be_set_and_tools_that_differ_each_their_own() -> None:
    # a wrench with steps of 10 N·m at a target of 413.4: 410 stands on the screen, 410 goes into the record
    assert Instructed(torque=413.4, set_torque=410.0).shown("SI") == "410 N·m"
    apart = Instructed(torque=2050.0, pressure=175e5, pressures=(("W1", 175e5), ("W2", 168e5)), gauge="bar")
    assert apart.shown("SI") == "W1 175 bar, W2 168 bar"


def caught(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str, str]]:
    """Act, person and statement of every signature that is asked for."""
    found: list[tuple[str, str, str]] = []

    def sign(desk: Any, task: Task, act: str, person: str = "", statement: str = "") -> str:
        found.append((act, person, statement))
        return ""

    monkeypatch.setattr(acts, "sign", sign)
    return found


def step_of(at: Any, **plan: Any) -> Any:
    state = next(each for each in at.refresh().states if each.plan.id == "studs")
    return replace(state, plan=replace(state.plan, **plan))


async def test_done_all_the_same_stands_in_the_record_with_how_far_it_got(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path)
    signed = caught(monkeypatch)
    short = "the log ends at 1.2 m of 2.4 m"
    given = Task("plain", "k", doubt=short, step=step_of(at))
    screen: Any = Asked(at, "yes", "yes", "away", None)
    await flows.close_step(screen, given)
    await flows.close_step(screen, replace(given, step=step_of(at, witness="client")))
    await flows.close_step(screen, given)
    said = f"done all the same: {short}"
    assert signed == [("done", "", said), ("witness-absent", "", "")]  # the step's end is stored after that one


async def test_a_hold_signed_without_a_reading_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at = started(tmp_path)
    signed = caught(monkeypatch)
    given = Task("sign", "k", doubt="stretch not read yet: 3 7", step=step_of(at))
    screen: Any = Asked(at, "Tomas", "yes", "Tomas", None)
    await flows.sign(screen, given)
    await flows.sign(screen, given)
    assert signed == [("hold", "Tomas", "signed without what was to be read: stretch not read yet: 3 7")]
    assert screen.titles[1] == "Sign without it?"


async def test_a_broken_hold_names_its_mounting_step(tmp_path: Path) -> None:
    at = started(tmp_path)
    screen: Any = Asked(at, "pump failed")
    await broke(screen, Task("mounting", "k", item="collar", part="5"))
    note = last(at)
    assert isinstance(note, Note)
    assert (note.text, note.item, note.part) == ("pump failed", "collar", "5")


def test_the_plan_s_entry_tells_who_wrote_it_beside_whose_screen_noticed(tmp_path: Path) -> None:
    at = started(tmp_path)
    text = at.path.read_text("utf-8").replace('revision = "B"', 'revision = "C"\nprepared_by = "P. Planner"')
    at.path.write_text(text, "utf-8")
    at.load()
    assert at.stand_plan()
    plan = last(at)
    assert isinstance(plan, Planned)
    assert (plan.done_by, plan.prepared_by, plan.file_of) == ("Ines", "P. Planner", at.path.owner())
    assert plan.saved_at is not None


def test_entries_of_before_read_and_write_as_they_did() -> None:
    at = dt.datetime(2027, 3, 1, 6, tzinfo=dt.UTC)
    for old in (
        Tightened(uid="a", done_by="Ines", done_at=at, joint="head", pass_="1", bolts=(1, 5)),
        Note(uid="b", done_by="Ines", done_at=at, text="x"),
        Planned(uid="c", done_by="Ines", done_at=at, text="x", digest="d"),
        Signed(uid="d", done_by="Ines", done_at=at, act="done"),
    ):
        pairs = dict(to_pairs(old))
        assert not set(pairs) & {"shown", "part", "prepared_by", "file_of", "saved_at", "role"}
        assert from_table(pairs) == old
    assert "accepted" in KINDS


async def test_their_own_stop_is_accepted_only_after_a_warning_that_is_recorded(tmp_path: Path) -> None:
    at = started(tmp_path)
    shown = task(at)
    gap = replace(next(each for each in shown.readings if each.what == "gap"), high=5e-5)
    acts.read(at, shown, gap, 9e-5, "0.09 mm")
    screen: Any = Asked(at, "Ines", None, "Ines", "yes", "machinery engineer", "by drawing")
    await flows.accept(screen, task(at))
    assert at.refresh().stops
    await flows.accept(screen, task(at))
    assert screen.titles.count("Ines accepts their own entry?") == 2
    accepted = last(at)
    assert (accepted.done_by, accepted.own, accepted.role) == ("Ines", True, "machinery engineer")


async def test_another_person_is_not_warned(tmp_path: Path) -> None:
    at = started(tmp_path)
    shown = task(at)
    gap = replace(next(each for each in shown.readings if each.what == "gap"), high=5e-5)
    acts.read(at, shown, gap, 9e-5, "0.09 mm")
    screen: Any = Asked(at, "Tomas", "lead", "by drawing")
    await flows.accept(screen, task(at))
    accepted = last(at)
    assert (accepted.done_by, accepted.own) == ("Tomas", False)


async def test_who_pulled_the_studs_is_warned_at_another_screen_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = started(tmp_path)
    acts.tighten(at, task(at))
    at.take_seat("Tomas")
    signed = caught(monkeypatch)
    screen: Any = Asked(at, "Ines", "yes", "Aiko")
    given = Task("sign", "k", step=step_of(at))
    await flows.sign(screen, given)
    await flows.sign(screen, given)
    assert signed == [("hold", "Ines", acts.SAME_HAND), ("hold", "Aiko", "")]


async def test_only_batches_of_the_lubricant_chosen_are_offered(tmp_path: Path) -> None:
    at = started(tmp_path)
    acts.set_up(at, replace(task(at), kind="bolts"), "copper paste", "C3", "wrench W1", "W1-118", dt.date(2099, 1, 1))
    offered: list[list[str]] = []

    class Seen(Asked):
        async def ask(self, question: Any) -> str | None:
            offered.append([choice.value for choice in getattr(question, "_choices", ())])
            return await super().ask(question)

    joint: Any = at.assessment.plan.find("joint", "head")
    screen: Any = Seen(at, "molybdenum disulfide paste", "B7")
    assert await _lubricant(screen, task(at), joint) == ("molybdenum disulfide paste", "B7", "")
    assert "B7" in offered[-1]
    assert "C3" not in offered[-1]
