"""Worst leg tensions and tilt over the tolerances: every leg's length within its tolerance, the centre within a radius.

All corners of the length box x 8 directions of the centre's shift, random guard samples inside, then the worst pose of
each leg and of the tilt is refined between the directions, and from five legs on climbed further leg by leg: where legs
go slack the worst pose has some lengths inside their tolerance. All poses of a stage are solved together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.lifting.hang import one, poses_of
from splitline.lifting.poses import Array, Poses, shape
from splitline.lifting.settle import FLAT, Settled, settle

CORNERS = 10  # legs up to which every corner is taken; beyond, 1,024 of them at random
FINE = np.linspace(-np.pi / 8.0, np.pi / 8.0, 7)
CLIMBED = 5  # legs from which a corner may not be the worst: with four, three carry and the corners hold it
RUNGS = np.linspace(-1.0, 1.0, 5)  # lengths tried of one leg at a time
ROUNDS = 2  # times round the legs
REFINED = 6  # highest poses of each leg that are refined


@dataclass(frozen=True, slots=True)
class Worst:
    """Extremes over all poses."""

    tensions: tuple[float, ...]  # greatest of each leg, N
    lowest: tuple[float, ...]  # least of each leg, N: 0 = may go slack
    angles: tuple[float, ...]  # flattest of each leg that carries, rad
    tilt: float  # rad
    pulls: tuple[float, ...]  # greatest angle of each leg's pull off its fitting's axis, rad; () without axes
    ups: Array  # (B, 3) the vertical in the load's frame, every pose
    poses: int  # how many were solved
    unsolved: int  # poses without equilibrium (0 in sound input)
    turned: int  # poses that turn over


def worst_case(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    length_tolerance: float | Sequence[float],
    centre_shift: float,
    guard: int = 500,
    seed: int = 20,
    rise: float = 0.0,
    axes: Sequence[Sequence[float] | None] = (),
) -> Worst:
    """Extremes of one lift; arguments as ``hang``, tolerance as +- share of each length, shift a radius in m, level.

    rise: how far the centre may be higher than given, m; the doubtful poses take it so, the side that tilts and rolls farther.
    axes: direction of each leg's straight pull at the load, None for a fitting that turns; gives ``pulls``.
    Range: length_tolerance 0 to 0.5, centre_shift >= 0. Within 1 % of a dense search for up to eight legs (tests/lifting).
    """
    base = poses_of(picks, lengths, rigidity, centre, weight)
    share = np.broadcast_to(np.asarray(length_tolerance, dtype=float), (len(lengths),))
    if not (np.isfinite(share).all() and (share >= 0.0).all() and (share <= 0.5).all()):
        raise InputError("length tolerance must be between 0 and 0.5 of the length")
    if not (np.isfinite(centre_shift) and centre_shift >= 0.0 and np.isfinite(rise) and rise >= 0.0):
        raise InputError("centre shift and rise must be 0 m or more")
    home = settle(base)
    one(base, home, 0)
    signs, turns, reach = samples(len(lengths), bool(share.any()), centre_shift > 0.0, guard, seed)
    raised = Poses(base.picks, base.lengths, base.rigidity, base.centre + np.array([0.0, 0.0, rise]), base.weight)
    batch = _batch(raised, share, signs, turns, reach * centre_shift)
    rest = settle(batch, np.repeat(home.hook, batch.count, 0), rescue=False)
    if centre_shift > 0.0:
        signs, turns, reach = _refine(rest, signs, turns)
        finer = _batch(raised, share, signs, turns, reach * centre_shift)
        close = settle(finer, np.repeat(home.hook, finer.count, 0), rescue=False)
        batch, rest = _join(batch, finer), _joined(rest, close)
    if len(lengths) >= CLIMBED and share.any():
        batch, rest = _climb(base, share, batch, rest)
    return _extremes(_join(base, batch), _joined(home, rest), axes)


def samples(count: int, box: bool, disc: bool, guard: int, seed: int) -> tuple[Array, Array, Array]:
    """Signs of the length errors (B, n), directions (B,) and shares of the shift (B,)."""
    random = np.random.default_rng(seed)
    corners: NDArray[np.floating]
    if not box:
        corners = np.zeros((1, count))
    elif count <= CORNERS:
        corners = 2.0 * ((np.arange(2**count)[:, None] >> np.arange(count)) & 1) - 1.0
    else:
        corners = random.choice([-1.0, 1.0], (2**CORNERS, count))
    eight = np.arange(8) * (np.pi / 4.0) if disc else np.zeros(1)
    signs = np.repeat(corners, len(eight), axis=0)
    turns = np.tile(eight, len(corners))
    reach = np.full(len(turns), 1.0 if disc else 0.0)
    if (box or disc) and guard > 0:
        extra = random.uniform(-1.0, 1.0, (guard, count)) if box else np.zeros((guard, count))
        extra[::2] = np.sign(extra[::2])
        signs = np.vstack([signs, extra])
        turns = np.concatenate([turns, random.uniform(0.0, 2.0 * np.pi, guard)])
        reach = np.concatenate([reach, np.sqrt(random.uniform(0.0, 1.0, guard)) if disc else np.zeros(guard)])
    return signs, turns, reach


def _batch(base: Poses, share: Array, signs: Array, turns: Array, shift: Array) -> Poses:
    count = len(turns)
    moved = np.column_stack([shift * np.cos(turns), shift * np.sin(turns), np.zeros(count)])
    return Poses(
        np.repeat(base.picks, count, 0),
        base.lengths * (1.0 + signs * share),
        np.repeat(base.rigidity, count, 0),
        base.centre + moved,
        np.repeat(base.weight, count, 0),
    )


def _climb(base: Poses, share: Array, batch: Poses, rest: Settled) -> tuple[Poses, Settled]:
    """From the worst pose of each leg and of the tilt: one leg's length after another to whatever is worse."""
    count = base.lengths.shape[1]
    aims = np.arange(count + 1)
    best = np.argmax(_aimed(rest), axis=0)
    signs = np.where(share > 0.0, (batch.lengths[best] / base.lengths - 1.0) / np.where(share > 0.0, share, 1.0), 0.0)
    centres, hooks = batch.centre[best], rest.hook[best]
    worse: list[tuple[Poses, Settled]] = []
    for _ in range(ROUNDS):
        for leg in np.flatnonzero(share):
            tried = np.repeat(signs, len(RUNGS), axis=0)
            tried[:, leg] = np.tile(RUNGS, count + 1)
            poses = Poses(
                np.repeat(base.picks, len(tried), 0),
                base.lengths * (1.0 + tried * share),
                np.repeat(base.rigidity, len(tried), 0),
                np.repeat(centres, len(RUNGS), axis=0),
                np.repeat(base.weight, len(tried), 0),
            )
            found = settle(poses, np.repeat(hooks, len(RUNGS), axis=0), rescue=False)
            values = _aimed(found).reshape(count + 1, len(RUNGS), count + 1)[aims, :, aims]
            better = np.argmax(values, axis=1) + aims * len(RUNGS)
            signs, hooks = tried[better], found.hook[better]
            worse.append((_picked(poses, better), _kept(found, better)))
    return _join(batch, *(poses for poses, _ in worse)), _joined(rest, *(found for _, found in worse))


