"""Integrated extremes against closed forms, against very many trials, and against their own bound."""

from __future__ import annotations

from math import erf, exp, pi, sqrt

import numpy as np
import pytest

from splitline.tightening.prediction import predict
from splitline.tightening.scatter import Integral, integral, scatter, sensitivity
from tests.tightening.joints import cover, usual


def whole(mean: np.ndarray, matrix: np.ndarray, deviation: float, common: float) -> Integral:
    found = integral(mean, matrix, deviation, common, np.arange(len(mean)))
    assert found is not None
    return found


def exactly(x: float, bolts: int, common: float) -> float:
    """P(least of ``bolts`` normals of mean 1, deviation 0.15, this share common, < x) = 1 − E[(1 − Φ(...))^n]."""

    def one(z: float) -> float:
        left = (x - 1 - 0.15 * sqrt(common) * z) / (0.15 * sqrt(1 - common))
        return 1 - (0.5 - 0.5 * erf(left / sqrt(2))) ** bolts

    step = 0.005
    return step * sum(exp(-z * z / 2) / sqrt(2 * pi) * one(z) for z in np.arange(-8, 8, step))


@pytest.mark.parametrize("common", [0.0, 0.5, 0.9, 0.98])
@pytest.mark.parametrize("bolts", [1, 4, 16, 96])
def test_independent_own_parts_are_exact(bolts: int, common: float) -> None:
    found = whole(np.ones(bolts), np.eye(bolts), 0.15, common)
    low, high = found.low(0.01), found.high(0.01)
    assert exactly(low, bolts, common) == pytest.approx(0.01, rel=1e-4)
    assert high == pytest.approx(2 - low, rel=1e-6)  # the normal curve is even
    assert found.lowest_below(0.8) == pytest.approx(exactly(0.8, bolts, common), rel=1e-4)
    assert found.low_error(low) == 0


def test_one_bolt_against_the_normal_table() -> None:
    """Φ(−2.32635) = 0.01, five figures of statistical tables."""
    assert whole(np.array([5e5]), np.array([[5e5]]), 0.1, 0.5).low(0.01) == pytest.approx(5e5 * 0.767365, rel=1e-5)


@pytest.mark.parametrize(("softer", "rounds", "common"), [(8, 0, 0.0), (8, 0, 0.5), (8, 1, 0.9)])
def test_bolts_that_share_factors_against_a_million_trials(softer: float, rounds: int, common: float) -> None:
    """Plain draws of numpy; the 1st percentile of a million is good to about 0.0005 of the mean here."""
    joint, passes = cover(24, softer), usual(24, rounds=rounds)
    prediction = predict(joint, passes)
    mean = prediction.final
    matrix = sensitivity(joint, passes, prediction, 0.125, common).matrix
    random, lowest, highest = np.random.default_rng(7), [], []
    for _ in range(20):
        drawn = random.standard_normal((50_000, 25))
        factors = 0.125 * (sqrt(1 - common) * drawn[:, :24] + sqrt(common) * drawn[:, 24:])
        loads = mean + factors @ matrix.T
        lowest.append(loads.min(axis=1))
        highest.append(loads.max(axis=1))
    found = whole(mean, matrix, 0.125, common)
    low, high, size = found.low(0.01), found.high(0.01), float(mean.mean())
    allowed = 0.0015 * size
    assert low == pytest.approx(np.percentile(np.concatenate(lowest), 1), abs=found.low_error(low) + allowed)
    assert high == pytest.approx(np.percentile(np.concatenate(highest), 99), abs=found.high_error(high) + allowed)
    need = 0.62 * size
    assert found.lowest_below(need) == pytest.approx(float((np.concatenate(lowest) < need).mean()), rel=0.03)


def test_bound_holds_where_bolts_are_tied() -> None:
    """Two bolts of correlation r: P(both > t) in closed form at the mean, 1/4 + arcsin(r)/2π (Sheppard, 1899)."""
    tied = sqrt(0.5)
    found = whole(np.zeros(2), np.array([[1.0, 0.0], [tied, tied]]), 1.0, 0.0)
    true = 1 - (0.25 + np.arcsin(tied) / (2 * pi))
    assert found.lowest_below(0.0) == pytest.approx(0.75, rel=1e-4)
    assert abs(true - 0.75) <= found._bound(found._above(0.0))


@pytest.mark.parametrize("common", [0.999, 1.0])
def test_narrow_own_parts_are_left_to_trials(common: float) -> None:
    assert integral(np.ones(4), np.eye(4), 0.1, common, np.arange(4)) is None


def test_closely_tied_bolts_are_left_to_trials_and_said() -> None:
    joint, passes = cover(24, 8), usual(24)
    prediction = predict(joint, passes)
    assert "integrated" in scatter(joint, passes, prediction, 0.25, 0.5).basis
    assert scatter(joint, passes, prediction, 0.25, 0.5).trials == 0
    assert "from 20000 trials" in scatter(joint, passes, prediction, 0.25, 1.0).basis
    assert integral(np.ones(2), np.ones((2, 2)), 0.1, 0.0, np.arange(2)) is None
    assert integral(np.ones(2), np.eye(2), 0.0, 0.5, np.arange(2)) is None
