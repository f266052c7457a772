"""The smaller tables: insertion, clearance, window, item and step, and the plan's own heading."""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    Angle,
    Bolts,
    Choice,
    Count,
    CountOrNone,
    Date,
    Dim,
    Distance,
    Either,
    Gap,
    Id,
    Length,
    Many,
    Mass,
    Minutes,
    Num,
    PressureAboveZero,
    Row,
    Share,
    Table,
    Text,
    Texts,
    Time,
    Words,
    YesNo,
    declare,
    require,
    wrong,
)

Band = Annotated[
    float | tuple[float, float],
    Either((Num(least=0, most=1), Row((Num(least=0, most=1),) * 2, "a number or a pair [low, high]"))),
]
DragBand = Annotated[
    float | tuple[float, float],
    Either((Dim("line_load", least=0), Row((Dim("line_load", least=0),) * 2, "a line load or a pair [low, high]"))),
]
ClearanceKind = Annotated[str, Choice(("measure", "float-split", "shim", "tilting-pad", "probe"))]
Display = Annotated[str, Choice(("SI", "US"))]
PassName = Either((Num(least=0, most=50, whole=True), Choice(("snug", "round"))))
Ids = Annotated[tuple[str, ...], Many(Words(longest=64))]


class PlanInfo(Table):
    """The plan's heading."""

    title: Text = require("Title of the plan")
    machine: Text | None = declare("Machine")
    tag: Text | None = declare("Tag number")
    site: Text | None = declare("Site")
    order_no: Text | None = declare("Work order number")
    drawings: Texts | None = declare("Drawings with their revisions")
    display: Display | None = declare("How results are shown", shown_default="SI")
    revision: Text | None = declare("Revision of the plan")
    prepared_by: Text | None = declare("Who prepared it")
    checked_by: Text | None = declare("Who checked it")
    approved_by: Text | None = declare("Who approved it")
    crew: Texts | None = declare("Names to pick from on the work screen")
    notes: Text | None = declare("Notes")


class Insertion(Table):
    """Pushing a bundle along its tracks into the casing with jacks."""

    id: Id = require("Id of the insertion")
    title: Text = require("Title printed on screens and sheets")
    notes: Text | None = declare("Notes")
    mass: Mass | None = declare("Mass of the bundle", needs="push_force")
    friction: Band | None = declare(
        "Friction on the tracks: a number or [low, high]",
        usual="0.02 to 0.05 rollers, 0.10 to 0.15 greased",
        source="common practice, no published source",
        needs="push_force",
    )
    track_slope: Angle | None = declare("Slope of the tracks, rising positive", shown_default="0 deg")
    seals: CountOrNone | None = declare("Number of O-rings entering", needs="push_force")
    seal_diameter: Length | None = declare("Diameter of the O-rings", needs="push_force")
    seal_drag: DragBand | None = declare(
        "Drag per length of seal: a value or [low, high]",
        usual="0.5 to 2 N/mm",
        source="common practice, no published source",
        needs="push_force",
    )
    jacks: Count | None = declare("Number of jacks", needs="jack_pressure")
    jack_area: Annotated[float, Dim("area", above=0)] | None = declare("Area of one jack", needs="jack_pressure")
    jack_stroke: Length | None = declare("Stroke of the jack", needs="strokes")
    jack_max_pressure: PressureAboveZero | None = declare("Greatest jack pressure", needs="jack_pressure")
    distance: Length | None = declare("Distance to push", needs="strokes")
    length: Length | None = declare("Length of the bundle, for track reactions")
    centre: Length | None = declare("Centre of mass from the leading end, for track reactions")
    supports: Annotated[tuple[float, float], Row((Dim("length"), Dim("length")), "a pair of lengths")] | None = declare(
        "Places of the two supports from the leading end, for track reactions"
    )
    track_capacity: Annotated[float, Dim("capacity", above=0)] | None = declare("Capacity of one support of the track")


