"""Torque tools of a joint: range pass by pass, pump pressures, set values and the preload they give."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.covered import SNUG
from splitline.assess.joint_tools import (
    ISO6789,
    UNEQUAL,
    Plan,
    by_pump,
    check_step,
    joint_settings,
    put_sets,
    safe_pressure,
    tools_for,
    wrench_of,
)
from splitline.assess.joint_types import Hardware
from splitline.assess.settings import JointSettings, Setting, SetTool, SizeSettings
from splitline.bolting import tools as tl
from splitline.errors import InputError
from splitline.plan.model.joint import Joint


def put_wrench(bench: Bench, lines: Lines, joint: Joint, plan: Plan, of: str, size: SizeSettings) -> float | None:
    """Tools against every pass, set values, and the preload from the last set value (None where nothing can be set)."""
    hydraulic = plan.method == "hydraulic wrench"
    if not of:
        check_step(bench, plan, "pressure" if hydraulic else "torque")
    if not size.tools and hydraulic:
        return None
    sets = joint_settings(joint, plan, (size,))
    if size.tools:
        told = _check_range(bench, plan, list(size.tools), size.torque or 0.0, of)
        _check_each_tool(bench, plan, sets, of, told)
    if hydraulic:
        return _set_pressures(bench, lines, joint, plan, sets, of)
    setting = put_sets(lines, sets, plan)
    if setting.value is None or not size.torque:
        return None
    return _put_set(lines, setting, (size.preload or 0.0) * setting.value / size.torque)


def wrenches(bench: Bench, joint: Joint, hydraulic: bool, hw: Hardware) -> tuple[SetTool, ...]:
    """The torque tools for one size of bolts in the order of the plan; one whose chart cannot be read is said once and left out."""
    found = []
    for number, tool in tools_for(joint, hw):
        try:
            found.append(wrench_of(tool, number, hydraulic))
        except InputError as error:
            if not hw.of or tool.threads is not None:
                bench.missing(
                    "wrench_pressure",
                    "chart of the tool" + hw.of,
                    (f"tightening.tool.{number - 1}.chart",),
                    note=bench.said(error),
                )
    return tuple(found)


def _check_range(bench: Bench, plan: Plan, tools: list[SetTool], torque: float, of: str) -> frozenset[float]:
    """Every pass needs a tool that covers it; the last pass is checked against the strongest.

    Returns the shares of the passes that no tool covers.
    """
    title = "torque against the tool's range" + of
    if any(tool.high is None for tool in tools):
        names = ", ".join(tool.name for tool in tools if tool.high is None)
        bench.missing(
            "tool_range", title, ("tightening.tool.torque_max",), ISO6789, f"greatest torque of {names} is not given"
        )
        return frozenset()
    told = set()
    best = max(tools, key=lambda tool: tool.high or 0.0)
    with bench.about(tool=best.name):
        bench.at_most("tool_range", title, torque * max(plan.passes), best.high or 0.0, "torque", ISO6789, best.name)
    for number, share in enumerate(plan.passes, 1):
        if not any(tool.low <= share * torque * (1 + 1e-9) for tool in tools):
            told.add(share)
            low = min(tools, key=lambda tool: tool.low)
            note = f"pass {share:.0%} is {bench.show(share * torque, 'torque')}: take a smaller tool for it"
            title = f"pass {share:.0%} above the least torque of {low.name}{of}"
            with bench.about(tool=low.name, pass_=str(number)):
                bench.at_least("tool_low", title, low.low, share * torque, "torque", ISO6789, note)
        elif not any(tool.covers(share * torque) for tool in tools) and share < max(plan.passes):
            told.add(share)
            note = f"no tool covers {bench.show(share * torque, 'torque')}"
            with bench.about(pass_=str(number)):
                bench.fails("tool_range", f"pass {share:.0%}{of}", ISO6789, note)
    _check_snug(bench, plan, tools, torque, of)
    return frozenset(told)


def _check_snug(bench: Bench, plan: Plan, tools: list[SetTool], torque: float, of: str) -> None:
    """The snug pass may be pulled with another tool, but somebody has to bring it."""
    snug = plan.snug * torque
    if snug <= 0.0 or any(tool.low <= snug * (1 + 1e-9) for tool in tools):
        return
    low = min(tools, key=lambda tool: tool.low)
    shown, least = bench.show(snug, "torque"), bench.show(low.low, "torque")
    note = f"snug is {shown}, below the {least} of {low.name}: bring a smaller wrench for it, or snug higher"
    with bench.about(tool=low.name, pass_=SNUG):
        bench.near("tool_snug", "snug pass below every tool's range" + of, ISO6789, note)


def _put_set(lines: Lines, setting: Setting, preload: float) -> float:
    lines.put(
        "preload_set",
        preload,
        {"set value": (setting.value, setting.by or "torque")},
        formula="F from the last set value",
        source="set value rounded down",
    )
    return preload


def _set_pressures(bench: Bench, lines: Lines, joint: Joint, plan: Plan, sets: JointSettings, of: str) -> float | None:
    """Pump pressures of every charted tool; the results speak of the first that reaches the last pass."""
    size = sets.sizes[0]
    torque, preload = size.torque or 0.0, size.preload or 0.0
    last = plan.passes[-1] * torque
    if not any(tool.chart is not None for tool in size.tools):
        needs = ("tightening.tool.chart",)
        bench.missing(
            "wrench_pressure", "pump pressure" + of, needs, note="needs the tool's chart or torque_per_pressure"
        )
        return None
    able = list(size.able(plan.passes[-1]))
    if not able:
        bench.fails(
            "wrench_pressure",
            "pump pressure" + of,
            "the tool's chart",
            f"no chart reaches {bench.show(last, 'torque')}",
        )
        return None
    first = able[0]
    pressure = safe_pressure(first, torque)
    if pressure is not None:
        lines.put("wrench_pressure", pressure, {"T": (torque, "torque"), "tool": (first.name, "text")})
    _same_pump(bench, joint, able, last, of)
    _pump_limit(bench, able, last, of)
    setting = put_sets(lines, sets, plan)
    if setting.value is None or first.chart is None:
        return None
    reached = tl.torque_at_pressure(first.chart, max(setting.value, first.chart.pressures[0]))
    return _put_set(lines, setting, preload * reached / torque)


def _check_each_tool(bench: Bench, plan: Plan, sets: JointSettings, of: str, told: frozenset[float]) -> None:
    """A pass that one tool cannot be set to though it pulls the last one, so that nobody looks for the figure.

    ``told``: shares of passes that are known to lack a tool already.
    """
    size = sets.sizes[0]
    named = [(plan.snug, SNUG)] if plan.snug > 0.0 else []
    named += [(share, str(number)) for number, share in enumerate(plan.passes, 1)]
    for tool in size.able(plan.passes[-1]):
        for share, name in named:
            setting = sets.of_size(0, share, tool.name)
            others = [other.name for other in size.able(share)]
            if not setting.why or share in told or (not others and name == SNUG):
                continue  # the snug has a check of its own
            said = "snug pass" if name == SNUG else f"pass {share:.0%}"
            title, note = f"{said} with {tool.name}{of}", setting.why
            with bench.about(tool=tool.name, pass_=name):
                if others:
                    bench.near("tool_pass", title, ISO6789, f"{note}: pull it with {', '.join(others)}")
                else:
                    note += ": take a smaller tool for this pass, or pull it higher"
                    bench.fails("tool_pass", title, ISO6789, note)


def _same_pump(bench: Bench, joint: Joint, tools: list[SetTool], torque: float, of: str) -> None:
    """Two tools at work on one pump must give the same torque at one pressure; each on its own pump has its own."""
    together = joint.tightening.tools_together if joint.tightening is not None else None
    for pump, own in by_pump(tools).items():
        told = [(tool.name, value) for tool in own if (value := safe_pressure(tool, torque)) is not None]
        if (together or 1) < 2 or len(told) < 2:
            continue
        pressures = [value for _, value in told]
        apart = (max(pressures) - min(pressures)) / max(pressures)
        title = f"tools on one pump{f', {pump}' if pump else ''}{of}"
        basis = f"charts within {UNEQUAL:.0%} of one another; common practice, no published source"
        said = ", ".join(f"{name} {bench.show(value, 'pressure')}" for name, value in told)
        if apart > UNEQUAL:
            at = bench.show(torque, "torque")
            note = f"{said} at {at}: unequal tools on one pump are refused, give each its own (tightening.tool.pump)"
            bench.fails("one_pump", title, basis, note)
        else:
            bench.passes("one_pump", title, basis, said)


def _pump_limit(bench: Bench, tools: list[SetTool], torque: float, of: str) -> None:
    for tool in tools:
        pressure = safe_pressure(tool, torque)
        if tool.pressure_max is not None and pressure is not None:
            title = f"pump pressure of {tool.name}{of}"
            with bench.about(tool=tool.name):
                bench.at_most("pump_pressure", title, pressure, tool.pressure_max, "pressure", "the tool's own limit")
