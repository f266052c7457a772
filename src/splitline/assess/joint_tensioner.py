"""Hydraulic tensioners: pressure per pass, load loss, stress while pulled, protrusion, stroke, groups."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_tools import PRACTICE, Plan, check_step, joint_settings, put_sets, tool_name, tools_for
from splitline.assess.joint_types import Hardware
from splitline.assess.settings import SetTool, SizeSettings
from splitline.bolting import tools as tl
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import Tool


@dataclass(frozen=True, slots=True)
class Pulled:
    """What one size of studs brings to its tensioners: N, m, N/m."""

    preload: float
    stretch: float | None
    bolt: float | None
    member: float | None
    gasket: float = 0.0  # what a gasket gives under one stud, m/N


ALONE = "as if no later group took load from it: what the groups take from one another is not known"


def put_tensioner(
    bench: Bench, lines: Lines, joint: Joint, hw: Hardware, plan: Plan, work: Pulled
) -> tuple[float | None, SizeSettings]:
    """Pressures and checks of the tensioners; returns the preload from the last set value, and the settings."""
    preload, stretch = work.preload, work.stretch
    if not hw.of:
        check_step(bench, plan, "pressure")
    if joint.tightening is not None and joint.tightening.nut_torque is None:
        bench.default("tightening.nut_torque", "hand-tight", f"{PRACTICE}; the tool maker's figure governs")
    _protrusion(bench, hw)
    tools = tools_for(joint, hw)
    sized = [(number, tool) for number, tool in tools if tool.piston_area is not None]
    title = "tensioner pressure" + hw.of
    unset = SizeSettings(hw.bolts, preload, None, stretch)
    if not sized:
        if tools:
            needs = ("tightening.tool.piston_area",)
            bench.missing("tensioner_pressure", title, needs, note="needs the tensioner's piston_area", kind="pressure")
        return None, unset
    _, tool = sized[0]
    computed = _computed(hw, work)
    loss = _loss(bench, lines, hw, tool, work, computed)
    if loss is None:
        note = "needs tightening.tool.loss, or what the stiffness of stud and members needs"
        bench.missing("tensioner_pressure", title, ("tightening.tool.loss",), note=note, kind="pressure")
        return None, unset
    _equal(bench, sized, hw)
    size = SizeSettings(hw.bolts, preload, None, stretch, _set_tools(sized, loss if computed is None else computed[1]))
    return _pressures(lines, joint, plan, tool, loss, size), size


def _set_tools(sized: list[tuple[int, Tool]], loss: float) -> tuple[SetTool, ...]:
    """Tensioners on one pump: the pressure of its first is that of all. ``loss``: of a tool that states none itself."""
    first: dict[str, float] = {}
    for _, tool in sized:
        own = tool.loss if tool.loss is not None else loss
        first.setdefault(tool.pump or "", (tool.piston_area or 0.0) / own)
    return tuple(
        SetTool(
            tool_name(tool, number),
            "pressure",
            force_per_pressure=first[tool.pump or ""],
            pressure_max=tool.pressure_max,
            pump=tool.pump or "",
        )
        for number, tool in sized
    )


def _computed(hw: Hardware, work: Pulled) -> tuple[float, float, float] | None:
    """Load loss from stiffness: least, taken, greatest; None while a stiffness is not known."""
    modulus = hw.material.modulus
    if hw.thread is None or modulus is None or work.bolt is None or work.member is None:
        return None
    nut = tl.nut_give(hw.thread.d, modulus)
    parts = (1.0 / work.bolt, 1.0 / work.member - work.gasket, nut, work.gasket)
    least, taken, greatest = (tl.tensioner_loss(*parts, beside) for beside in (1.0, tl.BESIDE, 0.0))
    return least, taken, greatest


def _loss(
    bench: Bench, lines: Lines, hw: Hardware, tool: Tool, work: Pulled, computed: tuple[float, float, float] | None
) -> float | None:
    if tool.loss is not None:
        lines.put("tensioner_loss", tool.loss, {}, formula="as given", source="plan")
        return tool.loss
    if computed is None or hw.thread is None or work.bolt is None or work.member is None:
        return None
    least, loss, greatest = computed
    puts = {"k_b": (work.bolt, "stiffness"), "k_m": (work.member, "stiffness"), "d": (hw.thread.d, "length")}
    lines.put("tensioner_loss", loss, {**puts})
    said = f"from stiffness, {least:.3f} to {greatest:.3f} as the bridge squeezes the members; the tool's own factor governs"
    bench.default("tightening.tool.loss" + hw.of, f"{loss:.3f}", said)
    return loss


def _pressures(lines: Lines, joint: Joint, plan: Plan, tool: Tool, loss: float, size: SizeSettings) -> float | None:
    area, preload = tool.piston_area, size.preload or 0.0
    if area is None:
        return None
    pressure = tl.tensioner_pressure(preload, loss, area)
    puts = {"F": (preload, "force"), "loss": (loss, "number"), "A_piston": (area, "area")}
    lines.put("tensioner_pressure", pressure, {**puts})
    setting = put_sets(lines, joint_settings(joint, plan, (size,)), plan)
    if setting.value is None:
        return None
    reached = tl.preload_from_pressure(setting.value, loss, area)
    puts = {"set value": (setting.value, "pressure"), "loss": (loss, "number"), "A_piston": (area, "area")}
    lines.put("preload_set", reached, {**puts}, formula="p_set·A_piston / loss", source="set value rounded down")
    return reached


def check_pull(
    bench: Bench, lines: Lines, joint: Joint, hw: Hardware, plan: Plan, size: SizeSettings, predicted: float | None
) -> None:
    """Pump, stud and stroke against the highest pull there is: of the highest pass, or of the group that is pulled higher
    for what later groups take from it.

    ``predicted``: load that the highest pulled group of this size must keep when its tools are released, N, whatever
    the limits; None where it is not known.
    """
    loss = lines.get("tensioner_loss")
    if not size.tools or loss is None or not size.preload:
        return
    planned = max(plan.passes) * size.preload
    most = max(planned, predicted or 0.0)
    groups = len(bench.get("order_steps") or ()) > 1
    note = ALONE if predicted is None and groups else ""
    if most > planned * (1 + 1e-9):
        note = f"the first group keeps {bench.show(most, 'force')} on release, {most / planned - 1:.1%} over the highest pass"
    tools = joint.tightening.tool if joint.tightening is not None else ()
    for number, tool in enumerate(tools, 1):
        name = tool_name(tool, number)
        own = size.tool(name)
        if own is None or own.force_per_pressure is None:
            continue
        title, basis = f"pressure of {name}{hw.of}", "the tool's own limit"
        with bench.about(tool=name):
            if tool.pressure_max is None:
                field = (f"tightening.tool.{number - 1}.pressure_max",)
                bench.missing("tool_range", title, field, basis, f"greatest pressure of {name} is not given")
            else:
                needed = most / own.force_per_pressure
                bench.at_most("tool_range", title, needed, tool.pressure_max, "pressure", basis, note)
            if tool.stroke is not None and size.stretch is not None:
                basis = "stretch while pulled, all slack taken up; the tool's stroke"
                pulled = loss * size.stretch * most / size.preload
                bench.at_most("stroke", f"stroke of {name}{hw.of}", pulled, tool.stroke, "length", basis, note)
    if hw.section is not None:
        pull = tl.stress_at_pull(most, loss, hw.section.area)
        puts = {"F": (most, "force"), "loss": (loss, "number"), "A_min": (hw.section.area, "area")}
        lines.put("stress_at_pull", pull, {**puts})
        if hw.yield_strength is not None:
            what = f"stress while the tensioner pulls{hw.of}"
            basis = f"yield: {hw.strength_source}; load loss {loss:.3f}"
            bench.at_most("stress_at_pull", what, pull, hw.yield_strength, "stress", basis, note)


def _equal(bench: Bench, sized: list[tuple[int, Tool]], hw: Hardware) -> None:
    """Tensioners at work together on one pump: their piston areas must be equal."""
    if hw.of and not any(tool.threads for _, tool in sized):
        return  # said for the main size already
    for pump in dict.fromkeys(tool.pump or "" for _, tool in sized):
        own = [(number, tool) for number, tool in sized if (tool.pump or "") == pump]
        areas = [tool.piston_area or 0.0 for _, tool in own]
        if max(areas) - min(areas) <= 0.02 * max(areas):
            continue
        said = ", ".join(f"{tool_name(tool, n)} {bench.show(tool.piston_area or 0.0, 'area')}" for n, tool in own)
        note = f"{said}: unequal tensioners on one pump are refused, give each its own (tightening.tool.pump)"
        title = f"tensioners on one pump{f', {pump}' if pump else ''}{hw.of}"
        bench.fails("one_pump", title, f"equal piston areas; {PRACTICE}", note)


def _protrusion(bench: Bench, hw: Hardware) -> None:
    """Thread above the nut for the tensioner to grip."""
    if hw.thread is None:
        return
    title, basis = "thread above the nut for the tensioner" + hw.of, f"1.0 d; {PRACTICE}"
    if hw.protrusion is None:
        needs = ("bolting.stud_protrusion",)
        bench.missing("stud_protrusion", title, needs, basis, "needs bolting.stud_protrusion", "at least", "length")
        return
    bench.at_least("stud_protrusion", title, tl.protrusion_needed(hw.thread.d), hw.protrusion, "length", basis)
