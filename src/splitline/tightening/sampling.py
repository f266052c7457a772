"""Lowest and highest bolt over many trials where preloads are linear in the factors: random numbers and one product."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SEED = 20_240_229  # fixed, so that the same plan always gives the same figures
CHUNK = 4096  # trials at once: a few megabytes, whatever the number of trials


@dataclass(frozen=True, slots=True, eq=False)
class Extremes:
    """Lowest and highest preload of every trial, N, and least room to need and limit (N, below 0: crossed)."""

    lowest: Array
    highest: Array
    over_need: Array
    under_limit: Array


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
    one for all; ``together``: P·1, where P stands only for its own part. Fixed seed; memory is bounded by chunks.
    """
    bolts = len(mean)
    weights = np.empty((bolts + 1, bolts))
    weights[:bolts] = deviation * sqrt(1 - common) * sensitivity.T
    weights[bolts] = deviation * sqrt(common) * (sensitivity.sum(axis=1) if together is None else together)
    found = Tally(trials, need, limit)
    random = np.random.default_rng(SEED)
    drawn, loads = np.empty((CHUNK, bolts + 1)), np.empty((CHUNK, bolts))
    for start in range(0, trials, CHUNK):
        count = min(CHUNK, trials - start)
        random.standard_normal(out=drawn[:count])
        np.matmul(drawn[:count], weights, out=loads[:count])
        loads[:count] += mean
        found.take(start, loads[:count])
    return found.extremes()


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
