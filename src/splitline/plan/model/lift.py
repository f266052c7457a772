"""A lift: one load on one hook, or on two for upending."""

import itertools
import math
from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    POINT,
    Capacity,
    Choice,
    Count,
    Dim,
    Direction,
    Distance,
    Either,
    Factor,
    Gap,
    Id,
    Length,
    Many,
    Mass,
    MassOrNone,
    Num,
    Point,
    Row,
    ShareAboveZero,
    Table,
    Text,
    Words,
    YesNo,
    declare,
    require,
    wrong,
)

MassBasis = Annotated[str, Choice(("weighed", "calculated", "drawing"))]
Sharing = Annotated[str, Choice(("two legs", "three legs", "all legs"))]
ChartRule = Annotated[str, Choice(("next row", "straight"))]
Hitch = Annotated[str, Choice(("single", "choker", "basket"))]
Tag = Annotated[str, Words(offers="rigging")]
TailKind = Annotated[str, Choice(("hook", "floor"))]
PointOrUnknown = Annotated[tuple[float, float, float] | str, Either((POINT, Choice(("unknown",))))]
REDUCTION_ROW = Row((Dim("angle", least=0, most=math.pi / 2), Num(least=0, most=1)), 'a pair, as in ["45 deg", 0.25]')
Tilt = Annotated[float, Dim("angle", least=-math.pi / 2, most=math.pi / 2)]
Points = Annotated[tuple[tuple[float, float, float], ...], Many(POINT, least=1, most=16)]


class Part(Table):
    """One part of the load; a parallel-axis sum gives mass and centre of the whole."""

    name: Text | None = declare("Name of the part", example="cover")
    mass: Mass | None = declare("Mass of the part", needs="mass", example="6400 kg")
    at: PointOrUnknown | None = declare(
        'Centre of this part, z up, or "unknown"', needs="centre", example=["0 mm", "0 mm", "210 mm"]
    )
    count: Count | None = declare("How many such parts share this centre", shown_default="1", errs="one", example=1)


class Hook(Table):
    """Where the hook stands; needed only where a leg's length is omitted."""

    above_picks: Length | None = declare(
        "Height above the highest pick, on the vertical through the centre of gravity", example="2600 mm"
    )
    at: Point | None = declare("Place of the hook on that vertical", example=["0 mm", "0 mm", "3020 mm"])
    capacity: Capacity | None = declare("Rated capacity of the hook", example="20 t")

    @model_validator(mode="after")
    def _one_place(self) -> "Hook":
        if self.above_picks is not None and self.at is not None:
            raise wrong("give either above_picks or at, not both")
        return self


class Leg(Table):
    """One leg from hook (or spreader) to pick point."""

    name: Text | None = declare("Name of the leg on drawing and screen", example="north-east")
    pick: Point | None = declare(
        "Pick point in the load's frame", needs="leg_tension", example=["900 mm", "600 mm", "420 mm"]
    )
    sling: Annotated[str, Words("slings")] | None = declare(
        "Sling from the library", needs="leg_capacity", example="wire rope 28 mm 6x36 IWRC"
    )
    capacity: Capacity | None = declare(
        "Rated capacity of the sling, straight pull", needs="leg_capacity", example="7.6 t"
    )
    elongation: Annotated[float, Num(above=0, most=0.5)] | None = declare(
        "Strain at the rated capacity: EA = capacity / elongation",
        shown_default="from the library by sling type",
        errs="middle of the type",
        example=0.01,
    )
    length: Length | None = declare(
        "Unstretched length; left out: the length that hangs the load level", example="3100 mm"
    )
    hitch: Hitch | None = declare("single, choker or basket", shown_default="single")
    basket_angle: Annotated[float, Dim("angle", above=0, most=math.pi / 2)] | None = declare(
        "Angle of the parts of a basket from the horizontal",
        shown_default="30 deg: both parts together carry no more than one",
        errs="safe: a steeper basket carries more",
        example="75 deg",
    )
    choke_angle: Annotated[float, Dim("angle", least=0, most=math.pi)] | None = declare(
        "Angle of choke", example="120 deg"
    )
    bend_diameter: Length | None = declare("Diameter the sling bends round, for D/d", example="120 mm")
    fitting: Annotated[str, Words("fittings")] | None = declare(
        "Fitting at the pick point", needs="fitting", example="eyebolt, shouldered"
    )
    fitting_capacity: Capacity | None = declare(
        "Rated capacity of the fitting, straight pull", needs="fitting", example="12 t"
    )
    pull_axis: Direction | None = declare(
        "Direction of the fitting's straight pull", shown_default="[0, 0, 1]", errs="straight up", example=[0, 0, 1]
    )
    reduction: Annotated[tuple[tuple[float, float], ...], Many(REDUCTION_ROW, least=1, most=50)] | None = declare(
        "Angled-pull table of this fitting",
        shown_default="lowest published",
        errs="safe: lowest published",
        example=[["0 deg", 1.0], ["45 deg", 0.25]],
    )
    reduction_source: Text | None = declare("Source of that table", example="standard or sheet the table is from")
    shackle_capacity: Capacity | None = declare("Rated capacity of the shackle in this leg", example="12 t")
    adjuster_capacity: Capacity | None = declare(
        "Rated capacity of the chain hoist or turnbuckle in this leg", example="10 t"
    )
    adjuster_step: Length | None = declare("Length of one chain link, or travel of one turn", example="25 mm")
    beam_point: Count | None = declare("With a spreader: which lower point", example=1)
    tag: Tag | None = declare("Number on the sling's tag; on-site if absent", example="S-104")
    shackle_tag: Tag | None = declare(
        "Number of the shackle, looked up in the site's rigging register", example="SH-12"
    )
    adjuster_tag: Tag | None = declare(
        "Number of the chain hoist or turnbuckle, looked up in the site's rigging register", example="CH-03"
    )

    @property
    def adjusts(self) -> bool:
        """Whether a chain hoist or turnbuckle is in the leg."""
        return self.adjuster_capacity is not None or self.adjuster_tag is not None

    @property
    def shackled(self) -> bool:
        """Whether a shackle is in the leg."""
        return self.shackle_capacity is not None or self.shackle_tag is not None

    @model_validator(mode="after")
    def _rising(self) -> "Leg":
        rows = self.reduction or ()
        if any(b[0] <= a[0] for a, b in itertools.pairwise(rows)):
            raise wrong("reduction: angles must rise from row to row")
        return self


