"""What tightening costs: scatter against its bare numpy work, prediction of many bolts, growth with steps × bolts.

Run on demand: ``OPENBLAS_NUM_THREADS=1 pytest tests/bench/bench_tightening.py``.
"""

from __future__ import annotations

import tracemalloc
from collections.abc import Callable
from time import perf_counter

import numpy as np
import pytest

from splitline.tightening.passes import planned_passes
from splitline.tightening.prediction import predict
from splitline.tightening.scatter import scatter, sensitivity
from splitline.tightening.trials import sample_extremes
from tests.tightening.joints import TARGET, cover, usual

TRIALS, BOLTS = 100_000, 96


def best(work: Callable[[], object], times: int = 5) -> float:
    """Least seconds of a few runs."""
    found = []
    for _ in range(times):
        start = perf_counter()
        work()
        found.append(perf_counter() - start)
    return min(found)


def test_scatter_costs_no_more_than_half_again_its_bare_work() -> None:
    joint, passes = cover(BOLTS, 1, 1.8), usual(BOLTS)
    prediction = predict(joint, passes)
    matrix = sensitivity(joint, passes, prediction, 0.125, 0.5).matrix

    def bare() -> None:
        drawn = np.random.default_rng(1).standard_normal((TRIALS, BOLTS + 1))
        np.matmul(drawn[:, :BOLTS], matrix)

    ours = best(lambda: sample_extremes(prediction.final, matrix, 0.125, 0.5, trials=TRIALS))
    assert ours < 1.5 * best(bare)
    tracemalloc.start()
    scatter(joint, passes, prediction, 0.25, 0.5, trials=TRIALS)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 1e9


def test_two_hundred_bolts_in_four_passes_under_50_ms() -> None:
    joint, passes = cover(200, 1, 6.0), usual(200, rounds=0)
    assert best(lambda: predict(joint, passes)) < 0.05


def test_growth_no_faster_than_steps_times_bolts() -> None:
    """Twenty passes, so that the factorisation does not count: four times the steps × bolts in no more than that time."""

    def seconds(bolts: int) -> float:
        joint = cover(bolts, 1, bolts * 0.03)
        passes = planned_passes(usual(bolts)[0].steps, [TARGET] * bolts, tuple(np.linspace(0.05, 1, 20)))
        return best(lambda: predict(joint, passes), 3)

    assert seconds(400) < 4 * 1.2 * seconds(200)


@pytest.mark.parametrize("softer", [1, 50])
def test_prediction(benchmark: Callable[..., object], softer: float) -> None:
    joint, passes = cover(96, softer, 1.8), usual(96)
    benchmark(predict, joint, passes)
