"""A split line under pressure: each bolt's share by zones, and the inner lip."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.joint_cases import Clamped, Thermal
from splitline.assess.joint_load import CASE, CaseAt, force_per_bolt, holds, split
from splitline.assess.joint_sheet import SHEET, SIZE, Sized
from splitline.assess.sheet import Absent, Against, Rule
from splitline.bolting import split_line as sl
from splitline.plan.model.joint import Joint, Layout, Zone
from splitline.units import show

BASIS = "statics: pressure over each bolt's stretch of flange"
LIP = "contact pressure at the inner lip, {case.name}"


@dataclass(frozen=True, slots=True)
class LipAt:
    """One bolt's flange: distances to its edges, length of its stretch, pressure inside it."""

    inside: float
    outside: float
    length: float
    pressure: float


@dataclass(frozen=True, slots=True)
class Held:
    """One case on a split line."""

    forces: list[float]  # outside force of every bolt, N
    lips: list[LipAt | None]  # None where no zone reaches the bolt or the zone gives no edges
    pressure_force: float  # both sides, N
    pressure: float  # greatest, Pa
    zones: float

    @property
    def largest(self) -> float:
        """The bolt with the greatest force."""
        return float(self.forces.index(max(self.forces)) + 1)


@SHEET.result(CASE, when=split)
def zone_scale(joint: Joint, case: CaseAt) -> float:
    """A case with a pressure of its own scales all zones so that the highest takes that pressure."""
    top = max((zone.pressure or 0.0 for zone in joint.zone), default=0.0)
    return case.plan.pressure / top if case.plan.pressure is not None and top > 0.0 else 1.0


@SHEET.result(CASE, when=split)
def zones(joint: Joint, zone_scale: float) -> tuple[tuple[sl.Zone, Zone], ...]:
    if not holds(joint):
        return ()
    if not joint.zone:
        raise Absent("zone", why="needs pressure zones along the split line")
    needs = [
        f"zone.{number}.{name}"
        for number, zone in enumerate(joint.zone)
        for name, value in (("from", zone.from_), ("to", zone.to), ("pressure", zone.pressure), ("width", zone.width))
        if value is None
    ]
    if needs:
        raise Absent(*needs)
    return tuple(
        (sl.Zone(zone.from_ or 0.0, zone.to or 0.0, zone_scale * (zone.pressure or 0.0), zone.width or 0.0), zone)
        for zone in joint.zone
    )


@SHEET.note(CASE, after=("zones",))
def scaled(joint: Joint, case: CaseAt, zone_scale: float, context: Context) -> str | None:
    if not holds(joint) or abs(zone_scale - 1.0) <= 1e-9:
        return None
    highest = show(case.plan.pressure or 0.0, "pressure", context.system)
    return f"{case.name}: zone pressures are taken times {zone_scale:.4g}, so that the highest is {highest}."


@SHEET.result(CASE, when=split)
def held(layout: Layout, zones: tuple[tuple[sl.Zone, Zone], ...], extra: float, bolt_count: int) -> Held:
    """Forces of every bolt, side a then side b."""
    forces: list[float] = []
    lips: list[LipAt | None] = []
    side_a = layout.side_a or ()
    for side in (side_a, layout.side_b if layout.side_b is not None else side_a):
        stretches = sl.tributary(side, *_ends(layout, side))
        forces += sl.tributary_forces(stretches, [zone for zone, _ in zones])
        lips += [_lip(stretch, place, zones) for stretch, place in zip(stretches, side, strict=True)]
    pressure = max((zone.pressure for zone, _ in zones), default=0.0)
    total, own = math.fsum(forces), extra / bolt_count
    return Held([force + own for force in forces], lips, total, pressure, float(len(zones)))


def _ends(layout: Layout, side: tuple[float, ...]) -> tuple[float, float]:
    start, end = sl.line_ends(side)
    return (
        layout.line_from if layout.line_from is not None else start,
        layout.line_to if layout.line_to is not None else end,
    )


def _lip(stretch: tuple[float, float], place: float, zones: tuple[tuple[sl.Zone, Zone], ...]) -> LipAt | None:
    """Edges of the zone at the bolt (else of any that reaches its stretch), with the highest pressure on the stretch."""
    reach = [(z, own) for z, own in zones if min(z.end, stretch[1]) > max(z.start, stretch[0])]
    if not reach:
        return None
    own = next((own for z, own in reach if z.start <= place <= z.end), reach[0][1])
    if own.bolt_to_inside is None or own.bolt_to_outside is None:
        return None
    pressure = max(z.pressure for z, _ in reach)
    return LipAt(own.bolt_to_inside, own.bolt_to_outside, stretch[1] - stretch[0], pressure)


