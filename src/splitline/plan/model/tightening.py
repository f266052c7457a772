"""How a joint is tightened: tools, passes, acceptance."""

import itertools
from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    Bolts,
    Choice,
    Date,
    Dim,
    Gap,
    Length,
    Many,
    Num,
    Numbers,
    PressureAboveZero,
    Row,
    Setting,
    Share,
    ShareAboveZero,
    Table,
    Text,
    Torque,
    TorquePerPressure,
    Words,
    declare,
    require,
    wrong,
)

Method = Annotated[str, Choice(("torque wrench", "hydraulic wrench", "hydraulic tensioner", "stretch", "turn", "heat"))]
ToolsTogether = Annotated[int, Numbers((1, 2, 4))]
Order = Annotated[str, Choice(("cross", "quadrant", "round", "centre-out", "listed"))]
CHART_ROW = Row((Dim("pressure", least=0), Dim("torque", least=0)), 'a pair, as in ["100 bar", "1160 N*m"]')


class Tool(Table):
    """One tightening tool; where there is only one, single brackets will do."""

    name: Text | None = declare("Name of the tool on site", example="wrench W2")
    serial: Text | None = declare("Serial number; on-site if absent", example="W2-0173")
    pump: Text | None = declare(
        "Pump this tool hangs on; tools that name none share one",
        shown_default="one pump for all",
        example="pump A",
    )
    threads: Annotated[tuple[str, ...], Many(Words("threads"), least=1, most=20)] | None = declare(
        "Threads of the bolts this tool is for", shown_default="every size of the joint", example=["M64x4", "M80x4"]
    )
    torque_min: Torque | None = declare("Least torque of the tool", example="800 N*m")
    torque_max: Torque | None = declare("Greatest torque of the tool", needs="tool_range", example="8000 N*m")
    chart: Annotated[tuple[tuple[float, float], ...], Many(CHART_ROW, least=2, most=100)] | None = declare(
        "Pressure and torque pairs from this serial's chart",
        needs="wrench_pressure",
        example=[["100 bar", "1160 N*m"], ["700 bar", "8120 N*m"]],
    )
    torque_per_pressure: TorquePerPressure | None = declare(
        "Torque per pump pressure", needs="wrench_pressure", example="11.6 N*m/bar"
    )
    piston_area: Annotated[float, Dim("area", above=0)] | None = declare(
        "Pressure area of a tensioner", needs="tensioner_pressure", example="6000 mm^2"
    )
    pressure_max: PressureAboveZero | None = declare("Greatest pump pressure", needs="tool_range", example="700 bar")
    stroke: Length | None = declare("Stroke of a tensioner", example="10 mm")
    loss: Annotated[float, Num(least=1, most=3)] | None = declare(
        "Tensioner load loss: pull over what stays",
        shown_default="from the stiffness of stud, nut and members",
        errs="middle: the tool's own factor governs",
        source="springs in series",
        example=1.15,
    )
    calibration_due: Date | None = declare("Date the calibration runs out; on-site if absent")

    @model_validator(mode="after")
    def _range(self) -> "Tool":
        if self.torque_min and self.torque_max and self.torque_min >= self.torque_max:
            raise wrong("torque_min must be less than torque_max")
        rows = self.chart or ()
        if any(b[0] <= a[0] or b[1] < a[1] for a, b in itertools.pairwise(rows)):
            raise wrong("chart: pressures must rise from row to row and torques never fall")
        return self


