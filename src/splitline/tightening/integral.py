"""Lowest and highest bolt where preloads are linear in the factors, by integration instead of trials.

F_i = μ_i + σ·(√c·z₀·Σ_j P_ij + √(1 − c)·(P·z)_i). Given the common factor z₀ the own parts are normal, and where each
factor moves hardly a bolt but its own they are nearly independent: P(all F_i > t) ≈ ∫ φ(z₀) Π_i Φ((μ_i + a_i·z₀ − t)/σ_i) dz₀.
How far that can be wrong is bounded by the normal comparison lemma (Leadbetter, Lindgren, Rootzén, Extremes, 1983,
theorem 4.2.1): |error| ≤ 1/2π Σ_{i<j} |r_ij|/√(1 − r_ij²) exp(−(u_i² + u_j²)/2(1 + |r_ij|)), u the distances above.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import erfc, log, pi, sqrt

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_REACH, _STEP = 6.5, 0.4  # of z₀: ends, and nodes per width of the narrowest own part
_MOST_NODES = 400
_FARTHEST, _GRID = 12.0, 0.01  # of the table of the normal tail
_ROOTS = 30
_NONE = 1e-12  # a chance below this is none: no scatter is known that far out
_UNLINKED = 1e-6  # correlation below which a pair adds nothing


@dataclass(frozen=True, slots=True, eq=False)
class Integral:
    """Distribution of the extremes over bolts: means and own deviations, N; ``shared``: a_i·z₀ at the nodes; weights."""

    mean: Array
    own: Array
    shared: Array
    weights: Array
    pairs: tuple[NDArray[np.intp], NDArray[np.intp]]
    correlation: Array

    def lowest_below(self, load: Array | float) -> float:
        """Chance that some bolt ends below ``load`` (one, or one per bolt), N."""
        return self._chance(self._above(load))

    def highest_over(self, load: Array | float) -> float:
        """Chance that some bolt ends above ``load``."""
        return self._chance(-self._above(load))

    def low(self, chance: float) -> float:
        """Load below which the lowest bolt ends with this chance, N."""
        start = float((self.mean + _quantile(chance) * self._deviation()).min())
        return _root(self.lowest_below, chance, start, float(self.own.mean()))

    def high(self, chance: float) -> float:
        """Load above which the highest bolt ends with this chance, N."""
        start = float((self.mean - _quantile(chance) * self._deviation()).max())
        return _root(self.highest_over, chance, start, -float(self.own.mean()))

    def low_error(self, load: float) -> float:
        """How far ``low`` = load can be wrong, N: bound on its chance over the density there."""
        return self._error(self._above(load), self.lowest_below, load)

    def high_error(self, load: float) -> float:
        """How far ``high`` = load can be wrong, N."""
        return self._error(-self._above(load), self.highest_over, load)

    def _above(self, load: Array | float) -> Array:
        at = np.asarray(load, dtype=np.float64)
        above: Array = ((self.mean - at)[:, None] + self.shared) / self.own[:, None]
        return above

    def _chance(self, above: Array) -> float:
        places, tails = _tail_table()
        kept = np.log1p(-np.exp(np.interp(above, places, tails))).sum(axis=0)
        chance = float(-np.expm1(kept) @ self.weights)
        return chance if chance > _NONE else 0.0

    def _error(self, above: Array, chance: Callable[[float], float], load: float) -> float:
        step = 1e-3 * float(self.own.mean())
        slope = abs(chance(load + step) - chance(load - step)) / (2 * step)
        return self._bound(above) / slope if slope > 0 else float("inf")

    def _bound(self, above: Array) -> float:
        if not len(self.correlation):
            return 0.0
        size = np.abs(self.correlation)
        one, other = above[self.pairs[0]], above[self.pairs[1]]
        fall = np.exp(-(one**2 + other**2) / (2 * (1 + size[:, None])))
        return float((size / np.sqrt(1 - size**2)) @ fall @ self.weights) / (2 * pi)

    def _deviation(self) -> Array:
        var: Array = np.sqrt(self.own**2 + (self.shared**2) @ self.weights)
        return var


def integral(
    mean: Array, sensitivity: Array, deviation: float, common: float, chosen: NDArray[np.int_]
) -> Integral | None:
    """The distribution over the bolts ``chosen`` (from 0); None where own parts are too narrow or tied too closely.

    ``mean`` (bolts, N), ``sensitivity`` P (bolts × bolts, N), ``deviation`` σ of the factors, ``common`` share c.
    """
    part = sensitivity[chosen]
    size = np.sqrt(np.einsum("ij,ij->i", part, part))
    own, shared = deviation * sqrt(1 - common) * size, deviation * sqrt(common) * part.sum(axis=1)
    least, most = float(own.min(initial=np.inf)), float(np.abs(shared).max(initial=0.0))
    if not least > 0 or not np.isfinite(least):
        return None
    width = _STEP * min(1.0, least / most) if most > 0 else _STEP
    if 2 * _REACH / width > _MOST_NODES:
        return None
    nodes = np.arange(-_REACH, _REACH + width, width) if most > 0 else np.zeros(1)
    weights = np.exp(-(nodes**2) / 2)
    correlation = (part @ part.T) / np.outer(size, size)
    pairs = np.nonzero(np.triu(np.abs(correlation) > _UNLINKED, 1))
    linked = correlation[pairs]
    if np.abs(linked).max(initial=0.0) > 1 - 1e-9:
        return None
    return Integral(mean[chosen], own, np.outer(shared, nodes), weights / weights.sum(), (pairs[0], pairs[1]), linked)


@cache
def _tail_table() -> tuple[Array, Array]:
    """log Q(u) of the standard normal at steps of 0.01, Q(u) = P(Z > u): straight between them within 1.3e-5 of Q."""
    places = np.arange(-8.0, _FARTHEST, _GRID)
    return places, np.array([log(erfc(place / sqrt(2)) / 2) for place in places.tolist()])


def _quantile(chance: float) -> float:
    places, tails = _tail_table()
    return -float(np.interp(-log(chance), -tails, places))


def _root(chance: Callable[[float], float], wanted: float, start: float, step: float) -> float:
    """Load at which a chance that rises along ``step`` is ``wanted``: secant on its logarithm, kept inside its bracket."""
    goal = log(wanted)

    def off(load: float) -> float:
        return log(max(chance(load), 1e-300)) - goal

    here, miss = start, off(start)
    before, missed = here, miss
    while missed * miss > 0:  # walk until it is enclosed
        here, miss = before, missed
        before = before - step if missed > 0 else before + step
        missed = off(before)
    for _ in range(_ROOTS):
        if abs(here - before) < 1e-6 * abs(step) or miss == 0:
            break
        new = here - miss * (here - before) / (miss - missed) if miss != missed else (here + before) / 2
        missing = off(new)
        if missing * miss < 0:
            before, missed = here, miss
        else:
            missed /= 2  # Illinois: the end that stays counts half
        here, miss = new, missing
    return here
