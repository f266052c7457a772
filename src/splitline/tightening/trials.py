"""Scatter where bolts may go slack or keep more than a pull would give: the tightening itself, many times over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.gains import Gains, Pulled
from splitline.tightening.joint import Elastic, Joint, Measured
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import predict
from splitline.tightening.sampling import draws
from splitline.tightening.together import REACHED

Array = NDArray[np.float64]

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
