"""The strict machine over the passes of a joint."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import RecordError
from splitline.record.entry import Accepted, Entry, SetAside, WrongEntry
from splitline.record.job import JointPlan, PassPlan
from splitline.record.journal import Record
from splitline.record.progress import brought_back, check_bolts, concession, joint_progress
from splitline.record.struck import check_strike, live
from tests.record.helpers import joint, journal, numbered, pull, uid

HEAD = joint()


def record(*entries: Entry) -> Record:
    stamped = numbered(entries)
    return Record(stamped, len(stamped))


def whole(name: str, **more: object) -> list[Entry]:
    return [pull(bolt, bolt + 4, pass_=name, **more) for bolt in range(1, 5)]


def aside(*bolts: int, pass_: str = "snug") -> SetAside:
    return SetAside(uid=uid(), done_by="A. Fitter", joint="head", pass_=pass_, bolts=bolts, reason="galled")


def strike(entry: int) -> WrongEntry:
    return WrongEntry(uid=uid(), done_by="A. Fitter", entry=entry, reason="wrong stud")


def test_passes_open_one_after_another() -> None:
    state = joint_progress(HEAD, ())
    assert [each.plan.name for each in state.passes] == ["snug", "1", "2", "round 1"]
    assert state.current is not None
    assert state.current.plan.name == "snug"
    assert state.current.steps()[0] == (1, (1, 5))
    state = joint_progress(HEAD, record(*whole("snug")).entries)
    assert state.current is not None
    assert state.current.plan.name == "1"
    everything = [*whole("snug"), *whole("1"), *whole("2"), *whole("round 1")]
    assert joint_progress(HEAD, record(*everything).entries).closed


def test_a_joint_of_which_nothing_is_known_never_closes() -> None:
    assert not joint_progress(JointPlan("head"), ()).closed


def test_a_pass_does_not_close_with_one_stud_missing() -> None:
    entries = [*whole("snug")[:-1], pull(4, pass_="snug")]
    state = joint_progress(HEAD, record(*entries).entries)
    assert state.current is not None
    assert (state.current.plan.name, state.current.open) == ("snug", (8,))
    assert state.current.steps() == ((4, (8,)),)


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (pull(1, 5, pass_="1"), "pass 1 of head is not open: pass snug is open"),
        (pull(2, 6, pass_="snug"), "stud 2 is done in pass snug already: entry 2, A. Fitter"),
        (pull(3, 6, pass_="snug"), "stud 6 is done"),
        (pull(3, 9, pass_="snug"), "no stud 9"),
        (pull(3, 3, pass_="snug"), "twice"),
        (pull(3, pass_="3"), "no pass 3"),
        (aside(2), "stud 2 is done"),
    ],
)
def test_what_does_not_fit_is_refused_with_the_reason(entry: Entry, says: str) -> None:
    now = record(pull(1, 5, pass_="snug"), pull(2, 6, pass_="snug"))
    assert isinstance(entry, (type(pull(1)), SetAside))
    with pytest.raises(RecordError, match=says):
        check_bolts(HEAD, now, entry)


def test_after_the_last_pass_nothing_is_open() -> None:
    now = record(*whole("snug"), *whole("1"), *whole("2"), *whole("round 1"))
    with pytest.raises(RecordError, match="done in pass"):
        check_bolts(HEAD, now, pull(1, pass_="2"))


def test_a_stud_set_aside_keeps_the_pass_open_until_tightened_or_accepted() -> None:
    entries = [*whole("snug")[:3], pull(4, pass_="snug"), aside(8)]
    state = joint_progress(HEAD, record(*entries).entries)
    assert state.current is not None
    assert state.current.open == (8,)
    assert state.current.steps() == ((4, (8,)),)
    check_bolts(HEAD, record(*entries), pull(8, pass_="snug"))
    with pytest.raises(RecordError, match="not open"):
        check_bolts(HEAD, record(*entries), pull(1, 5, pass_="1"))
    accepted = Accepted(uid=uid(), done_by="D. Lead", stop=concession(5), reason="stud replaced at next stop")
    state = joint_progress(HEAD, record(*entries, accepted).entries)
    assert state.current is not None
    assert state.current.plan.name == "1"
    assert state.passes[0].conceded == {8}
    with pytest.raises(RecordError, match="accepted as deferred"):
        check_bolts(HEAD, record(*entries, accepted), pull(8, pass_="snug"))


def test_studs_set_aside_come_last_in_their_pass() -> None:
    state = joint_progress(HEAD, record(aside(1), aside(2, 6)).entries)
    assert state.current is not None
    assert state.current.steps() == ((1, (5,)), (3, (3, 7)), (4, (4, 8)), (2, (2, 6)))
    assert state.current.steps(frozenset({5, 3})) == ((4, (4, 8)), (2, (2, 6)))


def test_a_wrong_entry_opens_its_bolts_and_pass_again() -> None:
    entries = [*whole("snug"), *whole("1"), pull(1, 5, pass_="2")]
    state = joint_progress(HEAD, record(*entries, strike(2)).entries)
    assert state.current is not None
    assert (state.current.plan.name, state.current.open) == ("snug", (2, 6))
    assert set(state.passes[2].done) == {1, 5}
    state = joint_progress(HEAD, record(*entries, strike(2), pull(2, 6, pass_="snug")).entries)
    assert state.current is not None
    assert state.current.plan.name == "2"


def test_a_wrong_set_aside_is_struck_too() -> None:
    state = joint_progress(HEAD, record(aside(1), strike(1)).entries)
    assert state.current is not None
    assert state.current.aside == {}


def test_strikes_themselves_stay() -> None:
    entries = record(pull(1), strike(1), strike(2)).entries
    assert [entry.number for entry in live(entries)] == [2, 3]
    for target, says in ((1, "struck already"), (2, "stays"), (9, "no entry 9")):
        with pytest.raises(RecordError, match=says):
            check_strike(record(pull(1), strike(1)), strike(target))
    check_strike(record(pull(1)), strike(1))


def test_rounds_go_on_until_no_nut_moves_but_not_for_ever() -> None:
    before = [*whole("snug"), *whole("1"), *whole("2")]
    moved = [*whole("round 1")[:3], pull(4, 8, pass_="round 1", moved=True)]
    state = joint_progress(HEAD, record(*before, *moved).entries)
    assert state.current is not None
    assert state.current.plan.name == "round 2"
    assert state.still_moving == ()
    still = [*whole("round 2")[:3], pull(4, 8, pass_="round 2", moved=True)]
    last = [*whole("round 3")[:3], pull(4, 8, pass_="round 3", moved=True)]
    state = joint_progress(HEAD, record(*before, *moved, *still, *last).entries)
    assert state.closed
    assert state.still_moving == (4, 8)
    assert joint_progress(HEAD, record(*before, *moved, *whole("round 2")).entries).closed


@given(seed=st.integers(0, 2**32), bolts=st.sampled_from([4, 6, 8, 12]))
def test_any_legal_history_ends_with_each_stud_once_a_pass(seed: int, bolts: int) -> None:
    """Random acts; only those the check lets through count. No stud is lost and none stands twice."""
    chance = random.Random(seed)
    plan = joint(bolts, rounds=0)
    entries: list[Entry] = []
    while (current := joint_progress(plan, (now := record(*entries)).entries).current) is not None:
        names = [each.name for each in plan.passes]
        act: Entry
        kind = chance.random()
        if kind < 0.6:
            act = pull(*chance.choice(current.steps())[1], pass_=current.plan.name)
        elif kind < 0.8:
            act = pull(chance.randint(1, bolts), pass_=chance.choice(names))
        elif kind < 0.9 and entries and len(entries) < 60:
            act = strike(chance.randint(1, len(entries)))
        else:
            act = aside(chance.randint(1, bolts), pass_=current.plan.name)
        try:
            if isinstance(act, WrongEntry):
                check_strike(now, act)
            else:
                assert isinstance(act, (type(pull(1)), SetAside))
                check_bolts(plan, now, act)
        except RecordError:
            continue
        entries.append(act)
    alive = live(record(*entries).entries)
    for each in plan.passes:
        done = [
            b for entry in alive if isinstance(entry, type(pull(1))) and entry.pass_ == each.name for b in entry.bolts
        ]
        assert sorted(done) == list(range(1, bolts + 1))


def test_two_screens_cannot_enter_one_stud_twice(tmp_path: Path) -> None:
    book, other = journal(tmp_path), journal(tmp_path)
    act = pull(1, 5, pass_="snug")
    book.append(act, lambda now: check_bolts(HEAD, now, act))
    second = pull(1, 5, pass_="snug", done_by="B. Fitter")
    with pytest.raises(RecordError, match=r"stud 1 is done in pass snug already: entry 1, A\. Fitter, 06:00"):
        other.append(second, lambda now: check_bolts(HEAD, now, second))
    assert book.append(act, lambda now: check_bolts(HEAD, now, act)).number == 1


def test_steps_of_other_sizes_may_hold_single_bolts() -> None:
    plan = replace(HEAD, passes=(PassPlan("1", ((1,), (2, 3, 4, 5), (6, 7, 8))),))
    state = joint_progress(plan, record(pull(1), pull(2, 4)).entries)
    assert state.current is not None
    assert state.current.steps() == ((2, (3, 5)), (3, (6, 7, 8)))


def without_eight() -> list[Entry]:
    """Snug with stud 8 set aside by entry 5 and accepted by entry 6."""
    accepted = Accepted(uid=uid(), done_by="D. Lead", stop=concession(5), reason="stud replaced at next stop")
    return [*whole("snug")[:3], pull(4, pass_="snug"), aside(8), accepted]


def test_a_stud_accepted_as_set_aside_is_in_no_later_pass_and_closure_says_so() -> None:
    rest = [*whole("1")[:3], pull(4, pass_="1"), *whole("2")[:3], pull(4, pass_="2")]
    done = [*without_eight(), *rest, *whole("round 1")[:3], pull(4, pass_="round 1")]
    for count in range(6, len(done)):
        state = joint_progress(HEAD, record(*done[:count]).entries)
        assert state.current is not None
        assert 8 not in state.current.open
        assert all(8 not in left for _, left in state.current.steps())
    state = joint_progress(HEAD, record(*done).entries)
    assert (state.closed, state.short) == (True, (8,))
    with pytest.raises(RecordError, match="until a named person brings it back"):
        check_bolts(HEAD, record(*without_eight()), pull(8, pass_="1"))


def test_a_stud_brought_back_is_pulled_from_the_pass_it_was_set_aside_in() -> None:
    back = Accepted(uid=uid(), done_by="D. Lead", stop=brought_back(5), reason="stud replaced")
    acts = [*without_eight(), *whole("1")[:3], pull(4, pass_="1"), back]
    asked = []
    while (now := joint_progress(HEAD, record(*acts).entries).current) is not None and 8 in now.open:
        asked.append(now.plan.name)
        acts += [pull(bolt, pass_=now.plan.name) for bolt in now.open]
    assert asked == ["snug", "1", "2", "round 1"]
    state = joint_progress(HEAD, record(*acts).entries)
    assert (state.closed, state.short, state.left_out) == (True, (), {})


def test_an_older_record_that_pulled_such_a_stud_in_the_next_pass_keeps_it_in_the_instruction() -> None:
    acts = [*without_eight(), *whole("1")]
    state = joint_progress(HEAD, record(*acts).entries)
    assert state.current is not None
    assert (state.current.plan.name, 8 in state.current.open) == ("2", True)
    assert state.left_out == {}
