"""A joint: one bolted closure, a bolt circle or a split line."""

import itertools
import math
from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    Bolts,
    Choice,
    ContactStiffness,
    Dim,
    Distance,
    Either,
    Expansion,
    Force,
    Id,
    Length,
    Many,
    Modulus,
    Num,
    Pressure,
    Row,
    ShareAboveZero,
    Stress,
    Table,
    Temperature,
    Text,
    Torque,
    Words,
    YesNo,
    declare,
    require,
    wrong,
)
from splitline.plan.model.bolting import Bolting, FrictionTable, Layer, SizeBolting
from splitline.plan.model.tightening import Acceptance, SizeAcceptance, Tightening

Shape = Annotated[str, Choice(("circle", "split-line", "points"))]
Numbering = Annotated[str, Choice(("clockwise", "counter-clockwise"))]
CaseKind = Annotated[str, Choice(("operating", "test"))]
Seal = Annotated[str, Choice(("o-ring", "gasket"))]
Introduction = Annotated[
    float | str, Either((Num(least=0, most=1), Choice(("SV1", "SV2", "SV3", "SV4", "SV5", "SV6"))))
]
Distances = Annotated[tuple[float, ...], Many(Dim("length"), least=1, most=200)]
PLANE_POINT = Row((Dim("length"), Dim("length")), 'a place: two lengths, as in ["0 mm", "120 mm"]')


class Layout(Table):
    """Where the bolts are."""

    shape: Shape = require("circle, split-line or points")
    bolts: Annotated[int, Num(least=3, most=400, whole=True)] | None = declare(
        "Number of bolts on the circle (3 to 400)", needs="order force_per_bolt", example=24
    )
    diameter: Length | None = declare("Bolt circle diameter", needs="interaction", example="1180 mm")
    first_at: Annotated[float, Dim("angle", least=-2 * math.pi, most=2 * math.pi)] | None = declare(
        "Place of bolt 1 from 12 o'clock", shown_default="0 deg", example="7.5 deg"
    )
    numbering: Numbering | None = declare("Direction of the numbers", shown_default="clockwise")
    seen_from: Text | None = declare(
        "Where the map is seen from; printed on every map", example="outside, facing the cover"
    )
    side_a: Distances | None = declare(
        "Places of the bolts along side a of a split line", needs="order", example=["0 mm", "180 mm", "360 mm"]
    )
    side_b: Distances | None = declare(
        "Places along side b", shown_default="as side_a", example=["0 mm", "180 mm", "360 mm"]
    )
    half_width: Length | None = declare("Distance of each bolt row from the centreline", example="640 mm")
    line_from: Distance | None = declare(
        "Start of the flange", shown_default="half a pitch outside the first bolt", example="-90 mm"
    )
    line_to: Distance | None = declare(
        "End of the flange", shown_default="half a pitch outside the last bolt", example="450 mm"
    )
    points: Annotated[tuple[tuple[float, float], ...], Many(PLANE_POINT, least=3, most=400)] | None = declare(
        "Places of the bolts, any shape",
        needs="order",
        example=[["0 mm", "0 mm"], ["120 mm", "0 mm"], ["60 mm", "90 mm"]],
    )

    @model_validator(mode="after")
    def _fits_its_shape(self) -> "Layout":
        own = {
            "circle": ("bolts", "diameter", "first_at"),
            "split-line": ("side_a", "side_b", "half_width", "line_from", "line_to"),
            "points": ("points",),
        }
        said = []
        for shape, names in own.items():
            if shape == self.shape:
                continue
            for name in names:
                if getattr(self, name) is not None and not (name == "bolts" and getattr(self, name) == self.count):
                    said.append(f"{name} belongs to shape {shape}, not {self.shape}")
        for side in ("side_a", "side_b"):
            places = getattr(self, side)
            if places is not None and any(b <= a for a, b in itertools.pairwise(places)):
                said.append(f"{side} must run in one direction, each place farther than the one before")
        if self.points is not None and len(set(self.points)) < len(self.points):
            said.append("two of the points are the same place")
        if self.shape == "split-line" and self.count is not None and not 3 <= self.count <= 400:
            said.append(f"{self.count} bolts; 3 to 400 are possible")
        if said:
            raise wrong("; ".join(said))
        return self

    @property
    def count(self) -> int | None:
        """Number of bolts, from whichever field says it."""
        if self.shape == "circle":
            return self.bolts
        if self.shape == "split-line":
            if self.side_a is None:
                return None
            return len(self.side_a) + len(self.side_a if self.side_b is None else self.side_b)
        return None if self.points is None else len(self.points)


