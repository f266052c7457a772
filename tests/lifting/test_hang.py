"""The hang solver: random lifts, odd cases, symmetry, closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.lifting.hang import Hang, cannot_meet, hang, poses_of
from splitline.lifting.poses import energy, shape
from splitline.lifting.settle import settle

SQUARE = [(-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)]


def out_of_balance(picks: object, centre: object, weight: float, state: Hang) -> float:
    """Force and moment left over, share of the weight, from nothing but hook, up and tensions."""
    points, hook, up = np.array(picks, dtype=float), np.array(state.hook), np.array(state.up)
    legs = hook - points
    pulls = np.array(state.tensions)[:, None] * legs / np.linalg.norm(legs, axis=1)[:, None]
    force = pulls.sum(axis=0) - weight * up
    moment = np.cross(points - np.array(centre), pulls).sum(axis=0)
    return float(max(np.linalg.norm(force), np.linalg.norm(moment) / np.linalg.norm(legs, axis=1).max()) / weight)


def random_lift(random: np.random.Generator) -> tuple[np.ndarray, np.ndarray, list[float | None], np.ndarray, float]:
    count = int(random.integers(1, 9))
    flat = 0.3 if random.random() < 0.5 else 1.0
    picks = random.uniform(-2, 2, (count, 3)) * [1, 1, flat]
    lengths = random.uniform(2.9, 4.0, count) if flat == 1.0 else 3.2 * (1 + random.uniform(-0.01, 0.01, count))
    weight = 10 ** random.uniform(4, 5.5)
    hard = None if random.random() < 0.2 else float(weight * 10 ** random.uniform(1.3, 4.0))
    return picks, lengths, [hard] * count, random.uniform(-0.6, 0.6, 3), float(weight)


def test_random_lifts_all_balance_and_say_when_they_turn_over() -> None:
    random = np.random.default_rng(11)
    words = set()
    for _ in range(400):
        picks, lengths, hard, centre, weight = random_lift(random)
        state = hang(picks.tolist(), lengths.tolist(), hard, centre.tolist(), weight)
        words.add(state.state)
        assert state.residual < 1e-9
        assert out_of_balance(picks, centre, weight, state) < 1e-9
        assert (state.state == "turns over") == (state.up[2] <= 0.0)
        assert all(math.isfinite(v) and v >= 0.0 for v in state.tensions)
    assert words >= {"stable", "turns over"}


@pytest.mark.long
def test_five_thousand_random_lifts() -> None:
    random = np.random.default_rng(5)
    for _ in range(5000):
        picks, lengths, hard, centre, weight = random_lift(random)
        state = hang(picks.tolist(), lengths.tolist(), hard, centre.tolist(), weight)
        assert out_of_balance(picks, centre, weight, state) < 1e-9


def test_rest_is_a_valley_not_a_saddle() -> None:
    """Stepping off a stable rest in any direction raises the energy."""
    random = np.random.default_rng(3)
    checked = 0
    while checked < 60:
        picks, lengths, hard, centre, weight = random_lift(random)
        hard = [weight * 300.0] * len(hard)
        poses = poses_of(picks.tolist(), lengths.tolist(), hard, centre.tolist(), weight)
        rest = settle(poses)
        if rest.bend[0] < 1e-3:
            continue
        checked += 1
        here = energy(poses, shape(poses, rest.hook))[0]
        for _ in range(20):
            step = random.normal(size=(1, 3))
            step *= 1e-3 / np.linalg.norm(step)
            assert energy(poses, shape(poses, rest.hook + step))[0] > here


def test_no_standing_rest_is_overlooked() -> None:
    """A lift said to turn over has no standing rest that a scatter of starts would find."""
    random = np.random.default_rng(8)
    fallen = 0
    while fallen < 12:
        picks, lengths, hard, centre, weight = random_lift(random)
        if len(picks) < 3:
            continue
        poses = poses_of(picks.tolist(), lengths.tolist(), hard, centre.tolist(), weight)
        if settle(poses).up[0, 2] > 0.0:
            continue
        fallen += 1
        many = poses.take(np.zeros(40, dtype=int))
        top = max(centre[2], picks[:, 2].max())
        starts = np.column_stack([centre[:2] + random.uniform(-1.5, 1.5, (40, 2)), top + random.uniform(0.1, 3.5, 40)])
        found = settle(many, starts, rescue=False)
        assert not (found.solved & (found.bend > 1e-6) & (found.up[:, 2] > 0.0)).any()


def test_one_leg_hangs_under_its_pick() -> None:
    state = hang([(0.3, 0.4, 0.2)], [2.0], [None], (0.0, 0.0, 0.0), 10e3)
    assert state.tensions == pytest.approx([10e3])
    assert state.tilt == pytest.approx(math.atan2(0.5, 0.2), rel=1e-6)
    assert hang([(0, 0, 0)], [2.0], [None], (0, 0, 0.5), 10e3).state == "turns over"
    assert hang([(0, 0, 0)], [2.0], [None], (0, 0, 0), 10e3).state == "neutral"


def test_two_legs() -> None:
    pair, level = [(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)], [2.0, 2.0]
    assert hang(pair, level, [None, None], (0, 0, -0.1), 10e3).state == "stable"
    assert hang(pair, level, [None, None], (0, 0, 0), 10e3).state == "neutral"
    assert hang(pair, level, [None, None], (0, 0, 0.1), 10e3).state == "turns over"
    swung = hang(pair, level, [None, None], (0, 0.3, -0.3), 10e3)
    assert swung.tilt == pytest.approx(math.radians(45), rel=1e-6)


def test_collinear_picks() -> None:
    line = [(-1.0, 0.0, 0.0), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0)]
    state = hang(line, [2.0, 1.7, 2.0], [None] * 3, (0, 0, -0.3), 10e3)
    assert state.state == "stable"
    assert state.tensions == pytest.approx([0.0, 10e3, 0.0], abs=1e-3)


def test_high_centre_stands_while_it_is_below_the_hook() -> None:
    hook = math.sqrt(2.0)
    assert hang(SQUARE, [2.0] * 4, [1e7] * 4, (0, 0, 0.8 * hook), 10e3).state == "stable"
    assert hang(SQUARE, [2.0] * 4, [1e7] * 4, (0, 0, 1.1 * hook), 10e3).state == "turns over"


def test_centre_outside_the_picks_leaves_legs_slack() -> None:
    state = hang(SQUARE, [2.0] * 4, [1e6] * 4, (1.7, 0, -0.3), 10e3)
    assert state.tensions[0] == state.tensions[3] == 0.0
    assert math.degrees(state.tilt) > 45


@pytest.mark.parametrize("length", [0.0, -1.0, math.nan, math.inf])
def test_bad_lengths_are_refused_in_words(length: float) -> None:
    with pytest.raises(InputError, match="leg 2: length"):
        hang(SQUARE[:2], [2.0, length], [None, None], (0, 0, -1), 1e4)


def test_other_bad_input_is_refused_in_words() -> None:
    with pytest.raises(InputError, match="at least one leg"):
        hang([], [], [], (0, 0, 0), 1e4)
    with pytest.raises(InputError, match="weight"):
        hang(SQUARE, [2.0] * 4, [None] * 4, (0, 0, -1), 0.0)
    with pytest.raises(InputError, match="three finite numbers"):
        hang([(0, 0, math.nan)], [2.0], [None], (0, 0, -1), 1e4)
    with pytest.raises(InputError, match="cannot meet"):
        hang([(-3, 0, 0), (3, 0, 0)], [2.0, 2.0], [None, None], (0, 0, -1), 1e4)
    assert cannot_meet([(-3, 0, 0), (3, 0, 0)], [2.0, 2.0]) == [(1, 2)]


@given(
    turn=st.floats(0.0, 2 * math.pi),
    move=st.tuples(*[st.floats(-5, 5)] * 3),
    offset=st.tuples(st.floats(-0.4, 0.4), st.floats(-0.4, 0.4)),
)
@settings(max_examples=30, deadline=None)
def test_turning_and_moving_the_frame_changes_nothing(
    turn: float, move: tuple[float, float, float], offset: tuple[float, float]
) -> None:
    c, s = math.cos(turn), math.sin(turn)

    def to(point: tuple[float, float, float]) -> tuple[float, float, float]:
        x, y, z = point
        return (c * x - s * y + move[0], s * x + c * y + move[1], z + move[2])

    lengths, hard = [2.0, 2.01, 1.99, 2.0], [2e6] * 4
    centre = (offset[0], offset[1], -0.4)
    one = hang(SQUARE, lengths, hard, centre, 20e3)
    two = hang([to(p) for p in SQUARE], lengths, hard, to(centre), 20e3)
    assert two.tensions == pytest.approx(one.tensions, rel=1e-6, abs=1e-3)
    assert two.tilt == pytest.approx(one.tilt, rel=1e-6, abs=1e-9)
    assert two.hook == pytest.approx(to(one.hook), abs=1e-7)


def test_short_leg_rule_of_the_rectangle() -> None:
    """One leg short by d changes the diagonals by EA d/(4 L) in the mean of each (closed form, nearly upright legs)."""
    long, hard, weight, short = 30.0, 4e6, 40e3, 0.004
    state = hang(SQUARE, [long - short, long, long, long], [hard] * 4, (0, 0, -0.5), weight)
    even = hang(SQUARE, [long] * 4, [hard] * 4, (0, 0, -0.5), weight).tensions[0]
    rise = hard * short / (4 * long)
    assert (state.tensions[0] + state.tensions[2]) / 2 - even == pytest.approx(rise, rel=0.005)
    assert even - (state.tensions[1] + state.tensions[3]) / 2 == pytest.approx(rise, rel=0.005)
