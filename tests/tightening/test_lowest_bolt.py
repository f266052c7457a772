"""First percentile of the lowest of n bolts against its own distribution: P(least < x) = 1 − E[(1 − Φ(...))^n]."""

from __future__ import annotations

from math import erf, exp, pi, sqrt

import numpy as np
import pytest

from splitline.tightening.trials import normal_quantile, sample_extremes


def below(x: float, bolts: int, common: float) -> float:
    """Chance that the least of ``bolts`` normals (mean 1, deviation 0.15, this share common) is under x."""

    def one(z: float) -> float:
        left = (x - 1 - 0.15 * sqrt(common) * z) / (0.15 * sqrt(1 - common))
        return 1 - (0.5 - 0.5 * erf(left / sqrt(2))) ** bolts

    step = 0.01
    return step * sum(exp(-z * z / 2) / sqrt(2 * pi) * one(z) for z in np.arange(-7, 7, step))


@pytest.mark.parametrize("common", [0.0, 0.5, 0.9])
@pytest.mark.parametrize("bolts", [4, 16, 60])
def test_first_percentile_of_the_lowest(bolts: int, common: float) -> None:
    found = sample_extremes(np.ones(bolts), np.eye(bolts), 0.15, common, trials=20_000)
    low = float(np.percentile(found.lowest, 1))
    # 2 % more or less of x is far outside: the plain draws once used missed the 16 bolts by 2.4 %
    assert below(0.99 * low, bolts, common) < 0.01 < below(1.01 * low, bolts, common)


# Quantiles of the normal curve as printed in statistical tables (five figures)
@pytest.mark.parametrize(
    ("share", "z"), [(0.5, 0.0), (0.99, 2.32635), (0.001, -3.09023), (0.975, 1.95996), (0.6, 0.25335)]
)
def test_quantiles_of_the_normal_table(share: float, z: float) -> None:
    assert float(normal_quantile(np.array([share]))[0]) == pytest.approx(z, abs=5e-6)
