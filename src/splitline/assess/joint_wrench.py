"""Torque tools of a joint: range pass by pass, pump pressures, set values and the preload they give."""

from __future__ import annotations

from splitline.assess.context import Context
from splitline.assess.covered import SNUG
from splitline.assess.joint_sheet import PRACTICE, SHEET, SIZE, Sized, method_of
from splitline.assess.joint_tools import PASS, PUMP, TOOL, TORQUE_METHODS, PassAt, PumpAt, ToolAt, preload_set
from splitline.assess.settings import JointSettings, NoValue, Setting, SetTool, SizeSettings
from splitline.assess.sheet import Against, Each, Rule
from splitline.bolting import tools as tl
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import Tool
from splitline.plan.passes import Passes
from splitline.units import show

ISO6789 = "ISO 6789: hand torque tools from 20 % of their range on; hydraulic tools from their own minimum"
UNEQUAL = 0.02  # share by which pressures of two tools on one pump may differ


def _wrenched(joint: Joint) -> bool:
    return method_of(joint) in TORQUE_METHODS


def _hydraulic(joint: Joint) -> bool:
    return method_of(joint) == "hydraulic wrench"


def _by_hand(joint: Joint) -> bool:
    return method_of(joint) == "torque wrench"


@SHEET.result(SIZE, TOOL, when=_wrenched, after=("torque",))
def wrench(joint: Joint, tool: ToolAt, serving: tuple[ToolAt, ...]) -> SetTool | None:
    """Range of a torque tool that is for these bolts. InputError for a chart that cannot be read."""
    if tool not in serving:
        return None
    given = tool.plan
    if not _hydraulic(joint):
        if given.torque_max is None:
            return SetTool(tool.name, "torque", given.torque_min or 0.0)
        return SetTool(tool.name, "torque", *tl.hand_tool_range(given.torque_max, given.torque_min))
    chart = _chart(given)
    least, most = given.torque_min or 0.0, given.torque_max
    if chart is not None:
        least = max(least, chart.torques[0])
        most = chart.torques[-1] if most is None else min(most, chart.torques[-1])
    return SetTool(tool.name, "pressure", least, most, chart, pressure_max=given.pressure_max, pump=given.pump or "")


def _chart(tool: Tool) -> tl.Chart | None:
    if tool.chart is not None:
        return tl.chart(tool.chart)
    if tool.torque_per_pressure is None:
        return None
    top = tool.pressure_max
    if top is None and tool.torque_max is not None:
        top = tool.torque_max / tool.torque_per_pressure
    return tl.chart_from_factor(tool.torque_per_pressure, top if top is not None else 1e9)


def _told_here(size: Sized, tool: ToolAt) -> bool:
    return size.number == 0 or tool.plan.threads is not None


@SHEET.check("wrench_pressure", "chart of the tool{size.of}", SIZE, TOOL, when=_told_here, quiet=True,
             asks=("tightening.tool.{tool.place}.chart",))  # fmt: skip
def chart_reads(wrench: SetTool) -> None:
    """Only says what cannot be read."""


@SHEET.result(SIZE, name="set_tools", when=_wrenched, each={"found": Each("wrench", present=True)})
def wrenches(found: tuple[SetTool, ...]) -> tuple[SetTool, ...]:
    """The torque tools for these bolts in the order of the plan; one whose chart cannot be read is left out."""
    return found


# every pass against the tools


@SHEET.check("tool_range", "torque against the tool's range{size.of}", SIZE, kind="torque", basis=ISO6789, when=_wrenched,
             quiet=True)  # fmt: skip
def strongest(torque: float, set_tools: tuple[SetTool, ...], planned: Passes) -> Against | Rule | None:
    """The highest pass against the strongest tool."""
    unknown = [tool.name for tool in set_tools if tool.high is None]
    if unknown:
        return Rule("missing", f"greatest torque of {', '.join(unknown)} is not given", ("tightening.tool.torque_max",))
    if not set_tools:
        return None
    best = max(set_tools, key=lambda tool: tool.high or 0.0)
    return Against(torque * max(planned.shares), best.high or 0.0, best.name, about={"tool": best.name})


