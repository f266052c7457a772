"""Two bodies: equilibrium from outside the solver, limits, odd cases."""

from __future__ import annotations

import math

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.lifting.hang import hang
from splitline.lifting.spreader import Beam, BeamHang, hang_below

PICKS = [(1.5, 0.8, 0.0), (1.5, -0.8, 0.0), (-1.5, 0.8, 0.0), (-1.5, -0.8, 0.0)]


def beam(weight: float = 5e3, upper: float = 2.2, hard: float | None = 1e8) -> Beam:
    ends = ((1.5, 0.0, 0.1), (-1.5, 0.0, 0.1))
    return Beam(weight, ends, tuple((x, y, -z) for x, y, z in ends), (upper, upper), (hard, hard))


def check_balance(state: BeamHang, picks: np.ndarray, centre: np.ndarray, weight: float, bar: float) -> None:
    """Load: forces and moments; whole: uppers carry both weights; hook above the common centre."""
    up, along = np.array(state.up), np.array(state.along)
    pulls = np.array(state.tensions)[:, None] * along
    assert np.linalg.norm(pulls.sum(axis=0) - weight * up) < 1e-8 * weight
    assert np.linalg.norm(np.cross(picks - centre, pulls).sum(axis=0)) < 1e-8 * weight
    whole = sum(t * math.sin(a) for t, a in zip(state.upper_tensions, state.upper_angles, strict=True))
    assert whole == pytest.approx(weight + bar, rel=1e-8)


def test_random_beams_balance() -> None:
    random = np.random.default_rng(1)
    for _ in range(60):
        picks = np.array(PICKS) + random.uniform(-0.2, 0.2, (4, 3))
        centre = random.uniform(-0.4, 0.4, 3)
        bar = beam(10 ** random.uniform(2, 4), random.uniform(1.9, 2.6))
        lengths = 1.5 + random.uniform(0, 0.1, 4)
        state = hang_below(bar, picks.tolist(), (0, 0, 1, 1), lengths.tolist(), [1e8] * 4, centre.tolist(), 120e3)
        assert state.residual < 1e-9
        check_balance(state, picks, centre, 120e3, bar.weight)


def test_compression_of_a_symmetric_beam() -> None:
    # closed form: half the whole weight over the tangent of the upper slings' angle
    state = hang_below(beam(hard=None), PICKS, (0, 0, 1, 1), (1.5,) * 4, (None,) * 4, (0, 0, -0.6), 120e3)
    angle = math.acos(1.5 / 2.2)
    assert state.upper_tensions[0] == pytest.approx(125e3 / 2 / math.sin(angle), rel=1e-5)
    assert state.compression == pytest.approx(125e3 / 2 / math.tan(angle), rel=1e-5)


def test_light_beam_with_vertical_legs_is_the_plain_two_leg_lift() -> None:
    """Under a weightless beam two vertical legs carry what level shares say."""
    light = beam(weight=1.0)
    state = hang_below(light, [(1.5, 0, 0), (-1.5, 0, 0)], (0, 1), (1.0, 1.0), (None, None), (0.0, 0.0, -0.4), 60e3)
    assert state.tensions == pytest.approx([30e3, 30e3], rel=1e-4)
    plain = hang([(1.5, 0, 0), (-1.5, 0, 0)], [2.2, 2.2], [None, None], (0, 0, -0.4), 60e3)
    assert state.upper_tensions == pytest.approx(plain.tensions, rel=1e-3)


def test_odd_beams_get_plain_answers() -> None:
    high = hang_below(beam(), PICKS, (0, 0, 1, 1), (1.5,) * 4, (None,) * 4, (0, 0, 4.0), 120e3)
    assert high.state == "turns over"
    single = Beam(1e3, ((0, 0, 0.2),), ((1.5, 0, 0), (-1.5, 0, 0)), (1.0,), (None,))
    state = hang_below(single, [(1.5, 0, 0), (-1.5, 0, 0)], (0, 1), (1.0, 1.0), (None, None), (0.05, 0, -0.4), 60e3)
    assert state.upper_tensions == pytest.approx([61e3], rel=1e-6)
    with pytest.raises(InputError, match="lower points 1 to 2, not 5"):
        hang_below(beam(), PICKS, (0, 0, 1, 4), (1.5,) * 4, (None,) * 4, (0, 0, -0.6), 120e3)
    with pytest.raises(InputError, match="length"):
        hang_below(beam(), PICKS, (0, 0, 1, 1), (1.5, 1.5, 0.0, 1.5), (None,) * 4, (0, 0, -0.6), 120e3)
    with pytest.raises(InputError, match="weights"):
        hang_below(beam(weight=0.0), PICKS, (0, 0, 1, 1), (1.5,) * 4, (None,) * 4, (0, 0, -0.6), 120e3)
