"""The smaller tables: insertion, clearance, window, item and step, and the plan's own heading."""

import itertools
from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
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
    Torque,
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
PROBE_ROW = Row((Dim("length", least=0), Dim("voltage")), 'a pair, as in ["0.5 mm", "-4 V"]')
ClearanceKind = Annotated[str, Choice(("measure", "float-split", "shim", "tilting-pad", "probe"))]
Display = Annotated[str, Choice(("SI", "US"))]
TestWith = Annotated[str, Choice(("gas", "liquid"))]
PassName = Either((Num(least=0, most=50, whole=True), Choice(("snug", "round"))))
Ids = Annotated[tuple[str, ...], Many(Words(longest=64))]


class PlanInfo(Table):
    """The plan's heading."""

    title: Text = require("Title of the plan", example="K-410 close-up")
    machine: Text | None = declare("Machine", example="Barrel compressor")
    tag: Text | None = declare("Tag number", example="K-410")
    site: Text | None = declare("Site", example="North gas plant")
    order_no: Text | None = declare("Work order number", example="WO-26-1187")
    drawings: Texts | None = declare("Drawings with their revisions", example=["head cover rev C"])
    display: Display | None = declare("How results are shown", shown_default="SI")
    revision: Text | None = declare("Revision of the plan", example="A")
    prepared_by: Text | None = declare("Who prepared it", example="planner")
    checked_by: Text | None = declare("Who checked it", example="engineer")
    approved_by: Text | None = declare("Who approved it", example="owner")
    crew: Texts | None = declare("Names to pick from on the work screen", example=["first fitter", "second fitter"])
    notes: Text | None = declare("Notes")


class Insertion(Table):
    """Pushing a bundle along its tracks into the casing with jacks."""

    id: Id = require("Id of the insertion", example="bundle-in")
    title: Text = require("Title printed on screens and sheets", example="Bundle into casing")
    notes: Text | None = declare("Notes")
    mass: Mass | None = declare("Mass of the bundle", needs="push_force", example="14 t")
    friction: Band | None = declare(
        "Friction on the tracks: a number or [low, high]",
        usual="0.02 to 0.05 rollers, 0.10 to 0.15 greased",
        source="common practice, no published source",
        needs="push_force",
        example=[0.1, 0.15],
    )
    track_slope: Annotated[float, Dim("angle", least=-0.8, most=0.8)] | None = declare(
        "Slope of the tracks, rising positive", shown_default="0 deg", errs="level: measure it", example="0.2 deg"
    )
    seals: CountOrNone | None = declare("Number of O-rings entering", needs="push_force", example=2)
    seal_diameter: Length | None = declare("Diameter of the O-rings", needs="push_force", example="1000 mm")
    seal_drag: DragBand | None = declare(
        "Drag per length of seal: a value or [low, high]",
        usual="0.5 to 2 N/mm",
        source="common practice, no published source",
        needs="push_force",
        example=["0.5 N/mm", "2 N/mm"],
    )
    seal_section: Length | None = declare("Section of the O-rings", needs="seal_squeeze", example="8.4 mm")
    gland_depth: Length | None = declare(
        "Depth of their gland, groove to opposite face", needs="seal_squeeze", example="6.9 mm"
    )
    jacks: Count | None = declare("Number of jacks", needs="jack_pressure", example=2)
    jack_area: Annotated[float, Dim("area", above=0)] | None = declare(
        "Area of one jack", needs="jack_pressure", example="2000 mm^2"
    )
    jack_stroke: Length | None = declare("Stroke of the jack", needs="strokes", example="200 mm")
    jack_max_pressure: PressureAboveZero | None = declare(
        "Greatest jack pressure", needs="jack_pressure", example="700 bar"
    )
    jack_lead: Length | None = declare(
        "Greatest lead of one jack over the other, where there are two or more",
        shown_default="2 mm",
        errs="safe: the bundle cants less",
        source="common practice, no published source",
        example="2 mm",
    )
    distance: Length | None = declare("Distance to push", needs="strokes", example="1800 mm")
    length: Length | None = declare("Length of the bundle, for track reactions", example="2100 mm")
    centre: Length | None = declare("Centre of gravity from the leading end, for track reactions", example="980 mm")
    supports: Annotated[tuple[float, float], Row((Dim("length"), Dim("length")), "a pair of lengths")] | None = declare(
        "Places of the two supports from the leading end, for track reactions", example=["300 mm", "1800 mm"]
    )
    track_capacity: Annotated[float, Dim("capacity", above=0)] | None = declare(
        "Capacity of one support of the track", example="10 t"
    )