@SHEET.result(SIZE, when=_wrenched)
def ranged(set_tools: tuple[SetTool, ...]) -> tuple[SetTool, ...] | None:
    """The tools where the range of each is known."""
    return set_tools if set_tools and all(tool.high is not None for tool in set_tools) else None


@SHEET.result(SIZE)
def weakest(ranged: tuple[SetTool, ...]) -> SetTool:
    return min(ranged, key=lambda tool: tool.low)


@SHEET.check("tool_low", "{pass_.text} above the least torque of {weakest.name}{size.of}", SIZE, PASS, sense="at least",
             kind="torque", basis=ISO6789)  # fmt: skip
def tool_comes_down(pass_: PassAt, torque: float, weakest: SetTool, context: Context) -> Against | None:
    applied = pass_.share * torque
    if pass_.name == SNUG or weakest.low <= applied * (1 + 1e-9):
        return None
    note = f"pass {pass_.share:.0%} is {show(applied, 'torque', context.system)}: take a smaller tool for it"
    return Against(weakest.low, applied, note, about={"tool": weakest.name})


def _gap_between(pass_: PassAt, torque: float, ranged: tuple[SetTool, ...], planned: Passes) -> bool:
    """Whether a pass lies above the weakest tool's range and below the next one's."""
    applied = pass_.share * torque
    above = any(tool.low <= applied * (1 + 1e-9) for tool in ranged)
    covered = any(tool.covers(applied) for tool in ranged)
    return pass_.name != SNUG and above and not covered and pass_.share < max(planned.shares)


@SHEET.check("tool_range", "{pass_.text}{size.of}", SIZE, PASS, basis=ISO6789, when=_gap_between, quiet=True)
def no_tool_between(pass_: PassAt, torque: float, context: Context) -> Rule:
    return Rule("fails", f"no tool covers {show(pass_.share * torque, 'torque', context.system)}")


@SHEET.check("tool_snug", "snug pass below every tool's range{size.of}", SIZE, basis=ISO6789)
def snug_below(torque: float, weakest: SetTool, planned: Passes, context: Context) -> Rule | None:
    """The snug pass may be pulled with another tool, but somebody has to bring it."""
    snug = planned.snug * torque
    if snug <= 0.0 or weakest.low <= snug * (1 + 1e-9):
        return None
    shown, least = (show(each, "torque", context.system) for each in (snug, weakest.low))
    note = f"snug is {shown}, below the {least} of {weakest.name}: bring a smaller wrench for it, or snug higher"
    return Rule("near", note, about={"tool": weakest.name, "pass_": SNUG})


@SHEET.result(SIZE)
def unpulled(torque: float, ranged: tuple[SetTool, ...], planned: Passes) -> frozenset[float]:
    """Shares of passes that are known to lack a tool already."""
    shares = (share for share in planned.shares if share < max(planned.shares))
    none_low = {share for share in planned.shares if all(tool.low > share * torque * (1 + 1e-9) for tool in ranged)}
    return frozenset(none_low | {share for share in shares if not any(tool.covers(share * torque) for tool in ranged)})


@SHEET.check(
    "tool_pass", "{pass_.text} with {tool.name}{size.of}", SIZE, TOOL, PASS, basis=ISO6789, when=_wrenched, quiet=True
)
def can_be_set(
    size: Sized, tool: ToolAt, pass_: PassAt, wrench: SetTool, size_settings: SizeSettings, settings: JointSettings,
    planned: Passes, unpulled: frozenset[float] = frozenset(),
) -> Rule | None:  # fmt: skip
    """A pass that one tool cannot be set to though it pulls the last one, so that nobody looks for the figure."""
    if wrench not in size_settings.able(planned.shares[-1]):
        return None
    why = settings.of_size(size.number, pass_.share, wrench.name).why
    others = [other.name for other in size_settings.able(pass_.share)]
    if not why or pass_.share in unpulled or (not others and pass_.name == SNUG):
        return None  # the snug has a check of its own
    if others:
        return Rule("near", f"{why}: pull it with {', '.join(others)}")
    return Rule("fails", f"{why}: take a smaller tool for this pass, or pull it higher")


# hydraulic wrenches: charts and pumps


@SHEET.result(SIZE, when=_hydraulic)
def able(size_settings: SizeSettings, planned: Passes) -> tuple[SetTool, ...] | None:
    """The tools whose chart reaches the last pass."""
    return size_settings.able(planned.shares[-1]) or None


