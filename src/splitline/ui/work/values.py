"""What a pass is pulled to, read out of an assessment. Nothing is computed here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.assess.result import ItemResult
from splitline.plan.model import Joint
from splitline.record.entry import JOINED
from splitline.record.job import PassPlan
from splitline.ui.work.task import LISTED, UNKNOWN, Pairing
from splitline.units import System, show, split


@dataclass(frozen=True, slots=True)
class Instructed:
    """Instruction for the bolts of one size in one pass. SI; None where the plan does not give it."""

    torque: float | None = None
    pressure: float | None = None  # pump pressure to set
    set_torque: float | None = None  # torque to set, where the gauge has steps of torque
    stretch: float | None = None
    turn: float | None = None  # of the nut in all, from the snug mark
    heat: float | None = None  # rise of the stud over the clamped parts, before the nut is turned
    preload: float | None = None
    pressures: tuple[tuple[str, float], ...] = ()  # by tool, where the tools in hand differ
    why: str = ""  # no pressure: the chart of a tool in hand is not there, or does not reach
    out_of_reach: bool = False  # the chart of a tool in hand does not come down, or up, to this pass
    gauge: str | None = None  # unit of the gauge, where it is known

    @property
    def known(self) -> bool:
        """Whether there is anything to pull to."""
        return any(value is not None for value in (self.torque, self.pressure, self.stretch, self.turn))

    def large(self, system: System) -> tuple[str, str, str]:
        """The figure the fitter sets or reaches: caption, number, unit; nothing that the tools in hand cannot make."""
        if self.out_of_reach:
            return "", "", ""
        if self.pressure is not None:
            return ("set pump to", *split(self.pressure, "pressure", system, self.gauge))
        if self.set_torque is not None:
            return ("set wrench to", *split(self.set_torque, "torque", system))
        if self.turn is not None:
            return ("turn from mark", *split(self.turn, "angle", system))
        if self.torque is not None:
            return ("torque", *split(self.torque, "torque", system))
        if self.stretch is not None:
            return ("stretch", *split(self.stretch, "length", system))
        return "", "", ""

    def shown(self, system: System) -> str:
        """The set value in words, as the record keeps it; by tool where the tools in hand differ."""
        if self.pressures:
            return ", ".join(f"{tool} {show(value, 'pressure', system, self.gauge)}" for tool, value in self.pressures)
        return " ".join(self.large(system)[1:]).strip()


def instructed(
    found: Joint | None, result: ItemResult | None, plan: PassPlan, bolt: int, tools: Sequence[str] = ()
) -> Instructed:
    """Values for a bolt in a pass, for the tools in hand; empty where the plan lacks what they need."""
    if found is None or result is None or result.settings is None or plan.share is None:
        return Instructed()
    hands = result.settings.in_hand(bolt, tools) or ("",)
    own = [result.settings.of_bolt(bolt, plan.share, tool, plan.finish) for tool in hands]
    first = own[0]
    lacking = next((each for each in own if each.why), None)
    if lacking is not None:
        return Instructed(
            torque=first.torque,
            stretch=first.stretch,
            preload=first.preload,
            why=lacking.why,
            out_of_reach=lacking.out_of_reach,
            gauge=first.gauge,
        )
    by_pressure = first.by == "pressure"
    pressures = tuple((each.tool, each.value) for each in own if each.value is not None)
    alike = len({value for _, value in pressures}) < 2
    return Instructed(
        torque=first.torque,
        pressure=first.value if by_pressure else None,
        set_torque=first.value if first.by == "torque" else None,
        stretch=first.stretch,
        turn=first.turn,
        heat=first.heat,
        preload=first.preload,
        pressures=() if alike or not by_pressure else pressures,
        gauge=first.gauge,
    )


def pairs_of(
    result: ItemResult | None, bolts: Sequence[int], tools: Sequence[tuple[str, str]], pairing: Pairing
) -> tuple[tuple[str, str], ...]:
    """Tool, by name and serial, of each of ``bolts`` where as many tools pull them at once; () where it is not told.

    ``tools``: those of the set-up, in their order; of unlike sizes only those for this size count.
    """
    if len(bolts) < 2 or pairing == UNKNOWN:
        return ()
    names = [name for name, _ in tools]
    if result is not None and result.settings is not None:
        names = list(result.settings.in_hand(bolts[0], names))
    own = [each for each in tools if each[0] in names]
    if len(own) != len(bolts):
        return ()
    return tuple(own if pairing == LISTED else reversed(own))


def nut_lines(values: Instructed, system: System) -> list[tuple[str, str]]:
    """What goes with a nut that is turned by its angle: heating before, the stretch that must come of it after."""
    if values.turn is None:
        return []
    lines = []
    if values.heat is not None:
        rise = show(values.heat, "temperature_difference", system)
        lines.append((f"heat the stud to {rise} over the casing, then turn; never re-heat it hot", "strong"))
    if values.stretch is not None:
        when = "cold again: stretch" if values.heat is not None else "then the stretch is"
        lines.append((f"{when} {show(values.stretch, 'length', system)}", ""))
    return lines


def tools_said(tools: str, serials: str) -> str:
    """``wrench W1 HW-0311 + wrench W2 HW-0312``."""
    names, numbers = tools.split(JOINED), serials.split(JOINED)
    if len(names) != len(numbers):
        return f"{tools} {serials}"
    return JOINED.join(f"{name} {number}" for name, number in zip(names, numbers, strict=True))
