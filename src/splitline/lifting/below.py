"""Spreader lifts: leg lengths that hang the load level, and the worst over lengths and centre."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.lifting import bodies
from splitline.lifting.bodies import Chain, Pair
from splitline.lifting.chain import FLAT, Rest, rest
from splitline.lifting.hang import as_points
from splitline.lifting.levels import LevelSet
from splitline.lifting.poses import Array
from splitline.lifting.spreader import Beam, Points, chain_of, inside, read, start_of
from splitline.lifting.tolerance import Worst, samples


@dataclass(frozen=True, slots=True)
class Above:
    """Extremes of what is above the legs, over all poses."""

    tensions: tuple[float, ...]  # greatest of each upper sling, N
    angles: tuple[float, ...]  # flattest of each upper sling that carries, from the horizontal, rad
    compression: float  # greatest axial force in the beam by size, + pressed, N
    bending: float  # greatest bending moment in the beam, N·m


def level_below(
    beam: Beam,
    picks: Points,
    beam_points: Sequence[int],
    lengths: Sequence[float | None],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    hook: Sequence[float],
) -> LevelSet:
    """Leg lengths (None = to be found) that hang the load level below a beam whose hook is at about ``hook``.

    Starts from the level geometry, then corrects the open lengths by least norm on the re-hung pair until the load's
    tilt is below 1e-9 rad; the beam itself may hang out of level. InputError where no lengths do it.
    """
    open_legs = np.flatnonzero([value is None for value in lengths])
    now = _first_guess(beam, picks, beam_points, lengths, centre, hook)
    if (now <= 0.0).any():
        raise InputError("every sling length must be above 0 m")
    chain = chain_of(beam, picks, beam_points, now.tolist(), rigidity, centre, weight)
    found = rest(chain, start_of(chain))
    for _ in range(40):
        state = read(chain, found, 0, centre, beam)
        if state.tilt < 1e-9:
            return LevelSet(state.hook, tuple(float(value) for value in now), state.tensions)
        rates = _rates(chain, found.pair, open_legs)
        change = -np.linalg.pinv(rates.T, rcond=1e-6) @ np.array(state.up[:2])
        change *= min(1.0, float((0.05 * now[open_legs] / np.maximum(np.abs(change), 1e-300)).min()))
        now[open_legs] += change
        chain = chain_of(beam, picks, beam_points, now.tolist(), rigidity, centre, weight)
        found = rest(chain, found.pair, near=True)
    raise InputError("no leg lengths hang this load level below the beam: is the centre of gravity inside the picks?")


def _first_guess(
    beam: Beam, picks: Points, beam_points: Sequence[int], lengths: Sequence[float | None],
    centre: Sequence[float], hook: Sequence[float],
) -> Array:  # fmt: skip
    points, tops = as_points(picks, "pick points"), as_points(beam.upper, "beam's upper points")
    lows = as_points(beam.lower, "beam's lower points")[list(beam_points)]
    fall = np.sqrt(np.maximum(np.array(beam.lengths) ** 2 - (tops[:, :2] ** 2).sum(axis=1), 0.0))
    place = np.array([centre[0], centre[1], float(hook[2]) - float((fall + tops[:, 2]).min())])
    legs = place + lows - points
    if (legs[:, 2] <= 0.0).any():
        raise InputError("the beam would hang below a pick point: raise the hook or shorten the upper slings")
    distance = np.linalg.norm(legs, axis=1)
    return np.array(
        [far if given is None else given for far, given in zip(distance, lengths, strict=True)], dtype=float
    )


def _rates(chain: Chain, pair: Pair, which: NDArray[np.int_]) -> Array:
    """Change of the load's up per metre on each named leg, (m, 2), 1/m, by central differences."""
    count, first = len(which), chain.uppers
    error = np.zeros((2 * count, chain.lengths.shape[1]))
    each = np.arange(count)
    error[each, first + which], error[count + each, first + which] = 1e-4, -1e-4
    batch = _poses(chain, error, np.zeros((2 * count, 3)))
    found = rest(batch, Pair(np.repeat(pair.place, 2 * count, 0), np.repeat(pair.turn, 2 * count, 0)), near=True)
    up = found.pair.turn[:, 1, 2, :2]
    step = 2e-4 * chain.lengths[0, first + which]
    return np.asarray((up[:count] - up[count:]) / step[:, None])


