"""Orders of a split line and of bolts at any places."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.tightening.order import circle_steps, flat, line_steps, points_steps, ring_of

SIDES = st.lists(st.integers(0, 5000), min_size=2, max_size=40, unique=True).map(
    lambda places: [place / 1000 for place in sorted(places)]
)


@given(SIDES, SIDES)
@settings(max_examples=100, deadline=None)
def test_each_bolt_once_and_outward(side_a: list[float], side_b: list[float]) -> None:
    places = [*side_a, *side_b]
    middle = (min(places) + max(places)) / 2
    order = flat(line_steps("centre-out", side_a, side_b))
    assert sorted(order) == list(range(1, len(places) + 1))
    away = [abs(places[bolt - 1] - middle) for bolt in order]
    assert all(b >= a - 2e-6 * (max(places) - min(places)) for a, b in pairwise(away))
    for tools in (2, 4):
        steps = line_steps("centre-out", side_a, side_b, tools)
        assert sorted(flat(steps)) == sorted(order)
        assert max(map(len, steps)) <= tools


@pytest.mark.parametrize("count", [5, 6, 11])
def test_sides_and_ends_alternate(count: int) -> None:
    places = [0.18 * at for at in range(count)]
    order = flat(line_steps("centre-out", places, places))
    on_b = [bolt > count for bolt in order]
    assert all(one != other for one, other in pairwise(on_b))


def test_two_tools_work_the_same_station_on_both_sides() -> None:
    places = [0.1, 0.3, 0.5, 0.7, 0.9, 1.1]
    for one, other in line_steps("centre-out", places, places, 2):
        assert other - one == len(places)


def test_four_tools_work_both_ends_at_once() -> None:
    places = [0.0, 0.2, 0.4, 0.6, 0.8]
    steps = line_steps("centre-out", places, places, 4)
    assert steps[0] == (3, 8)
    assert [set(step) for step in steps[1:]] == [{2, 4, 7, 9}, {1, 5, 6, 10}]


def test_round_goes_along_a_and_back_along_b() -> None:
    places = [0.0, 0.2, 0.4]
    assert flat(line_steps("round", places, places)) == (1, 2, 3, 6, 5, 4)
    assert line_steps("round", places, places, 2)[0] == (1, 6)


def test_a_single_row_and_too_few_bolts() -> None:
    assert flat(line_steps("centre-out", [0.0, 0.1, 0.2], [])) == (2, 3, 1)
    with pytest.raises(InputError):
        line_steps("centre-out", [0.0, 0.1], [])
    with pytest.raises(InputError, match="centre-out"):
        line_steps("cross", [0.0, 0.1, 0.2], [])


def circle_points(bolts: int, turn: int) -> list[tuple[float, float]]:
    """Places of a bolt circle, bolt numbers stepped by ``turn`` round it."""
    return [(cos(tau * at * turn / bolts), sin(tau * at * turn / bolts)) for at in range(bolts)]


def test_points_on_a_circle_are_a_circle() -> None:
    for tools in (1, 2, 4):
        assert points_steps("cross", circle_points(12, 1), tools) == circle_steps("cross", 12, tools)
    # Numbered in steps of five round the circle: neighbours are still kept apart.
    points = circle_points(12, 5)
    ring = ring_of(points)
    order = flat(points_steps("cross", points))
    assert sorted(order) == list(range(1, 13))
    for one, other in pairwise(order):
        assert (ring.index(one) - ring.index(other)) % 12 not in (1, 11)


def test_points_from_the_middle_outwards() -> None:
    points = [(float(x), float(y)) for y in range(3) for x in range(5)]
    order = flat(points_steps("centre-out", points))
    away = [hypot(points[bolt - 1][0] - 2, points[bolt - 1][1] - 1) for bolt in order]
    assert away == pytest.approx(sorted(away))
    assert max(map(len, points_steps("centre-out", points, 4))) == 4
    with pytest.raises(InputError, match="tools"):
        points_steps("centre-out", points, 3)
