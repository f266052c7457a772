"""The worst case against a dense search, and its cost in samples."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.lifting.below import level_below, worst_below
from splitline.lifting.hang import hang, poses_of
from splitline.lifting.poses import Poses
from splitline.lifting.settle import settle
from splitline.lifting.spreader import Beam, hang_below
from splitline.lifting.tolerance import worst_case

LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]


@pytest.mark.parametrize(
    ("hard", "tolerance", "shift", "centre"),
    [
        (2e7, 0.005, 0.025, (0.0, 0.0, -0.6)),
        (None, 0.005, 0.025, (0.1, 0.05, -0.6)),
        (5e6, 0.0025, 0.1, (0.2, 0.1, 0.3)),
        (2e7, 0.0005, 0.1, (0.0, 0.3, -0.6)),
    ],
)
def test_within_one_percent_of_a_dense_search(
    hard: float | None, tolerance: float, shift: float, centre: tuple[float, float, float]
) -> None:
    lift = (LUGS, [3.0] * 4, [hard] * 4, centre, 120e3)
    worst = worst_case(*lift, tolerance, shift)
    base = poses_of(*lift)
    home = settle(base)
    random = np.random.default_rng(4)
    count = 6000
    signs = random.uniform(-1, 1, (count, 4))
    signs[: count // 2] = np.sign(signs[: count // 2])
    angle = random.uniform(0, 2 * np.pi, count)
    reach = shift * np.where(random.random(count) < 0.7, 1.0, random.random(count))
    dense = base.take(np.zeros(count, dtype=int))
    moved = np.column_stack([reach * np.cos(angle), reach * np.sin(angle), np.zeros(count)])
    dense = Poses(
        dense.picks, dense.lengths * (1 + signs * tolerance), dense.rigidity, dense.centre + moved, dense.weight
    )
    rest = settle(dense, np.repeat(home.hook, count, 0), rescue=False)
    assert rest.solved.all()
    assert np.array(worst.tensions) == pytest.approx(rest.tension.max(axis=0), rel=0.01)
    assert (np.array(worst.tensions) > 0.99 * rest.tension.max(axis=0)).all()
    tilt = np.arctan2(np.hypot(rest.up[:, 0], rest.up[:, 1]), rest.up[:, 2]).max()
    assert worst.tilt > 0.99 * tilt
    assert worst.unsolved == 0


def test_six_legs_are_within_one_percent_of_every_pose_of_a_grid() -> None:
    """With legs that go slack the worst pose has lengths inside their tolerance: 3^6 poses of long, nominal and short legs."""
    angle = np.arange(6) * np.pi / 3
    ring = np.column_stack([1.6 * np.cos(angle), 1.6 * np.sin(angle), np.zeros(6)])
    lengths = np.linalg.norm(np.array([0.05, 0.02, 3.0]) - ring, axis=1).tolist()
    lift = (ring.tolist(), lengths, [2e7] * 6, (0.05, 0.02, -0.5), 120e3)
    worst = worst_case(*lift, 0.0025, 0.0)
    base = poses_of(*lift)
    signs = np.array(list(product((-1.0, 0.0, 1.0), repeat=6)))
    grid = base.take(np.zeros(len(signs), dtype=int))
    grid = Poses(grid.picks, grid.lengths * (1 + 0.0025 * signs), grid.rigidity, grid.centre, grid.weight)
    rest = settle(grid, np.repeat(settle(base).hook, len(signs), 0), rescue=False)
    assert rest.solved.all()
    assert (np.array(worst.tensions) > 0.99 * rest.tension.max(axis=0)).all()
    assert (np.array(worst.tensions) < 1.01 * rest.tension.max(axis=0)).all()


def test_no_doubt_is_the_nominal() -> None:
    lift = (LUGS, [2.985, 3.0, 3.0, 3.0], [2e7] * 4, (0.0, 0.0, -0.6), 120e3)
    worst, plain = worst_case(*lift, 0.0, 0.0), hang(*lift)
    assert worst.tensions == pytest.approx(plain.tensions, rel=1e-9)
    assert worst.tilt == pytest.approx(plain.tilt, rel=1e-9)
    assert worst.poses <= 3


def test_stiff_sets_may_hang_on_two_legs() -> None:
    """Half a percent on stiff legs leaves two of four: the rule that counts two legs has its reason."""
    worst = worst_case(LUGS, [3.0] * 4, [None] * 4, (0.0, 0.0, -0.6), 120e3, 0.005, 0.0)
    two = hang([LUGS[0], LUGS[2]], [3.0] * 2, [None] * 2, (0.0, 0.0, -0.6), 120e3).tensions[0]
    assert max(worst.tensions) == pytest.approx(two, rel=0.03)
    assert min(worst.lowest) == 0.0


def test_many_legs_stay_quick() -> None:
    angle = np.arange(12) * np.pi / 6
    ring = np.column_stack([2 * np.cos(angle), 2 * np.sin(angle), np.zeros(12)]).tolist()
    worst = worst_case(ring, [4.0] * 12, [1e7] * 12, (0, 0, -0.5), 100e3, 0.002, 0.02, guard=100)
    assert worst.unsolved == 0
    assert worst.poses < 10_000


def test_bad_doubts_are_refused() -> None:
    lift = (LUGS, [3.0] * 4, [2e7] * 4, (0.0, 0.0, -0.6), 120e3)
    with pytest.raises(InputError, match="tolerance"):
        worst_case(*lift, 0.7, 0.0)
    with pytest.raises(InputError, match="shift"):
        worst_case(*lift, 0.0, -0.1)


BEAM = Beam(5e3, ((1.5, 0, 0.1), (-1.5, 0, 0.1)), ((1.5, 0, -0.1), (-1.5, 0, -0.1)), (2.2, 2.2), (1e7, 1e7))
BELOW = [(1.5, 0.8, 0.0), (1.5, -0.8, 0.0), (-1.5, 0.8, 0.0), (-1.5, -0.8, 0.0)]


def test_worst_below_a_beam_holds_against_hung_samples() -> None:
    args = (BELOW, (0, 0, 1, 1), (1.5,) * 4, (1e7,) * 4)
    worst, above = worst_below(BEAM, *args, (0.0, 0.0, -0.6), 120e3, 0.005, 0.025, guard=100)
    random = np.random.default_rng(6)
    for _ in range(25):
        signs = np.sign(random.uniform(-1, 1, 6))
        angle = random.uniform(0, 2 * np.pi)
        beam = Beam(BEAM.weight, BEAM.upper, BEAM.lower, tuple(2.2 * (1 + 0.005 * signs[:2])), BEAM.rigidity)
        state = hang_below(
            beam, BELOW, (0, 0, 1, 1), (1.5 * (1 + 0.005 * signs[2:])).tolist(), (1e7,) * 4,
            (0.025 * np.cos(angle), 0.025 * np.sin(angle), -0.6), 120e3,
        )  # fmt: skip
        assert (np.array(state.tensions) <= 1.001 * np.array(worst.tensions)).all()
        assert (np.array(state.upper_tensions) <= 1.001 * np.array(above.tensions)).all()
        assert (np.array(state.upper_angles) >= 0.999 * np.array(above.angles)).all()
        assert abs(state.compression) <= 1.001 * abs(above.compression)
        assert state.bending <= 1.01 * above.bending
        assert state.tilt <= 1.01 * worst.tilt
    assert worst.unsolved == worst.turned == 0


def test_level_below_a_beam() -> None:
    for centre in ((0.0, 0.0, -0.6), (0.2, 0.1, -0.6)):
        found = level_below(BEAM, BELOW, (0, 0, 1, 1), [None] * 4, (1e7,) * 4, centre, 120e3, (*centre[:2], 3.0))
        state = hang_below(BEAM, BELOW, (0, 0, 1, 1), found.lengths, (1e7,) * 4, centre, 120e3)
        assert state.tilt < 1e-8
