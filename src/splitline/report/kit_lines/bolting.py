"""What pulling the joints down takes: sockets, wrenches, tensioners, heaters, pumps and gauges."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.assess.settings import JointSettings
from splitline.plan.model import Joint, Plan
from splitline.plan.passes import passes_of
from splitline.report.kit_lines.gauges import gauge_line
from splitline.report.kit_lines.line import Line, flats_said, merged
from splitline.units import System, show

SOCKETS, WRENCHES, PUMPS, HEATERS = "Sockets and keys", "Wrenches and tensioners", "Pumps and gauges", "Stud heaters"
_TWO_NUTS = ("through-stud", "bolt")


def bolting_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of all joints."""
    found: list[Line] = []
    for joint in plan.joints:
        item = assessment.find("joint", joint.id)
        groups = [item.results, *(size.results for size in item.sizes)] if item is not None else [{}]
        found += _sockets(joint, groups, system)
        found += _tools(joint, groups, item.settings if item is not None else None, system)
    order = (SOCKETS, WRENCHES, HEATERS, PUMPS)
    return sorted(merged(found), key=lambda line: order.index(line.section))


def _method(joint: Joint) -> str:
    return joint.tightening.method if joint.tightening is not None else ""


def _together(joint: Joint) -> int:
    return (joint.tightening.tools_together or 1) if joint.tightening is not None else 1


def _sockets(joint: Joint, groups: list[Mapping[str, Any]], system: System) -> Iterator[Line]:
    kinds = [joint.bolting, *(size.bolting for size in joint.size)]
    main = joint.bolting
    for place, results in enumerate(groups):
        own = kinds[place] if place < len(kinds) else None
        kind = (own.kind if own else None) or (main.kind if main else None)
        nut = (own.nut if own else None) or (main.nut if main else None)
        thread = (own.thread if own else None) or (main.thread if main else None)
        size = flats_said(results.get("across_flats"), thread, system)
        what = (
            "hexagon key bit" if kind == "cap-screw" else "twelve-point socket" if nut == "twelve-point" else "socket"
        )
        if _method(joint) == "hydraulic tensioner":
            yield Line(SOCKETS, what, size, 1, 1, (), (joint.id,), "to run nuts down by hand")
        else:
            yield Line(SOCKETS, what, size, _together(joint), 1, (), (joint.id,))
        if kind in _TWO_NUTS:
            yield Line(
                SOCKETS, "backing wrench", size, _together(joint), 1, (), (joint.id,), "holds the other nut or head"
            )


def _tools(
    joint: Joint, groups: list[Mapping[str, Any]], settings: JointSettings | None, system: System
) -> Iterator[Line]:
    method = _method(joint)
    if method == "hydraulic tensioner":
        yield from _tensioners(joint, groups[0], settings, system)
    elif method == "heat":
        yield from _heaters(joint, groups, system)
        yield from _snug_wrench(joint, groups, system)
    else:
        yield from _wrenches(joint, groups, settings, system)


def _wrenches(
    joint: Joint, groups: list[Mapping[str, Any]], settings: JointSettings | None, system: System
) -> Iterator[Line]:
    method = _method(joint)
    kind = method if method in ("torque wrench", "hydraulic wrench") else "torque wrench"
    tools = joint.tightening.tool if joint.tightening is not None else ()
    for place, tool in enumerate(tools, 1):
        span = _span(tool.torque_min, tool.torque_max, "torque", system)
        due = f"calibrated until {tool.calibration_due.isoformat()}" if tool.calibration_due else "calibration: on site"
        name = (tool.name or str(place)).removeprefix("wrench ")
        what = f"{kind} {name}"
        yield Line(WRENCHES, what, span, 1, 0, (tool.serial,) if tool.serial else (), (joint.id,), due)
    short = _together(joint) - len(tools)
    if short > 0:
        yield Line(WRENCHES, kind, _needed_span(groups, system), short, 0, (), (joint.id,), "not chosen in the plan")
    yield Line(WRENCHES, f"spare {kind}", _needed_span(groups, system), 0, 1, (), (joint.id,))
    if method == "hydraulic wrench":
        for pump in _pump_names(joint):
            own = [tool for tool in tools if (tool.pump or "") == pump]
            at_once = min(_together(joint), len(own)) if pump else _together(joint)
            named = f"pump {pump.removeprefix('pump ')}" if pump else "pump"
            yield Line(PUMPS, f"{named} for hydraulic wrenches, with hoses", _outlets(at_once), 1, 0, (), (joint.id,))
            gauge = f"gauge of {named}" if pump else "gauge of the wrench pump"
            top = max(set_pressures(joint, settings, pump), default=None)
            yield gauge_line(gauge, top, joint.id, system, joint=joint)


