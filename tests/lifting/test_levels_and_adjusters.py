"""Level lengths, adjusters, sensitivities."""

from __future__ import annotations

import math

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.lifting.bridle import level_with, sharing_tension, tilt_rates
from splitline.lifting.hang import hang
from splitline.lifting.levels import hook_above, least_norm, level_lengths

LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.3), (-1.5, -1.0, 0.3), (1.5, -1.0, 0.0)]


@pytest.mark.parametrize("hard", [2e7, None])
@pytest.mark.parametrize("centre", [(0.0, 0.0, -0.6), (0.3, 0.1, -0.6), (-0.9, 0.4, 0.5)])
def test_level_lengths_hang_level(centre: tuple[float, float, float], hard: float | None) -> None:
    hook = hook_above(LUGS, centre, 2.4)
    found = level_lengths(LUGS, [None] * 4, [hard] * 4, centre, 120e3, hook)
    state = hang(LUGS, found.lengths, [hard] * 4, centre, 120e3)
    assert state.tilt == pytest.approx(0.0, abs=1e-8)
    assert state.hook == pytest.approx(hook, abs=1e-6)
    assert state.tensions == pytest.approx(found.tensions, rel=1e-4, abs=1.0)


def test_given_legs_keep_their_length() -> None:
    hook = hook_above(LUGS, (0.1, 0.0, -0.6), 2.4)
    found = level_lengths(LUGS, [None, 3.20, None, None], [2e7] * 4, (0.1, 0.0, -0.6), 120e3, hook)
    assert found.lengths[1] == 3.20
    assert hang(LUGS, found.lengths, [2e7] * 4, (0.1, 0.0, -0.6), 120e3).tilt == pytest.approx(0.0, abs=1e-8)


def test_level_is_refused_where_no_pull_can_do_it() -> None:
    centre = (1.7, 0.0, -0.6)
    with pytest.raises(InputError, match="inside the picks"):
        level_lengths(LUGS, [None] * 4, [2e7] * 4, centre, 120e3, hook_above(LUGS, centre, 2.4))
    with pytest.raises(InputError, match="off the vertical"):
        level_lengths(LUGS, [None] * 4, [2e7] * 4, (0, 0, -0.6), 120e3, (0.2, 0, 3.0))
    with pytest.raises(InputError, match="not above"):
        level_lengths(LUGS, [None] * 4, [2e7] * 4, (0, 0, 4.0), 120e3, (0, 0, 3.0))


def test_least_norm_is_the_smallest_pulling_set() -> None:
    random = np.random.default_rng(2)
    for _ in range(30):
        matrix = random.normal(size=(3, 6))
        known = np.maximum(random.normal(size=6), 0.0)
        need = matrix @ known
        found = least_norm(matrix, need, 1.0)
        assert matrix @ found == pytest.approx(need, abs=1e-9)
        assert (found >= 0.0).all()
        assert np.linalg.norm(found) <= np.linalg.norm(known) + 1e-9


def test_adjusters_bring_it_level() -> None:
    lengths = [2.985, 3.0, 3.0, 3.0]
    lugs = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]
    found = level_with(lugs, lengths, [2e7] * 4, (0, 0, -0.6), 120e3, [0, 1])
    assert found.before == pytest.approx(math.radians(0.25926), rel=1e-3)
    assert found.after.tilt < 1e-7
    assert found.changes[2:] == (0.0, 0.0)
    after = hang(lugs, [a + b for a, b in zip(lengths, found.changes, strict=True)], [2e7] * 4, (0, 0, -0.6), 120e3)
    assert after.tilt < 1e-7


def test_one_leg_turned_tilts_by_its_rate() -> None:
    args = ([(-1.5, 0, 0), (1.5, 0, 0)], [2.5, 2.5], [None, None], (0.0, 0.0, -0.5), 60e3)
    rates = tilt_rates(*args, hook=hang(*args).hook)
    longer = hang(args[0], [2.51, 2.5], args[2], args[3], args[4])
    assert np.linalg.norm(rates[0]) * 0.01 == pytest.approx(longer.tilt, rel=0.01)
    assert rates[0][0] == pytest.approx(-rates[1][0], rel=1e-4)


def test_sharing_rule_applies_above_three_legs_only() -> None:
    assert sharing_tension(100.0, 3, "two legs", 1.0) is None
    assert sharing_tension(100.0, 6, "all legs", 1.0) is None
    assert sharing_tension(100.0, 4, "two legs", 0.0) is None
    with pytest.raises(InputError, match="sharing rule"):
        sharing_tension(100.0, 4, "half the legs", 1.0)
