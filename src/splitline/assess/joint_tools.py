"""Passes, set values and tools of a joint."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.gauge import gauge_unit
from splitline.assess.joint_types import Hardware
from splitline.assess.settings import JointSettings, NoValue, SetBy, Setting, SetTool, SizeSettings
from splitline.bolting import tools as tl
from splitline.library.threads import parse_designation
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import Tightening, Tool
from splitline.plan.passes import BY_LENGTH, passes_of

PRACTICE = "common practice, no published source"
ISO6789 = "ISO 6789: hand torque tools from 20 % of their range on; hydraulic tools from their own minimum"
UNEQUAL = 0.02  # share by which pressures of two tools on one pump may differ
TORQUE_METHODS = ("torque wrench", "hydraulic wrench")
TOOL_METHODS = (*TORQUE_METHODS, "hydraulic tensioner")
SET_BY: dict[str, SetBy] = {
    "torque wrench": "torque",
    "hydraulic wrench": "pressure",
    "hydraulic tensioner": "pressure",
}


@dataclass(frozen=True, slots=True)
class Plan:
    """Shares of the target, the snug first; 0 for no snug pass."""

    method: str | None
    snug: float
    passes: tuple[float, ...]
    step: tuple[str, float] | None  # kind and SI value of the smallest step that can be set


def pass_plan(bench: Bench, tightening: Tightening | None) -> Plan:
    """The passes of the plan, or the usual ones, said."""
    if tightening is None:
        bench.missing(
            "tightening",
            "how the joint is tightened",
            ("tightening",),
            note="needs tightening: method, passes and tools",
        )
    planned = passes_of(tightening)
    if tightening is None or tightening.snug is None:
        bench.default("tightening.snug", f"{planned.snug:g}", PRACTICE)
    if tightening is None or tightening.passes is None:
        bench.default("tightening.passes", ", ".join(f"{p:g}" for p in planned.shares), PRACTICE)
    return Plan(
        tightening.method if tightening is not None else None,
        planned.snug,
        planned.shares,
        tightening.gauge_step if tightening is not None else None,
    )


def tool_name(tool: Tool, number: int) -> str:
    """Name of a tool, or its number."""
    return tool.name or f"tool {number}"


def tools_for(joint: Joint, hw: Hardware) -> list[tuple[int, Tool]]:
    """The tools that are for one size of bolts, each with its number in the plan."""
    tools = joint.tightening.tool if joint.tightening is not None else ()
    return [(number, tool) for number, tool in enumerate(tools, 1) if _serves(tool, hw)]


def _serves(tool: Tool, hw: Hardware) -> bool:
    return tool.threads is None or hw.thread_name in {parse_designation(name).name for name in tool.threads}


def by_pump(tools: Iterable[SetTool]) -> dict[str, list[SetTool]]:
    """Tools by the pump they hang on; those that name none share one."""
    found: dict[str, list[SetTool]] = {}
    for tool in tools:
        found.setdefault(tool.pump, []).append(tool)
    return found


def check_served(bench: Bench, joint: Joint, hw: Hardware) -> None:
    """Every size needs a tool that is for it; a joint without any tool is said elsewhere."""
    how = joint.tightening
    if how is None or not how.tool or how.method not in TOOL_METHODS or not hw.thread_name or tools_for(joint, hw):
        return
    note = f"no tool of the plan is for {hw.thread_name}: add one, or name this thread in the threads of one that fits"
    bench.missing("tool", "tool" + hw.of, ("tightening.tool.threads",), note=note)


def wrench_of(tool: Tool, number: int, hydraulic: bool) -> SetTool:
    """Range of one torque tool. InputError for a chart that cannot be read."""
    name = tool_name(tool, number)
    if not hydraulic:
        if tool.torque_max is None:
            return SetTool(name, "torque", tool.torque_min or 0.0)
        low, high = tl.hand_tool_range(tool.torque_max, tool.torque_min)
        return SetTool(name, "torque", low, high)
    found = _chart(tool)
    least, most = tool.torque_min or 0.0, tool.torque_max
    if found is not None:
        least = max(least, found.torques[0])
        most = found.torques[-1] if most is None else min(most, found.torques[-1])
    return SetTool(name, "pressure", least, most, found, pressure_max=tool.pressure_max, pump=tool.pump or "")


def _chart(tool: Tool) -> tl.Chart | None:
    if tool.chart is not None:
        return tl.chart(tool.chart)
    if tool.torque_per_pressure is None:
        return None
    top = tool.pressure_max
    if top is None and tool.torque_max is not None:
        top = tool.torque_max / tool.torque_per_pressure
    return tl.chart_from_factor(tool.torque_per_pressure, top if top is not None else 1e9)


def joint_settings(joint: Joint, plan: Plan, sizes: tuple[SizeSettings, ...]) -> JointSettings:
    """The set values of a joint, or of some of its sizes."""
    by = SET_BY.get(plan.method or "")
    step = plan.step[1] if plan.step is not None and plan.step[0] == by else None
    return JointSettings(sizes, by, step, gauge_unit(joint) if by == "pressure" else None, plan.passes, plan.snug)


def put_passes(bench: Bench, lines: Lines, plan: Plan, torque: float | None, preload: float) -> None:
    """Preload of every pass; torque of the passes that are pulled by torque, and of the snug."""
    lines.put("preload_passes", [share * preload for share in plan.passes])
    if torque is None:
        return
    if plan.method not in BY_LENGTH:
        lines.put("torque_passes", [share * torque for share in plan.passes])
    if plan.snug > 0.0:
        puts = {"share": (plan.snug, "share"), "T": (torque, "torque")}
        lines.put("torque_snug", plan.snug * torque, {**puts})


def check_serials(bench: Bench, ctx: Context, joint: Joint) -> None:
    """Serial and calibration of every tool: on-site where they are not in the plan, failing where the date has passed."""
    tightening = joint.tightening
    if tightening is None:
        return
    if not tightening.tool and tightening.method in TOOL_METHODS:
        bench.missing("tool", "tool", ("tightening.tool",), note="no tool is chosen for this joint")
    for number, tool in enumerate(tightening.tool, 1):
        name, field = tool_name(tool, number), f"tightening.tool.{number - 1}"
        serial = tool.serial or ctx.observed.get(joint.id, f"tool.{number}.serial")
        due = tool.calibration_due or ctx.observed.get(joint.id, f"tool.{number}.calibration_due")
        with bench.about(tool=name):
            if not serial:
                note = f"serial number of {name} is entered on the job"
                bench.on_site("tool_serial", f"serial of {name}", (f"{field}.serial",), "tool register", note)
            _calibration(bench, name, field, due, ctx.today)


def _calibration(bench: Bench, name: str, field: str, due: dt.date | None, today: dt.date) -> None:
    title, basis = f"calibration of {name}", "calibration certificate"
    if not isinstance(due, dt.date):
        note = f"date the calibration of {name} runs out is entered on the job"
        bench.on_site("calibration", title, (f"{field}.calibration_due",), basis, note)
    elif due < today:
        bench.fails("calibration", title, basis, f"ran out on {due.isoformat()}, today is {today.isoformat()}")
    else:
        bench.passes("calibration", title, basis, f"valid until {due.isoformat()}")


def check_step(bench: Bench, plan: Plan, kind: str) -> None:
    """A gauge step must be of the kind the tool is set by."""
    if plan.step is None:
        bench.note("No gauge step is given: set values are not rounded to what a gauge or wrench can show.")
    elif plan.step[0] != kind:
        said = f"gauge_step is a {plan.step[0]}, the tool is set by {kind}"
        bench.missing("gauge_step", "step of the gauge", ("tightening.gauge_step",), PRACTICE, said)


def put_sets(lines: Lines, sets: JointSettings, plan: Plan) -> Setting:
    """Set values of snug and passes of one size; returns that of the last pass.

    As `set_passes` whatever the kind, and under the kind's own name with its unit; left off where a pass has none.
    """
    told = [sets.of_size(0, share) for share in plan.passes]
    if sets.by is not None and all(each.value is not None for each in told):
        lines.put("set_passes", [each.value for each in told])
        lines.put("set_is_pressure", int(sets.by == "pressure"))
        lines.put(f"set_{sets.by}s", [each.value for each in told])
    if plan.snug > 0.0:
        lines.put("set_snug", sets.of_size(0, plan.snug).value)
    return told[-1]


def safe_pressure(tool: SetTool, torque: float) -> float | None:
    """Pump pressure for a torque, None off the chart."""
    reading = tool.reading(torque, 0.0)
    return None if tool.chart is None or isinstance(reading, NoValue) else reading
