"""What a pass is pulled to, read out of an assessment. Nothing is computed here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from splitline.assess.result import ItemResult
from splitline.record.job import JointPlan, PassPlan
from splitline.units import System, split


@dataclass(frozen=True, slots=True)
class Instructed:
    """Instruction for the bolts of one size in one pass. SI."""

    torque: float | None = None
    pressure: float | None = None  # pump pressure to set
    set_torque: float | None = None  # torque to set, where the gauge has steps of torque

    def large(self, system: System) -> tuple[str, str]:
        """The figure the fitter sets, and its unit."""
        if self.pressure is not None:
            return split(self.pressure, "pressure", system)
        value = self.set_torque if self.set_torque is not None else self.torque
        return split(value, "torque", system) if value is not None else ("", "")


def instructed(result: ItemResult | None, joint: JointPlan, plan: PassPlan, bolt: int) -> Instructed:
    """Values for a bolt in a pass; empty where the plan lacks what they need."""
    if result is None:
        return Instructed()
    own: Mapping[str, Any] = result.results
    for size in result.sizes:
        if bolt in size.bolts:
            own = size.results
    is_pressure = bool(own.get("set_is_pressure", result.results.get("set_is_pressure", 0)))
    torque, value = _torque(own, plan), _set_value(own, joint, plan)
    return Instructed(
        torque=torque,
        pressure=value if is_pressure else None,
        set_torque=None if is_pressure else value,
    )


def _number(joint: JointPlan, plan: PassPlan) -> int | None:
    """Place of a pass in the lists by pass; a finishing round is pulled as the last one."""
    shares = [each.name for each in joint.passes if each.name != "snug" and not each.finish]
    if plan.finish:
        return len(shares) - 1
    return shares.index(plan.name) if plan.name in shares else None


def _torque(own: Mapping[str, Any], plan: PassPlan) -> float | None:
    full = own.get("torque")
    return full * plan.share if full is not None and plan.share is not None else None


def _set_value(own: Mapping[str, Any], joint: JointPlan, plan: PassPlan) -> float | None:
    if plan.name == "snug":
        found = own.get("set_snug")
        return float(found) if found is not None else None
    place = _number(joint, plan)
    values = own.get("set_passes") or ()
    return float(values[place]) if place is not None and 0 <= place < len(values) else None