class Spreader(Table):
    """A spreader or lifting beam, in its own frame with the origin at its centre of gravity."""

    tag: Tag | None = declare("Number of the beam, looked up in the site's rigging register", example="B-02")
    mass: MassOrNone | None = declare("Mass of the beam", needs="leg_tension", example="320 kg")
    capacity: Capacity | None = declare(
        "Rated load of the beam, as marked on it for these points", needs="spreader_rated", example="10 t"
    )
    upper: Points | None = declare(
        "Points the upper slings hold",
        needs="leg_tension",
        example=[["-1500 mm", "0 mm", "100 mm"], ["1500 mm", "0 mm", "100 mm"]],
    )
    lower: Points | None = declare(
        "Points the legs hang from",
        needs="leg_tension",
        example=[["-1500 mm", "0 mm", "-100 mm"], ["1500 mm", "0 mm", "-100 mm"]],
    )
    upper_length: Length | None = declare(
        "Unstretched length of each upper sling", needs="leg_tension", example="2200 mm"
    )
    upper_capacity: Capacity | None = declare(
        "Rated capacity of each upper sling", needs="spreader_upper", example="20 t"
    )
    upper_elongation: Annotated[float, Num(above=0, most=0.5)] | None = declare(
        "Strain of the upper slings at capacity", example=0.01
    )
    compression_capacity: Capacity | None = declare(
        "Rated compression of the beam", needs="spreader_compression", example="100 kN"
    )
    bending_capacity: Annotated[float, Dim("torque", above=0)] | None = declare(
        "Rated bending moment of the beam, where its rated load is not for these points", example="60 kN*m"
    )


class Rating(Table):
    """One row of a crane's chart."""

    radius: Length = require("Working radius", example="7 m")
    capacity: Capacity = require("Capacity at that radius", example="20 t")


