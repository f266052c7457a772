"""From a start above the load to the place where it hangs: soft legs first, then their real stiffness, then exact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from splitline.lifting.descent import descend
from splitline.lifting.polish import polish
from splitline.lifting.poses import Array, Mask, Poses, curvature, shape

SOLVED = 1e-10  # residual accepted; the promise is 1e-9 of the weight
FLAT = 1e-6  # curvature x depth / weight between minus and plus this is no curvature: the load may turn freely
RAMP = (30.0, 3000.0)  # EA over weight of the soft stages
HARD = (1e5, 1e7, 1e9)  # further stages for the few that need them
NUDGE = 0.05  # perturbation off a saddle, share of the mean leg length


@dataclass(frozen=True, slots=True)
class Settled:
    """Where each of B poses came to rest."""

    hook: Array  # (B, 3) in the load's frame, m
    tension: Array  # (B, n) N
    residual: Array  # (B,) share of the weight
    bend: Array  # (B,) least curvature of V x depth / weight; below 0 a saddle, near 0 neutral
    up: Array  # (B, 3) the vertical, in the load's frame

    @property
    def solved(self) -> Mask:
        return np.asarray(self.residual < SOLVED)


def upright_start(poses: Poses) -> Array:
    """Hook on the vertical through the centre where the first leg comes taut; over the picks' mean if none reaches."""
    over_centre = poses.centre[:, :2]
    height = _taut_height(poses, over_centre)
    lost = ~np.isfinite(height)
    place = np.where(lost[:, None], poses.picks[:, :, :2].mean(axis=1), over_centre)
    fallback = poses.picks[:, :, 2].max(axis=1) + 0.5 * poses.lengths.min(axis=1)
    height = np.where(lost, fallback, height)
    return np.column_stack([place, np.maximum(height, poses.centre[:, 2] + 1e-3 * poses.scale)])


def _apexes(poses: Poses, upright: Array) -> Array:
    """Both places, either side of the picks' plane, where all legs are as near to just taut as they get, (2, 3)."""
    middle = poses.picks[0].mean(axis=0)
    normal = np.linalg.svd(poses.picks[0] - middle)[2][2]
    out = upright[0] - middle
    places = np.array([upright[0], upright[0] - 2.0 * float(out @ normal) * normal])
    both = Poses(*(np.repeat(part, 2, 0) for part in _parts(poses)))
    for _ in range(15):
        at = shape(both, places)
        matrix = np.einsum("bni,bnj->bij", at.along, at.along) + 0.02 * np.eye(3)
        slope = np.einsum("bni,bn->bi", at.along, at.distance - both.lengths)
        places = places - np.linalg.solve(matrix, slope[:, :, None])[:, :, 0]
    return np.asarray(places)


def _taut_height(poses: Poses, place: Array) -> Array:
    out = poses.picks[:, :, :2] - place[:, None, :]
    left = poses.lengths**2 - (out * out).sum(axis=2)
    heights = poses.picks[:, :, 2] + np.sqrt(np.maximum(left, 0.0))
    reached = left > -1e-9 * poses.lengths**2
    return np.asarray(np.where(reached.all(axis=1), heights.min(axis=1), np.nan))


def settle(poses: Poses, start: Array | None = None, rescue: bool = True) -> Settled:
    """Rest of every pose, reached downhill from ``start`` (B, 3), by default from upright with the legs just taut.

    rescue: look round the upright for a standing rest of each pose that ended upside down (costs some 20 ms a pose).
    """
    if start is None:
        hook, tension, left = _approach(poses, upright_start(poses), RAMP)
    else:
        hook, tension, left = _from_near(poses, start)
    bad = np.flatnonzero(left > SOLVED)
    if bad.size:
        part = poses.take(bad)
        begin = upright_start(part) if start is None else start[bad]
        hook[bad], tension[bad], left[bad] = _approach(part, begin, (*RAMP, *HARD), rounds=400, fine=1e-7)
    bend, up = _state(poses, hook, tension)
    for turn in range(4):
        saddle = np.flatnonzero((bend < -FLAT) | (left > SOLVED))
        if saddle.size == 0:
            break
        part = poses.take(saddle)
        away = upright_start(part) if turn == 2 else _off_saddle(part, hook[saddle], tension[saddle], turn)
        ramp, fine = (RAMP[-1:], 1e-4) if turn < 2 else ((*RAMP, *HARD), 1e-7)
        hook[saddle], tension[saddle], left[saddle] = _approach(part, away, ramp, rounds=300, fine=fine)
        bend[saddle], up[saddle] = _state(part, hook[saddle], tension[saddle])
    rest = Settled(hook, tension, left, bend, up)
    if rescue and poses.picks.shape[1] > 2:
        for which in np.flatnonzero(up[:, 2] <= 0.0):
            part = poses.take(np.array([which]))
            _stand(part, upright_start(part)[0], rest, int(which))
    return rest


