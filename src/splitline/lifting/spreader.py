"""A load under a spreader or lifting beam: hook, upper slings, beam, legs, load; the beam is a second body, yaw pinned.

Source: least potential energy of two rigid bodies, legs linear, weightless, pulling only.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from splitline.errors import InputError
from splitline.lifting import bodies
from splitline.lifting.bodies import Chain, Pair
from splitline.lifting.chain import FLAT, SOLVED, Rest, rest
from splitline.lifting.hang import STIFF, Point, as_points, tilt_of
from splitline.lifting.poses import Array

Points = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class Beam:
    """A spreader in its own frame, origin at its centre of gravity."""

    weight: float  # N
    upper: tuple[Point, ...]  # points the upper slings hold, m
    lower: tuple[Point, ...]  # points the legs hang from, m
    lengths: tuple[float, ...]  # upper slings, m
    rigidity: tuple[float | None, ...]  # EA of the upper slings, N; None = unstretching


CUTS = 41  # places along the beam where it is bent at most by its own weight between the points


@dataclass(frozen=True, slots=True)
class Inside:
    """What the beam itself carries in each state of a batch."""

    compression: Array  # (B,) greatest axial force by size, + pressed, N
    bending: Array  # (B,) greatest bending moment, N·m


@dataclass(frozen=True, slots=True)
class BeamHang:
    """One load hung under a beam; points in the load's frame unless said."""

    hook: Point  # m
    up: Point  # the vertical, load's frame
    tensions: tuple[float, ...]  # legs, N
    upper_tensions: tuple[float, ...]  # N
    stretched: tuple[float, ...]  # legs, m
    angles: tuple[float, ...]  # legs from the horizontal, rad
    upper_angles: tuple[float, ...]  # rad
    along: tuple[Point, ...]  # direction of each leg's pull on the load, load's frame
    compression: float  # greatest axial force in the beam, + pressed, N
    bending: float  # greatest bending moment in the beam, N·m
    tilt: float  # load, rad
    beam_tilt: float  # rad
    beam_upper: tuple[Point, ...]  # beam's points in the load's frame, m
    beam_lower: tuple[Point, ...]
    state: str  # "stable", "neutral" or "turns over"
    residual: float  # share of the whole weight


def hang_below(
    beam: Beam,
    picks: Points,
    beam_points: Sequence[int],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
) -> BeamHang:
    """Rest of one load under a beam.

    picks (n, 3) m in the load's frame; beam_points (n,) lower point of each leg, counted from 0; lengths (n,) m;
    rigidity (n,) EA in N or None; centre (3,) m; weight N. Residual < 1e-9 of the weight or InputError.
    """
    chain = chain_of(beam, picks, beam_points, lengths, rigidity, centre, weight)
    found = rest(chain, start_of(chain))
    return read(chain, found, 0, centre, beam)


def chain_of(
    beam: Beam,
    picks: Points,
    beam_points: Sequence[int],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
) -> Chain:
    """The checked pair as a batch of one."""
    points, tops, lows = (
        as_points(picks, "pick points"),
        as_points(beam.upper, "beam's upper points"),
        as_points(beam.lower, "beam's lower points"),
    )
    middle = as_points([centre], "centre of gravity")[0]
    _check(beam, points, beam_points, lengths, weight)
    total = weight + beam.weight
    hard = np.array([STIFF * total if value is None else value for value in (*beam.rigidity, *rigidity)], dtype=float)
    long = np.array([*beam.lengths, *lengths], dtype=float)
    if not (np.isfinite(hard).all() and (hard > 0.0).all()):
        raise InputError("EA of every sling must be above 0 N: capacity over elongation")
    first = len(tops)
    upper = np.vstack([np.zeros((first, 3)), lows[list(beam_points)]])
    lower = np.vstack([tops, points - middle])
    return Chain(
        upper[None], lower[None], first, long[None], hard[None], np.array([[beam.weight, weight]]), float(long.mean())
    )


def _check(beam: Beam, points: Array, beam_points: Sequence[int], lengths: Sequence[float], weight: float) -> None:
    if len(points) == 0 or len(beam.upper) == 0 or len(beam.lower) == 0:
        raise InputError("a spreader lift needs upper points, lower points and at least one leg")
    if len(beam_points) != len(points) or len(lengths) != len(points) or len(beam.lengths) != len(beam.upper):
        raise InputError("each leg needs a pick point, a length and a beam point; each upper point a sling length")
    for number, which in enumerate(beam_points, 1):
        if not 0 <= which < len(beam.lower):
            raise InputError(f"leg {number}: the beam has lower points 1 to {len(beam.lower)}, not {which + 1}")
    for value in (*lengths, *beam.lengths):
        if not (math.isfinite(value) and value > 0.0):
            raise InputError("every sling length must be above 0 m")
    if not (math.isfinite(weight) and weight > 0.0 and math.isfinite(beam.weight) and beam.weight > 0.0):
        raise InputError("weights of load and beam must be above 0 N")


