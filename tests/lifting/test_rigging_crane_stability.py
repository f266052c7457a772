"""Hitches, chains of parts, crane chart, headroom, polygon, spigot."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.lifting.crane import headroom, hook_load, rating, tandem, underside_drop
from splitline.lifting.hang import hang
from splitline.lifting.mass import composite, level_shares, mass_factor
from splitline.lifting.rigging import (
    SHACKLE_SIDE,
    Part,
    angled_factor,
    bend_efficiency,
    choke_factor,
    mode_capacity,
    pull_angle,
    sling_capacity,
    weakest,
)
from splitline.lifting.stability import axis_tilt, clocking, edge_distance, hull, spigot_limit, standing

SQUARE = [(-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)]


def test_hitches() -> None:
    assert sling_capacity(10.0) == 10.0
    assert sling_capacity(10.0, "basket") == 20.0
    assert sling_capacity(10.0, "basket", bend_ratio=6) == pytest.approx(15.8)
    assert sling_capacity(10.0, "choker", 0.8) == pytest.approx(8.0)
    with pytest.raises(InputError, match="hitch"):
        sling_capacity(10.0, "bucket")
    with pytest.raises(InputError, match="D/d"):
        bend_efficiency(0.5)
    with pytest.raises(InputError, match="choke"):
        choke_factor(4.0)
    with pytest.raises(InputError, match="60 degrees"):
        mode_capacity(1.0, 2, math.radians(70))


def test_nothing_is_allowed_beyond_a_table() -> None:
    table = [(0.0, 1.0), (math.radians(45), 0.25)]
    assert angled_factor(table, math.radians(22.5)) == pytest.approx(0.625)
    assert angled_factor(table, math.radians(60)) is None
    assert angled_factor(SHACKLE_SIDE, math.radians(90)) == pytest.approx(0.5)


def test_pull_angle() -> None:
    assert pull_angle((0, 0, 1), (1, 0, 1)) == pytest.approx(math.radians(45))
    with pytest.raises(InputError, match="direction"):
        pull_angle((0, 0, 0), (1, 0, 1))


def test_weakest_part_is_named_and_an_unknown_one_comes_first() -> None:
    chain = [Part("hook", 50.0, 100.0), Part("sling", 50.0, 60.0), Part("eyebolt", 50.0, 70.0)]
    found = weakest(chain)
    assert found is not None
    assert found.name == "sling"
    assert found.usage == pytest.approx(50 / 60)
    unknown = weakest([*chain, Part("lug", 50.0, None)])
    assert unknown is not None
    assert (unknown.name, unknown.usage) == ("lug", None)
    assert Part("out of table", 1.0, 0.0).usage == math.inf


def test_chart_between_rows_never_beyond() -> None:
    chart = [(6.0, 20.0), (10.0, 12.0), (8.0, 15.0)]
    assert rating(chart, 7.0).capacity == pytest.approx(17.5)
    assert rating(chart, 7.0).next_lower == 15.0
    assert rating(chart, 10.0).capacity == 12.0
    for radius in (5.9, 10.1):
        with pytest.raises(InputError, match="outside the chart"):
            rating(chart, radius)
    with pytest.raises(InputError, match="twice"):
        rating([(6.0, 1.0), (6.0, 2.0)], 6.0)


def test_loads_and_headroom() -> None:
    # dynamic factor on all that hangs: 1.1 x (110 + 5 + 2)
    assert hook_load(100.0, 1.1, 1.1, 5.0, 2.0) == pytest.approx(128.7)
    assert tandem(100.0, 2.0, 8.0) == pytest.approx((80.0, 20.0))
    drop = underside_drop((0, 0, 3), (0, 0, 1), [(1, 0, 0), (-1, 0, -0.2)])
    assert drop == pytest.approx(3.2)
    assert headroom(9.5, drop, 4.2) == pytest.approx(2.1)


def test_standing_against_the_picks() -> None:
    good = standing(SQUARE, (0.2, 0.0, -0.5), (0.0, 0.0, 2.0))
    assert (good.inside, good.margin, good.below_picks, good.below_hook) == pytest.approx((True, 0.8, 0.5, 2.5))
    bad = standing(SQUARE, (1.7, 0.0, 0.5), (0.0, 0.0, 2.0))
    assert not bad.inside
    assert bad.margin == pytest.approx(-0.7)
    assert bad.below_picks == pytest.approx(-0.5)
    assert standing(SQUARE[:2], (0.0, -1.0, -1.0), (0, 0, 2)).margin == pytest.approx(0.0, abs=1e-12)
    assert standing(SQUARE[:1], (0.0, -1.0, -1.0), (0, 0, 2)).margin == pytest.approx(-1.0)


@given(st.lists(st.tuples(st.floats(-5, 5), st.floats(-5, 5)), min_size=3, max_size=12))
@settings(max_examples=60, deadline=None)
def test_every_point_lies_in_its_hull(points: list[tuple[float, float]]) -> None:
    corners = hull(points)
    for point in points:
        assert edge_distance(corners, point) >= -1e-6


def test_axis_tilt_of_a_barrel_head() -> None:
    """A head hung with its axis (y) level: pitching counts whole, rolling about the axis not at all but as clocking."""
    pitched = (0.0, math.sin(0.01), math.cos(0.01))
    assert axis_tilt(pitched, (0, 1, 0)) == pytest.approx(0.01)
    assert clocking(pitched, (0, 1, 0)) == pytest.approx(0.0, abs=1e-12)
    rolled = (math.sin(0.02), 0.0, math.cos(0.02))
    assert axis_tilt(rolled, (0, 1, 0)) == pytest.approx(0.0, abs=1e-12)
    assert clocking(rolled, (0, 1, 0)) == pytest.approx(0.02)
    assert axis_tilt(rolled, (0, 0, 1)) == pytest.approx(0.02)
    assert spigot_limit(0.3e-3, 60e-3) == pytest.approx(0.0025)


def test_rim_hung_head_on_one_lug_tilts_by_its_offset() -> None:
    # closed form: the centre swings under the lug, tan(tilt) = offset/height
    state = hang([(0.0, 0.0, 0.5)], [1.5], [None], (0.0, 0.04, 0.0), 20e3)
    assert axis_tilt(state.up, (0, 1, 0)) == pytest.approx(math.atan(0.04 / 0.5), rel=1e-6)


def test_mass_inputs() -> None:
    assert mass_factor("weighed") == 1.03
    with pytest.raises(InputError, match="mass basis"):
        mass_factor("guessed")
    with pytest.raises(InputError, match="more than 0"):
        composite([1.0, -1.0], [(0, 0, 0), (1, 0, 0)])
    with pytest.raises(InputError, match="one line"):
        level_shares(1.0, (0, 0), [(0, 0), (1, 0), (2, 0)])