def _stand(poses: Poses, upright: Array, rest: Settled, which: int) -> None:
    """Soft legs or long steps may have let a standing load swing under: look for rest from starts round the upright."""
    angle = np.arange(8) * (np.pi / 4.0)
    circle = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(8)])
    middle = poses.picks[0].mean(axis=0) - poses.centre[0]
    over_picks = np.array([[middle[0], middle[1], 0.0]])
    steps = poses.scale[0] * np.vstack([np.zeros((1, 3)), 0.2 * circle, 0.5 * circle])
    starts = upright + np.vstack([steps, over_picks, over_picks + 0.25 * poses.scale[0] * circle, np.zeros((2, 3))])
    many = Poses(*(np.repeat(part, len(starts), 0) for part in _parts(poses)))
    heights = _taut_height(many, starts[:, :2])
    starts[:, 2] = np.where(np.isfinite(heights), heights, starts[:, 2])
    starts[-2:] = _apexes(poses, upright[None])
    hook, tension, left = _approach(many, starts, RAMP[-1:], rounds=100)
    last = np.array([len(starts) - 2, len(starts) - 1])
    hook[last], tension[last], left[last] = polish(many.take(last), starts[last], all_taut=True)
    bend, up = _state(many, hook, tension)
    score = np.where((left < SOLVED) & (bend > -FLAT), up[:, 2], -1.0)
    best = int(score.argmax())
    if score[best] > 0.0:
        rest.hook[which], rest.tension[which], rest.up[which] = hook[best], tension[best], up[best]
        rest.residual[which], rest.bend[which] = left[best], bend[best]


def _parts(poses: Poses) -> tuple[Array, Array, Array, Array, Array]:
    return poses.picks, poses.lengths, poses.rigidity, poses.centre, poses.weight


def _approach(
    poses: Poses, start: Array, ramp: tuple[float, ...], rounds: int = 60, fine: float = 1e-4
) -> tuple[Array, Array, Array]:
    hook = start
    stiffest = float((poses.rigidity / poses.weight[:, None]).max())
    tolerance = 1e-3
    for ratio in ramp:
        hook = descend(poses.softened(ratio), hook, tolerance, rounds)
        tolerance = fine
        if ratio >= stiffest:
            break
    return polish(poses, hook)


def _from_near(poses: Poses, start: Array) -> tuple[Array, Array, Array]:
    """Newton straight from a known rest of almost the same lift; downhill only for those it does not settle."""
    hook, tension, left = polish(poses, start, rounds=12)
    bend, up = _state(poses, hook, tension)
    lost = np.flatnonzero((left > SOLVED) | (bend < -FLAT) | (up[:, 2] <= 0.0))
    if lost.size:
        hook[lost], tension[lost], left[lost] = _approach(poses.take(lost), start[lost], RAMP)
    return hook, tension, left


def _state(poses: Poses, hook: Array, tension: Array) -> tuple[Array, Array]:
    at = shape(poses, hook)
    least = np.linalg.eigvalsh(curvature(poses, at, tension))[:, 0]
    return np.asarray(least * at.depth / poses.weight), at.up


def _off_saddle(poses: Poses, hook: Array, tension: Array, turn: int) -> Array:
    at = shape(poses, hook)
    _, vectors = np.linalg.eigh(curvature(poses, at, tension))
    side = 1.0 if turn % 2 == 0 else -1.0
    sign = np.where(vectors[:, 0, 0] + 0.5 * vectors[:, 1, 0] >= 0.0, side, -side)
    return np.asarray(hook + (NUDGE * poses.scale * sign)[:, None] * vectors[:, :, 0])
