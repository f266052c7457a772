"""Upending statics and what a trial lift gives back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.lifting.hang import hang
from splitline.lifting.trial import at_height, from_cells, from_tilt, hook_place, meet, miss
from splitline.lifting.upending import upending


@given(
    length=st.floats(1.0, 20.0), part=st.floats(0.1, 0.9), head_z=st.floats(-1, 1), tail_z=st.floats(-1, 1),
    centre_z=st.floats(-0.5, 0.5), shift=st.floats(0.0, 0.1),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_shares_add_up_and_balance_at_every_angle(
    length: float, part: float, head_z: float, tail_z: float, centre_z: float, shift: float
) -> None:
    head, tail, centre = (
        (length, 0.0, head_z * length / 4),
        (0.0, 0.0, tail_z * length / 4),
        (part * length, 0.0, centre_z),
    )
    found = upending(head, tail, centre, 1000.0, shift)
    for i, angle in enumerate(found.angles):
        assert found.head[i] + found.tail[i] == pytest.approx(1000.0)
        assert 0.0 <= found.head_low[i] <= found.head[i] <= found.head_high[i] <= 1000.0
        assert found.tail_low[i] <= found.tail[i] <= found.tail_high[i]
        if 0.0 < found.head[i] < 1000.0:
            x = [p[0] * math.cos(angle) - p[2] * math.sin(angle) for p in (head, tail, centre)]
            moment = found.head[i] * x[0] + found.tail[i] * x[1] - 1000.0 * x[2]
            assert moment == pytest.approx(0.0, abs=1e-6 * 1000.0 * length)


def test_tail_goes_slack_where_the_centre_hangs_under_the_head() -> None:
    # head 2 m along and on the axis, centre 0.2 m below it and 1 m along: under the head when tan a = 1/0.2
    found = upending((2.0, 0, 0), (0, 0, 0), (1.0, 0, -0.2), 1000.0)
    assert found.tail_slack == pytest.approx(math.atan(5.0), abs=1e-5)
    assert found.tail[-1] == 0.0
    assert found.head[-1] == 1000.0
    assert found.runaway is None


def test_centre_over_the_floor_pivot_runs_away() -> None:
    # centre 0.5 m along, 0.4 m above the pivot: over it when tan a = 0.5/0.4
    found = upending((2.0, 0, 0.4), (0, 0, 0), (0.5, 0, 0.4), 1000.0)
    assert found.runaway == pytest.approx(math.atan(0.5 / 0.4), abs=1e-5)
    assert found.head[-1] == 0.0


def test_pulls_turn_in_the_loads_frame() -> None:
    found = upending((0.0, 3.0, 0), (0, 0, 0), (0.0, 1.5, 0), 1000.0)
    assert found.ups[0] == pytest.approx((0, 0, 1))
    assert found.ups[-1] == pytest.approx((0, 1, 0), abs=1e-12)


def test_a_load_drawn_standing_is_laid_down_first() -> None:
    lying = upending((2.0, 0, 0.1), (0, 0, 0), (1.0, 0, 0.05), 1000.0)
    standing = upending((-0.1, 0, 2.0), (0, 0, 0), (-0.05, 0, 1.0), 1000.0)
    assert standing.head[0] == pytest.approx(lying.head[0], rel=1e-9)
    assert standing.ups[-1] == pytest.approx((0, 0, 1), abs=1e-12)


def test_bad_upending_is_refused() -> None:
    with pytest.raises(InputError, match="coincide"):
        upending((1, 1, 1), (1, 1, 1), (0, 0, 0), 1000.0)
    with pytest.raises(InputError, match="weight"):
        upending((1, 0, 0), (0, 0, 0), (0.5, 0, 0), 0.0)


PICKS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.1), (1.5, -1.0, 0.0)]
CENTRE = (0.17, -0.06, -0.55)


def test_readings_of_a_known_load_give_it_back() -> None:
    lines = []
    for lengths in ((3.0, 3.0, 3.0, 3.0), (2.9, 3.0, 3.05, 3.0), (3.0, 2.85, 3.0, 3.1)):
        state = hang(PICKS, lengths, [5e6] * 4, CENTRE, 6400 * 9.80665)
        place = hook_place(PICKS, state.stretched, (0, 0, 3))
        lines.append(from_cells(PICKS, place, state.tensions))
        assert miss(lines[-1], CENTRE) < 1e-6
    found = meet(lines)
    assert found.mass == pytest.approx(6400, rel=1e-6)
    assert found.centre == pytest.approx(CENTRE, abs=1e-5)
    assert found.miss < 1e-5


def test_one_reading_gives_a_line_only() -> None:
    state = hang(PICKS, (2.95, 3.0, 3.0, 3.0), [5e6] * 4, CENTRE, 50e3)
    found = meet([from_cells(PICKS, state.hook, state.tensions)])
    assert found.centre is None
    assert found.mass == pytest.approx(50e3 / 9.80665, rel=1e-9)
    assert at_height(found.line, CENTRE[2]) == pytest.approx(CENTRE, abs=1e-6)


def test_tilt_reading_points_at_the_centre() -> None:
    state = hang(PICKS, (2.95, 3.0, 3.0, 3.0), [5e6] * 4, CENTRE, 50e3)
    line = from_tilt(state.hook, math.asin(state.up[1]), -math.asin(state.up[0]))
    assert line.up == pytest.approx(state.up, abs=1e-9)
    assert miss(line, CENTRE) < 1e-6


def test_useless_readings_are_refused() -> None:
    with pytest.raises(InputError, match="three legs"):
        hook_place(PICKS[:2], [3.0, 3.0], (0, 0, 3))
    with pytest.raises(InputError, match="every leg"):
        from_cells(PICKS, (0, 0, 3), [1.0, 2.0])
    with pytest.raises(InputError, match="90 degrees"):
        from_tilt((0, 0, 3), 1.3, 1.3)
    with pytest.raises(InputError, match="no trial-lift"):
        meet([])
