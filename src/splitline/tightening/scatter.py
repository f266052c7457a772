"""What scatter of the tightening method does to the preloads: mean, spread, percentiles and chances."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from math import erfc, exp, log, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.gains import Gains, Pulled
from splitline.tightening.joint import Elastic, Gapped, Joint, Measured
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import Hand, Prediction
from splitline.tightening.trials import Extremes, Tally, affordable, path_error, sample_extremes, simulate

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


@dataclass(frozen=True, slots=True, eq=False)
class Sensitivity:
    """P, N: change of the preloads at the end (rows) per unit of each bolt's factor (columns), along the predicted path.

    ``doubt``: greatest share of a load that, on the average, a nut left or pulled against the predicted path would move
    it (0: the factors never change who is pulled or slack); below 0.001 the answer is taken as exact.
    """

    matrix: Array
    doubt: float

    @property
    def exact(self) -> bool:
        """Whether F = P·m holds over the whole scatter."""
        return self.doubt < 1e-3


def sensitivity(
    joint: Joint, passes: Sequence[Pass], prediction: Prediction, deviation: float, common: float
) -> Sensitivity:
    """P along the predicted path, and how far scatter (relative standard deviation, common share) could leave that path."""
    if prediction.gains is not None:
        return _by_gains(prediction.gains, passes, prediction, deviation, common)
    state = prediction.state
    matrix = _along(state, passes) if isinstance(joint, Gapped) else _by_positions(joint, passes)
    return Sensitivity(matrix, float("inf"))


def _by_gains(
    gains: Gains, passes: Sequence[Pass], prediction: Prediction, deviation: float, common: float
) -> Sensitivity:
    """Replay the linear steps on rows of factors instead of numbers.

    Kept on the way, as shares of load: what a bolt about to be pulled lacks (below 0 for a pull the path skips), and what
    the least loaded bolt holds after each step. Where scatter takes one of these below zero, it leaves the path.
    """
    state = np.zeros((gains.bolts, gains.bolts))
    margins: list[Array] = []
    least = iter(_least_loaded(passes, prediction))
    moved, tight = iter(prediction.moved), 0
    for number, one in enumerate(passes):
        for step in one.pulled():
            tight = tight if number else tight + len(step)
            pulled = tuple(bolt - 1 for bolt in next(moved))
            if number:
                margins += _lacking(state, step, one.loads, pulled)
            if pulled:
                rows = list(pulled)
                missing = -state[rows]
                for at, bolt in enumerate(rows):
                    missing[at, bolt] += one.loads[bolt]
                state += gains.gain(pulled, tight) @ missing
            slackest = next(least)
            margins.append(state[slackest] / one.loads[slackest])
    return Sensitivity(state, float("inf") if prediction.slack else _greatest_doubt(margins, deviation, common))


def _lacking(state: Array, step: Pulled, loads: Array, pulled: Pulled) -> list[Array]:
    """Load wanted less load held of each bolt of a step; the other way round where the path leaves its nut."""
    answer = []
    for bolt in step:
        row = state[bolt] / -loads[bolt]
        row[bolt] += 1.0
        answer.append(row if bolt in pulled else -row)
    return answer


def _least_loaded(passes: Sequence[Pass], prediction: Prediction) -> list[int]:
    """Per step, the tightened bolt with the least share of its load."""
    wanted = np.concatenate([np.tile(one.loads, (len(one.steps), 1)) for one in passes])
    shares = prediction.after_step / wanted
    done: list[int] = []
    for number, step in enumerate(passes[0].pulled()):
        done += step
        kept = shares[number, done]
        shares[number] = np.inf
        shares[number, done] = kept
    least: list[int] = shares.argmin(axis=1).tolist()
    return least


def _greatest_doubt(margins: list[Array], deviation: float, common: float) -> float:
    """Greatest mean shortfall below zero of the margins, of which a common part moves all factors as one, the rest alone."""
    rows = np.array(margins)
    sums = rows.sum(axis=1)
    alone = np.einsum("ij,ij->i", rows, rows)
    spreads = deviation * np.sqrt(common * sums**2 + (1 - common) * alone)
    return max(map(_mean_below, sums.tolist(), spreads.tolist()))


def _mean_below(mean: float, deviation: float) -> float:
    """E[max(−X, 0)] of a normal X."""
    if deviation <= 1e-15 * abs(mean) or deviation == 0:
        return max(-mean, 0.0)
    z = mean / deviation
    return deviation * exp(-z * z / 2) / sqrt(2 * pi) - mean * erfc(z / sqrt(2)) / 2


def _along(hand: Hand, passes: Sequence[Pass]) -> Array:
    """Derivative along the trail a prediction left: nut positions answer to the factors of the bolts pulled."""
    assert hand.one_sided is not None
    bolts, trail = hand.joint.bolts, iter(hand.trail)
    answer = np.zeros((len(hand.one_sided.matrix), bolts))
    for one in passes:
        for _ in one.steps:
            moved, rows = next(trail)
            _answered(answer, moved, rows, one.loads)
    preloads: Array = hand.one_sided.inverse[:bolts] @ answer
    return preloads


def _answered(answer: Array, moved: Sequence[int], stiffness: Array, loads: Array) -> None:
    """One step: positions of the nuts moved give their bolts the loads wanted; ``stiffness`` holds their rows."""
    if not len(moved):
        return
    at = list(moved)
    answer[at] = 0.0
    wanted = -stiffness @ answer
    wanted[np.arange(len(at)), at] += loads[at]
    answer[at] = np.linalg.solve(stiffness[:, at], wanted)


def _by_positions(joint: Joint, passes: Sequence[Pass]) -> Array:
    """The same for an elastic joint with slack bolts, tightened once more as one-sided from the start."""
    assert isinstance(joint, Elastic), "measured coefficients never need the one-sided problem"
    state = joint.one_sided((), np.zeros(joint.bolts))
    answer = np.zeros((len(state.matrix), joint.bolts))
    for one in passes:
        for step in one.pulled():
            moved = list(state.pull(step, one.loads[list(step)]))
            _answered(answer, moved, state.inverse[moved], one.loads)
    preloads: Array = state.inverse[: joint.bolts] @ answer
    return preloads


_LEVEL = 0.01  # chance of the low preload, and of the high one
_ERROR = 0.003  # error of low and high, share of the mean, up to which integration stands for trials
_TABLE = 1e-4  # the same, of the integration itself
_PATH = 0.05  # error of the lowest and highest bolt, share of the mean, up to which the path stands for all trials


@dataclass(frozen=True, slots=True, eq=False)
class Scattered:
    """Preloads at the end with scatter. Per bolt: mean and standard deviation, N. ``basis`` says how they were found.

    ``low``: 1st percentile of the lowest bolt; ``high``: 99th percentile of the highest. ``trials``: how many low, high and
    chances come from, 0 where they were integrated.
    """

    mean: Array
    deviation: Array
    low: float
    high: float
    chance_below_need: float
    chance_over_limit: float
    trials: int
    exact: bool
    basis: str
    extremes: Extremes | Integral

    def bolt_percentile(self, z: float) -> Array:
        """Preload of each bolt at ``z`` standard deviations from its mean (−2.326: 1st percentile), N."""
        loads: Array = self.mean + z * self.deviation
        return loads


def scatter(
    joint: Joint,
    passes: Sequence[Pass],
    prediction: Prediction,
    within: float,
    common: float,
    *,
    need: Array | float = 0.0,
    limit: Array | float = float("inf"),
    trials: int = 20_000,
    of: Sequence[int] | None = None,
) -> Scattered:
    """Scatter of the predicted preloads. ``within``: preload within ± this share at two standard deviations.

    ``common``: share of that variance common to all bolts (one lubricant batch, one tool); the rest is one draw per bolt
    for the whole job. Linear while nothing is slack: mean and deviation are then exact, extremes integrated where the
    bolts' own parts are nearly independent (within a bound), else drawn in ``trials`` trials. With slack bolts the
    predicted path is held against single tightenings, and the tightening simulated where it strays. ``of``: the bolts
    (from 1) low, high and chances speak of. InputError out of range.
    """
    if not 0 <= within < 1 or not 0 <= common <= 1 or trials < 100:
        raise InputError("scatter must be from 0 to below 1, its common share from 0 to 1, trials at least 100")
    sigma = within / 2
    chosen = np.arange(joint.bolts) if of is None else np.asarray(of) - 1
    bounds = [bound if np.ndim(bound) == 0 else np.asarray(bound)[chosen] for bound in (need, limit)]
    if not (isinstance(joint, Measured) and prediction.slack):
        answer = sensitivity(joint, passes, prediction, sigma, common)
        if answer.exact:
            how = "exact mean and deviation"
            return _linear(prediction.final, answer, chosen, sigma, common, bounds, trials, how)
        if not isinstance(joint, Measured):
            error = path_error(joint, passes, prediction.final, answer.matrix, sigma, common)
            if error <= _PATH or not affordable(joint, passes):
                how = (
                    f"mean and deviation along the predicted path, within {max(error, 5e-4):.1%} of single tightenings"
                )
                return _linear(prediction.final, answer, chosen, sigma, common, bounds, trials, how)
    assert not isinstance(joint, Gapped)
    loads = simulate(joint, passes, sigma, common, trials)
    found = Tally(len(loads), *bounds)
    found.take(0, loads[:, chosen])
    basis = f"{len(loads)} simulated tightenings, fixed seed (bolts go slack or hold more than a pull gives)"
    return _told(loads.mean(axis=0), loads.std(axis=0), found.extremes(), False, basis)


def _linear(
    mean: Array,
    answer: Sensitivity,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    trials: int,
    how: str,
) -> Scattered:
    matrix = answer.matrix
    together, own = matrix.sum(axis=1), np.sqrt((matrix**2).sum(axis=1))
    deviation = sigma * np.sqrt(common * together**2 + (1 - common) * own**2)
    if (told := _integrated(mean, matrix, deviation, answer.exact, chosen, sigma, common, bounds, how)) is not None:
        return told
    found = _sampled(mean, matrix, chosen, sigma, common, bounds, trials)
    return _told(mean, deviation, found, answer.exact, f"{how}; extremes from {trials} trials, fixed seed")


def _integrated(
    mean: Array,
    matrix: Array,
    deviation: Array,
    exact: bool,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    how: str,
) -> Scattered | None:
    """Low, high and chances by integration; None where its error is not certain to be small."""
    found = integral(mean, matrix, sigma, common, chosen)
    if found is None:
        return None
    low, high, whole = found.low(_LEVEL), found.high(_LEVEL), float(mean[chosen].mean())
    error = max(found.low_error(low), found.high_error(high)) / whole + _TABLE
    if not error <= _ERROR:
        return None
    below, over = found.lowest_below(bounds[0]), found.highest_over(bounds[1])
    said = f"{how}; extremes integrated over the common factor, within {error:.2%} of the mean preload"
    return Scattered(mean, deviation, low, high, below, over, 0, exact, said, found)


def _sampled(
    mean: Array,
    matrix: Array,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    trials: int,
) -> Extremes:
    """Extremes over the chosen bolts only; all bolts' factors still act on them."""
    if len(chosen) == len(mean):
        return sample_extremes(mean, matrix, sigma, common, bounds[0], bounds[1], trials)
    covariance = matrix[chosen] @ matrix[chosen].T
    root = np.linalg.cholesky(covariance + 1e-12 * covariance.trace() * np.eye(len(chosen)))
    together = matrix[chosen].sum(axis=1)
    return sample_extremes(mean[chosen], root, sigma, common, bounds[0], bounds[1], trials, together)


def _told(mean: Array, deviation: Array, found: Extremes, exact: bool, basis: str) -> Scattered:
    low = float(np.percentile(found.lowest, 1))
    high = float(np.percentile(found.highest, 99))
    below, over = float((found.over_need < 0).mean()), float((found.under_limit < 0).mean())
    return Scattered(mean, deviation, low, high, below, over, len(found.lowest), exact, basis, found)
