"""Hydraulic tensioners: load loss, pressure per pass, stress while pulled, protrusion, stroke, groups."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.joint_sheet import PRACTICE, SHEET, SIZE, Sized, method_of
from splitline.assess.joint_tools import PUMP, TOOL, PumpAt, ToolAt, preload_set
from splitline.assess.joint_types import Strength
from splitline.assess.settings import Setting, SetTool, SizeSettings
from splitline.assess.sheet import Against, Assumed, Rule
from splitline.bolting import tools as tl
from splitline.bolting.thread import Section, Thread
from splitline.plan.model.joint import Joint
from splitline.plan.passes import Passes
from splitline.units import show

ALONE = "as if no later group took load from it: what the groups take from one another is not known"
OWN = "the tool's own limit"


def tensioned(joint: Joint) -> bool:
    return method_of(joint) == "hydraulic tensioner"


@SHEET.note(SIZE, when=tensioned, after=("preload",))
def hand_tight(joint: Joint) -> Assumed | None:
    if joint.tightening is None or joint.tightening.nut_torque is not None:
        return None
    basis = f"{PRACTICE}; the tool maker's figure governs"
    return Assumed(None, "tightening.nut_torque", basis, text="hand-tight")


@SHEET.check("stud_protrusion", "thread above the nut for the tensioner{size.of}", SIZE, sense="at least", kind="length",
             basis=f"1.0 d; {PRACTICE}", when=tensioned, after=("preload",))  # fmt: skip
def gripped(thread: Thread, stud_protrusion: float) -> Against:
    """Thread above the nut for the tensioner to grip."""
    return Against(tl.protrusion_needed(thread.d), stud_protrusion)


SHEET.given("stud_protrusion", "size.bolting.stud_protrusion", field="bolting.stud_protrusion")


@SHEET.result(SIZE, when=tensioned)
def sized(serving: tuple[ToolAt, ...]) -> tuple[ToolAt, ...] | None:
    """The tensioners for these studs whose piston is known."""
    return tuple(tool for tool in serving if tool.plan.piston_area is not None) or None


@SHEET.check(
    "tensioner_pressure", "tensioner pressure{size.of}", SIZE, kind="pressure", when=tensioned, after=("preload",)
)
def piston_known(serving: tuple[ToolAt, ...], sized: tuple[ToolAt, ...] = ()) -> Rule | None:
    if sized or not serving:
        return None
    return Rule("missing", "needs the tensioner's piston_area", ("tightening.tool.piston_area",))


# load loss


@dataclass(frozen=True, slots=True)
class Loss:
    """Load while pulled over load left: least, taken and greatest as the bridge squeezes the members."""

    least: float
    taken: float
    greatest: float


@SHEET.result(SIZE, when=tensioned)
def computed_loss(
    thread: Thread, bolt_modulus: float, bolt_stiffness: float, member_stiffness: float, gasket_compliance: float
) -> Loss:
    nut = tl.nut_give(thread.d, bolt_modulus)
    parts = (1.0 / bolt_stiffness, 1.0 / member_stiffness - gasket_compliance, nut, gasket_compliance)
    return Loss(*(tl.tensioner_loss(*parts, beside) for beside in (1.0, tl.BESIDE, 0.0)))


def _stated(sized: tuple[ToolAt, ...]) -> bool:
    return sized[0].plan.loss is not None


@SHEET.result(SIZE, name="tensioner_loss", when=_stated, kind="number", title="Tensioner load loss", symbol="loss",
              formula="as given", source="plan", puts={}, after=("preload",))  # fmt: skip
def stated_loss(sized: tuple[ToolAt, ...]) -> float | None:
    return sized[0].plan.loss


@SHEET.result(
    SIZE, kind="number", title="Tensioner load loss", symbol="loss", after=("preload", "sized"),
    formula="(1/k_b + 1/k_m + δ_n)/(1/k_b + β/k_m), δ_n = 0.4 d/(E A), β = 0.5; a gasket gives alike in both",
    source="springs in series; nut after VDI 2230-1:2003, 5.1.1, not checked against the standard's text",
    puts={"k_b": ("bolt_stiffness", "stiffness"), "k_m": ("member_stiffness", "stiffness"), "d": ("thread.d", "length")},
)  # fmt: skip
def tensioner_loss(size: Sized, computed_loss: Loss) -> Assumed:
    low, high = computed_loss.least, computed_loss.greatest
    basis = f"from stiffness, {low:.3f} to {high:.3f} as the bridge squeezes the members; the tool's own factor governs"
    loss = computed_loss.taken
    return Assumed(loss, "tightening.tool.loss" + size.of, basis, text=f"{loss:.3f}")


@SHEET.check("tensioner_pressure", "tensioner pressure{size.of}", SIZE, kind="pressure", after=("preload", "sized"))
def loss_known(tensioner_loss: float | None = None) -> Rule | None:
    if tensioner_loss is not None:
        return None
    note = "needs tightening.tool.loss, or what the stiffness of stud and members needs"
    return Rule("missing", note, ("tightening.tool.loss",))


# pressures


@SHEET.result(SIZE, name="set_tools", when=tensioned, after=("tensioner_loss",))
def set_tensioners(
    sized: tuple[ToolAt, ...], tensioner_loss: float, computed_loss: Loss | None = None
) -> tuple[SetTool, ...]:
    """Tensioners on one pump: the pressure of its first is that of all. A tool that states no loss has the computed one."""
    usual = tensioner_loss if computed_loss is None else computed_loss.taken
    first: dict[str, float] = {}
    for tool in sized:
        loss = tool.plan.loss if tool.plan.loss is not None else usual
        first.setdefault(tool.plan.pump or "", (tool.plan.piston_area or 0.0) / loss)
    return tuple(
        SetTool(
            tool.name, "pressure", force_per_pressure=first[tool.plan.pump or ""], pressure_max=tool.plan.pressure_max,
            pump=tool.plan.pump or "",
        )
        for tool in sized
    )  # fmt: skip


@SHEET.check("one_pump", "tensioners on one pump{pump.of}{size.of}", SIZE, PUMP, basis=f"equal piston areas; {PRACTICE}",
             after=("tensioner_loss",))  # fmt: skip
def equal_tensioners(size: Sized, pump: PumpAt, sized: tuple[ToolAt, ...], context: Context) -> Rule | None:
    """Tensioners at work together on one pump: their piston areas must be equal."""
    own = [tool for tool in sized if (tool.plan.pump or "") == pump.name]
    areas = [tool.plan.piston_area or 0.0 for tool in own]
    told = size.number and not any(tool.plan.threads for tool in sized)  # for the main size already
    if told or not own or max(areas) - min(areas) <= 0.02 * max(areas):
        return None
    shown = ", ".join(f"{tool.name} {show(tool.plan.piston_area or 0.0, 'area', context.system)}" for tool in own)
    note = f"{shown}: unequal tensioners on one pump are refused, give each its own (tightening.tool.pump)"
    return Rule("fails", note)


@SHEET.result(SIZE)
def piston_area(sized: tuple[ToolAt, ...]) -> float | None:
    """Of the tensioner the results speak of, m²."""
    return sized[0].plan.piston_area


@SHEET.result(SIZE, kind="pressure", title="Tensioner pressure at target", symbol="p_t", formula="F·loss / A_piston",
              source="definition",
              puts={"F": ("preload", "force"), "loss": ("tensioner_loss", "number"),
                    "A_piston": ("piston_area", "area")})  # fmt: skip
def tensioner_pressure(preload: float, tensioner_loss: float, piston_area: float) -> float:
    return tl.tensioner_pressure(preload, tensioner_loss, piston_area)


@SHEET.result(SIZE, name="set_from", when=tensioned)
def from_loss(tensioner_loss: float) -> bool:
    return True


@preload_set(when=tensioned, formula="p_set·A_piston / loss",
              puts={"set value": ("last_setting.value", "pressure"), "loss": ("tensioner_loss", "number"),
                    "A_piston": ("piston_area", "area")})  # fmt: skip
def preload_of_piston(last_setting: Setting, tensioner_loss: float, piston_area: float) -> float:
    return tl.preload_from_pressure(last_setting.value or 0.0, tensioner_loss, piston_area)


# pump, stud and stroke against the highest pull there is


@dataclass(frozen=True, slots=True)
class Pull:
    """Load that must be left when the tools are released, N: of the highest pass, or of a group that is pulled higher."""

    most: float
    note: str


@SHEET.result(SIZE, when=tensioned)
def pull(
    size: Sized, preload: float, planned: Passes, size_settings: SizeSettings, context: Context,
    group_pulls: tuple[float, ...] = (), order_steps: tuple[tuple[int, ...], ...] = (),
) -> Pull | None:  # fmt: skip
    if not size_settings.tools:
        return None
    highest = max(planned.shares) * preload
    if not group_pulls:
        return Pull(highest, ALONE if len(order_steps) > 1 else "")
    most = max(highest, group_pulls[size.number])
    if most <= highest * (1 + 1e-9):
        return Pull(most, "")
    kept = show(most, "force", context.system)
    return Pull(most, f"the first group keeps {kept} on release, {most / highest - 1:.1%} over the highest pass")


@SHEET.result(SIZE, TOOL)
def pulling(tool: ToolAt, pull: Pull, size_settings: SizeSettings) -> SetTool | None:
    own = size_settings.tool(tool.name)
    return own if own is not None and own.force_per_pressure is not None else None


@SHEET.check("tool_range", "pressure of {tool.name}{size.of}", SIZE, TOOL, kind="pressure", basis=OWN, quiet=True)
def within_its_pressure(tool: ToolAt, pull: Pull, pulling: SetTool) -> Against | Rule:
    if pulling.pressure_max is None:
        return Rule("missing", f"greatest pressure of {tool.name} is not given", (tool.own("pressure_max"),))
    return Against(pull.most / (pulling.force_per_pressure or 1.0), pulling.pressure_max, pull.note)


@SHEET.check("stroke", "stroke of {tool.name}{size.of}", SIZE, TOOL, kind="length", quiet=True,
             basis="stretch while pulled, all slack taken up; the tool's stroke", after=("pulling",))  # fmt: skip
def within_its_stroke(
    tool: ToolAt, pull: Pull, stretch: float, preload: float, tensioner_loss: float
) -> Against | None:
    if tool.plan.stroke is None:
        return None
    return Against(tensioner_loss * stretch * pull.most / preload, tool.plan.stroke, pull.note)


@SHEET.result(SIZE, kind="stress", title="Stress while the tensioner pulls", symbol="σ_pull", formula="F·loss / A_min",
              source="definition",
              puts={"F": ("pull.most", "force"), "loss": ("tensioner_loss", "number"),
                    "A_min": ("section.area", "area")})  # fmt: skip
def stress_at_pull(pull: Pull, tensioner_loss: float, section: Section) -> float:
    return tl.stress_at_pull(pull.most, tensioner_loss, section.area)


@SHEET.check("stress_at_pull", "stress while the tensioner pulls{size.of}", SIZE, kind="stress", quiet=True,
             basis="yield: {strength.source}; load loss {tensioner_loss:.3f}")  # fmt: skip
def pulled_under_yield(stress_at_pull: float, yield_strength: float, strength: Strength, pull: Pull) -> Against:
    return Against(stress_at_pull, yield_strength, pull.note)
