"""A split line under pressure: each bolt's share by zones, and the inner lip."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_cases import Group, outside
from splitline.bolting import split_line as sl
from splitline.plan.model.joint import Case, Joint, Layout, Zone

ZONES = "zone"
BASIS = "statics: pressure over each bolt's stretch of flange"


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
    lines: Lines

    def check_lips(self, bench: Bench, case: Case, group: Group, thermal: float) -> None:
        """Contact pressure at the inner lip at low preload against the pressure it must keep in."""
        bolts = group.hw.bolts or tuple(range(1, len(self.forces) + 1))
        worst: tuple[float, float, int] | None = None
        found: list[float] = []
        for bolt in bolts:
            lip = self.lips[bolt - 1]
            if lip is None:
                continue
            force = max(self.forces[bolt - 1], 0.0)
            load = max(group.low + thermal, 0.0) + group.relief * force
            inner = sl.lip_pressure_signed(load, force, lip.inside, lip.outside, lip.length)
            found.append(inner)
            if worst is None or inner - lip.pressure < worst[0] - worst[1]:
                worst = inner, lip.pressure, bolt
        if worst is None:
            return
        if not group.hw.of:
            self._put(found, worst, group, thermal)
        title = f"contact pressure at the inner lip, {case.name}{group.hw.of}"
        note = f"bolt {worst[2]} is the worst"
        if worst[0] <= 0.0:
            note += ": the lip opens"
        basis = (
            f"{BASIS}, rigid faces; contact must stay above the pressure inside (common practice, no published source)"
        )
        bench.at_least("lip_pressure", title, max(worst[1], 0.0), worst[0], "pressure", basis, note)

    def _put(self, found: list[float], worst: tuple[float, float, int], group: Group, thermal: float) -> None:
        lip = self.lips[worst[2] - 1]
        self.lines.put("lip_pressures", found)
        if lip is None:
            return
        self.lines.put(
            "lip_pressure",
            worst[0],
            {
                "F_low": (group.low, "force"),
                "ΔF": (thermal, "force"),
                "n": (group.introduction.low, "number"),
                "Φ": (group.load_factor, "share"),
                "F_A": (self.forces[worst[2] - 1], "force"),
                "a": (lip.inside, "length"),
                "b": (lip.outside, "length"),
                "l": (lip.length, "length"),
            },
        )
        opening = [
            sl.bolt_load_to_open(max(self.forces[k], 0.0), one.inside, one.outside)
            for k, one in enumerate(self.lips)
            if one is not None
        ]
        self.lines.put("lip_opening_load", max(opening))


def split_line(bench: Bench, joint: Joint, case: Case, lines: Lines, count: int) -> Held | None:
    """Forces of every bolt in one case, side a then side b; None (and a missing check) without zones."""
    load, layout, title = joint.load, joint.layout, f"pressure on the split line, {case.name}"
    holds = load is None or load.holds_pressure is not False
    if layout is None or layout.side_a is None:
        return None
    zones = _zones(bench, joint, case, title) if holds else []
    if zones is None:
        return None
    with bench.guard("zones", title):
        forces: list[float] = []
        lips: list[LipAt | None] = []
        for side in (layout.side_a, layout.side_b if layout.side_b is not None else layout.side_a):
            stretches = sl.tributary(side, *_ends(layout, side))
            forces += sl.tributary_forces(stretches, [zone for zone, _ in zones])
            lips += [_lip(stretch, place, zones) for stretch, place in zip(stretches, side, strict=True)]
        total = math.fsum(forces)
        extra = outside(joint, case)
        forces = [force + extra / count for force in forces]
        pressure = max((zone.pressure for zone, _ in zones), default=0.0)
        puts = {"p max": (pressure, "pressure"), "zones": (float(len(zones)), "count")}
        lines.put("pressure_force", total, {**puts}, formula="Σ p·w·l over both sides", source=BASIS)
        largest = forces.index(max(forces)) + 1
        puts = {"bolt": (float(largest), "count"), "extra": (extra, "force"), "n": (float(count), "count")}
        lines.put(
            "force_per_bolt", max(forces), {**puts}, formula="Σ p·w·l of the bolt's stretch + extra / n", source=BASIS
        )
        lines.put("bolt_forces", forces)
        if holds and zones and not any(lips):
            needs = ("zone.bolt_to_inside", "zone.bolt_to_outside")
            what = f"contact pressure at the inner lip, {case.name}"
            bench.missing("lip_pressure", what, needs, BASIS, "needs " + ", ".join(needs), "at least", "pressure")
        return Held(forces, lips, lines)
    return None


def _ends(layout: Layout, side: tuple[float, ...]) -> tuple[float, float]:
    start, end = sl.line_ends(side)
    return (
        layout.line_from if layout.line_from is not None else start,
        layout.line_to if layout.line_to is not None else end,
    )


def _zones(bench: Bench, joint: Joint, case: Case, title: str) -> list[tuple[sl.Zone, Zone]] | None:
    """Zones of a case. A case with a pressure of its own scales all zones so that the highest takes that pressure."""
    if not joint.zone:
        bench.missing(
            "zones", title, ("zone",), BASIS, "needs pressure zones along the split line", "at least", "force"
        )
        return None
    needs = [
        f"zone.{number}.{name}"
        for number, zone in enumerate(joint.zone)
        for name, value in (("from", zone.from_), ("to", zone.to), ("pressure", zone.pressure), ("width", zone.width))
        if value is None
    ]
    if needs:
        bench.missing("zones", title, needs, BASIS, "needs " + ", ".join(needs), "at least", "force")
        return None
    top = max(zone.pressure or 0.0 for zone in joint.zone)
    scale = case.pressure / top if case.pressure is not None and top > 0.0 else 1.0
    if abs(scale - 1.0) > 1e-9:
        bench.note(
            f"{case.name}: zone pressures are taken times {scale:.4g}, so that the highest is "
            f"{bench.show(case.pressure or 0.0, 'pressure')}."
        )
    return [
        (sl.Zone(zone.from_ or 0.0, zone.to or 0.0, scale * (zone.pressure or 0.0), zone.width or 0.0), zone)
        for zone in joint.zone
    ]


def _lip(stretch: tuple[float, float], place: float, zones: list[tuple[sl.Zone, Zone]]) -> LipAt | None:
    """Edges of the zone at the bolt (else of any that reaches its stretch), with the highest pressure on the stretch."""
    reach = [(z, own) for z, own in zones if min(z.end, stretch[1]) > max(z.start, stretch[0])]
    if not reach:
        return None
    own = next((own for z, own in reach if z.start <= place <= z.end), reach[0][1])
    if own.bolt_to_inside is None or own.bolt_to_outside is None:
        return None
    pressure = max(z.pressure for z, _ in reach)
    return LipAt(own.bolt_to_inside, own.bolt_to_outside, stretch[1] - stretch[0], pressure)