class Crane(Table):
    """The crane at its place."""

    name: Text | None = declare("Name of the crane", example="hall crane")
    capacity: Capacity | None = declare("Capacity at the working radius", needs="crane_usage", example="20 t")
    rating: tuple[Rating, ...] = declare("Chart by radius", default=())
    radius: Length | None = declare(
        "Working radius; on-site if a chart is given without it", needs="crane_usage", example="7 m"
    )
    block: MassOrNone | None = declare("Mass of the hook block", needs="crane_load", example="450 kg")
    chart_includes_block: YesNo | None = declare(
        "Whether the rating is below the hook", shown_default="false", errs="safe: block and rigging count as load"
    )
    chart_rule: ChartRule | None = declare(
        "How the chart is read between two rows: the next row of less capacity, or straight between them where the chart says so",
        shown_default="next row",
        errs="safe: the lesser row",
        example="next row",
    )
    rigging: MassOrNone | None = declare("Mass of slings and shackles", needs="hook_load", example="260 kg")
    hook_height: Length | None = declare("Highest hook above the floor", needs="headroom", example="9.5 m")
    clear_over: Gap | None = declare(
        "Height the underside must pass over, stud ends and guide pins included", needs="headroom", example="4.2 m"
    )
    line_length: Length | None = declare(
        "Greatest length of hoist line from the boom's head to the load, for what wind adds to the radius",
        needs="crane_usage",
        example="18 m",
    )
    critical_fraction: ShareAboveZero | None = declare(
        "Share of capacity that makes the lift critical",
        shown_default="0.75",
        errs="usual; local rules govern",
        example=0.75,
    )
    share: ShareAboveZero | None = declare(
        "Share of the load this crane takes, with two cranes", shown_default="1", errs="safe: all of it", example=0.5
    )

    @model_validator(mode="after")
    def _chart(self) -> "Crane":
        if self.capacity is not None and self.rating:
            raise wrong("give either capacity or a rating chart, not both")
        if any(b.radius <= a.radius for a, b in zip(self.rating, self.rating[1:], strict=False)):
            raise wrong("rating: radii must rise from row to row")
        return self


class Spigot(Table):
    """What the load must enter without jamming."""

    axis: Direction | None = declare(
        "The load's axis that must meet the bore's", shown_default="[0, 0, 1]", example=[0, 1, 0]
    )
    clearance: Length | None = declare("Diametral clearance", needs="spigot_tilt", example="0.30 mm")
    engagement: Length | None = declare("Length of engagement", needs="spigot_tilt", example="60 mm")
    diameter: Length | None = declare("Diameter of the spigot, for mm across the cover", example="1020 mm")
    guide_pin_length: Length | None = declare(
        "Guide pins standing beyond the face, longer than the spigot", example="250 mm"
    )


class Reading(Table):
    """Load-cell or tilt reading of a trial lift, from a document."""

    source: Text | None = declare("Document of the trial lift", needs="trial", example="trial lift sheet")
    load: Capacity | None = declare("Load cell at the hook, rigging taken off", example="6.6 t")
    leg_loads: Annotated[tuple[float, ...], Many(Dim("capacity", least=0), least=1, most=16)] | None = declare(
        "Load cell in each leg, in the order of the legs", example=["1.9 t", "1.8 t", "1.8 t", "1.9 t"]
    )
    lengths: Annotated[tuple[float, ...], Many(Dim("length", above=0), least=1, most=16)] | None = declare(
        "Unstretched length of each leg in this hang, where it was another than the plan's",
        shown_default="the legs' own lengths",
        example=["3100 mm", "3100 mm", "3050 mm", "3050 mm"],
    )
    tilt_x: Tilt | None = declare("Tilt about the load's x axis", example="0.2 deg")
    tilt_y: Tilt | None = declare("Tilt about the load's y axis", example="-0.1 deg")


class Tail(Table):
    """The second support for upending."""

    pick: Point | None = declare("Where the tail holds the load", needs="upend_tail", example=["0 mm", "0 mm", "0 mm"])
    kind: TailKind = require("hook or floor")
    capacity: Capacity | None = declare("Rated capacity of the tail's rigging", needs="upend_tail", example="10 t")
    crane_capacity: Capacity | None = declare("Capacity of the second crane at its radius", example="10 t")
    below: Gap | None = declare(
        "How far load and tail rigging hang below the tail's pick when it stands; 0 mm where nothing does",
        needs="headroom",
        example="150 mm",
    )


