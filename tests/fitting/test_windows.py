"""Times of the order of work: one after another, earliest, windows, countdown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.windows import (
    Task,
    between,
    countdown,
    earliest,
    elapsed,
    moment,
    one_after_another,
    unknown_durations,
)

TASKS = (
    Task("clean", 600.0),
    Task("bead", 900.0),
    Task("lower", 1200.0, ("bead",)),
    Task("gauges", 1800.0, ("clean",)),
    Task("bolting", 3000.0, ("lower",)),
)


def test_critical_path_against_hand_computation() -> None:
    times = earliest(TASKS)
    assert elapsed(times, ("bead", "start"), ("bolting", "done")) == 900 + 1200 + 3000
    assert moment(times, ("gauges", "start")) == 600
    serial = one_after_another(TASKS)
    assert elapsed(serial, ("bead", "start"), ("bolting", "done")) == 900 + 1200 + 1800 + 3000


@given(st.lists(st.floats(0, 1e4), min_size=1, max_size=12), st.data())
def test_earliest_never_takes_longer_and_keeps_every_need(durations: list[float], data: st.DataObject) -> None:
    tasks = []
    for i, spent in enumerate(durations):
        needs = data.draw(st.lists(st.integers(0, i - 1), unique=True, max_size=3)) if i else []
        tasks.append(Task(str(i), spent, tuple(map(str, needs))))
    fast, slow = earliest(tasks), one_after_another(tasks)
    assert max(s.done for s in fast.values()) <= max(s.done for s in slow.values()) + 1e-6
    for task in tasks:
        for need in task.needs:
            assert fast[task.id].start >= fast[need].done
            assert slow[task.id].start >= slow[need].done - 1e-6


def test_tasks_between_two_moments() -> None:
    inside = between(TASKS, ("bead", "done"), ("bolting", "start"))
    assert [t.id for t in inside] == ["lower", "gauges"]
    assert [t.id for t in between(TASKS, ("bead", "start"), ("bead", "done"))] == ["bead"]
    assert between(TASKS, ("bolting", "done"), ("bead", "start")) == ()
    assert unknown_durations((Task("a", None), Task("b", 0.0))) == ("a",)
    with pytest.raises(InputError, match="no step"):
        between(TASKS, ("bead", "start"), ("nothing", "done"))


def test_needs_that_come_later_are_refused() -> None:
    with pytest.raises(InputError, match="do not come before"):
        earliest((Task("a", 1.0, ("b",)), Task("b", 1.0)))
    with pytest.raises(InputError, match="no step"):
        moment(earliest(TASKS), ("nothing", "start"))


@pytest.mark.parametrize(
    ("since", "least", "most", "state"),
    [(60, 600, None, "wait"), (700, 600, 2700, "open"), (2701, None, 2700, "broken"), (5, None, None, "open")],
)
def test_countdown(since: float, least: float | None, most: float | None, state: str) -> None:
    assert countdown(since, least, most).state == state