class Clearance(Table):
    """A dimension measured during close-up, with limits."""

    id: Id = require("Id of the clearance", example="axial-float")
    title: Text = require("Title printed on screens and sheets", example="Axial float")
    kind: ClearanceKind = require("measure, float-split, shim, tilting-pad or probe")
    notes: Text | None = declare("Notes")
    low: Distance | None = declare("Least value accepted", needs="limits", example="0.30 mm")
    high: Distance | None = declare("Greatest value accepted", needs="limits", example="0.45 mm")
    diametral: YesNo | None = declare("true if the limits are on diameter, false if on radius")
    sides: YesNo | None = declare(
        "Whether it is read by feelers on opposite sides: their sum is the clearance on diameter", shown_default="false"
    )
    split: Share | None = declare(
        "Share of the total float towards the active side",
        shown_default="0.5",
        errs="half and half; the drawing governs",
        example=0.5,
    )
    offset: Distance | None = declare("Offset from the middle of the float, instead of split", example="0.10 mm")
    split_tolerance: Length | None = declare(
        "± tolerance of the place the rotor is set to in its float", example="0.05 mm"
    )
    growth: Distance | None = declare(
        "How far the rotor moves away from the active stop from cold to running; it is set back by this",
        shown_default="0 mm",
        errs="none: the drawing's cold place is taken as it is",
        example="0.15 mm",
    )
    thrust_float: Gap | None = declare("Float in the thrust shoes, to tell the rotor on either face", example="0.33 mm")
    pads: Annotated[int, Num(least=3, most=12, whole=True)] | None = declare(
        "Number of tilting pads", needs="lift_factor", example=5
    )
    between_pads: YesNo | None = declare("Whether the lift acts between two pads", needs="lift_factor")
    as_found: Distance | None = declare("Value found before the work", example="0.38 mm")
    as_left: Distance | None = declare(
        "Value left after the work, or measured where none was found; usually entered in the record",
        example="0.36 mm",
    )
    wanted: Distance | None = declare("Wanted value, for a shim to add or take", example="0.36 mm")
    shim: Gap | None = declare("Shim that is in place", example="1.50 mm")
    shim_set: Annotated[tuple[float, ...], Many(Dim("length", above=0), least=1, most=40)] | None = declare(
        "Shims of the kit's set, each there once: the pack is picked out of them", example=["6.00 mm", "0.50 mm"]
    )
    position: Distance | None = declare(
        "Rotor on its active shoes as found, from the stop they hold it off; with wanted_position", example="3.90 mm"
    )
    wanted_position: Distance | None = declare(
        "Rotor on its active shoes as wanted, from the same stop", needs="shim_sides", example="4.00 mm"
    )
    side: Text | None = declare("Side the shim sits on", example="active side")
    sensitivity: Annotated[float, Num(above=0, most=100)] | None = declare(
        "Probe sensitivity in mV/um", usual="7.87", example=7.87
    )
    curve: Annotated[tuple[tuple[float, float], ...], Many(PROBE_ROW, least=2, most=40)] | None = declare(
        "The probe's own curve: gaps with their voltages, gives the sensitivity where that is not given",
        example=[["0.5 mm", "-4 V"], ["1.5 mm", "-11.9 V"]],
    )
    axial_float: Gap | None = declare(
        "Float over which the probe must stay in its linear range, set at the middle of it", example="0.33 mm"
    )
    reading: Annotated[float, Dim("voltage")] | None = declare("Probe gap voltage", example="10 V")
    source: Text | None = declare("Drawing the limits come from", example="drawing, rev B")

    @model_validator(mode="after")
    def _limits(self) -> "Clearance":
        said = []
        if self.low is not None and self.high is not None and self.low > self.high:
            said.append("low is more than high")
        if self.split is not None and self.offset is not None:
            said.append("give either split or offset, not both")
        if self.sides and (self.kind != "measure" or self.diametral is None):
            said.append('sides needs kind = "measure" and diametral = true or false')
        if self.curve is not None and any(b[0] <= a[0] or b[1] >= a[1] for a, b in itertools.pairwise(self.curve)):
            said.append("curve: gaps must rise from row to row and voltages go further below zero")
        if said:
            raise wrong("; ".join(said))
        return self


class Window(Table):
    """A time limit between two moments of the order of work."""

    id: Id = require("Id of the window", example="bead-open")
    title: Text = require("Title printed on screens and sheets", example="Sealing compound open time")
    from_: Text | None = declare(
        'Moment it starts: "STEP.start" or "STEP.done"', alias="from", needs="window", example="bead.done"
    )
    to: Text | None = declare('Moment it ends: "STEP.start" or "STEP.done"', needs="window", example="second-pass.done")
    at_least: Time | None = declare("Shortest time allowed", needs="window", example="10 min")
    at_most: Time | None = declare("Longest time allowed", needs="window", example="45 min")

    @model_validator(mode="after")
    def _limits(self) -> "Window":
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


ItemKind = Annotated[str, Choice(("seal", "lubricant", "guide pins", "instrument", "other"))]
Reads = Annotated[
    str,
    Choice(("length", "angle", "torque", "force", "pressure", "temperature", "voltage", "mass", "time", "share")),
]