class Tightening(Table):
    """How the joint is pulled down."""

    method: Method = require("torque wrench, hydraulic wrench, hydraulic tensioner, stretch, turn or heat")
    tools_together: ToolsTogether | None = declare(
        "Tools working at once (1, 2 or 4), opposite one another",
        shown_default="1",
        errs="slowest; one tool closes unevenly",
    )
    order: Order | None = declare("Order within a pass", shown_default="cross on a circle, centre-out on a split line")
    listed: Bolts | None = declare('Bolt numbers in order, with order = "listed"')
    snug: Share | None = declare(
        "Share of target of the snug pass; 0 for none",
        shown_default="0.1",
        errs="usual",
        source="common practice, no published source",
        example=0.1,
    )
    passes: Annotated[tuple[float, ...], Many(Num(above=0, most=1.2), least=1, most=20)] | None = declare(
        "Shares of the target, pass by pass",
        shown_default="0.3, 0.6, 1.0; by heat 1.0 alone",
        errs="three, the usual least",
        example=[0.3, 0.6, 1.0],
    )
    finish_rounds: Annotated[int, Num(least=0, most=20, whole=True)] | None = declare(
        "Planned rounds at 100 %; on the job: until no nut moves",
        shown_default="1; 0 by turn and heat",
        errs="least; on the job until no nut moves",
        example=1,
    )
    max_rounds: Annotated[int, Num(least=0, most=50, whole=True)] | None = declare(
        "Most rounds before asking", shown_default="3; 0 by turn and heat", example=3
    )
    scatter: Annotated[float, Num(least=0, most=0.6)] | None = declare(
        "Preload within ± this at two standard deviations",
        shown_default="by method, from the library",
        errs="published bands of the method, the middle",
        example=0.25,
    )
    scatter_common: Share | None = declare(
        "Share of that variance common to all bolts",
        shown_default="0.5",
        errs="one batch and one tool: half",
        example=0.5,
    )
    confidence: Annotated[float, Num(least=0.5, most=0.9999)] | None = declare(
        "Wanted chance that every bolt ends above need and below yield",
        shown_default="0.95",
        errs="what is told after readings; no check hangs on it",
        example=0.95,
    )
    relaxation: Annotated[float, Num(least=0, most=0.5)] | None = declare(
        "Preload lost by embedding",
        shown_default="0.05 metal faces, 0.10 gasketed",
        errs="usual; more with many faces",
        source="common practice, no published source",
        example=0.05,
    )
    gauge_step: Setting | None = declare("Step of gauge or wrench; set values are rounded down to it", example="5 bar")
    coverage: ShareAboveZero | None = declare(
        "Share of the studs tensioned at once", shown_default="0.5", errs="half of the studs at once", example=0.5
    )
    interaction: Annotated[tuple[float, ...], Many(Num(least=-1, most=1), least=1, most=400)] | None = declare(
        "Measured coefficients by distance along the circle, own bolt first; beyond the list 0",
        example=[1.0, -0.08, -0.02],
    )
    minutes_per_step: Annotated[float, Num(above=0, most=600)] | None = declare(
        "Minutes one placing of the tools takes",
        shown_default="4",
        source="common practice, no published source",
        example=4,
    )
    nut_torque: Torque | None = declare(
        "Torque with which the nut is run down by hand while the tensioner holds its pressure",
        shown_default="hand-tight",
        errs="little torque: the nut settles and load is lost; the tool maker's figure governs",
        source="common practice, no published source",
        example="60 N*m",
    )
    tool: tuple[Tool, ...] = declare("The tools", default=())

    @model_validator(mode="after")
    def _listed(self) -> "Tightening":
        if self.order == "listed" and self.listed is None:
            raise wrong('order = "listed" needs listed = [...] with every bolt once')
        if self.listed is not None and self.order not in (None, "listed"):
            raise wrong(f'listed is given but order is "{self.order}"')
        return self


class SizeAcceptance(Table):
    """What readings on bolts of one size are judged by."""

    stretch_low: Length | None = declare(
        "Least stretch accepted, of this size only", shown_default="from target and scatter", example="0.36 mm"
    )
    stretch_high: Length | None = declare(
        "Greatest stretch accepted, of this size only", shown_default="from target and scatter", example="0.46 mm"
    )
    stretch_share: ShareAboveZero | None = declare(
        "Stretch accepted within ± this share of the target stretch of each size", example=0.08
    )
    stretch_tolerance: Length | None = declare(
        "Stretch accepted within ± this of the target stretch of each size", example="0.03 mm"
    )
    torque_low: Torque | None = declare("Least breakaway torque accepted", example="3100 N*m")
    torque_high: Torque | None = declare("Greatest breakaway torque accepted", example="3700 N*m")

    @model_validator(mode="after")
    def _one_tolerance(self) -> "SizeAcceptance":
        if self.stretch_share is not None and self.stretch_tolerance is not None:
            raise wrong("give either stretch_share or stretch_tolerance, not both")
        return self


class Acceptance(SizeAcceptance):
    """What a reading is judged by. Limits are of the main size; tolerances, gap and measured bolts of all sizes."""

    measured_bolts: Bolts | None = declare("Bolts whose stretch is measured", example=[1, 7, 13, 19])
    gap_max: Gap | None = declare(
        "Greatest joint gap after pull-down",
        usual="0.03 to 0.05 mm",
        source="common practice, no published source",
        example="0.05 mm",
    )