class Lift(Table):
    """One load on one hook, with its legs and fittings."""

    id: Id = require("Id of the lift: lower-case letters, digits, hyphens", example="head-lift")
    title: Text = require("Title printed on screens and sheets", example="Discharge head cover")
    notes: Text | None = declare("Notes")
    mass_basis: MassBasis | None = declare(
        "How the mass is known: weighed 1.03, calculated 1.10, drawing 1.10",
        source="marine-lift guideline style",
        needs="leg_tension_design",
    )
    mass_margin: Annotated[float, Num(least=0, most=1)] | None = declare(
        "Mass margin as a share, instead of mass_basis", example=0.08
    )
    dynamic: Factor | None = declare(
        "Dynamic factor",
        shown_default="1.10",
        errs="guideline for a slow crane, taken on beam and rigging too (not checked against its text); site rules govern",
        example=1.1,
    )
    centre_shift: Gap | None = declare(
        "Horizontal radius within which the centre of gravity may lie",
        shown_default="0 mm",
        errs="optimistic: give the tolerance of the centre of gravity",
        example="25 mm",
    )
    underside: Distance | None = declare(
        "Height of the load's lowest point in its own frame, z up",
        shown_default="the lowest place named, z = 0 included",
        errs="lowest place named",
        example="-590 mm",
        needs="headroom",
    )
    centre_rise: Gap | None = declare(
        "How far the centre of gravity may be higher than given",
        shown_default="as centre_shift",
        errs="safe: a higher centre tilts and rolls farther",
        example="25 mm",
    )
    tilt_limit: Annotated[float, Dim("angle", above=0, most=math.pi / 2)] | None = declare(
        "Greatest tilt and roll it may hang at",
        shown_default="2 deg",
        errs="customary without special review (0027/ND Rev 11.2, 5.3.2)",
        example="2 deg",
    )
    rolls_freely: YesNo | None = declare(
        "It may roll about the line of its picks without harm, like a shaft in slings",
        shown_default="false",
        errs="safe: roll counts as tilt",
        example=True,
    )
    length_tolerance: Annotated[float, Num(least=0, most=0.1)] | None = declare(
        "± share of each leg's length", shown_default="0.005", errs="usual tolerance of slings", example=0.005
    )
    sharing: Sharing | None = declare(
        "Customary rule for more than three legs (authorities differ)",
        shown_default="two legs",
        errs="safe: the load on two legs",
    )
    minimum_angle: Annotated[float, Dim("angle", least=0, most=math.pi / 2)] | None = declare(
        "Least leg angle from the horizontal", shown_default="30 deg", errs="usual least", example="30 deg"
    )
    wind_force: Annotated[float, Dim("force", least=0)] | None = declare(
        "Wind force on the load, instead of wind_speed and wind_area",
        shown_default="0 kN",
        errs="none: outdoors it must be given",
        example="2 kN",
        needs="wind_angle",
    )
    wind_speed: Annotated[float, Dim("velocity", least=0, most=60)] | None = declare(
        "Greatest wind the lift is done in, gusts included", example="9.8 m/s", needs="wind_angle"
    )
    wind_area: Annotated[float, Dim("area", least=0)] | None = declare(
        "Greatest area the load turns to the wind", example="6 m^2", needs="wind_angle"
    )
    wind_drag: Annotated[float, Num(above=0, most=3)] | None = declare(
        "Drag coefficient of the load",
        shown_default="1.6",
        errs="usual for a flat plate, not checked against a standard's text; a drum or box has less, a lattice may have more",
        example=1.2,
    )
    wind_angle_limit: Annotated[float, Dim("angle", above=0, most=math.pi / 4)] | None = declare(
        "Greatest angle of the hoist line off the vertical, by the crane's manual", example="2 deg", needs="wind_angle"
    )
    part: tuple[Part, ...] = declare("Parts of the load", default=(), needs="mass")
    hook: Hook | None = declare("The hook")
    leg: tuple[Leg, ...] = declare("Legs", default=(), needs="leg_tension")
    spreader: Spreader | None = declare("Spreader or lifting beam")
    crane: Crane | None = declare("The crane", needs="crane_usage")
    spigot: Spigot | None = declare("Spigot the load must enter")
    reading: tuple[Reading, ...] = declare("Trial-lift readings", default=())
    tail: Tail | None = declare("Second support for upending")

    @model_validator(mode="after")
    def _together(self) -> "Lift":
        said = []
        if self.mass_basis is not None and self.mass_margin is not None:
            said.append("give either mass_basis or mass_margin, not both")
        if self.wind_force is not None and (self.wind_speed is not None or self.wind_area is not None):
            said.append("give either wind_force, or wind_speed and wind_area, not both")
        lower = self.spreader.lower if self.spreader else None
        for number, leg in enumerate(self.leg, 1):
            if leg.beam_point is not None and self.spreader is None:
                said.append(f"leg {number}: beam_point needs a [lift.spreader]")
            elif leg.beam_point is not None and lower is not None and leg.beam_point > len(lower):
                said.append(f"leg {number}: beam_point {leg.beam_point} does not exist (there are {len(lower)})")
        for number, reading in enumerate(self.reading, 1):
            if reading.leg_loads is not None and len(reading.leg_loads) != len(self.leg):
                said.append(f"reading {number}: {len(reading.leg_loads)} leg loads for {len(self.leg)} legs")
        if said:
            raise wrong("; ".join(said))
        return self
