"""What is written down while a joint is tightened: set-up of each pass, every bolt in every pass, stretch, gap."""

from __future__ import annotations

from splitline.assess.accepted import accepted_of
from splitline.assess.gauge import gauge_said
from splitline.assess.result import ItemResult
from splitline.assess.tightening_list import OrderList
from splitline.plan.model import Joint
from splitline.plan.model.tightening import Tool
from splitline.plan.passes import BY_NUT
from splitline.report.blocks import MISSING, Blank, Block, Cell, Heading, Para, Strong, Table, row
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.units import show, split

GAP_PLACES = 12


def log_blocks(joint: Joint, result: ItemResult, listed: OrderList, options: Options) -> list[Block]:
    """All tables to write in."""
    if not listed.passes:
        return []
    return [
        Heading("Job log"),
        *([Para(" ".join(f"▲ {each.short}" for each in result.cautions), "strong")] if result.cautions else []),
        tool_table(joint, options),
        *_paired(joint),
        _set_ups(listed),
        common.small("A batch that was not on this joint before: write why."),
        _by_bolt(joint, listed, options),
        *_stretch(joint, result, listed, options),
        *_gaps(joint, options),
        *_changes(),
    ]


def _words(name: str) -> str:
    return name if name[:1].isalpha() else f"pass {name}"


def tool_table(joint: Joint, options: Options) -> Table:
    """The tools with serial and calibration; what is known only on site is written in."""
    rows: list[tuple[Cell, ...]] = []
    for tool in joint.tightening.tool if joint.tightening is not None else ():
        span: Cell = common.band(tool.torque_min, tool.torque_max, "torque", options.system)
        if tool.piston_area is not None:
            span = f"area {show(tool.piston_area, 'area', options.system)}"
        due: Cell = tool.calibration_due.isoformat() if tool.calibration_due else Blank("on site")
        top: Cell = gauge_said(tool.pressure_max, joint, options.system) if tool.pressure_max else ""
        rows.append((_tool_said(tool), tool.serial or Blank("on site"), span, top, due, Blank()))
    if not rows:
        rows = [(MISSING, Blank("on site"), MISSING, "", Blank("on site"), Blank())]
    head = ("Tool", "Serial", "Range or area", "Pressure at most", "Calibrated until", "Checked by")
    return Table(head, tuple(rows), (1.5, 1.3, 2, 1.3, 1.4, 1.3), title="Tools", tall=True)


def _paired(joint: Joint) -> list[Block]:
    """Which of two tools is meant for which number of a step, so that it can be written down and entered."""
    how = joint.tightening
    if how is None or (how.tools_together or 1) < 2 or len(how.tool) < 2:
        return []
    said = "Where several tools pull a step at once: the first tool on the first number, the next on the next."
    return [common.small(f"{said} The other way round: write it.")]


def _tool_said(tool: Tool) -> str:
    """Its name, the pump it hangs on and the sizes it is for, where they are given."""
    said = [tool.name or "", f"on {tool.pump}" if tool.pump else "", f"for {', '.join(tool.threads or ())}"]
    return ", ".join(part for part in said[: 3 if tool.threads else 2] if part)


def _set_ups(listed: OrderList) -> Table:
    rows = tuple(row(Strong(_words(one.name)), *(Blank() for _ in range(6))) for one in listed.passes)
    head = ("Pass", "Lubricant, batch", "Tool, serial", "Set to", "Started", "Ended", "Name")
    return Table(head, rows, (1.1, 2.2, 1.9, 1.2, 1.2, 1.2, 1.9), title="Set-up of each pass", tall=True)


def _by_bolt(joint: Joint, listed: OrderList, options: Options) -> Table:
    """One line a bolt in the order of tightening; a reading and a name in each pass."""
    method = joint.tightening.method if joint.tightening is not None else ""
    lengths = {"stretch": "length", "heat": "length", "turn": "angle"}
    unit = split(0.0, lengths[method], options.system)[1] if method in lengths else _unit(listed, options)
    passes = listed.passes
    snug = split(0.0, "torque", options.system)[1] if method in BY_NUT else unit  # the nut is turned from a snug torque
    units = [snug if one.name == "snug" else unit for one in passes]
    head = ["Bolt"]
    for one in passes:
        head += [_words(one.name), "name"]
    rows = [
        row(Strong(str(bolt)), *(cell for own in units for cell in (Blank(own), Blank())))
        for step in listed.steps
        for bolt in step
    ]
    beside = 1 if len(passes) > 2 or len(rows) <= 6 else 2
    widths = (0.7, *(1.0, 0.8) * len(passes))
    title = "Reading and name, bolt by bolt in the order of tightening"
    return Table(tuple(head), tuple(rows), widths, ("right",), title, beside, tall=True)


def _unit(listed: OrderList, options: Options) -> str:
    """The unit the tool is read in."""
    units = (setting.figure(options.system)[1] for one in listed.passes for setting in one.settings)
    return next((unit for unit in units if unit), "")


def _stretch(joint: Joint, result: ItemResult, listed: OrderList, options: Options) -> list[Block]:
    """Stretch of the bolts that are measured, or of all where stretch is what is tightened by."""
    accept, method = joint.acceptance, joint.tightening.method if joint.tightening else ""
    bolts = accept.measured_bolts if accept and accept.measured_bolts else ()
    if not bolts and method in ("stretch", "heat"):
        bolts = tuple(bolt for step in listed.steps for bolt in step)
    if not bolts:
        return []
    unit = split(0.0, "length", options.system)[1]
    rows = []
    for bolt in bolts:
        limits = common.stretch_accepted(accepted_of(joint, result, bolt), options.system)
        rows.append((Strong(str(bolt)), limits, Blank(unit), Blank(unit), Blank(unit), Blank()))
    head = ("Bolt", "Accepted stretch", "Length before", "Length after", "Stretch", "Instrument, name")
    title = "Stretch: measure length before and after at one temperature"
    return [Table(head, tuple(rows), (0.7, 2, 1.5, 1.5, 1.3, 1.8), title=title, tall=True)]


def _gaps(joint: Joint, options: Options) -> list[Block]:
    """A gap map before and after, by the clock or along the line."""
    accept = joint.acceptance
    if accept is None or accept.gap_max is None:
        return []
    limit = common.shown(accept.gap_max, "length", options.system)
    circle = joint.layout is None or joint.layout.shape == "circle"
    places = (
        [f"{hour}" for hour in (12, *range(1, 12))] if circle else [f"{place}" for place in range(1, GAP_PLACES + 1)]
    )
    words = "by the clock" if circle else "places along the joint, side a then side b"
    rows: list[tuple[Cell, ...]] = [
        (Strong(word), *(Blank() for _ in places)) for word in ("before", "first pass", "after")
    ]
    title = f"Gap by feeler, {words}; after pull-down {limit} must not enter anywhere"
    return [Table(("", *places), tuple(rows), (1.6, *(1.0,) * len(places)), title=title, tall=True)]


def _changes() -> list[Block]:
    rows = tuple(tuple(Blank() for _ in range(4)) for _ in range(3))
    head = ("Bolt, pass", "Deferred bolt, correction, deviation: action and reason", "Accepted by", "Date, time")
    return [Table(head, rows, (1.2, 4.6, 1.6, 1.4), title="Deferred bolts, corrections, deviations", tall=True)]