def start_of(chain: Chain) -> Pair:
    """Both level and square to one another, the first sling of each layer just taut, the hook over the beam's centre."""
    first, count = chain.uppers, chain.count
    place = np.zeros((count, 2, 3))
    place[:, 0, 2] = -_drop(chain.lower[:, :first] * [1.0, 1.0, -1.0], chain.lengths[:, :first])
    middle = (chain.upper[:, first:] - chain.lower[:, first:]).mean(axis=1)
    gap = chain.lower[:, first:] - chain.upper[:, first:] + middle[:, None] * [1.0, 1.0, 0.0]
    place[:, 1] = place[:, 0] + middle * [1.0, 1.0, 0.0]
    place[:, 1, 2] -= _drop(gap * [1.0, 1.0, -1.0], chain.lengths[:, first:])
    return Pair(place, np.tile(np.eye(3), (count, 2, 1, 1)))


def _drop(offset: Array, lengths: Array) -> Array:
    """Least height that some leg allows between the two layers' origins."""
    out = (offset[:, :, :2] ** 2).sum(axis=2)
    fall = np.sqrt(np.maximum(lengths**2 - out, (0.05 * lengths) ** 2))
    return np.asarray((fall - offset[:, :, 2]).min(axis=1))


def read(chain: Chain, found: Rest, which: int, centre: Sequence[float], beam: Beam) -> BeamHang:
    """State ``which`` of a solved batch in the load's frame."""
    left = float(found.residual[which])
    if left > 10.0 * SOLVED:
        raise InputError(f"no equilibrium found (out of balance by {left:.1e} of the weight): check lengths and points")
    pick = np.array([which])
    at = bodies.reach(chain.take(pick), found.pair.take(pick))
    along, first = at.along[0], chain.uppers
    turn, place = found.pair.turn[which], found.pair.place[which]
    back, middle = turn[1].T, np.asarray(centre, dtype=float)
    up = back[:, 2]
    angles = np.arcsin(np.clip(along[:, 2], -1.0, 1.0))

    def to_load(points: Array) -> tuple[Point, ...]:
        return tuple(_point(row) for row in (points - place[1]) @ turn[1] + middle)

    tension = found.tension[which]
    upright = min(float(up[2]), float(turn[0][2, 2]))
    loads = inside(chain.take(pick), (tension[:, None] * along)[None], turn[0][None])
    return BeamHang(
        hook=to_load(np.zeros((1, 3)))[0],
        up=_point(up),
        tensions=tuple(float(value) for value in tension[first:]),
        upper_tensions=tuple(float(value) for value in tension[:first]),
        stretched=tuple(float(value) for value in at.distance[0, first:]),
        angles=tuple(float(value) for value in angles[first:]),
        upper_angles=tuple(float(value) for value in angles[:first]),
        along=tuple(_point(row) for row in along[first:] @ turn[1]),
        compression=float(loads.compression[0]),
        bending=float(loads.bending[0]),
        tilt=tilt_of(up),
        beam_tilt=math.acos(max(-1.0, min(1.0, float(turn[0][2, 2])))),
        beam_upper=to_load(np.asarray(beam.upper, dtype=float) @ turn[0].T + place[0]),
        beam_lower=to_load(np.asarray(beam.lower, dtype=float) @ turn[0].T + place[0]),
        state="turns over" if upright <= 0.0 else "stable" if float(found.bend[which]) > FLAT else "neutral",
        residual=left,
    )


def inside(chain: Chain, forces: Array, turn: Array) -> Inside:
    """Greatest axial force and bending moment over the cuts of the beam, of every state of a batch.

    forces (B, S, 3) N: pull of every sling on what hangs below it, uppers first; turn (B, 3, 3) of the beam. Its axis is the
    widest spread of its points, its weight spread evenly between the outermost. Plain statics of the part beyond each cut.
    """
    first = chain.uppers
    points = np.vstack([chain.lower[0, :first], chain.upper[0, first:]])
    pulls = np.einsum("bsj,bji->bsi", np.concatenate([forces[:, :first], -forces[:, first:]], axis=1), turn)
    spread = points - points.mean(axis=0)
    axis = np.linalg.svd(spread)[2][0]
    along = points @ axis  # from the beam's centre of gravity
    stations = np.unique(np.round(along, 9))
    if len(stations) < 2:
        return Inside(np.zeros(len(pulls)), np.zeros(len(pulls)))
    push = pulls @ axis
    middles = [0.5 * (low + high) for low, high in pairwise(stations)]
    axial = np.stack([-push[:, along > cut].sum(axis=1) for cut in middles], axis=1)
    greatest = np.take_along_axis(axial, np.abs(axial).argmax(axis=1)[:, None], axis=1)[:, 0]
    low, high = float(stations[0]), float(stations[-1])
    down = -chain.weights[:, :1] * turn[:, 2, :]  # weight of the beam in its own frame
    bending = np.zeros(len(pulls))
    for cut in np.unique([*np.linspace(low, high, CUTS), *(s + side for s in stations for side in (-1e-9, 1e-9))]):
        beyond = along > cut
        moment = np.cross(points[beyond] - cut * axis, pulls[:, beyond]).sum(axis=1)
        part = min(max((high - cut) / (high - low), 0.0), 1.0)
        moment = moment + np.cross(0.5 * (high - cut) * axis, part * down)
        across = moment - (moment @ axis)[:, None] * axis
        bending = np.maximum(bending, np.linalg.norm(across, axis=1))
    return Inside(greatest, bending)


def _point(values: Array) -> Point:
    return (float(values[0]), float(values[1]), float(values[2]))
