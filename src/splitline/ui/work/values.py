"""What a pass is pulled to, read out of an assessment. Nothing is computed here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from splitline.assess.gauge import gauge_unit
from splitline.assess.result import ItemResult
from splitline.plan.model import Joint
from splitline.record.job import PassPlan
from splitline.units import System, split

if TYPE_CHECKING:
    from splitline.assess.tightening_list import ListedPass

JOINED = " + "  # between two tools of one crew


@dataclass(frozen=True, slots=True)
class Instructed:
    """Instruction for the bolts of one size in one pass. SI; None where the plan does not give it."""

    torque: float | None = None
    pressure: float | None = None  # pump pressure to set
    set_torque: float | None = None  # torque to set, where the gauge has steps of torque
    stretch: float | None = None
    preload: float | None = None
    pressures: tuple[tuple[str, float], ...] = ()  # by tool, where the tools in hand differ
    why: str = ""  # no pressure: the chart of a tool in hand is not there, or does not reach
    out_of_reach: bool = False  # the chart of a tool in hand does not come down, or up, to this pass
    gauge: str | None = None  # unit of the gauge, where it is known

    @property
    def known(self) -> bool:
        """Whether there is anything to pull to."""
        return any(value is not None for value in (self.torque, self.pressure, self.stretch))

    def large(self, system: System) -> tuple[str, str, str]:
        """The figure the fitter sets or reaches: caption, number, unit; nothing that the tools in hand cannot make."""
        if self.out_of_reach:
            return "", "", ""
        if self.pressure is not None:
            return ("set", *split(self.pressure, "pressure", system, self.gauge))
        if self.set_torque is not None:
            return ("set", *split(self.set_torque, "torque", system))
        if self.torque is not None:
            return ("torque", *split(self.torque, "torque", system))
        if self.stretch is not None:
            return ("stretch", *split(self.stretch, "length", system))
        return "", "", ""


def instructed(
    found: Joint | None, result: ItemResult | None, plan: PassPlan, bolt: int, tools: Sequence[str] = ()
) -> Instructed:
    """Values for a bolt in a pass, for the tools in hand; empty where the plan lacks what they need."""
    if found is None or result is None:
        return Instructed()
    from splitline.assess.tightening_list import order_list

    listed = order_list(found, result)
    size = next((number for number, each in enumerate(result.sizes, 1) if bolt in each.bolts), 0)
    wanted = plan.name if not plan.finish else "round 1"
    of = next((each for each in listed.passes if each.name == wanted), None)
    if of is None and plan.finish:  # more rounds than planned: as the last pass at the full target
        of = next((each for each in reversed(listed.passes) if each.share == 1.0), None)
    if of is None or size >= len(of.settings):
        return Instructed()
    setting = of.settings[size]
    by_pressure = setting.set_kind == "pressure"
    gauge = gauge_unit(found) if by_pressure else None
    plain = Instructed(
        torque=setting.torque,
        pressure=setting.set_value if by_pressure else None,
        set_torque=None if by_pressure else setting.set_value,
        stretch=setting.stretch,
        preload=setting.preload,
    )
    told = _for_tools(plain, _by_tool(result, of, listed.passes), tools) if by_pressure else plain
    return replace(told, gauge=gauge)


def _by_tool(result: ItemResult, of: ListedPass, passes: Sequence[ListedPass]) -> dict[str, float | None]:
    """Pump pressure of this pass by each charted tool; None where its chart does not reach."""
    if of.name == "snug":
        return dict(result.extra.get("set_snugs", {}))
    shares = [each.share for each in passes if each.name.isdecimal()]
    place = shares.index(of.share) if of.share in shares else len(shares)
    charts: Mapping[str, Sequence[float | None]] = result.extra.get("set_values", {})
    return {tool: values[place] if place < len(values) else None for tool, values in charts.items()}


def _for_tools(plain: Instructed, charts: Mapping[str, float | None], tools: Sequence[str]) -> Instructed:
    """A pump pressure belongs to one tool's chart: never another tool's."""
    if not charts or not tools:
        return plain
    first = next(iter(charts))
    own: list[tuple[str, float]] = []
    for tool in tools:
        value = charts.get(tool)
        if value is None and tool == first:
            value = plain.pressure
        if value is None:
            lacks = (
                f"{tool}: its chart does not reach this pass. Take a tool that does."
                if tool in charts
                else f"{tool}: its chart is not in the plan. Set it by its own chart only."
            )
            return Instructed(plain.torque, None, None, plain.stretch, plain.preload, (), lacks, tool in charts)
        own.append((tool, value))
    alike = len({value for _, value in own}) == 1
    return Instructed(plain.torque, own[0][1], None, plain.stretch, plain.preload, () if alike else tuple(own))


def tools_said(tools: str, serials: str) -> str:
    """``wrench W1 HW-0311 + wrench W2 HW-0312``."""
    names, numbers = tools.split(JOINED), serials.split(JOINED)
    if len(names) != len(numbers):
        return f"{tools} {serials}"
    return JOINED.join(f"{name} {number}" for name, number in zip(names, numbers, strict=True))