def _outlets(tools: int) -> str:
    return f"{tools} tool{'s' if tools > 1 else ''} at once"


def _pump_names(joint: Joint) -> list[str]:
    """The pumps of a joint; "" for the one of all tools that name none."""
    tools = joint.tightening.tool if joint.tightening is not None else ()
    return list(dict.fromkeys(tool.pump or "" for tool in tools)) or [""]


def set_pressures(joint: Joint, settings: JointSettings | None, pump: str) -> list[float]:
    """Every pressure a pump of this joint is set to, Pa, over sizes, passes and its tools."""
    if settings is None or settings.by != "pressure":
        return []
    shares = passes_of(joint.tightening).shares
    own = {tool.name for size in settings.sizes for tool in size.tools if tool.pump == pump}
    told = (each for share in shares for size in range(len(settings.sizes)) for each in settings.by_tool(size, share))
    return [each.value for each in told if each.value is not None and each.tool in own]


def _span(low: float | None, high: float | None, kind: str, system: System) -> str | None:
    if low is None and high is None:
        return None
    if low is None or high is None:
        return f"up to {show(high, kind, system)}" if high is not None else f"from {show(low or 0.0, kind, system)}"
    return f"{show(low, kind, system)} to {show(high, kind, system)}"


def _needed_span(groups: list[Mapping[str, Any]], system: System) -> str | None:
    """Torques of all passes and sizes, as the assessment has them."""
    values = [float(value) for group in groups for value in group.get("torque_passes") or ()]
    values += [float(group["torque_snug"]) for group in groups if group.get("torque_snug")]
    return f"sets {_span(min(values), max(values), 'torque', system)}" if values else None


def _tensioners(
    joint: Joint, results: Mapping[str, Any], settings: JointSettings | None, system: System
) -> Iterator[Line]:
    tools = joint.tightening.tool if joint.tightening is not None else ()
    steps = results.get("order_steps") or ()
    heads = max((len(step) for step in steps), default=0) or None
    thread = joint.bolting.thread if joint.bolting is not None and joint.bolting.thread else None
    for tool in {tool.threads: tool for tool in reversed(tools)}.values():  # the first of each kind
        size = ", ".join(tool.threads) if tool.threads else thread
        if size is not None and tool.piston_area is not None:
            size += f", area {show(tool.piston_area, 'area', system)}"
        due = f"calibrated until {tool.calibration_due.isoformat()}" if tool.calibration_due else "calibration: on site"
        serials = (tool.serial,) if tool.serial else ()
        yield Line(WRENCHES, f"tensioner head, {tool.name or 'tensioner'}", size, heads, 1, serials, (joint.id,), due)
    if not tools:
        yield Line(WRENCHES, "tensioner head", thread, heads, 1, (), (joint.id,), "not chosen in the plan")
    for pump in _pump_names(joint):
        named = f"pump {pump.removeprefix('pump ')}" if pump else "pump"
        size = _outlets(heads) if heads else None
        yield Line(PUMPS, f"{named} for tensioners, with hoses", size, 1, 0, (), (joint.id,))
        values = [*set_pressures(joint, settings, pump), *(results.get("group_pressures") or ())]
        gauge = f"gauge of {named}" if pump else "gauge of the tensioner pump"
        yield gauge_line(gauge, max(values, default=None), joint.id, system, joint=joint)


def _heaters(joint: Joint, groups: list[Mapping[str, Any]], system: System) -> Iterator[Line]:
    """A heater for the bore and the rise of every size."""
    main = joint.bolting
    sizes = [main, *(size.bolting for size in joint.size)]
    for own, results in zip(sizes, groups, strict=False):
        bore = own.heater_bore if own is not None else None
        if bore is None and own is not main and own is not None and own.thread is None and main is not None:
            bore = main.heater_bore
        size = f"for a bore of {show(bore, 'length', system)}" if bore is not None else None
        rise = results.get("heat_rise")
        said = show(rise, "temperature_difference", system) if rise is not None else ""
        note = f"heats the stud by {said}" if said else "rise not known"
        yield Line(HEATERS, "stud heater", size, _together(joint), 1, (), (joint.id,), note)


def _snug_wrench(joint: Joint, groups: list[Mapping[str, Any]], system: System) -> Iterator[Line]:
    """What the nuts are snugged with before they are turned by an angle."""
    if passes_of(joint.tightening).snug > 0:
        yield Line(WRENCHES, "torque wrench", _needed_span(groups, system), 1, 1, (), (joint.id,), "for the snug")
