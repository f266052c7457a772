"""How the preloads at the end follow each bolt's own tool and lubricant: F = P·m, m_j the factor on bolt j's every pull."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import erfc, exp, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.gains import Gains, Pulled
from splitline.tightening.joint import Elastic, Gapped, Joint
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import Hand, Prediction

Array = NDArray[np.float64]


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
    """Replay the linear steps on rows of factors instead of numbers."""
    state = np.zeros((gains.bolts, gains.bolts))
    doubt, tight = 0.0, 0
    moved, means = iter(prediction.moved), iter(prediction.after_step)
    flat = [bolt for step in passes[0].pulled() for bolt in step]
    for number, one in enumerate(passes):
        for step in one.pulled():
            tight = tight + len(step) if number == 0 else tight
            pulled = tuple(bolt - 1 for bolt in next(moved))
            loads = one.loads[list(step)]
            if number:
                doubt = max(doubt, _off_path(state, step, loads, pulled, deviation, common))
            if pulled:
                rows = list(pulled)
                missing = -state[rows]
                for at, bolt in enumerate(rows):
                    missing[at, bolt] += one.loads[bolt]
                state += gains.gain(pulled, tight) @ missing
            taut = flat[:tight] if tight < gains.bolts else None
            doubt = max(doubt, _slack_doubt(state, next(means), taut, one, deviation, common))
    return Sensitivity(state, float("inf") if prediction.slack else doubt)


def _off_path(state: Array, step: Pulled, loads: Array, pulled: Pulled, deviation: float, common: float) -> float:
    """Mean share of load by which a pull skipped, or a skipped pull made, against the predicted path would matter."""
    worst = 0.0
    for bolt, load in zip(step, loads, strict=True):
        row = -state[bolt]
        row[bolt] += load
        sign = 1.0 if bolt in pulled else -1.0
        worst = max(worst, _mean_below(sign * float(row.sum()), _deviation(row, deviation, common)) / float(load))
    return worst


def _slack_doubt(
    state: Array, means: Array, tight: list[int] | None, one: Pass, deviation: float, common: float
) -> float:
    """Mean share of load by which the least loaded tight bolt (None: of all) would be below zero."""
    shares = means / one.loads
    least = int(shares.argmin()) if tight is None else min(tight, key=shares.__getitem__)
    return _mean_below(float(means[least]), _deviation(state[least], deviation, common)) / float(one.loads[least])


def _deviation(row: Array, deviation: float, common: float) -> float:
    """Standard deviation of row·m: common part moves all factors as one, the rest each alone."""
    return deviation * sqrt(common * float(row.sum()) ** 2 + (1 - common) * float(row @ row))


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
