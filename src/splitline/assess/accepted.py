"""What a reading on a bolt is judged by: screen, paper entry, sheet and kit list all ask here, for each size of bolts.

Limits of stretch belong to one size: given for it in the plan, or derived from its own target by a tolerance of the plan
(``acceptance.stretch_tolerance``, ``stretch_share``), else by the scatter of the method. The assessment puts them on the
bench once (``joint_accept``); here they are read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import SizeAcceptance

Band = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class Accepted:
    """Limits at the full target. SI; None where nothing limits that end."""

    stretch: Band = (None, None)
    torque: Band = (None, None)  # breakaway
    turn: Band = (None, None)  # from snug
    gap: float | None = None
    by_plan: bool = False  # the plan says what stretch is accepted, by limits or by a tolerance

    def at(self, share: float | None) -> Accepted:
        """The limits of a pass at this share of the target: stretch goes with load; a turn is judged at the full target."""
        part = 1.0 if share is None else share
        low, high = (None if end is None else part * end for end in self.stretch)
        return replace(self, stretch=(low, high), turn=self.turn if part == 1.0 else (None, None))


def given_for(joint: Joint, bolts: tuple[int, ...] = ()) -> SizeAcceptance | None:
    """What the plan says for one size: the main size by the joint's acceptance; another by its own.

    A tolerance of the joint holds for every size that gives none itself; limits in millimetres never leave their size.
    """
    whole = joint.acceptance
    size = next((each for each in joint.size if each.bolts == bolts), None)
    if size is None:
        return whole
    own = size.acceptance or SizeAcceptance()
    if whole is not None and own.stretch_share is None and own.stretch_tolerance is None:
        tolerance = {"stretch_share": whole.stretch_share, "stretch_tolerance": whole.stretch_tolerance}
        return own.model_copy(update=tolerance)
    return own


def accepted_of(joint: Joint | None, result: ItemResult | None, bolt: int) -> Accepted:
    """What readings on this bolt are judged by."""
    sizes = joint.size if joint is not None else ()
    return accepted_of_size(joint, result, next((size.bolts for size in sizes if bolt in size.bolts), ()))


def accepted_of_size(joint: Joint | None, result: ItemResult | None, bolts: tuple[int, ...] = ()) -> Accepted:
    """What readings on one size are judged by; ``bolts`` of another size, () for the main one."""
    if joint is None:
        return Accepted()
    results: Mapping[str, Any] = {}  # not assessed: what the plan says outright still holds
    if result is not None:
        groups = {size.bolts: size.results for size in result.sizes}
        results = groups.get(bolts, {}) if bolts else result.results
    given = given_for(joint, bolts)
    low, high = (given.stretch_low, given.stretch_high) if given is not None else (None, None)
    limits = (given.stretch_low, given.stretch_high, given.stretch_share, given.stretch_tolerance) if given else ()
    return Accepted(
        (results.get("stretch_low") if low is None else low, results.get("stretch_high") if high is None else high),
        (given.torque_low, given.torque_high) if given is not None else (None, None),
        (results.get("turn_low"), results.get("turn_high")),
        joint.acceptance.gap_max if joint.acceptance is not None else None,
        any(limit is not None for limit in limits),
    )
