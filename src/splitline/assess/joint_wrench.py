"""Torque tools of a joint: range pass by pass, pump pressures, set values and the preload they give."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_tools import (
    ISO6789,
    UNEQUAL,
    Plan,
    Wrench,
    check_step,
    put_sets,
    rounded,
    safe_pressure,
    wrench_of,
)
from splitline.bolting import tools as tl
from splitline.errors import InputError
from splitline.plan.model.joint import Joint


def put_wrench(
    bench: Bench, lines: Lines, joint: Joint, plan: Plan, of: str, torque: float, preload: float
) -> float | None:
    """Tools against every pass, set values, and the preload from the last set value (None where nothing can be set)."""
    hydraulic = plan.method == "hydraulic wrench"
    if not of:
        check_step(bench, plan, "pressure" if hydraulic else "torque")
    tools = _tools(bench, joint, hydraulic, of)
    if not tools:
        if hydraulic:
            return None
        return _set_torques(lines, plan, torque, preload)
    _check_range(bench, plan, tools, torque, of)
    if not hydraulic:
        return _set_torques(lines, plan, torque, preload)
    return _set_pressures(bench, lines, joint, plan, tools, of, torque, preload)


def _tools(bench: Bench, joint: Joint, hydraulic: bool, of: str) -> list[Wrench]:
    found = []
    for number, tool in enumerate(joint.tightening.tool if joint.tightening is not None else (), 1):
        try:
            found.append(wrench_of(tool, number, hydraulic))
        except InputError as error:
            if not of:
                bench.missing(
                    "wrench_pressure",
                    "chart of the tool",
                    (f"tightening.tool.{number - 1}.chart",),
                    note=bench.said(error),
                )
    return found


def _check_range(bench: Bench, plan: Plan, tools: list[Wrench], torque: float, of: str) -> None:
    """Every pass needs a tool that covers it; the last pass is checked against the strongest."""
    title = "torque against the tool's range" + of
    if any(tool.high is None for tool in tools):
        names = ", ".join(tool.name for tool in tools if tool.high is None)
        bench.missing(
            "tool_range", title, ("tightening.tool.torque_max",), ISO6789, f"greatest torque of {names} is not given"
        )
        return
    best = max(tools, key=lambda tool: tool.high or 0.0)
    bench.at_most("tool_range", title, torque * max(plan.passes), best.high or 0.0, "torque", ISO6789, best.name)
    for share in plan.passes:
        if not any(tool.low <= share * torque * (1 + 1e-9) for tool in tools):
            low = min(tools, key=lambda tool: tool.low)
            note = f"pass {share:.0%} is {bench.show(share * torque, 'torque')}: take a smaller tool for it"
            bench.at_least(
                "tool_low",
                f"pass {share:.0%} above the least torque of {low.name}{of}",
                low.low,
                share * torque,
                "torque",
                ISO6789,
                note,
            )
        elif not any(tool.covers(share * torque) for tool in tools) and share < max(plan.passes):
            note = f"no tool covers {bench.show(share * torque, 'torque')}"
            bench.fails("tool_range", f"pass {share:.0%}{of}", ISO6789, note)
    _check_snug(bench, plan, tools, torque, of)


def _check_snug(bench: Bench, plan: Plan, tools: list[Wrench], torque: float, of: str) -> None:
    """The snug pass may be pulled with another tool, but somebody has to bring it."""
    snug = plan.snug * torque
    if snug <= 0.0 or any(tool.low <= snug * (1 + 1e-9) for tool in tools):
        return
    low = min(tools, key=lambda tool: tool.low)
    shown, least = bench.show(snug, "torque"), bench.show(low.low, "torque")
    note = f"snug is {shown}, below the {least} of {low.name}: bring a smaller wrench for it, or snug higher"
    bench.near("tool_snug", "snug pass below every tool's range" + of, ISO6789, note)


def _set_torques(lines: Lines, plan: Plan, torque: float, preload: float) -> float:
    """Set values in N·m."""
    sets = [rounded(share * torque, "torque", plan.step) for share in plan.passes]
    put_sets(lines, sets, "torque")
    if plan.snug > 0.0:
        lines.put("set_snug", rounded(plan.snug * torque, "torque", plan.step))
    return _put_set(lines, sets[-1], preload * sets[-1] / torque, "torque")


def _put_set(lines: Lines, setting: float, preload: float, kind: str) -> float:
    lines.put(
        "preload_set",
        preload,
        {"set value": (setting, kind)},
        formula="F from the last set value",
        source="set value rounded down",
    )
    return preload


def _set_pressures(
    bench: Bench, lines: Lines, joint: Joint, plan: Plan, tools: list[Wrench], of: str, torque: float, preload: float
) -> float | None:
    """Pump pressures of every charted tool; the results speak of the first that reaches the last pass."""
    last = plan.passes[-1] * torque
    charted = [tool for tool in tools if tool.chart is not None]
    if not charted:
        needs = ("tightening.tool.chart",)
        bench.missing(
            "wrench_pressure", "pump pressure" + of, needs, note="needs the tool's chart or torque_per_pressure"
        )
        return None
    able = [tool for tool in charted if safe_pressure(tool, last) is not None]
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
    by_tool = {tool.name: _settings(tool, plan, torque) for tool in able}
    if not of:
        bench.extra["set_values"] = {name: list(values) for name, values in by_tool.items()}
    values = by_tool[first.name]
    if all(value is not None for value in values):
        put_sets(lines, values, "pressure")
    if plan.snug > 0.0:
        pulled = Plan(plan.method, 0.0, (plan.snug,), plan.step)
        snugs = {tool.name: _settings(tool, pulled, torque)[0] for tool in able}
        lines.put("set_snug", snugs[first.name])
        if not of:
            bench.extra["set_snugs"] = snugs
    setting = values[-1]
    if setting is None or first.chart is None:
        return None
    reached = tl.torque_at_pressure(first.chart, max(setting, first.chart.pressures[0]))
    return _put_set(lines, setting, preload * reached / torque, "pressure")


def _settings(tool: Wrench, plan: Plan, torque: float) -> list[float | None]:
    """Set pressure of each pass, None where the chart does not reach."""
    out: list[float | None] = []
    for share in plan.passes:
        pressure = safe_pressure(tool, share * torque)
        out.append(None if pressure is None else rounded(pressure, "pressure", plan.step))
    return out


def _same_pump(bench: Bench, joint: Joint, tools: list[Wrench], torque: float, of: str) -> None:
    """Two tools at work on one pump must give the same torque at one pressure."""
    together = joint.tightening.tools_together if joint.tightening is not None else None
    if (together or 1) < 2 or len(tools) < 2:
        return
    pressures = [pressure for tool in tools if (pressure := safe_pressure(tool, torque)) is not None]
    apart = (max(pressures) - min(pressures)) / max(pressures)
    title, basis = (
        "tools on one pump" + of,
        f"charts within {UNEQUAL:.0%} of one another; common practice, no published source",
    )
    said = ", ".join(f"{t.name} {bench.show(p, 'pressure')}" for t, p in zip(tools, pressures, strict=False))
    if apart > UNEQUAL:
        note = (
            f"{said} at {bench.show(torque, 'torque')}: unequal tools on one pump are refused, give each its own pump"
        )
        bench.fails("one_pump", title, basis, note)
    else:
        bench.passes("one_pump", title, basis, said)


def _pump_limit(bench: Bench, tools: list[Wrench], torque: float, of: str) -> None:
    for tool in tools:
        pressure = safe_pressure(tool, torque)
        if tool.pressure_max is not None and pressure is not None:
            title = f"pump pressure of {tool.name}{of}"
            bench.at_most("pump_pressure", title, pressure, tool.pressure_max, "pressure", "the tool's own limit")