class Clearance(Table):
    """A dimension measured during close-up, with limits."""

    id: Id = require("Id of the clearance")
    title: Text = require("Title printed on screens and sheets")
    kind: ClearanceKind = require("measure, float-split, shim, tilting-pad or probe")
    notes: Text | None = declare("Notes")
    low: Distance | None = declare("Least value accepted", needs="limits")
    high: Distance | None = declare("Greatest value accepted", needs="limits")
    diametral: YesNo | None = declare("true if the limits are on diameter, false if on radius")
    split: Share | None = declare("Share of the total float towards the active side", shown_default="0.5")
    offset: Distance | None = declare("Offset from the middle of the float, instead of split")
    pads: Annotated[int, Num(least=3, most=12, whole=True)] | None = declare(
        "Number of tilting pads", needs="lift_factor"
    )
    between_pads: YesNo | None = declare("Whether the lift acts between two pads", needs="lift_factor")
    as_found: Distance | None = declare("Value found before the work")
    as_left: Distance | None = declare("Value left after the work; usually entered in the record")
    wanted: Distance | None = declare("Wanted value, for a shim to add or take")
    shim: Gap | None = declare("Shim that is in place")
    side: Text | None = declare("Side the shim sits on")
    sensitivity: Annotated[float, Num(above=0, most=100)] | None = declare("Probe sensitivity in mV/um", usual="7.87")
    reading: Annotated[float, Dim("voltage")] | None = declare("Probe gap voltage")
    source: Text | None = declare("Drawing the limits come from")

    @model_validator(mode="after")
    def _limits(self) -> Clearance:
        said = []
        if self.low is not None and self.high is not None and self.low > self.high:
            said.append("low is more than high")
        if self.split is not None and self.offset is not None:
            said.append("give either split or offset, not both")
        if said:
            raise wrong("; ".join(said))
        return self


class Window(Table):
    """A time limit between two moments of the order of work."""

    id: Id = require("Id of the window")
    title: Text = require("Title printed on screens and sheets")
    from_: Text | None = declare('Moment it starts: "STEP.start" or "STEP.done"', alias="from", needs="window")
    to: Text | None = declare('Moment it ends: "STEP.start" or "STEP.done"', needs="window")
    at_least: Time | None = declare("Shortest time allowed", needs="window")
    at_most: Time | None = declare("Longest time allowed", needs="window")

    @model_validator(mode="after")
    def _limits(self) -> Window:
        said = []
        for name, moment in (("from", self.from_), ("to", self.to)):
            if moment is not None and moment.rpartition(".")[2] not in ("start", "done"):
                said.append(
                    f'{name} = "{moment}" is not a moment: write a step and .start or .done, as in "bead.start"'
                )
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            said.append("at_least is more than at_most")
        if said:
            raise wrong("; ".join(said))
        return self


class Item(Table):
    """A part or consumable for the kit list and the count-out."""

    id: Id = require("Id of the item")
    title: Text = require("Title printed on screens and sheets")
    size: Text | None = declare("Size")
    material: Text | None = declare("Material or compound")
    quantity: CountOrNone | None = declare("How many are needed", needs="kit")
    spare: CountOrNone | None = declare("How many spares", shown_default="0")
    cure_date: Date | None = declare("Cure date of an elastomer")
    batch: Text | None = declare("Batch")
    used_in: Annotated[str | tuple[str, ...], Either((Words(longest=64), Many(Words(longest=64))))] | None = declare(
        "Id of what it is used in, or a list of ids"
    )
    count_out: YesNo | None = declare("Must be counted out again before closing", shown_default="false")


class Step(Table):
    """One line of the order of work."""

    id: Id = require("Id of the step")
    text: Text | None = declare("What is done")
    title: Text | None = declare("Short title", shown_default="the text")
    joint: Text | None = declare("Id of the joint this step works on")
    lift: Text | None = declare("Id of the lift")
    fit: Text | None = declare("Id of the fit")
    insertion: Text | None = declare("Id of the insertion")
    clearance: Text | None = declare("Id of the clearance")
    passes: Annotated[tuple[int | str, ...], Many(PassName)] | None = declare(
        'Passes of the joint in this step, as in ["snug", 1]'
    )
    bolts: Bolts | None = declare("Bolts of the joint in this step")
    needs: Ids | None = declare("Ids of steps that must be done before")
    hold: Text | None = declare("Role that signs before the work goes on: a hold point")
    witness: Text | None = declare("Role that is called to witness")
    minutes: Minutes | None = declare("Planned minutes", needs="window")
    crew: CountOrNone | None = declare("People needed")
    caution: Text | None = declare("A caution of this step, shown before it starts")

    @model_validator(mode="after")
    def _points_at_one(self) -> Step:
        given = [n for n in ("joint", "lift", "fit", "insertion", "clearance") if getattr(self, n) is not None]
        said = []
        if len(given) > 1:
            said.append(f"a step points at one thing; {' and '.join(given)} are given")
        if "joint" not in given and (self.passes is not None or self.bolts is not None):
            said.append("passes and bolts need a joint")
        if said:
            raise wrong("; ".join(said))
        return self

    @property
    def target(self) -> tuple[str, str] | None:
        """Kind and id of what the step points at."""
        for kind in ("joint", "lift", "fit", "insertion", "clearance"):
            if (ident := getattr(self, kind)) is not None:
                return kind, ident
        return None

    @property
    def heading(self) -> str:
        return self.title or self.text or self.id
