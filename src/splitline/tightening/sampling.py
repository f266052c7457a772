"""Lowest and highest bolt over many trials where preloads are linear in the factors: random numbers and one product."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SEED = 20_240_229  # fixed, so that the same plan always gives the same figures
CHUNK = 10_000  # trials at once, drawn evenly over the normal curve as one set: some megabytes, whatever the number
_JOIN = 0.02425
_NEAR_TOP = (
    -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.383577518672690e2, -3.066479806614716e1,
    2.506628277459239,
)  # fmt: skip
_NEAR_BOTTOM = (
    -5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1, 1.0,
)  # fmt: skip
_FAR_TOP = (
    -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
)  # fmt: skip
_FAR_BOTTOM = (7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416, 1.0)
SHARED = 8  # values of the common factor tried on each set of own factors


@dataclass(frozen=True, slots=True, eq=False)
class Extremes:
    """Lowest and highest preload of every trial, N, and least room to need and limit (N, below 0: crossed)."""

    lowest: Array
    highest: Array
    over_need: Array
    under_limit: Array

    def lowest_below(self, load: float) -> float:
        """Share of trials in which some bolt ends below ``load``, N."""
        return float((self.lowest < load).mean())


def sample_extremes(
    mean: Array,
    sensitivity: Array,
    deviation: float,
    common: float,
    need: Array | float = 0.0,
    limit: Array | float = float("inf"),
    trials: int = 20_000,
    together: Array | None = None,
) -> Extremes:
    """Draw F = mean + σ·(√common·z₀·P·1 + √(1 − common)·P·z), one z per bolt and one z₀ for all, ``trials`` times.

    ``mean`` (bolts, N), ``sensitivity`` P (bolts × bolts, N), ``deviation`` σ of the factors; need and limit per bolt or
    one for all; ``together``: P·1, where P stands only for its own part. Fixed seed; memory is bounded by chunks. Factors
    are drawn evenly over the normal curve (Latin hypercube): the 1st percentile of 10,000 trials is good to about 0.5 %.
    """
    own = deviation * sqrt(1 - common) * sensitivity.T
    as_one = deviation * sqrt(common) * (sensitivity.sum(axis=1) if together is None else together)
    found = Tally(trials, need, limit)
    begin = 0
    for drawn, shared in draws(len(mean), common, trials):
        base = drawn @ own + mean
        loads = np.empty_like(base)
        for factor in shared.T:
            count = min(len(base), trials - begin)
            if count <= 0:
                break
            np.multiply(factor[:count, None], as_one, out=loads[:count])
            loads[:count] += base[:count]
            found.take(begin, loads[:count])
            begin += count
    return found.extremes()


def draws(bolts: int, common: float, trials: int) -> Iterator[tuple[Array, Array]]:
    """Standard normal sets z (rows × bolts) and the values of z₀ to try on each (rows × tries), until ``trials`` are met.

    Trials run through all rows with the first z₀ of each, then all rows with the second. Fixed seed.
    """
    shared = SHARED if common > 0 else 1
    random, rows = np.random.default_rng(SEED), CHUNK // shared
    for _ in range(0, trials, CHUNK):
        drawn = _evenly(random, rows, bolts)
        yield drawn, random.permuted(_evenly(random, CHUNK, 1).reshape(rows, shared), axis=1)


def _evenly(random: np.random.Generator, count: int, columns: int) -> Array:
    """Standard normal values, count × columns, shuffled: in each column one from every slice of equal probability."""
    slices = random.permuted(np.tile(np.arange(count, dtype=np.float64)[:, None], columns), axis=0)
    shares = (slices + random.random((count, columns))) / count
    return normal_quantile(np.clip(shares, 1e-12, 1 - 1e-12))


def normal_quantile(share: Array) -> Array:
    """z of a standard normal with P(Z < z) = share, 0 < share < 1; within 1.2e-9 of z (Acklam's rational functions)."""
    tail = np.minimum(share, 1 - share)
    root, middle = np.sqrt(-2 * np.log(tail)), 0.5 - tail
    square = middle * middle
    far = np.polyval(_FAR_TOP, root) / np.polyval(_FAR_BOTTOM, root)
    near = -middle * np.polyval(_NEAR_TOP, square) / np.polyval(_NEAR_BOTTOM, square)
    z: Array = np.copysign(np.where(tail < _JOIN, far, near), share - 0.5)
    return z


class Tally:
    """Collects the extremes of trials, chunk by chunk."""

    def __init__(self, trials: int, need: Array | float, limit: Array | float) -> None:
        self.need, self.limit = _common(need), _common(limit)
        self.lowest, self.highest, self.over, self.under = np.empty((4, trials))

    def take(self, start: int, loads: Array) -> None:
        """Preloads of trials from ``start`` on, trials × bolts."""
        rows = slice(start, start + len(loads))
        loads.min(axis=1, out=self.lowest[rows])
        loads.max(axis=1, out=self.highest[rows])
        self.over[rows] = (
            self.lowest[rows] - self.need if isinstance(self.need, float) else (loads - self.need).min(axis=1)
        )
        self.under[rows] = (
            self.limit - self.highest[rows] if isinstance(self.limit, float) else (self.limit - loads).min(axis=1)
        )

    def extremes(self) -> Extremes:
        """All that was taken."""
        return Extremes(self.lowest, self.highest, self.over, self.under)


def _common(bound: Array | float) -> Array | float:
    """One number where a bound is the same for all bolts, which saves a pass over every trial."""
    if np.ndim(bound) == 0 or np.ptp(bound) == 0:
        return float(np.max(bound))
    return np.asarray(bound, dtype=np.float64)
