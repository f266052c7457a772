"""Ways of tightening side by side, and what they cost."""

from __future__ import annotations

from itertools import pairwise

import pytest

from splitline.errors import InputError
from splitline.tightening.compare import Bounds, compare, crew, minutes
from tests.tightening.joints import TARGET, cover, usual


def test_more_rounds_cost_minutes_and_buy_spread() -> None:
    joint = cover(24, 8)
    ways = [(f"{rounds} rounds", usual(24, 2, rounds)) for rounds in range(3)]
    bounds = Bounds(0.7 * TARGET, 1.4 * TARGET, 0.2, 0.5)
    rows = compare(joint, ways, [TARGET] * 24, bounds, 2.5)
    assert [row.name for row in rows] == ["0 rounds", "1 rounds", "2 rounds"]
    for less, more in pairwise(rows):
        assert more.spread < less.spread
        assert more.chance_below_need <= less.chance_below_need
        assert more.minutes == pytest.approx(less.minutes + 12 * 2.5 + 5)
    assert rows[0].crew_minutes == pytest.approx(3 * rows[0].minutes)


def test_two_tools_take_half_the_steps() -> None:
    one, two = minutes(usual(24, 1), 3.0), minutes(usual(24, 2), 3.0)
    assert one - two == pytest.approx(5 * 12 * 3.0)
    assert crew(usual(24, 1)) == 2
    assert crew(usual(24, 4)) == 5
    with pytest.raises(InputError, match="above 0"):
        minutes(usual(24), 0.0)