def _aimed(rest: Settled) -> Array:
    """What is made as bad as it can be: each leg's tension and the tilt (B, n + 1); unsolved poses count for nothing."""
    tilt = np.hypot(rest.up[:, 0], rest.up[:, 1])[:, None]
    return np.where(rest.solved[:, None], np.hstack([rest.tension, tilt]), -1.0)


def _picked(poses: Poses, rows: Array) -> Poses:
    return Poses(poses.picks[rows], poses.lengths[rows], poses.rigidity[rows], poses.centre[rows], poses.weight[rows])


def _kept(rest: Settled, rows: Array) -> Settled:
    return Settled(rest.hook[rows], rest.tension[rows], rest.residual[rows], rest.bend[rows], rest.up[rows])


def _refine(rest: Settled, signs: Array, turns: Array) -> tuple[Array, Array, Array]:
    """The highest poses of each leg and of the tilt again, in steps between the eight directions."""
    aimed = _aimed(rest)
    tops = np.unique(
        np.argpartition(aimed, -REFINED, axis=0)[-REFINED:] if len(aimed) > REFINED else np.arange(len(aimed))
    )
    finer = (turns[tops][:, None] + FINE[None, :]).ravel()
    return np.repeat(signs[tops], len(FINE), axis=0), finer, np.ones(len(finer))


def _join(*parts: Poses) -> Poses:
    every = [(part.picks, part.lengths, part.rigidity, part.centre, part.weight) for part in parts]
    return Poses(*map(np.concatenate, zip(*every, strict=True)))


def _joined(*parts: Settled) -> Settled:
    every = [(part.hook, part.tension, part.residual, part.bend, part.up) for part in parts]
    return Settled(*map(np.concatenate, zip(*every, strict=True)))


def _extremes(batch: Poses, rest: Settled, axes: Sequence[Sequence[float] | None]) -> Worst:
    good = rest.solved
    at = shape(batch, rest.hook)
    sines = np.clip(np.einsum("bni,bi->bn", at.along, rest.up), -1.0, 1.0)
    flat = np.where((rest.tension > 0.0) & good[:, None], np.arcsin(sines), np.pi / 2.0)
    tension, up = rest.tension[good], rest.up[good]
    return Worst(
        tensions=tuple(float(value) for value in tension.max(axis=0)),
        lowest=tuple(float(value) for value in tension.min(axis=0)),
        angles=tuple(float(value) for value in flat.min(axis=0)),
        tilt=float(np.arctan2(np.hypot(up[:, 0], up[:, 1]), up[:, 2]).max()),
        pulls=_pulls(at.along, rest.tension, good, axes),
        ups=up,
        poses=batch.count,
        unsolved=int((~good).sum()),
        turned=int(((up[:, 2] <= 0.0) | (rest.bend[good] < -FLAT)).sum()),
    )


def _pulls(
    along: Array, tension: Array, good: NDArray[np.bool_], axes: Sequence[Sequence[float] | None]
) -> tuple[float, ...]:
    """Greatest angle between each leg's pull and its axis over the poses in which it pulls, rad; 0 without an axis."""
    found: list[float] = []
    for leg, axis in enumerate(axes):
        live = good & (tension[:, leg] > 0.0)
        if axis is None or not live.any():
            found.append(0.0)
            continue
        unit = np.asarray(axis, dtype=float) / np.linalg.norm(axis)
        found.append(float(np.arccos(np.clip(along[live, leg] @ unit, -1.0, 1.0)).max()))
    return tuple(found)
