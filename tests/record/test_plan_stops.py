"""A plan changed under work that was begun stops that work and tells old and new, whatever kind of work it is."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.record.compare import digests
from splitline.record.entry import AS_FOUND, Accepted, Entry, Measured, Planned, SetAside, Signed
from splitline.record.job import Job
from splitline.record.journal import Record
from splitline.record.stops import Stop, check_open, open_stops
from tests.record.helpers import START, numbered, pull, uid

OLD = """
[[joint]]
id = "head"
torque = 1
[[lift]]
id = "cover"
crane = 5
[[fit]]
id = "hub"
advance = 7
[[clearance]]
id = "float"
low = 1
[[insertion]]
id = "bundle"
stop = 3
[[item]]
id = "plates"
quantity = 4
[[window]]
id = "open"
from = "bead.start"
to = "bolt.done"
at_most = 45
[[step]]
id = "bead"
text = "Bead"
minutes = 9
[[step]]
id = "bolt"
joint = "head"
[[step]]
id = "up"
lift = "cover"
crew = 2
[[step]]
id = "on"
fit = "hub"
[[step]]
id = "gap"
clearance = "float"
[[step]]
id = "in"
insertion = "bundle"
"""


def planned(text: str) -> Planned:
    found = digests(text)
    return Planned(uid=uid(), done_by="P. Planner", text=text, digest=found.whole, items=found.items)


def sign(act: str, step: str, **more: Any) -> Signed:
    return Signed(uid=uid(), done_by="A. Fitter", act=act, step=step, **more)


def read(item: str, what: str = "as left", step: str = "") -> Measured:
    return Measured(uid=uid(), done_by="A. Fitter", item=item, what=what, value=1.0, quantity="length", step=step)


def stops(*entries: Entry, item: str = "") -> tuple[Stop, ...]:
    return open_stops(Job(), record_of(*entries), START, item)


def record_of(*entries: Entry) -> Record:
    found = numbered(entries)
    return Record(found, len(found))


@pytest.mark.parametrize(
    ("act", "old", "new", "key", "item", "said"),
    [
        (pull(1), "torque = 1", "torque = 2", "head", "head", "torque: was 1, now 2"),
        (SetAside(uid="a", done_by="x", joint="head", pass_="1", bolts=(1,), reason="galled"),
         "torque = 1", "torque = 2", "head", "head", "torque: was 1, now 2"),
        (sign("trial", "up"), "crane = 5", "crane = 9", "cover", "cover", "crane: was 5, now 9"),
        (sign("tag", "up"), "crane = 5", "crane = 9", "cover", "cover", "crane: was 5, now 9"),
        (sign("mounting", "on"), "advance = 7", "advance = 8", "hub", "hub", "advance: was 7, now 8"),
        (read("float", step="gap"), "low = 1", "low = 0", "float", "float", "low: was 1, now 0"),
        (read("bundle", "push force"), "stop = 3", "stop = 30", "bundle", "bundle", "stop: was 3, now 30"),
        (sign("start", "in"), "stop = 3", "stop = 30", "bundle", "bundle", "stop: was 3, now 30"),
        (sign("done", "bead"), "minutes = 9", "minutes = 1", "bead", "bead", "minutes: was 9, now 1"),
        (read("bead", "temperature"), "minutes = 9", "minutes = 1", "bead", "bead", "minutes: was 9, now 1"),
        (sign("start", "up"), "crew = 2", "crew = 1", "cover", "cover", "step up: crew: was 2, now 1"),
        (sign("start", "bead"), "at_most = 45", "at_most = 450", "open", "", "at_most: was 45, now 450"),
        (sign("count-out", "in", role="plates"), "quantity = 4", "quantity = 3", "plates", "plates",
         "quantity: was 4, now 3"),
    ],
)  # fmt: skip
def test_a_begun_item_whose_plan_changed_stops_and_tells_old_and_new(
    act: Entry, old: str, new: str, key: str, item: str, said: str
) -> None:
    changed = planned(OLD.replace(old, new))
    (stop,) = stops(planned(OLD), act, changed)
    assert (stop.key, stop.item, stop.entry) == (f"plan changed, {key}, entry 3", item, 3)
    assert stop.details == (said,)
    assert stop.kind == "plan changed"
    assert stops(planned(OLD), changed, act) == ()  # begun under the new one
    accepted = Accepted(uid=uid(), done_by="D. Lead", stop=stop.key, reason="agreed")
    assert stops(planned(OLD), act, changed, accepted) == ()


def test_what_comes_before_the_work_begins_nothing() -> None:
    changed = planned(
        OLD.replace("low = 1", "low = 0").replace("torque = 1", "torque = 2").replace("crane = 5", "crane = 6")
    )
    before = (
        read("float", AS_FOUND, "gap"),
        sign("set-up", "bolt", joint="head"),
        sign("witness", "up"),
        sign("witness-absent", "up"),
    )
    assert stops(planned(OLD), *before, changed) == ()


def test_what_nobody_began_may_change() -> None:
    assert stops(planned(OLD), sign("start", "up"), planned(OLD.replace("advance = 7", "advance = 8"))) == ()


def test_begun_work_that_is_gone_from_the_plan_stops_everything() -> None:
    gone = planned(OLD.replace('[[fit]]\nid = "hub"\nadvance = 7\n', "").replace('fit = "hub"', ""))
    found = stops(planned(OLD), sign("mounting", "on"), gone, item="head")
    assert [stop.item for stop in found] == [
        "",
    ] * len(found)
    assert any("no longer in the plan" in stop.text for stop in found)


def test_a_step_and_its_item_that_both_changed_are_one_stop() -> None:
    changed = planned(OLD.replace("crew = 2", "crew = 1").replace("crane = 5", "crane = 9"))
    (stop,) = stops(planned(OLD), sign("start", "up"), changed)
    assert stop.details == ("crane: was 5, now 9", "step up: crew: was 2, now 1")


def test_a_plain_step_waits_for_its_own_stops_only() -> None:
    record = record_of(planned(OLD), pull(1), planned(OLD.replace("torque = 1", "torque = 2")))
    check_open(Job(), record, START, "bead")
