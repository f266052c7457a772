"""Hydraulic tensioners on a part of the studs at once: the first groups pulled higher, and the breakaway check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.correction import level_loads
from splitline.tightening.joint import Joint
from splitline.tightening.order import Step
from splitline.tightening.passes import Pass

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """One tensioner group, N. ``left``: what must be in each stud after its tool is released, one value per group.

    ``pull``: tool load, left × loss. ``breakaway``: load at which the nuts of this group come free when pulled again at
    the end; below ``breakaway_least`` the group lost too much and is pulled again.
    """

    bolts: Step
    left: float
    pull: float
    breakaway: float
    breakaway_least: float
    capped: bool


def tensioner_groups(
    joint: Joint,
    groups: Sequence[Step],
    target: float,
    loss: float,
    pull_limit: float,
    before: Sequence[Pass] = (),
    tolerance: float = 0.05,
) -> tuple[Group, ...]:
    """Loads of the groups so that all studs end at ``target`` (N) after the last: a group is pulled higher for what the
    later ones take.

    One pump: a group has one pressure, set for the mean of its studs' loads. ``loss``: tool load over load left (≥ 1);
    ``pull_limit``: greatest tool load, N (yield of the stud while pulled; the tool). Common practice of two-group
    tensioning; the amount comes from the interaction. InputError for a loss below 1 or a limit below target × loss.
    """
    if loss < 1:
        raise InputError(f"load loss {loss:g} must be 1 or more: the tool pulls more than stays in the stud")
    if pull_limit < target * loss:
        raise InputError(f"the tool must pull {target * loss:g} N for the target, the limit is {pull_limit:g} N")
    targets = np.full(joint.bolts, target)
    found = level_loads(joint, before, groups, targets, np.full(joint.bolts, pull_limit / loss))
    final = found.prediction.final
    out = []
    for group in groups:
        rows = [bolt - 1 for bolt in group]
        left = float(found.loads[rows].mean())
        capped = any(bolt in found.capped for bolt in group)
        least = (1 - tolerance) * float(final[rows].mean())
        out.append(Group(tuple(group), left, left * loss, float(final[rows].min()), least, capped))
    return tuple(out)