class Item(Table):
    """A part or consumable for the kit list and the count-out."""

    id: Id = require("Id of the item", example="cover-o-ring")
    title: Text = require("Title printed on screens and sheets", example="O-ring, head cover")
    kind: ItemKind | None = declare(
        "What it is, where the program has to know: a lubricant or guide pins stand for the kit list's own line, a seal ages, "
        "an instrument reads",
        example="seal",
    )
    size: Text | None = declare("Size", example="990 x 7")
    material: Text | None = declare("Material or compound", example="HNBR 90")
    quantity: CountOrNone | None = declare("How many are needed", needs="kit", example=1)
    spare: CountOrNone | None = declare("How many spares", shown_default="0", example=1)
    cure_date: Date | None = declare("Cure date of an elastomer")
    batch: Text | None = declare("Batch", example="B-2231")
    serial: Text | None = declare("Serial number of an instrument", example="DM-3")
    calibration_due: Date | None = declare("Date the calibration of an instrument runs out")
    reads: Reads | None = declare(
        "Kind of quantity an instrument reads", shown_default="offered for every reading", example="length"
    )
    used_in: Annotated[str | tuple[str, ...], Either((Words(longest=64), Many(Words(longest=64))))] | None = declare(
        "Id of what it is used in, or a list of ids", example="discharge-head"
    )
    count_out: YesNo | None = declare("Must be counted out again before closing", shown_default="false")


class Step(Table):
    """One line of the order of work."""

    id: Id = require("Id of the step", example="pull-down")
    text: Text | None = declare("What is done", example="Pull down the head cover")
    title: Text | None = declare("Short title", shown_default="the text", example="Head cover")
    joint: Text | None = declare("Id of the joint this step works on", example="discharge-head")
    lift: Text | None = declare("Id of the lift", example="head-lift")
    fit: Text | None = declare("Id of the fit", example="thrust-collar")
    removal: YesNo | None = declare(
        "Whether the fit of this step is taken off instead of mounted", shown_default="false"
    )
    insertion: Text | None = declare("Id of the insertion", example="bundle-in")
    clearance: Text | None = declare("Id of the clearance", example="axial-float")
    passes: Annotated[tuple[int | str, ...], Many(PassName)] | None = declare(
        'Passes of the joint in this step, as in ["snug", 1]', example=["snug", 1]
    )
    bolts: Bolts | None = declare("Bolts of the joint in this step", example=[1, 2, 3, 4])
    needs: Ids | None = declare("Ids of steps that must be done before", example=["clean-studs"])
    hold: Text | None = declare("Role that signs before the work goes on: a hold point", example="supervisor")
    hold_statement: Text | None = declare(
        "What the hold is signed on, as it stands on screen, paper and in the record",
        shown_default="by the kind of the step",
        example="Gap closed all round: the 0.05 mm feeler does not enter",
    )
    witness: Text | None = declare("Role that is called to witness", example="inspector")
    minutes: Minutes | None = declare("Planned minutes", needs="window", example=45)
    crew: CountOrNone | None = declare("People needed", example=2)
    test: TestWith | None = declare("This step is a pressure or leak test: with gas or with liquid", example="gas")
    test_pressure: PressureAboveZero | None = declare("Pressure of the test", needs="leak_test", example="6 bar")
    test_pressure_max: PressureAboveZero | None = declare(
        "Greatest pressure of the test: set of the relief valve",
        shown_default="10 % above test_pressure, 3.45 bar at most",
        errs="safe: the lesser",
        source="ASME B31.3 345.5.2, not checked against the standard's text",
        example="6.5 bar",
    )
    test_hold: Time | None = declare(
        "Time between the reading at the start and the one at the end", needs="leak_test", example="30 min"
    )
    test_drop: Annotated[float, Dim("pressure", least=0)] | None = declare(
        "Greatest drop of pressure over the hold, both readings at one temperature",
        needs="leak_test",
        example="0.1 bar",
    )
    bar_over: Torque | None = declare(
        "Greatest torque with which the rotor breaks away by hand in this step", example="180 N*m"
    )
    caution: Text | None = declare(
        "A caution of this step, shown before it starts", example="Hands clear of the reaction arm"
    )

    @model_validator(mode="after")
    def _points_at_one(self) -> "Step":
        given = [n for n in ("joint", "lift", "fit", "insertion", "clearance") if getattr(self, n) is not None]
        said = []
        if len(given) > 1:
            said.append(f"a step points at one thing; {' and '.join(given)} are given")
        tests = [
            n for n in ("test_pressure", "test_pressure_max", "test_hold", "test_drop") if getattr(self, n) is not None
        ]
        if tests and self.test is None:
            said.append(f'{tests[0]} needs test = "gas" or test = "liquid"')
        if self.test_drop is not None and self.test_pressure is not None and self.test_drop >= self.test_pressure:
            said.append("test_drop is not less than test_pressure: is the unit right?")
        most = self.test_pressure_max
        if most is not None and self.test_pressure is not None and most < self.test_pressure:
            said.append("test_pressure_max is less than test_pressure")
        if given and (tests or self.bar_over is not None):
            what = tests[0] if tests else "bar_over"
            said.append(f"{what} needs a step of its own, without {given[0]}")
        if self.hold_statement is not None and self.hold is None:
            said.append("hold_statement needs hold: the role that signs it")
        if self.removal and self.fit is None:
            said.append("removal needs a fit")
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