@SHEET.check("wrench_pressure", "pump pressure{size.of}", SIZE, when=_hydraulic, quiet=True)
def charted(
    torque: float, set_tools: tuple[SetTool, ...], planned: Passes, context: Context, able: tuple[SetTool, ...] = ()
) -> Rule | None:
    if set_tools and not any(tool.chart is not None for tool in set_tools):
        return Rule("missing", "needs the tool's chart or torque_per_pressure", ("tightening.tool.chart",))
    if able or not set_tools:
        return None
    last = show(planned.shares[-1] * torque, "torque", context.system)
    return Rule("fails", f"no chart reaches {last}", basis="the tool's chart")


@SHEET.result(SIZE)
def first_tool(able: tuple[SetTool, ...]) -> SetTool:
    """What the results speak of."""
    return able[0]


@SHEET.result(SIZE, kind="pressure", title="Pump pressure at target torque", symbol="p_w", formula="from the tool's chart",
              source="the tool's chart",
              puts={"T": ("torque", "torque"), "tool": ("first_tool.name", "text")})  # fmt: skip
def wrench_pressure(first_tool: SetTool, torque: float) -> float | None:
    return safe_pressure(first_tool, torque)


def safe_pressure(tool: SetTool, torque: float) -> float | None:
    """Pump pressure for a torque, None off the chart."""
    reading = tool.reading(torque, 0.0)
    return None if tool.chart is None or isinstance(reading, NoValue) else reading


@SHEET.check("one_pump", "tools on one pump{pump.of}{size.of}", SIZE, PUMP,
             basis=f"charts within {UNEQUAL:.0%} of one another; {PRACTICE}")  # fmt: skip
def equal_wrenches(
    joint: Joint, pump: PumpAt, able: tuple[SetTool, ...], torque: float, planned: Passes, context: Context
) -> Rule | None:
    """Two tools at work on one pump must give the same torque at one pressure; each on its own pump has its own."""
    last = planned.shares[-1] * torque
    readings = ((tool.name, safe_pressure(tool, last)) for tool in able if tool.pump == pump.name)
    told = {name: value for name, value in readings if value is not None}
    together = joint.tightening.tools_together if joint.tightening is not None else None
    if (together or 1) < 2 or len(told) < 2:
        return None
    text = ", ".join(f"{name} {show(value, 'pressure', context.system)}" for name, value in told.items())
    most = max(told.values())
    if (most - min(told.values())) / most <= UNEQUAL:
        return Rule("ok", text)
    at = show(last, "torque", context.system)
    return Rule(
        "fails", f"{text} at {at}: unequal tools on one pump are refused, give each its own (tightening.tool.pump)"
    )


@SHEET.check("pump_pressure", "pump pressure of {tool.name}{size.of}", SIZE, TOOL, kind="pressure",
             basis="the tool's own limit", quiet=True)  # fmt: skip
def within_the_pump(
    tool: ToolAt, wrench: SetTool, able: tuple[SetTool, ...], torque: float, planned: Passes
) -> Against | None:
    pressure = safe_pressure(wrench, planned.shares[-1] * torque)
    if wrench not in able or wrench.pressure_max is None or pressure is None:
        return None
    return Against(pressure, wrench.pressure_max)


# what the last set value gives


@SHEET.result(SIZE, name="set_from", when=_by_hand)
def from_torque(torque: float) -> bool:
    return True


@SHEET.result(SIZE, name="set_from", when=_hydraulic)
def from_chart(able: tuple[SetTool, ...]) -> bool:
    return True


@preload_set(when=_by_hand, formula="F from the last set value", puts={"set value": ("last_setting.value", "torque")})
def preload_of_torque_set(last_setting: Setting, preload: float, torque: float) -> float:
    return preload * (last_setting.value or 0.0) / torque


@preload_set(
    when=_hydraulic, formula="F from the last set value", puts={"set value": ("last_setting.value", "pressure")}
)
def preload_of_pressure_set(last_setting: Setting, first_tool: SetTool, preload: float, torque: float) -> float | None:
    chart = first_tool.chart
    if chart is None:
        return None
    return preload * tl.torque_at_pressure(chart, max(last_setting.value or 0.0, chart.pressures[0])) / torque