class Target(Table):
    """What a tightened bolt is to carry: exactly one of the first five."""

    bolt_stress: Stress | None = declare(
        "Wanted stress on the stress area", usual="40 to 70 % of yield", needs="preload", example="345 MPa"
    )
    yield_fraction: ShareAboveZero | None = declare(
        "Wanted share of yield on the least area", needs="preload", example=0.5
    )
    preload: Annotated[float, Dim("force", above=0)] | None = declare(
        "Wanted preload of one bolt", needs="preload", example="553 kN"
    )
    torque: Torque | None = declare("Given torque", needs="preload", example="3400 N*m")
    stretch: Length | None = declare("Wanted stretch of the bolt", needs="preload", example="0.42 mm")
    maker_torque: Torque | None = declare(
        "The maker's torque; own computation is checked against it", example="3400 N*m"
    )
    maker_stretch: Length | None = declare(
        "The maker's stretch; own computation is checked against it", example="0.42 mm"
    )
    source: Text | None = declare("Drawing or document the target comes from", example="drawing, rev C")

    @model_validator(mode="after")
    def _one_target(self) -> "Target":
        given = [
            n for n in ("bolt_stress", "yield_fraction", "preload", "torque", "stretch") if getattr(self, n) is not None
        ]
        if len(given) > 1:
            raise wrong(f"only one target can stand; {' and '.join(given)} are given: keep one")
        return self


class Size(Table):
    """Some bolts of another size."""

    bolts: Bolts = require("Numbers of the bolts that differ", example=[1, 2])
    first: YesNo | None = declare("Pulled down before the others (body-bound, dowel, corner)")
    bolting: SizeBolting = declare("The bolting fields that differ", default=SizeBolting())
    target: Target | None = declare("Replaces the joint's target for these bolts")
    acceptance: SizeAcceptance | None = declare("What readings on these bolts are judged by")


class Load(Table):
    """What the joint holds."""

    holds_pressure: YesNo | None = declare(
        "false for a joint that holds no pressure", shown_default="true", errs="safe: the joint is checked for pressure"
    )
    pressure_diameter: Length | None = declare(
        "Effective diameter of the seal", needs="pressure_force", example="1010 mm"
    )
    seal: Seal | None = declare("o-ring or gasket", needs="residual_clamp")
    gasket_width: Length | None = declare("Width of the gasket", needs="gasket_seating", example="12 mm")
    gasket_m: Annotated[float, Num(least=0, most=20)] | None = declare(
        "Gasket factor m", needs="gasket_operating", example=3.0
    )
    gasket_y: Annotated[float, Dim("stress", least=0)] | None = declare(
        "Gasket seating stress y", needs="gasket_seating", example="69 MPa"
    )
    gasket: Annotated[str, Words("gaskets")] | None = declare(
        "Gasket from the library, gives m and y", example="spiral wound, stainless or nickel-copper alloy 400"
    )
    gasket_limit: Stress | None = declare(
        "Greatest gasket pressure before crushing", needs="gasket_crush", example="200 MPa"
    )
    gasket_thickness: Length | None = declare(
        "Thickness of the gasket when seated", needs="gasket_stiffness", example="3.2 mm"
    )
    gasket_modulus: Modulus | None = declare(
        "Modulus of the gasket when it is unloaded, from its maker", needs="gasket_stiffness", example="2 GPa"
    )
    introduction: Introduction | None = declare(
        "Where the outside force enters: n from 0 (plane of the faces) to 1 (under head and nut), or a joint type SV1 to SV6",
        shown_default="0 for the clamp, 1 for the bolt",
        errs="safe on both sides: the faces are relieved least, the bolt is loaded most",
        source="VDI 2230-1:2003, table 5.2/1",
        example="SV3",
    )
    gasket_inner: Length | None = declare("Inner diameter of the gasket", needs="gasket_seating", example="1000 mm")
    extra_axial: Force | None = declare(
        "Further force that opens the joint",
        shown_default="0 kN",
        errs="none: what pulls besides pressure must be given",
        example="20 kN",
    )
    assembly_temperature: Temperature | None = declare(
        "Temperature at assembly",
        shown_default="20 degC",
        errs="usual; a colder shop loses more in service",
        example="20 degC",
    )


