"""The sheet of a joint: the map, what is pulled to what with which tool, and places to write down what was done."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from splitline.assess.gauge import gauge_said
from splitline.assess.joint_tools import tool_name
from splitline.assess.result import ItemResult
from splitline.assess.settings import Setting
from splitline.assess.tightening_list import ListedPass, OrderList, numbered, order_list
from splitline.plan.model import Joint, Plan
from splitline.plan.numbers import bolts_by_size
from splitline.plan.passes import BY_LENGTH, BY_NUT
from splitline.report.blocks import (
    MISSING,
    Beside,
    Blank,
    Block,
    Cell,
    Facts,
    Heading,
    Large,
    Para,
    Picture,
    Sheet,
    Strong,
    Table,
    text_of,
)
from splitline.report.kit_lines.line import flats_said
from splitline.report.pictures.bolt_map import Looks, bolt_map
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.report.sheets.joint_log import log_blocks
from splitline.report.sheets.joint_sizes import size_facts, size_table
from splitline.units import show

LARGE = 60  # bolts from which the map takes the whole width

CAUTION = 4.5  # mm of height a caution takes on the first page


def joint_sheet(joint: Joint, result: ItemResult, plan: Plan, options: Options) -> Sheet:
    """The sheet of one joint."""
    listed = order_list(joint, result)
    blocks: list[Block] = [*common.cautions_of(result)]
    blocks += common.broken(result, options.system)
    blocks += _head(joint, result, options)
    blocks += size_table(joint, result, listed, options.system)
    blocks += settings(joint, result, listed, options)
    blocks += [*_groups(joint, result, options), *_order(listed)]
    first = () if common.steps_of(plan, "joint", joint.id) else (("Joint closed", ""),)
    blocks += common.signs(plan, "joint", joint.id, *first)
    blocks += common.to_watch(result, options.system)
    blocks += log_blocks(joint, result, listed, options)
    blocks += [Heading("Notes"), Para(joint.notes)] if joint.notes else []
    return Sheet("joint", joint.id, joint.title, tuple(blocks), "Bolting sheet")


def _head(joint: Joint, result: ItemResult, options: Options) -> list[Block]:
    count = joint.layout.count if joint.layout is not None else None
    picture = _map(joint, result, options, count or 0)
    about = _about(joint, result, options, count)
    if picture is None:
        words = "The bolt map is missing: the plan does not say where the bolts are."
        return [Facts((("Bolt map", MISSING),)), Para(words, "strong"), about]
    if (count or 0) > LARGE or (joint.layout is not None and joint.layout.shape == "split-line"):
        half = -(-len(about.rows) // 2)
        return [picture, Beside((Facts(about.rows[:half]),), (Facts(about.rows[half:]),), 0.5)]
    return [Beside((picture,), (about,), 0.55)]


def _map(joint: Joint, result: ItemResult, options: Options, count: int) -> Picture | None:
    wide = count > LARGE or (joint.layout is not None and joint.layout.shape == "split-line")
    room = options.room if wide else (options.room - 4) * 0.55
    whole = 175.0 - CAUTION * max(len(result.cautions) - 2, 0)  # map and cautions share the first page
    high = (whole if joint.layout is not None and joint.layout.shape == "circle" else 100.0) if wide else room + 4
    measured = joint.acceptance.measured_bolts if joint.acceptance and joint.acceptance.measured_bolts else ()
    others = {bolt for size in joint.size for bolt in size.bolts}
    looks = Looks(diameters(result, count), others, measured, _words(joint), options.system)
    drawing = bolt_map(joint, looks, room, high, options.paper.zoom)
    if drawing is None:
        return None
    seen = joint.layout.seen_from if joint.layout is not None else None
    caption = [f"Seen from {seen}." if seen else "Seen from: missing, ask before the first bolt."]
    caption += ["Grey: bolts of another size."] if others else []
    caption += ["Dot: stretch is read."] if measured else []
    return Picture(drawing, " ".join(caption))


def _words(joint: Joint) -> tuple[str, ...]:
    bolting, layout = joint.bolting, joint.layout
    count = layout.count if layout is not None else 0
    kind = {"stud": "studs", "through-stud": "studs", "cap-screw": "cap screws"}.get(
        bolting.kind if bolting else "", "bolts"
    )
    lines = [bolts_by_size(joint) or f"{count} {kind}"]
    lines.append(numbered(layout))
    return tuple(lines)


def diameters(result: ItemResult, count: int) -> Mapping[int, float]:
    """Thread diameter of every bolt, m, as the assessment made the joint up."""
    made_up = result.joint.made_up
    found: dict[int, float] = {}
    for place, size in enumerate(made_up.sizes if made_up is not None else ()):
        if size.thread is not None:
            bolts = size.bolts if place else range(1, count + 1)
            found |= dict.fromkeys(bolts, size.thread.d)
    return found


def _about(joint: Joint, result: ItemResult, options: Options, count: int | None) -> Facts:
    bolting, system = joint.bolting, options.system
    target = joint.target
    friction = joint.friction
    return common.facts(
        [
            ("Bolts", f"{count} × {bolting.kind if bolting else 'bolt'}" if count else MISSING),
            ("Thread", common.given(bolting.thread if bolting else None)),
            *((f"Bolts {_list(size.bolts)}", size.bolting.thread or "differ") for size in joint.size),
            ("Grade", _grade(bolting, system)),
            ("Socket, across flats", _socket(joint, result, system)),
            ("Lubricant", common.strong(_lubricant(friction))),
            ("Method", common.strong(common.given(joint.tightening.method if joint.tightening else None))),
            *size_facts(joint, result, system),
            ("Greatest gap after", _gap(joint, system)),
            ("Target from", target.source if target and target.source else None),
        ]
    )


def _socket(joint: Joint, result: ItemResult, system: Any) -> Cell:
    """Across flats of every size, as stamped on the sockets."""
    main = joint.bolting.thread if joint.bolting is not None else None
    threads = [main, *(size.bolting.thread or main for size in joint.size)]
    groups = [result.results, *(size.results for size in result.sizes)]
    said = [
        flats_said(group.get("across_flats"), thread, system) for group, thread in zip(groups, threads, strict=False)
    ]
    return MISSING if any(text is None for text in said) else ", ".join(dict.fromkeys(text for text in said if text))


def _grade(bolting: Any, system: Any) -> Cell:
    if bolting is None:
        return MISSING
    if bolting.grade:
        return str(bolting.grade)
    return f"yield {show(bolting.yield_strength, 'stress', system)}" if bolting.yield_strength else MISSING


def _lubricant(friction: Any) -> Cell:
    if friction is None:
        return MISSING
    if friction.lubricant:
        return str(friction.lubricant)
    if friction.nut_factor is not None:
        return f"nut factor {friction.nut_factor:g}"
    if friction.thread is not None:
        return f"friction {friction.thread:g} in the thread, {friction.bearing or friction.thread:g} under the nut"
    return MISSING


def _gap(joint: Joint, system: Any) -> Cell | None:
    own = joint.acceptance
    return f"{show(own.gap_max, 'length', system)} must not enter" if own and own.gap_max is not None else None


def _list(bolts: tuple[int, ...]) -> str:
    return ", ".join(str(bolt) for bolt in bolts)


def settings(joint: Joint, result: ItemResult, listed: OrderList, options: Options) -> list[Block]:
    """Set value of each pass for each tool and size; and what the tools are."""
    if not listed.passes:
        why = next(
            (check.note for check in result.checks if check.key in ("order", "tool", "torque") and check.note), ""
        )
        return [Heading("Set values"), Facts((("Passes and order", MISSING),)), *([Para(why)] if why else [])]
    several, method = len(listed.sizes) > 1, joint.tightening.method if joint.tightening is not None else ""
    tools = [] if method in BY_LENGTH else _tools(joint)
    head = ["Pass", "Share", *(("Size",) if several else ()), "Preload"]
    head += [] if method == "hydraulic tensioner" else ["Snug torque" if method in BY_LENGTH else "Torque"]
    head += ["Heat by"] if method == "heat" else []
    head += ["Nut turn from snug, in all"] if method in BY_NUT else []
    head += ["Stretch"] if method in BY_LENGTH else [_set_head(result, name) for name, _ in tools]
    rows: list[tuple[Cell, ...]] = []
    for one in listed.passes:
        for size, name in enumerate(listed.sizes):
            setting = one.settings[size]
            cells: list[Cell] = [Strong(pass_words(one.name)), f"{one.share:.0%}", *((name,) if several else ())]
            cells.append(common.shown(setting.preload, "force", options.system))
            if method in BY_LENGTH:
                cells += _by_length(setting, one.name, method, options)
            elif method != "hydraulic tensioner":
                cells.append(common.shown(setting.torque, "torque", options.system))
            cells += [_set(result, one, size, tool, options) for tool, _ in tools]
            rows.append(tuple(cells))
    align: Any = ("left", "right", *(("left",) if several else ()), *("right",) * len(head))[: len(head)]
    return [Table(tuple(head), tuple(rows), (), align, title="Set values, pass by pass")]


def _by_length(setting: Setting, name: str, method: str, options: Options) -> list[Cell]:
    """Snug torque in the snug pass; heating, turn and stretch in the others; the figure that is worked to is large."""
    snug, round_, system = name == "snug", name.startswith("round"), options.system
    torque: Cell = common.large(common.shown(setting.torque, "torque", system)) if snug else ""
    if snug and setting.torque is None:
        torque = setting.why or MISSING
    cells = [torque]
    if method == "heat":
        none = snug or round_
        cells.append("" if none else common.large(common.shown(setting.heat, "temperature_difference", system)))
    if method in BY_NUT:
        turned = common.large(common.shown(setting.turn, "angle", system)) if not setting.why else setting.why
        cells.append("" if snug or round_ else turned)
    stretch = common.shown(setting.stretch, "length", system)
    wanted = setting.stretch is not None or not (snug or setting.why)
    cells.append(("" if not wanted else stretch) if method in BY_NUT else common.large(stretch))
    return cells


def pass_words(name: str) -> str:
    """A pass as it is said."""
    return name if name[:1].isalpha() else f"pass {name}"


def _tools(joint: Joint) -> list[tuple[str, str]]:
    """(name, serial) of every tool; a joint without one has a column that says so."""
    tools = joint.tightening.tool if joint.tightening is not None else ()
    return [(tool_name(tool, place), tool.serial or "") for place, tool in enumerate(tools, 1)] or [("", "")]


def _set_head(result: ItemResult, tool: str) -> str:
    """What is set for a tool: the pump it hangs on, or the wrench itself."""
    name = tool or "tool"
    by_pump = result.settings is not None and result.settings.by == "pressure"
    return f"Set pump to, {name}" if by_pump else f"Set {name} to"


def _set(result: ItemResult, one: ListedPass, size: int, tool: str, options: Options) -> Cell:
    """The value this tool is set to in this pass, large; or in words why it cannot be."""
    setting = result.settings.of_size(size, one.share, tool) if result.settings is not None else Setting()
    if setting.value is None:
        return setting.why or MISSING
    return Large(setting.text(options.system))


def _groups(joint: Joint, result: ItemResult, options: Options) -> list[Block]:
    """Tensioners: load and pressure of each group in the last pass, so that all end level."""
    results = result.results
    loads, pressures = results.get("group_loads"), results.get("group_pressures")
    if not loads or not pressures:
        return []
    rows = [
        (
            Strong(str(number)),
            ", ".join(str(bolt) for bolt in step),
            common.shown(load, "force", options.system),
            gauge_said(pressure, joint, options.system),  # plain: nothing but a set value stands out
        )
        for number, (step, load, pressure) in enumerate(
            zip(results.get("order_steps") or (), loads, pressures, strict=False), 1
        )
    ]
    head = ("Group", "Bolts", "Predicted: load on release", "Predicted: pressure")
    return [
        Table(
            head,
            tuple(rows),
            (0.7, 4, 1.6, 1.6),
            ("left", "left", "right", "right"),
            "Tensioner groups; predicted figures end level, the set values above govern",
        )
    ]


def _order(listed: OrderList) -> list[Block]:
    """The order within a pass, with a box for each pass."""
    if not listed.steps:
        return []
    several = len(listed.sizes) > 1
    head = ["Pull", "Bolts", *(("Size",) if several else ()), *(pass_words(one.name) for one in listed.passes)]
    rows = []
    for number, (step, size) in enumerate(zip(listed.steps, listed.size_of, strict=True), 1):
        said = " + ".join(map(str, step))
        row: list[Cell] = [str(number), Strong(said if len(said) > 24 else said.replace(" ", "\u00a0"))]
        row += [listed.sizes[size]] if several else []
        rows.append((*row, *(Blank() for _ in listed.passes)))
    longest = max(len(text_of(row[1])) for row in rows)
    beside = 1 if longest > 24 or len(rows) <= 4 else 2 if len(listed.passes) > 2 else 3
    widths = (0.9, min(1 + longest / 5, 6), *((1.0,) if several else ()), *(1.0,) * len(listed.passes))
    title = "Order within every pass, tick each pull"
    if listed.max_rounds is not None:
        title += f"; check rounds at 100 % until no nut moves, after {listed.max_rounds} ask"
    return [Table(tuple(head), tuple(rows), widths, (), title, beside)]
