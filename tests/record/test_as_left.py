"""What a joint was left at, against its limits: worked by hand on a few studs."""

from __future__ import annotations

from splitline.record.as_built import AsBuilt, build
from splitline.record.as_left import AsLeft, as_left, as_read
from splitline.record.closing import closed_items, missing, ranges, shifts
from splitline.record.entry import AS_FOUND, Entry, Measured, Signed
from splitline.record.job import ItemPlan, Job, StepPlan
from splitline.record.journal import Record
from tests.record.helpers import START, joint, numbered, pull, uid

MM = 1e-3


def built(*entries: Entry, job: Job | None = None) -> AsBuilt:
    record = Record(numbered(entries), len(entries))
    return build(job or Job(joints=(joint(8, rounds=0),)), record, START)


def stretch(
    bolt: int, value: float, pass_: str = "2", low: float | None = 0.2 * MM, high: float | None = 0.4 * MM
) -> Measured:
    return Measured(
        uid=uid(), done_by="Ines", item="head", what="stretch", bolt=bolt, pass_=pass_, value=value, quantity="length",
        low=low, high=high,
    )  # fmt: skip


def left(*entries: Entry) -> AsLeft:
    return as_left(built(*entries).joints[0])


def every_pull() -> list[Entry]:
    return [pull(a, a + 4, pass_=name, torque=100.0) for name in ("snug", "1", "2") for a in range(1, 5)]


def test_the_last_reading_of_a_bolt_counts_and_the_nearest_to_a_limit_is_worst() -> None:
    found = left(*every_pull(), *(stretch(bolt, 0.3 * MM) for bolt in range(1, 8)), stretch(3, 0.25 * MM))
    assert found.values[3] == 0.25 * MM
    assert (found.worst, found.why) == ((3,), "nearest to a limit")
    assert found.read
    assert found.passes == ("2",)


def test_every_bolt_outside_is_worst() -> None:
    found = left(*every_pull(), *(stretch(bolt, (0.3 if bolt < 6 else 0.5) * MM) for bolt in range(1, 9)))
    assert (found.worst, found.why) == ((6, 7, 8), "outside the limits")


def test_where_few_were_read_the_map_tells_what_was_set_and_the_readings_stand_apart() -> None:
    made = built(*every_pull(), stretch(1, 0.3 * MM)).joints[0]
    assert not as_left(made).read
    assert set(as_left(made).values.values()) == {100.0}
    read = as_read(made)
    assert read is not None
    assert read.values == {1: 0.3 * MM}


def test_bolts_of_an_open_pass_are_short() -> None:
    found = left(*every_pull()[:-1])
    assert found.short == (4, 8)


def test_a_reading_put_right_later_no_longer_counts_as_outside() -> None:
    job = Job(items=(ItemPlan("clearance", "gap", "Gap"),), steps=(StepPlan("s", "s", "clearance", "gap"),))

    def state(*readings: tuple[str, float]) -> str:
        entries: list[Entry] = [
            Measured(uid=uid(), done_by="I", item="gap", what=what, value=value * MM, quantity="length", high=0.4 * MM)
            for what, value in readings
        ]
        entries.append(Signed(uid=uid(), done_by="I", act="done", step="s"))
        (item,) = closed_items(built(*entries, job=job))
        return item.state

    assert state(("as left", 0.5), ("as left", 0.3)) == "closed"
    assert state(("as left", 0.3), ("as left", 0.5)) == "closed, OUTSIDE: as left"
    assert state((AS_FOUND, 0.5)) == "closed, as found OUTSIDE, NO reading as left"
    assert state((AS_FOUND, 0.3)) == "closed, as found, not changed"


def test_a_joint_that_still_reads_outside_is_not_simply_closed() -> None:
    made = built(*every_pull(), stretch(2, 0.5 * MM), stretch(5, 0.5 * MM), stretch(5, 0.3 * MM))
    (item,) = closed_items(made)
    assert (item.state, item.good, item.closed) == ("closed OUTSIDE: stretch 2", False, True)


def test_nuts_that_moved_in_the_last_round_allowed_are_part_of_the_state() -> None:
    rounds = [pull(a, a + 4, pass_=f"round {n}", torque=100.0, moved=a == 2) for n in (1, 2, 3) for a in range(1, 5)]
    (item,) = closed_items(built(*every_pull(), *rounds, job=Job(joints=(joint(8),))))  # three rounds at most
    assert (item.state, item.good) == ("closed NUTS STILL MOVED in the last round: 2, 6", False)


def test_a_joint_the_plan_no_longer_has_is_not_closed() -> None:
    made = built(*every_pull(), job=Job())
    (item,) = closed_items(made)
    assert (item.state, item.good, item.closed) == ("worked on, but no longer in the plan", False, False)
    assert any(text.endswith("no longer in the plan") for text in missing(made))


def test_work_is_told_in_stretches_between_gaps_of_four_hours() -> None:
    pulls = [pull(1), pull(2), pull(3, done_at=START.replace(hour=18)), pull(4, done_at=START.replace(hour=19))]
    found = shifts(built(*pulls))
    assert [shift.entries for shift in found] == [(1, 2), (3, 4)]
    assert found[0].gap is None
    assert found[1].gap is not None
    assert found[1].gap.total_seconds() == (12 * 60 - 2) * 60  # from 06:02 to 18:00


def test_numbers_are_said_in_ranges() -> None:
    assert ranges([3, 1, 2, 7, 8, 10]) == "1 to 3, 7, 8, 10"
