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
