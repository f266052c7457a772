"""Pushing a bundle: forces, log, tracks, jacks."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.insertion import (
    GRAVITY,
    judge_log,
    overhang_limit,
    push_force,
    stop_force,
    track_reactions,
)
from splitline.fitting.jacks import followed, jack_force, jack_pressure, multiplied, strokes


@given(st.floats(100, 1e5), st.floats(0, 0.3), st.floats(-0.1, 0.1))
def test_up_and_down_average_to_the_friction(mass: float, friction: float, slope: float) -> None:
    up, down = push_force(mass, friction, slope), push_force(mass, friction, -slope)
    assert (up.total + down.total) / 2 == pytest.approx(friction * mass * GRAVITY * math.cos(slope), abs=1e-6 * mass)


def test_steep_track_runs_away() -> None:
    assert push_force(5000, 0.03, -math.radians(3)).total < 0
    with pytest.raises(InputError, match="slope"):
        push_force(5000, 0.1, 1.0)


def test_log_stops_above_the_stop_force_and_on_a_jump() -> None:
    limit = stop_force(13e3)
    assert limit == pytest.approx(16.9e3)
    found = judge_log((2e3, 4e3, 9e3, 9.5e3, 12.5e3, 17e3), 13e3)
    assert [v.stop for v in found] == [False, False, False, False, True, True]
    assert "jumped" in found[4].reason
    assert "STOP" in found[5].reason


@given(st.floats(1e3, 1e6), st.floats(-1, 4))
def test_reactions_carry_weight_and_moment(weight: float, centre: float) -> None:
    r = track_reactions(weight, centre, 0.0, 3.0)
    assert r.rear + r.front == pytest.approx(weight, rel=1e-12)
    assert r.front * 3.0 == pytest.approx(weight * centre, rel=1e-9, abs=1e-9)
    if not 0 <= centre <= 3:
        assert r.lifts == (min(r.rear, r.front) < 0)


def test_overhang_and_coinciding_supports() -> None:
    assert overhang_limit(1.0, 1.8) == pytest.approx(0.8)
    with pytest.raises(InputError):
        track_reactions(1e3, 0.5, 1.0, 1.0)


@given(st.floats(1, 1e6), st.floats(1e-4, 0.1), st.integers(1, 8))
def test_jack_pressure_and_force_undo_each_other(force: float, area: float, jacks: int) -> None:
    assert jack_force(jack_pressure(force, area, jacks), area, jacks) == pytest.approx(force, rel=1e-12)


def test_work_is_kept_between_pistons() -> None:
    assert multiplied(100.0, 1.0, 12.0) * followed(0.3, 1.0, 12.0) == pytest.approx(100.0 * 0.3)


@pytest.mark.parametrize(("distance", "count"), [(1.0, 5), (1.01, 6), (0.2, 1), (0.05, 1), (0.6, 3)])
def test_whole_strokes(distance: float, count: int) -> None:
    assert strokes(distance, 0.2) == count


def test_no_jack_is_refused() -> None:
    for call in (jack_pressure, jack_force):
        with pytest.raises(InputError, match="jacks"):
            call(1e3, 0.01, 0)
