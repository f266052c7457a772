"""A plan revised in the middle of the work: what was done before is told by its own plan, and never counts for more than it was."""

from __future__ import annotations

import datetime as dt

import pytest

from splitline.assess.recorded import Book, open_book
from splitline.record import fact_kinds as kinds
from splitline.record.as_built import build
from splitline.record.closing import closed_items, missing
from splitline.record.entry import Entry, Planned, SetAside, Tightened
from splitline.record.facts import outcome
from splitline.record.job import Job, StepPlan
from splitline.record.journal import Record
from splitline.record.plans import in_force
from splitline.record.progress import check_bolts, joint_progress
from tests.record.helpers import START, joint, numbered, pull, uid
from tests.record.rich import HEAD, Rich

B = {"snug": 0.1, "1": 0.3, "2": 0.6, "3": 1.0}


def whole(*names: str) -> list[Entry]:
    return [pull(a, a + 4, pass_=name, share=B[name], torque=100 * B[name]) for name in names for a in range(1, 5)]


def state(shares: tuple[float, ...], *names: str, rounds: int = 0) -> tuple[str, ...]:
    """Passes still open, for a plan of these shares, after passes of plan B."""
    progress = joint_progress(joint(8, shares=shares, rounds=rounds), numbered(whole(*names)))
    return tuple(each.plan.name for each in progress.passes if not each.closed)


def test_a_pull_at_a_lower_share_does_not_close_the_pass_of_its_name() -> None:
    assert state((0.5, 1.0), "snug", "1", "2") == ("2",)  # "2" was at 60 %: the plan now asks 100 % of it
    found = numbered(whole("snug", "1", "2"))
    check_bolts(joint(8, shares=(0.5, 1.0), rounds=0), Record(found, len(found)), pull(1, 5, pass_="2"))


def test_a_higher_pull_under_another_name_counts() -> None:
    assert state((0.5, 1.0), "snug", "1", "2", "3") == ()  # "3" was at 100 %
    assert state((0.7, 1.0), "snug", "1", "2") == ("1", "2")  # 60 % is not 70 %
    assert state((0.2, 0.5, 1.0), "snug", "1", "2") == ("3",)


def test_pulls_that_count_for_no_pass_are_still_told() -> None:
    found = numbered(whole("snug", "1", "2"))
    (made,) = build(Job(joints=(joint(8, shares=(0.5, 1.0), rounds=0),)), Record(found, len(found)), START).joints
    assert made.gone == ("1 at 30 %",)  # at 60 % they count for the first pass, at 50 %
    assert made.passes == ("1 at 30 %", "snug", "1", "2")
    assert [pull.torque if pull else None for pull in made.bolts[0].pulls] == [30.0, 10.0, 60.0, None]
    assert made.progress.current is not None
    assert made.progress.current.plan.name == "2"


def test_bolts_of_one_setting_aside_are_answered_one_by_one() -> None:
    aside = SetAside(uid=uid(), done_by="A", joint="head", pass_="snug", bolts=(1, 2), reason="galled")
    entries = numbered([aside, pull(1, pass_="snug")])
    assert isinstance(entries[0], SetAside)
    assert outcome(entries[0], entries) == ("1 tightened later, entry 2; 2 not accepted", (2,))
    made = build(Job(joints=(joint(8),)), Record(entries, 2), START)
    assert any("bolts 2 deferred in snug, not accepted" in text for text in missing(made))


