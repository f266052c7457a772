"""Waits that windows force on the schedule."""

from __future__ import annotations

from splitline.fitting.windows import Task, Wait, earliest, elapsed, one_after_another

TASKS = (Task("push", 600.0), Task("release", 60.0, ("push",)), Task("lock", 300.0, ("release",)))


def test_a_wait_puts_off_the_step_it_ends_in() -> None:
    hold = Wait(("push", "done"), ("lock", "start"), 600.0)
    for times in (one_after_another(TASKS, (hold,)), earliest(TASKS, (hold,))):
        assert elapsed(times, ("push", "done"), ("lock", "start")) == 600.0
        assert times["lock"].done == 1500.0


def test_a_wait_already_covered_changes_nothing() -> None:
    short = Wait(("push", "start"), ("lock", "start"), 500.0)
    assert one_after_another(TASKS, (short,)) == one_after_another(TASKS)


def test_a_wait_to_an_end_draws_the_step_out() -> None:
    cure = Wait(("lock", "start"), ("lock", "done"), 900.0)
    assert one_after_another(TASKS, (cure,))["lock"].done == 660.0 + 900.0
    whole = Wait(("push", "start"), ("lock", "done"), 2000.0)
    assert earliest(TASKS, (whole,))["lock"].done == 2000.0


def test_a_wait_that_begins_later_than_it_ends_is_left_to_the_order_checks() -> None:
    backwards = Wait(("lock", "done"), ("push", "start"), 900.0)
    assert one_after_another(TASKS, (backwards,)) == one_after_another(TASKS)
