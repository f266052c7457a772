"""Rest of a beam and its load: downhill with soft legs, then Newton on places, turns and taut tensions together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.lifting import bodies
from splitline.lifting.bodies import SIZE, Chain, Pair, Reach
from splitline.lifting.poses import Array, Mask

SOLVED = 1e-10
FLAT = 1e-6
GOOD = 1e-12
RAMP = (30.0, 3000.0)
STEP = 0.2  # longest step, share of rho


@dataclass(frozen=True, slots=True)
class Rest:
    """Where B pairs came to rest."""

    pair: Pair
    tension: Array  # (B, S) N
    residual: Array  # (B,) share of the whole weight
    bend: Array  # (B,) least curvature x rho / weight, yaw pinned

    @property
    def solved(self) -> Mask:
        return np.asarray(self.residual < SOLVED)


def rest(chain: Chain, start: Pair, rounds: int = 80, near: bool = False) -> Rest:
    """Rest of every pair reached downhill from ``start``; saddles are left by a nudge and gone on from.

    near: start is the rest of almost the same pair, so Newton is tried first and downhill only where it does not settle.
    """
    if near:
        found = _polish(chain, start, rounds=12)
        lost = np.flatnonzero((found.residual > SOLVED) | (found.bend < -FLAT) | (found.pair.turn[:, 1, 2, 2] <= 0.0))
        if lost.size:
            _replace(found, lost, _approach(chain.take(lost), start.take(lost), RAMP, rounds))
    else:
        found = _approach(chain, start, RAMP, rounds)
    for turn in range(4):
        again = np.flatnonzero((found.bend < -FLAT) | (found.residual > SOLVED))
        if again.size == 0:
            break
        part = chain.take(again)
        away = _nudged(part, found.pair.take(again), found.tension[again], turn)
        _replace(found, again, _approach(part, away, RAMP[-1:] if turn % 2 else RAMP, 4 * rounds))
    return found


def _replace(found: Rest, which: NDArray[np.int_], fresh: Rest) -> None:
    for whole, piece in (
        (found.pair.place, fresh.pair.place),
        (found.pair.turn, fresh.pair.turn),
        (found.tension, fresh.tension),
        (found.residual, fresh.residual),
        (found.bend, fresh.bend),
    ):
        whole[which] = piece


def _approach(chain: Chain, pair: Pair, ramp: tuple[float, ...], rounds: int) -> Rest:
    stiffest = float((chain.rigidity / chain.weights.sum(axis=1)[:, None]).max())
    for ratio in ramp:
        pair = _descend(chain.softened(ratio), pair, 1e-4, rounds)
        if ratio >= stiffest:
            break
    return _polish(chain, pair)


def _descend(chain: Chain, pair: Pair, tolerance: float, rounds: int) -> Pair:
    place, turn = pair.place.copy(), pair.turn.copy()
    left = np.arange(chain.count)
    for _ in range(rounds):
        if left.size == 0:
            break
        part, now = chain.take(left), Pair(place[left], turn[left])
        at = bodies.reach(part, now)
        rows, tension = bodies.lever(part, at), bodies.pull(part, at)
        slope = bodies.imbalance(part, rows, tension)
        values, vectors = np.linalg.eigh(bodies.curvature(part, at, rows, tension))
        bent = np.maximum(np.abs(values), 1e-3 * bodies.pin(part)[:, None])
        step = -np.einsum("bij,bj->bi", vectors, np.einsum("bij,bi->bj", vectors, slope) / bent)
        length = np.sqrt((step * step).sum(axis=1))
        step *= np.minimum(1.0, STEP * part.rho / np.maximum(length, 1e-300))[:, None]
        fresh = _backtrack(part, now, step, slope, bodies.energy(part, now, at))
        place[left], turn[left] = fresh.place, fresh.turn
        left = left[np.sqrt((slope * slope).sum(axis=1)) > tolerance * part.weights.sum(axis=1)]
    return Pair(place, turn)


def _backtrack(chain: Chain, pair: Pair, step: Array, slope: Array, here: Array) -> Pair:
    gain = (slope * step).sum(axis=1)
    rounding = 1e-14 * (np.abs(here) + chain.weights.sum(axis=1) * chain.rho)
    share = np.ones(chain.count)
    fresh = bodies.moved(chain, pair, step)
    for _ in range(8):
        there = bodies.energy(chain, fresh, bodies.reach(chain, fresh))
        worse = there > here + 1e-4 * share * gain + rounding
        if not worse.any():
            break
        share[worse] *= 0.35
        fresh = bodies.moved(chain, pair, share[:, None] * step)
    return fresh


def _polish(chain: Chain, start: Pair, rounds: int = 30) -> Rest:
    place, turn = start.place.copy(), start.turn.copy()
    whole = chain.weights.sum(axis=1)
    tension = np.minimum(bodies.pull(chain, bodies.reach(chain, start)), 50.0 * whole[:, None])
    taut = tension > 0.0
    best = np.full(chain.count, np.inf)
    kept = (place.copy(), turn.copy(), tension.copy())
    left = np.arange(chain.count)
    for _ in range(rounds):
        part, now = chain.take(left), Pair(place[left], turn[left])
        at = bodies.reach(part, now)
        rows = bodies.lever(part, at)
        value = _residual(part, at, rows, tension[left])
        better = value < best[left]
        where = left[better]
        best[where] = value[better]
        kept[0][where], kept[1][where], kept[2][where] = place[where], turn[where], tension[where]
        going = value > GOOD
        if not going.any():
            break
        step, change = _newton(part, at, rows, tension[left], taut[left])
        fresh = bodies.moved(part, now, step)
        place[left], turn[left] = fresh.place, fresh.turn
        pulled = np.where(taut[left], tension[left] + change, 0.0)
        long = bodies.reach(part, fresh).distance > part.lengths * (1.0 + 1e-13)
        taut[left] = np.where(taut[left], pulled > 0.0, long)
        tension[left] = np.maximum(pulled, 0.0)
        left = left[going]
    pair = Pair(kept[0], kept[1])
    at = bodies.reach(chain, pair)
    matrix = bodies.curvature(chain, at, bodies.lever(chain, at), kept[2])
    return Rest(pair, kept[2], best, np.linalg.eigvalsh(matrix)[:, 0] / bodies.pin(chain))


def _residual(chain: Chain, at: Reach, rows: Array, tension: Array) -> Array:
    force = np.sqrt((bodies.imbalance(chain, rows, tension) ** 2).sum(axis=1)) / chain.weights.sum(axis=1)
    gap = (at.distance - chain.lengths) / chain.lengths - tension / chain.rigidity
    wrong = np.where(tension > 0.0, np.abs(gap), np.maximum(gap, 0.0))
    return np.asarray(np.maximum(force, wrong.max(axis=1)))


def _newton(chain: Chain, at: Reach, rows: Array, tension: Array, taut: Mask) -> tuple[Array, Array]:
    count, legs = tension.shape
    whole = chain.weights.sum(axis=1)
    system = np.zeros((count, SIZE + legs, SIZE + legs))
    system[:, :SIZE, :SIZE] = bodies.geometric(chain, at, rows, tension) * (chain.rho / whole)[:, None, None]
    system[:, 5, 5] += 1.0
    each = np.arange(SIZE)
    system[:, each, each] += 1e-12
    coupled = rows * taut[:, :, None]
    system[:, SIZE:, :SIZE] = coupled
    system[:, :SIZE, SIZE:] = coupled.transpose(0, 2, 1)
    give = chain.lengths / chain.rigidity
    low = np.arange(SIZE, SIZE + legs)
    system[:, low, low] = np.where(taut, -give * whole[:, None] / chain.rho, 1.0)
    aim = np.zeros((count, SIZE + legs))
    aim[:, :SIZE] = -bodies.imbalance(chain, rows, tension) / whole[:, None]
    aim[:, SIZE:] = np.where(taut, -(at.distance - chain.lengths - tension * give) / chain.rho, 0.0)
    answer = _solve(system, aim)
    step = answer[:, :SIZE] * chain.rho
    length = np.sqrt((step * step).sum(axis=1))
    short = np.minimum(1.0, 0.1 * chain.rho / np.maximum(length, 1e-300))[:, None]
    return step * short, answer[:, SIZE:] * whole[:, None] * short


def _solve(matrix: Array, aim: Array) -> Array:
    try:
        answer = np.linalg.solve(matrix, aim[:, :, None])[:, :, 0]
        if np.isfinite(answer).all():
            return np.asarray(answer)
    except np.linalg.LinAlgError:
        pass
    return np.asarray(np.einsum("bij,bj->bi", np.linalg.pinv(matrix, rcond=1e-13), aim))


def _nudged(chain: Chain, pair: Pair, tension: Array, turn: int) -> Pair:
    at = bodies.reach(chain, pair)
    _, vectors = np.linalg.eigh(bodies.curvature(chain, at, bodies.lever(chain, at), tension))
    side = 0.1 if turn % 2 == 0 else -0.1
    return bodies.moved(chain, pair, side * chain.rho * vectors[:, :, 0])
