"""Scatter where bolts may go slack or keep more than a pull would give: the tightening itself, many times over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.gains import Gains, Pulled
from splitline.tightening.joint import Elastic, Joint, Measured
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import predict
from splitline.tightening.together import REACHED

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


EXACT_RUNS = 200  # trials with a slack bolt of an elastic joint that are worked out one by one
_STEPS = 150  # steps of a tightening up to which that many can be waited for
_CHUNK = 2000
_SWEEPS = 60


def simulate(joint: Elastic | Measured, passes: Sequence[Pass], deviation: float, common: float, trials: int) -> Array:
    """Preloads at the end, trials × bolts, with one factor per bolt for the whole job and a common one; fixed seed.

    A wrench never slackens a nut. Trials in which a bolt of an elastic joint goes slack are solved one by one; when
    those are many, fewer trials are made (the number of rows says how many).
    """
    bolts = joint.bolts
    factors = draw_factors(bolts, deviation, common, trials)
    gains = joint.gains(tuple(bolt for step in passes[0].pulled() for bolt in step))
    keeps_slack = isinstance(joint, Measured)
    loads, bad = np.empty((trials, bolts)), np.zeros(trials, dtype=bool)
    done = 0
    while done < trials and bad[:done].sum() <= EXACT_RUNS:
        rows = slice(done, min(done + _CHUNK, trials))
        loads[rows], bad[rows] = _chunk(gains, passes, factors[rows], keeps_slack)
        done = rows.stop
    slack = np.flatnonzero(bad[:done])
    if len(slack) > EXACT_RUNS:
        done, slack = int(slack[EXACT_RUNS]), slack[:EXACT_RUNS]
    for trial in slack:
        loads[trial] = one_trial(joint, passes, factors[trial])
    return loads[:done]


def draw_factors(bolts: int, deviation: float, common: float, trials: int) -> Array:
    """Factors m (trials × bolts), normal about 1, fixed seed; kept above 0.01, since a wrench does not push."""
    sets = [
        1 + deviation * (sqrt(1 - common) * own + sqrt(common) * factor[:, None])
        for own, shared in draws(bolts, common, trials)
        for factor in shared.T
    ]
    factors = np.concatenate(sets)[:trials]
    kept: Array = np.maximum(factors, 0.01)
    return kept


def one_trial(joint: Joint, passes: Sequence[Pass], factors: Array) -> Array:
    """Preloads at the end when bolt j's every pull is ``factors[j]`` times what was meant."""
    return predict(joint, [replace(one, loads=one.loads * factors) for one in passes]).final


def affordable(joint: Joint, passes: Sequence[Pass]) -> bool:
    """Whether trials with slack bolts can be worked out one by one in a few seconds."""
    return isinstance(joint, Measured) or (isinstance(joint, Elastic) and _steps(passes) <= _STEPS)


def _steps(passes: Sequence[Pass]) -> int:
    return sum(len(one.steps) for one in passes)


def path_error(
    joint: Joint, passes: Sequence[Pass], mean: Array, matrix: Array, deviation: float, common: float
) -> float:
    """Greatest error of the lowest and the highest bolt, as a share of the mean, of mean + P·(m − 1).

    Held against six tightenings worked out singly, fewer (two at least) where one takes long.
    """
    size = joint.bolts if isinstance(joint, Measured) else len(joint.matrix)
    runs = min(6, max(2, int(2e8 / (_steps(passes) * size**2))))
    worst = 0.0
    for factors in draw_factors(joint.bolts, deviation, common, runs):
        true, linear = one_trial(joint, passes, factors), mean + matrix @ (factors - 1)
        worst = max(worst, abs(float(true.min() - linear.min())), abs(float(true.max() - linear.max())))
    return worst / float(mean.mean())


def _chunk(gains: Gains, passes: Sequence[Pass], factors: Array, keeps_slack: bool) -> tuple[Array, NDArray[np.bool_]]:
    """Preloads of some trials by linear steps, and which of them had a slack bolt that makes them wrong."""
    wanted = np.ascontiguousarray(factors.T)
    force = np.zeros_like(wanted)
    bad = np.zeros(len(factors), dtype=bool)
    tight = 0
    for number, one in enumerate(passes):
        for step in one.pulled():
            tight = tight + len(step) if number == 0 else tight
            rows = list(step)
            loads = one.loads[rows, None] * wanted[rows]
            force[rows] = np.maximum(force[rows], 0.0)  # the nut takes up the room of a slack bolt
            missing = loads - force[rows]
            if number == 0:
                force += gains.gain(step, tight) @ missing
                force[rows] = loads
            else:
                _pull(gains, force, step, loads, missing)
            if not keeps_slack:
                bad |= force.min(axis=0) < 0
    return np.maximum(force, 0.0).T, bad


def _pull(gains: Gains, force: Array, step: Pulled, loads: Array, missing: Array) -> None:
    """One step on tight bolts in all trials; nuts only go forward."""
    short = missing > (1 - REACHED) * loads
    if len(step) == 1:
        force += gains.gain(step, gains.bolts) @ np.where(short, missing, 0.0)
        return
    columns = gains.columns(step)
    own = columns[list(step)]
    turned = np.linalg.solve(own, missing)
    uneven = ~(short.all(axis=0) & (turned >= 0).all(axis=0))
    if uneven.any():
        turned[:, uneven] = _only_forward(own, missing[:, uneven])
    force += columns @ turned


def _only_forward(own: Array, missing: Array) -> Array:
    """Nut movements ≥ 0 that reach every load: S·Δe ≥ missing, with equality where Δe > 0 (projected Gauss–Seidel)."""
    turned = np.maximum(missing / own.diagonal()[:, None], 0.0)
    for _ in range(_SWEEPS):
        before = turned.copy()
        for at in range(len(own)):
            rest = missing[at] - own[at] @ turned + own[at, at] * turned[at]
            turned[at] = np.maximum(rest / own[at, at], 0.0)
        if np.abs(turned - before).max() <= 1e-10 * np.abs(turned).max():
            break
    return turned