class Case(Table):
    """One condition the joint must hold in."""

    name: Text = require("Name of the case: design, leak test, hydrotest, settle-out ...", example="design")
    kind: CaseKind | None = declare(
        "operating, or test: a pressure or leak test needs less margin",
        shown_default="operating",
        errs="safe: the greater margin",
        example="test",
    )
    pressure: Pressure | None = declare("Gauge pressure", needs="pressure_force", example="60 bar")
    member_temperature: Temperature | None = declare(
        "Temperature of the clamped parts",
        shown_default="assembly; in a case with hot bolts the worse of assembly and bolts",
        errs="safe: each check takes its worse end",
        example="120 degC",
    )
    bolt_temperature: Temperature | None = declare(
        "Temperature of the bolts",
        shown_default="assembly; in a case with hot parts the worse of assembly and parts",
        errs="safe: each check takes its worse end",
        example="110 degC",
    )
    required_separation: Annotated[float, Num(least=0, most=10)] | None = declare(
        "Low preload over (1 - n x load factor) x force per bolt that is wanted",
        shown_default="1.2; 1.1 where kind is test",
        errs="customary margin; the drawing governs",
        source="common practice, no published source",
        example=1.2,
    )
    extra_axial: Force | None = declare("Further opening force in this case", example="20 kN")


class Zone(Table):
    """Pressure over a stretch of a split line."""

    from_: Distance | None = declare("Start of the zone along the line", alias="from", needs="zones", example="0 mm")
    to: Distance | None = declare("End of the zone", needs="zones", example="900 mm")
    pressure: Pressure | None = declare("Gauge pressure inside the zone", needs="zones", example="40 bar")
    width: Length | None = declare("Projected width carried by one side's bolts", needs="zones", example="420 mm")
    bolt_to_inside: Length | None = declare(
        "Bolt centre to the inner edge of the lip", needs="lip_pressure", example="60 mm"
    )
    bolt_to_outside: Length | None = declare(
        "Bolt centre to the outer edge of the flange", needs="lip_pressure", example="70 mm"
    )


class Member(Table):
    """The clamped parts."""

    modulus: Modulus | None = declare(
        "Modulus of the clamped parts", usual="195 to 213 GPa", needs="member_stiffness", example="200 GPa"
    )
    material: Annotated[str, Words("materials")] | None = declare(
        "Material of the clamped parts, from the library", example="ASTM A216 WCB"
    )
    expansion: Expansion | None = declare(
        "Coefficient of expansion of the clamped parts", needs="thermal_change", example="11.5e-6 1/K"
    )
    outer_diameter: Length | None = declare("Outer diameter of the flange", needs="interaction", example="1330 mm")
    inner_diameter: Length | None = declare("Inner diameter of the flange face", needs="interaction", example="1030 mm")
    flange_thickness: Length | None = declare(
        "Height of the section that bends between bolts", needs="interaction", example="150 mm"
    )
    flange_width: Length | None = declare("Width of a split-line flange", needs="interaction", example="130 mm")
    contact_stiffness: ContactStiffness | None = declare(
        "Pressure per displacement of the face",
        shown_default="E / clamp length for metal faces; a gasket must state it",
        errs="faces in contact: optimistic where they are not, so the prediction is advice",
        needs="interaction",
        example="1.2 MPa/um",
    )
    initial_gap: (
        Annotated[
            float | tuple[float, ...], Either((Dim("length", least=0), Many(Dim("length", least=0), least=1, most=400)))
        ]
        | None
    ) = declare(
        "Gap of the faces before tightening: one value, or one per bolt",
        shown_default="0 mm",
        errs="optimistic: a gap that must be closed takes more; read it and give it",
        example="0.05 mm",
    )

    @model_validator(mode="after")
    def _ring(self) -> "Member":
        if self.outer_diameter and self.inner_diameter and self.inner_diameter >= self.outer_diameter:
            raise wrong("inner_diameter must be less than outer_diameter")
        return self