@SHEET.check("zones", "pressure on the split line, {case.name}", CASE, sense="at least", kind="force", basis=BASIS)
def zones_known(zones: tuple[object, ...]) -> None:
    """Only says what is missing."""


@SHEET.check("zones", "pressure on the split line, {case.name}", CASE, quiet=True)
def line_reads(held: Held) -> None:
    """Only says what the physics refuses."""


SHEET.tell("pressure_force", "held.pressure_force", "force", "Pressure force on the joint", "P", "Σ p·w·l over both sides",
           BASIS, puts={"p max": ("held.pressure", "pressure"), "zones": ("held.zones", "count")})  # fmt: skip


@force_per_bolt(when=split, formula="Σ p·w·l of the bolt's stretch + extra / n", source=BASIS,
                puts={"bolt": ("held.largest", "count"), "extra": ("extra", "force"),
                      "n": ("bolt_count", "count")})  # fmt: skip
def greatest_force(held: Held) -> float:
    return max(held.forces)


SHEET.tell("bolt_forces", "held.forces", "force", "Outside force on each bolt", "", "Σ p·w·l", "statics", shape="list")


@SHEET.result(SIZE, CASE, name="own_force", when=split)
def own_greatest(size: Sized, held: Held) -> float:
    return max(held.forces[bolt - 1] for bolt in size.bolts) if size.bolts else max(held.forces)


# the inner lip


@SHEET.check("lip_pressure", LIP, CASE, sense="at least", kind="pressure", basis=BASIS, after=("held",))
def edges_known(joint: Joint, zones: tuple[object, ...], held: Held) -> Rule | None:
    if not holds(joint) or not zones or any(held.lips):
        return None
    needs = ("zone.bolt_to_inside", "zone.bolt_to_outside")
    return Rule("missing", "needs " + ", ".join(needs), needs)


@dataclass(frozen=True, slots=True)
class Inner:
    """Contact pressure at the inner lip of every bolt of one size that has one, Pa, and the worst against what it keeps in."""

    pressures: list[float]
    least: float
    bolt: int
    lip: LipAt
    force: float  # outside force of that bolt, N


@SHEET.result(SIZE, CASE, after=("state",))
def inner(size: Sized, held: Held, clamped: Clamped, thermal: Thermal) -> Inner | None:
    """At low preload."""
    found: list[tuple[float, int, LipAt]] = []
    for bolt in size.bolts or range(1, len(held.forces) + 1):
        lip = held.lips[bolt - 1]
        if lip is not None:
            force = max(held.forces[bolt - 1], 0.0)
            load = max(clamped.ends.low + thermal.low, 0.0) + clamped.relief * force
            contact = sl.lip_pressure_signed(load, force, lip.inside, lip.outside, lip.length)
            found.append((contact, bolt, lip))
    if not found:
        return None
    least, bolt, lip = min(found, key=lambda each: each[0] - each[2].pressure)
    return Inner([each[0] for each in found], least, bolt, lip, held.forces[bolt - 1])


SHEET.tell("lip_pressure", "inner.least", "pressure", "Contact pressure at the inner lip (least)", "p_lip",
           "N/(w l)·(1 − 6 e/w), N = F_low − F_A, e from moments", "statics",
           puts={"F_low": ("ends.low", "force"), "ΔF": ("thermal.low", "force"), "n": ("introduced.low", "number"),
                 "Φ": ("load_factor", "share"), "F_A": ("inner.force", "force"), "a": ("inner.lip.inside", "length"),
                 "b": ("inner.lip.outside", "length"), "l": ("inner.lip.length", "length")})  # fmt: skip
SHEET.tell("lip_pressures", "inner.pressures", "pressure", "Contact pressure at the inner lip, bolt by bolt",
           source="statics", shape="list")  # fmt: skip


@SHEET.result(SIZE, CASE, kind="force", title="Bolt load at which the lip opens (greatest)", symbol="F_open",
              formula="F_A·(1 + a/b)", source="statics (prying about the outer edge)", after=("inner",))  # fmt: skip
def lip_opening_load(held: Held) -> float:
    return max(
        sl.bolt_load_to_open(max(force, 0.0), lip.inside, lip.outside)
        for force, lip in zip(held.forces, held.lips, strict=True)
        if lip is not None
    )


@SHEET.check("lip_pressure", LIP + "{size.of}", SIZE, CASE, sense="at least", kind="pressure", quiet=True,
             basis=f"{BASIS}, rigid faces; contact must stay above the pressure inside "
                   "(common practice, no published source)")  # fmt: skip
def lip_stays_shut(inner: Inner) -> Against:
    note = f"bolt {inner.bolt} is the worst" + (": the lip opens" if inner.least <= 0.0 else "")
    return Against(max(inner.lip.pressure, 0.0), inner.least, note)