def test_what_was_written_down_afterwards_went_by_the_plan_of_its_own_hour() -> None:
    def plan(revision: str, at: dt.datetime) -> Planned:
        return Planned(uid=uid(), done_by="A", text="", digest=revision, revision=revision, done_at=at, entered_at=at)

    late = START + dt.timedelta(hours=1)
    entries: list[Entry] = [
        plan("B", START),
        plan("C", START + dt.timedelta(hours=2)),
        pull(1, done_at=late, entered_at=START + dt.timedelta(hours=5)),
        pull(2, done_at=START + dt.timedelta(hours=5), entered_at=START + dt.timedelta(hours=5)),
    ]
    stamped = [Tightened(**{**e.__dict__, "number": n}) if isinstance(e, Tightened) else Planned(**{**e.__dict__, "number": n})
               for n, e in enumerate(entries, 1)]  # fmt: skip
    by = in_force(stamped)
    assert [plan.revision if plan else "" for plan in by.values()] == ["B", "C", "B", "C"]


def test_a_step_that_went_by_two_revisions_names_both() -> None:
    def plan(revision: str) -> Planned:
        return Planned(uid=uid(), done_by="A", text="", digest=revision, revision=revision)

    entries = numbered([plan("A"), plan("B"), *whole("snug"), plan("C"), *whole("1", "2", "3")])
    job = Job(joints=(joint(8, shares=(0.3, 0.6, 1.0), rounds=0),), steps=(StepPlan("s", "s", "joint", "head"),))
    made = build(job, Record(entries, len(entries)), START)
    (step,) = [fact for fact in made.facts if isinstance(fact, kinds.StepStands)]
    assert (step.revision, step.plan_entry) == ("B, C", 7)


@pytest.fixture(name="book", scope="module")
def book_fixture(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Every pass of the discharge head by revision B; then revision C raises its target, and one stud is pulled again."""
    made = Rich(tmp_path_factory.mktemp("raised"))
    made.stand("B", "Ines")
    plan = made.job.joint(HEAD)
    assert plan is not None
    for each in plan.passes:
        if each.name == "round 1":
            break
        for place, bolts in enumerate(each.steps, 1):
            made.put(made.tightened(HEAD, each.name, place, bolts, "Ines", "wrench W1", "HW-0311"))
    before = made.tightened(HEAD, "round 1", 2, plan.passes[-1].steps[1], "Ines", "wrench W1", "HW-0311")
    done_at = made.clock.now
    made.clock.forward(hours=1)
    text = made.text.replace('revision = "B"', 'revision = "C"', 1).replace('"375 MPa"', '"400 MPa"', 1)
    made.path.write_text(text, "utf-8")
    made._read()
    made.stand("C", "Tomas")
    made.put(made.tightened(HEAD, "round 1", 1, plan.passes[-1].steps[0], "Ines", "wrench W1", "HW-0311"))
    made.clock.forward(hours=1)
    made.put(Tightened(**{**before.__dict__, "done_at": done_at, "entered_by": "Tomas"}))
    return open_book(made.path, made.clock.now)


def test_studs_set_by_an_earlier_plan_are_named_with_both_values(book: Book) -> None:
    (found,) = [each for each in book.built.deviations if each.kind == "set by an earlier plan"]
    again = set(book.stands.job.joints[0].passes[-1].steps[0])
    assert set(found.bolts) == set(range(1, 25)) - again
    assert "set by an earlier plan to 505 bar, the plan that stands tells 5" in found.text
    assert not any(each.kind == "set otherwise than told" for each in book.built.deviations)


def test_paper_of_before_the_revision_is_told_by_the_revision_it_was_done_by(book: Book) -> None:
    rows = {(f.bolt, f.pass_): f for f in book.built.facts if isinstance(f, kinds.StudValue)}
    first, second = book.stands.job.joints[0].passes[-1].steps[:2]
    assert {rows[bolt, "round 1"].revision for bolt in first} == {"C"}
    assert {rows[bolt, "round 1"].revision for bolt in second} == {"B"}


def test_the_joint_s_state_says_so(book: Book) -> None:
    (head,) = [each for each in closed_items(book.built) if each.id == HEAD]
    assert not head.good
    steps = {f.step: f.revision for f in book.built.facts if isinstance(f, kinds.StepStands)}
    assert steps["head-first"] == "B"