class Joint(Table):
    """One bolted closure."""

    id: Id = require("Id of the joint: lower-case letters, digits, hyphens", example="discharge-head")
    title: Text = require("Title printed on screens and sheets", example="Discharge head cover to casing")
    hidden: YesNo | None = declare(
        "Internal bolts nobody sees: a hold in both directions",
        shown_default="false",
        errs="no hold: mark hidden bolts yourself",
    )
    notes: Text | None = declare("Notes")
    bolting: Bolting | None = declare("The bolts", needs="preload torque")
    layer: tuple[Layer, ...] = declare("Clamped layers of unlike stiffness, from the nut down", default=())
    friction: FrictionTable | None = declare("Friction", needs="torque")
    layout: Layout | None = declare("Where the bolts are", needs="order")
    size: tuple[Size, ...] = declare("Bolts of another size", default=())
    target: Target | None = declare("What a bolt is to carry", needs="preload")
    load: Load | None = declare("What the joint holds", needs="pressure_force")
    case: tuple[Case, ...] = declare("Conditions the joint must hold in", default=())
    zone: tuple[Zone, ...] = declare("Pressure zones of a split line", default=())
    member: Member | None = declare("The clamped parts", needs="member_stiffness")
    tightening: Tightening | None = declare("How it is pulled down", needs="torque_passes")
    acceptance: Acceptance | None = declare("What a reading is judged by")

    @model_validator(mode="after")
    def _bolt_numbers(self) -> "Joint":
        n = self.layout.count if self.layout else None
        said = []
        groups: list[tuple[str, tuple[int, ...]]] = [(f"size {i}", s.bolts) for i, s in enumerate(self.size, 1)]
        if self.acceptance and self.acceptance.measured_bolts:
            groups.append(("acceptance › measured_bolts", self.acceptance.measured_bolts))
        listed = self.tightening.listed if self.tightening else None
        if listed:
            groups.append(("tightening › listed", listed))
        for where, bolts in groups:
            if n is not None and (beyond := sorted({b for b in bolts if b > n})):
                said.append(f"{where}: bolt {', '.join(map(str, beyond))} does not exist (there are {n})")
            if len(set(bolts)) < len(bolts):
                said.append(
                    f"{where}: bolt {', '.join(map(str, sorted({b for b in bolts if bolts.count(b) > 1})))} stands twice"
                )
        if listed and n is not None and (left := sorted(set(range(1, n + 1)) - set(listed))):
            said.append(f"tightening › listed: bolt {', '.join(map(str, left))} is not in the list")
        seen: set[int] = set()
        for i, size in enumerate(self.size, 1):
            if both := sorted(seen & set(size.bolts)):
                said.append(f"size {i}: bolt {', '.join(map(str, both))} already belongs to another size")
            seen |= set(size.bolts)
        names = [c.name for c in self.case]
        if len(set(names)) < len(names):
            said.append("two cases have the same name")
        gap = self.member.initial_gap if self.member else None
        if isinstance(gap, tuple) and n is not None and len(gap) != n:
            said.append(f"member › initial_gap: {len(gap)} values for {n} bolts")
        if said:
            raise wrong("; ".join(said))
        return self
