"""Orders on a circle: each bolt once, groups across the circle, neighbours apart."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.tightening.order import (
    circle_steps,
    clumped,
    coverage_steps,
    first_before,
    flat,
    listed_steps,
    parted,
    spaced,
)

COUNTS = st.integers(3, 400)


@pytest.mark.parametrize("order", ["cross", "quadrant", "round"])
@pytest.mark.parametrize("tools", [1, 2, 4])
def test_each_bolt_once_and_never_more_than_the_tools(order: str, tools: int) -> None:
    for bolts in range(3, 401):
        steps = circle_steps(order, bolts, tools)
        assert sorted(flat(steps)) == list(range(1, bolts + 1))
        assert max(map(len, steps)) <= tools


@pytest.mark.parametrize("order", ["cross", "quadrant"])
def test_neighbours_never_follow_each_other_from_ten_bolts(order: str) -> None:
    for bolts in range(10, 401):
        for tools in (1, 2, 4):
            for one, other in pairwise(flat(circle_steps(order, bolts, tools))):
                assert (one - other) % bolts not in (1, bolts - 1), (bolts, tools, one, other)


def test_two_tools_stand_opposite() -> None:
    for bolts in range(4, 401, 2):
        for order in ("cross", "quadrant", "round"):
            for step in circle_steps(order, bolts, 2):
                assert (step[1] - step[0]) % bolts == bolts // 2


def test_four_tools_stand_a_quarter_apart() -> None:
    for bolts in range(8, 401, 4):
        for order in ("cross", "quadrant", "round"):
            for step in circle_steps(order, bolts, 4):
                assert {(bolt - step[0]) % bolts for bolt in step} == {0, bolts // 4, bolts // 2, 3 * bolts // 4}


@given(COUNTS)
@settings(max_examples=60, deadline=None)
def test_odd_counts_keep_pairs_as_opposite_as_they_can(bolts: int) -> None:
    for step in circle_steps("cross", bolts | 1 if bolts < 400 else 399, 2):
        count = bolts | 1 if bolts < 400 else 399
        if len(step) == 2 and count > 3:
            away = (step[1] - step[0]) % count
            assert min(away, count - away) >= count // 2 - 1


def test_any_four_in_a_row_of_a_cross_pass_are_spread_over_the_circle() -> None:
    """After each group of four no half of the circle is without one of its bolts."""
    for bolts in range(8, 201, 4):
        order = flat(circle_steps("cross", bolts))
        for at in range(0, bolts, 4):
            gaps = [b - a for a, b in pairwise(sorted(order[at : at + 4]))]
            assert max(gaps) <= bolts // 2


def test_starts_stay_apart() -> None:
    for count in range(9, 101):
        order = spaced(count)
        assert sorted(order) == list(range(1, count + 1))
        assert all(abs(a - b) > 1 for a, b in pairwise(order)), count


@pytest.mark.parametrize(("bolts", "tools"), [(2, 1), (401, 1), (12, 3), (12, 0)])
def test_refused(bolts: int, tools: int) -> None:
    with pytest.raises(InputError):
        circle_steps("cross", bolts, tools)


def test_listed_says_every_mistake_at_once() -> None:
    with pytest.raises(InputError, match=r"missing 3, 4; twice 2; not in the joint 9"):
        listed_steps([1, 2, 2, 9], 4)
    assert listed_steps([3, 1, 2, 4], 4, 2) == ((3, 1), (2, 4))


@pytest.mark.parametrize(("share", "groups"), [(1.0, 1), (0.5, 2), (0.34, 3), (1 / 3, 3), (0.25, 4)])
def test_tensioner_groups_leave_room_between_tools(share: float, groups: int) -> None:
    steps = coverage_steps(24, share)
    assert len(steps) == groups
    assert sorted(flat(steps)) == list(range(1, 25))
    for step in steps:
        assert all(b - a == groups for a, b in pairwise(step))


def test_coverage_never_takes_more_tools_than_there_are() -> None:
    for share in (0.3, 0.4, 0.45, 0.6, 0.99):
        assert max(map(len, coverage_steps(60, share))) <= share * 60
    with pytest.raises(InputError):
        coverage_steps(24, 0)


def test_first_bolts_come_before_all_others_in_their_own_order() -> None:
    steps = circle_steps("cross", 24, 2)
    early = first_before(steps, {1, 2, 13, 24})
    assert early[:3] == ((1, 13), (2,), (24,))
    assert sorted(flat(early)) == list(range(1, 25))
    rest = [bolt for bolt in flat(early) if bolt not in {1, 2, 13, 24}]
    assert rest == [bolt for bolt in flat(steps) if bolt not in {1, 2, 13, 24}]


def test_one_pump_never_pulls_two_sizes() -> None:
    kind = dict.fromkeys((1, 2, 12), "M64")
    steps = parted(circle_steps("cross", 12, 4), kind)
    assert all(len({kind.get(bolt) for bolt in step}) == 1 for step in steps)
    assert flat(parted(circle_steps("cross", 12, 4), {})) == flat(circle_steps("cross", 12, 4))


def test_clumps_must_divide() -> None:
    assert sorted(clumped(60, 5)) == list(range(1, 61))
    for bolts, size in ((50, 4), (8, 4), (12, 0)):
        with pytest.raises(InputError):
            clumped(bolts, size)
