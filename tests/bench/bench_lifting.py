"""Cost of one hang and of a tolerance study. Run: pytest tests/bench/bench_lifting.py (OPENBLAS_NUM_THREADS=1)."""

from __future__ import annotations

from typing import Any

from splitline.lifting.below import worst_below
from splitline.lifting.hang import hang
from splitline.lifting.spreader import Beam, hang_below
from splitline.lifting.tolerance import worst_case

LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]
LIFT = (LUGS, [2.985, 3.0, 3.0, 3.0], [2e7] * 4, (0.1, 0.05, -0.6), 120e3)
BEAM = Beam(5e3, ((1.5, 0, 0.1), (-1.5, 0, 0.1)), ((1.5, 0, -0.1), (-1.5, 0, -0.1)), (2.2, 2.2), (1e7, 1e7))
BELOW = ([(1.5, 0.8, 0.0), (1.5, -0.8, 0.0), (-1.5, 0.8, 0.0), (-1.5, -0.8, 0.0)], (0, 0, 1, 1), (1.5,) * 4, (1e7,) * 4)


def test_one_hang(benchmark: Any) -> None:
    """Under 5 ms."""
    assert benchmark(hang, *LIFT).residual < 1e-9


def test_two_thousand_poses(benchmark: Any) -> None:
    """Under 0.5 s on one core."""
    worst = benchmark(worst_case, *LIFT, 0.005, 0.025, guard=1872)
    assert worst.poses >= 2000


def test_one_beam(benchmark: Any) -> None:
    assert benchmark(hang_below, BEAM, *BELOW, (0.1, 0.0, -0.6), 120e3).residual < 1e-9


def test_worst_below_a_beam(benchmark: Any) -> None:
    worst, _ = benchmark(worst_below, BEAM, *BELOW, (0.0, 0.0, -0.6), 120e3, 0.005, 0.025)
    assert worst.unsolved == 0
