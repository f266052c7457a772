"""Adjusting a set of legs: what a link or a turn does to tilt, which adjuster to turn; the customary sharing rules."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from splitline.errors import InputError
from splitline.lifting.hang import Hang, hang, one, poses_of
from splitline.lifting.poses import Array, Poses
from splitline.lifting.settle import settle

SHARING = {"two legs": 2, "three legs": 3, "all legs": 0}


@dataclass(frozen=True, slots=True)
class Levelled:
    """What the adjusters can do."""

    changes: tuple[float, ...]  # m to lengthen (+) or shorten (-) each leg, 0 where it has no adjuster
    before: float  # tilt, rad
    after: Hang


def sharing_tension(load: float, legs: int, rule: str, angle: float) -> float | None:
    """Tension of one leg under a customary rule: load/(k sin angle), k = 2 or 3 legs said to carry; N, angle rad.

    None where the rule does not apply: three legs or fewer, "all legs", or a leg flatter than 1 degree.
    Sources differ: two legs in Navy practice (NAVEDTRA 14251) and AS 3775, three in the OSHA chain tables.
    """
    if rule not in SHARING:
        raise InputError(f'sharing rule "{rule}": use one of {", ".join(SHARING)}')
    carrying = SHARING[rule]
    if legs <= 3 or carrying == 0 or math.sin(angle) < math.sin(math.radians(1.0)):
        return None
    return load / (carrying * math.sin(angle))


def angle_factor(angle: float) -> float:
    """Leg tension over its vertical share, 1/sin(angle from the horizontal, rad); InputError at 0 or below."""
    if not 0.0 < angle <= math.pi / 2.0 + 1e-12:
        raise InputError("angle from the horizontal must be above 0 and up to 90 degrees")
    return 1.0 / math.sin(angle)


def tilt_rates(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    hook: Sequence[float],
) -> Array:
    """Change of up's horizontal part in the load's frame per metre added to each leg, (n, 2), 1/m.

    Central differences on re-hung poses of +-0.1 mm per metre of leg, so legs about to go slack count as they are.
    A leg i lengthened by dL turns the load by |rates[i]| dL (rad).
    """
    pose = poses_of(picks, lengths, rigidity, centre, weight)
    count = len(lengths)
    step = 1e-4 * np.asarray(pose.lengths[0])
    many = np.repeat(pose.lengths, 2 * count, axis=0)
    each = np.arange(count)
    many[each, each] += step
    many[count + each, each] -= step
    batch = Poses(
        np.repeat(pose.picks, 2 * count, 0),
        many,
        np.repeat(pose.rigidity, 2 * count, 0),
        np.repeat(pose.centre, 2 * count, 0),
        np.repeat(pose.weight, 2 * count, 0),
    )
    rest = settle(batch, np.repeat(np.asarray(hook, dtype=float)[None], 2 * count, 0), rescue=False)
    return np.asarray((rest.up[:count, :2] - rest.up[count:, :2]) / (2.0 * step[:, None]))


def level_with(
    picks: Sequence[Sequence[float]],
    lengths: Sequence[float],
    rigidity: Sequence[float | None],
    centre: Sequence[float],
    weight: float,
    adjusters: Sequence[int],
    reach: float = 0.1,
) -> Levelled:
    """Least length changes of the legs with adjusters (counted from 0) that bring the load nearest to level.

    reach: greatest change of one leg, share of its length. Gauss-Newton on up's horizontal part, re-hung each time.
    """
    first = hang(picks, lengths, rigidity, centre, weight)
    if not adjusters:
        return Levelled((0.0,) * len(lengths), first.tilt, first)
    which = np.array(sorted(set(adjusters)))
    start = np.array(lengths, dtype=float)
    now, state, best = start.copy(), first, (first.tilt, start.copy(), first)
    for leg in which:
        if first.tensions[leg] <= 0.0:  # a slack leg does nothing until it is taken up
            now[leg] = min(now[leg], first.stretched[leg] * (1.0 - 1e-4))
    if not np.array_equal(now, start):
        state = hang(picks, now.tolist(), rigidity, centre, weight)
    for _ in range(25):
        if state.tilt < 1e-8:
            break
        rates = tilt_rates(picks, now.tolist(), rigidity, centre, weight, state.hook)[which]
        change = -np.linalg.pinv(rates.T, rcond=1e-6) @ np.array(state.up[:2])
        bound = 0.02 * now[which]
        change *= min(1.0, float((bound / np.maximum(np.abs(change), 1e-300)).min()))
        now[which] = np.clip(now[which] + change, start[which] * (1.0 - reach), start[which] * (1.0 + reach))
        pose = poses_of(picks, now.tolist(), rigidity, centre, weight)
        state = one(pose, settle(pose, np.array([state.hook])), 0)
        if state.tilt < best[0]:
            best = (state.tilt, now.copy(), state)
    return Levelled(tuple(float(value) for value in best[1] - start), first.tilt, best[2])