def worst_below(
    beam: Beam,
    picks: Points,
    beam_points: Sequence[int],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    length_tolerance: float,
    centre_shift: float,
    guard: int = 500,
    seed: int = 20,
    rise: float = 0.0,
    axes: Sequence[Sequence[float] | None] = (),
) -> tuple[Worst, Above]:
    """Extremes as ``worst_case``, the upper slings' lengths in doubt too; also those of upper slings and beam."""
    base = chain_of(beam, picks, beam_points, lengths, rigidity, centre, weight)
    home = rest(base, start_of(base))
    read(base, home, 0, centre, beam)
    legs = base.lengths.shape[1]
    signs, turns, reach = samples(legs, length_tolerance > 0.0, centre_shift > 0.0, guard, seed)
    shift = reach * centre_shift
    move = np.column_stack([shift * np.cos(turns), shift * np.sin(turns), np.full(len(turns), rise)])
    batch = _poses(base, signs * length_tolerance, move)
    # the load's place is its centre of gravity: start from the same body, its centre moved with the doubt
    moved = np.einsum("ij,bj->bi", home.pair.turn[0, 1], move)
    start = Pair(np.repeat(home.pair.place, batch.count, 0), np.repeat(home.pair.turn, batch.count, 0))
    start.place[:, 1] += moved
    found = rest(batch, start, near=True)
    good = found.solved
    at = bodies.reach(batch, found.pair)
    angles = np.where(found.tension > 0.0, np.arcsin(np.clip(at.along[:, :, 2], -1.0, 1.0)), np.pi / 2.0)[good]
    tension, first = found.tension[good], base.uppers
    up = found.pair.turn[good, 1, 2, :]
    turned = (up[:, 2] <= 0.0) | (found.bend[good] < -FLAT)
    worst = Worst(
        tensions=_most(tension[:, first:]),
        lowest=tuple(float(value) for value in tension[:, first:].min(axis=0)),
        angles=tuple(float(value) for value in angles[:, first:].min(axis=0)),
        tilt=float(np.arctan2(np.hypot(up[:, 0], up[:, 1]), up[:, 2]).max()),
        pulls=_pulled(at.along[:, first:], found, first, good, axes),
        ups=up,
        poses=batch.count,
        unsolved=int((~good).sum()),
        turned=int(turned.sum()),
    )
    loads = inside(batch, found.tension[:, :, None] * at.along, found.pair.turn[:, 0])
    pressed = loads.compression[good]
    return worst, Above(
        tensions=_most(tension[:, :first]),
        angles=tuple(float(value) for value in angles[:, :first].min(axis=0)),
        compression=float(pressed[np.abs(pressed).argmax()]),
        bending=float(loads.bending[good].max()),
    )


def _pulled(
    along: Array, found: Rest, first: int, good: NDArray[np.bool_], axes: Sequence[Sequence[float] | None]
) -> tuple[float, ...]:
    """Greatest angle of each leg's pull off its fitting's axis, which turns with the load, rad."""
    turn = found.pair.turn[:, 1]
    out: list[float] = []
    for leg, axis in enumerate(axes):
        live = good & (found.tension[:, first + leg] > 0.0)
        if axis is None or not live.any():
            out.append(0.0)
            continue
        unit = np.einsum("bij,j->bi", turn[live], np.asarray(axis, dtype=float) / np.linalg.norm(axis))
        cosine = np.einsum("bi,bi->b", along[live, leg], unit)
        out.append(float(np.arccos(np.clip(cosine, -1.0, 1.0)).max()))
    return tuple(out)


def _most(tension: Array) -> tuple[float, ...]:
    return tuple(float(value) for value in tension.max(axis=0))


def _poses(base: Chain, error: Array, move: Array) -> Chain:
    count = len(move)
    lower = np.repeat(base.lower, count, 0)
    lower[:, base.uppers :] -= move[:, None, :]
    return Chain(
        np.repeat(base.upper, count, 0),
        lower,
        base.uppers,
        base.lengths * (1.0 + error),
        np.repeat(base.rigidity, count, 0),
        np.repeat(base.weights, count, 0),
        base.rho,
    )
