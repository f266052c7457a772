"""Some legs cut, the others open: the hook height follows from the cut ones (hand statics of symmetric sets)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.lifting.given_legs import pulling
from splitline.lifting.hang import hang
from splitline.lifting.levels import level_lengths

LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]


@pytest.mark.parametrize("hard", [2e7, None])
@pytest.mark.parametrize("height", [2.39, 2.4, 2.41])
def test_two_cut_legs_of_four_set_the_hook(hard: float | None, height: float) -> None:
    """Load amid the picks: every leg W/(4 sin a); the open legs come out as long as the cut ones, 3 m."""
    found = level_lengths(LUGS, [3.0, None, None, 3.0], [hard] * 4, (0.0, 0.0, -0.5), 60e3, (0.0, 0.0, height))
    assert found.lengths == pytest.approx([3.0] * 4, abs=1e-6)
    stretched = 3.0 * (1.0 + (found.tensions[0] / hard if hard else 0.0))
    assert found.hook[2] == pytest.approx(math.sqrt(stretched**2 - 3.25), abs=1e-5)
    assert found.tensions == pytest.approx([60e3 / 4 / (found.hook[2] / math.hypot(found.hook[2], 1.5, 1.0))] * 4)
    state = hang(LUGS, found.lengths, [hard] * 4, (0.0, 0.0, -0.5), 60e3)
    assert state.tilt == pytest.approx(0.0, abs=1e-6)


def test_a_centre_off_the_middle() -> None:
    """Moments about the cut side: the cut pair carries W·(1.5 + x)/3, the open pair the rest."""
    found = level_lengths(LUGS, [3.0, None, None, 3.0], [2e7] * 4, (0.2, 0.0, -0.5), 60e3, (0.2, 0.0, 2.4))
    up = [t * found.hook[2] / math.dist(found.hook, pick) for t, pick in zip(found.tensions, LUGS, strict=True)]
    assert up[0] + up[3] == pytest.approx(60e3 * 1.7 / 3.0, rel=1e-5)
    assert up[1] + up[2] == pytest.approx(60e3 * 1.3 / 3.0, rel=1e-5)
    state = hang(LUGS, found.lengths, [2e7] * 4, (0.2, 0.0, -0.5), 60e3)
    assert state.tilt == pytest.approx(0.0, abs=1e-6)


def test_refused_where_the_cut_legs_cannot() -> None:
    with pytest.raises(InputError, match="do not balance"):
        level_lengths(LUGS, [3.0, None, None, 3.3], [2e7] * 4, (0.2, 0.0, -0.5), 60e3, (0.2, 0.0, 2.4))
    with pytest.raises(InputError, match="too short"):
        level_lengths(LUGS, [1.7, None, None, 1.7], [2e7] * 4, (0.0, 0.0, -0.5), 60e3, (0.0, 0.0, 2.4))


def test_pulling_against_a_corner_found_by_hand() -> None:
    """Nearest point of the quadrant to (1, -2) is (1, 0)."""
    assert pulling(np.eye(2), np.array([1.0, -2.0])) == pytest.approx([1.0, 0.0])
