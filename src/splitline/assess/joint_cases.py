"""Load cases: what pressure and temperature leave of the clamp, and what they make of the bolt load."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_material import modulus_share, strain, yield_at
from splitline.assess.joint_scatter import Ends
from splitline.assess.joint_types import Hardware, Material
from splitline.bolting import joint_load as jl
from splitline.bolting.torque import combined_stress
from splitline.errors import InputError, LibraryError
from splitline.plan.model.joint import Case, Joint

SEPARATION, SEPARATION_TEST = 1.2, 1.1
PRACTICE = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Group:
    """One size of bolts as the cases see it."""

    hw: Hardware
    preload: float
    ends: Ends
    bolt_stiffness: float
    member_stiffness: float
    twist_high: float  # torsion while tightening at the high preload, Pa
    lines: Lines

    @property
    def low(self) -> float:
        """Preload of the lowest bolt, N."""
        return self.ends.low

    @property
    def high(self) -> float:
        """Preload of the highest bolt, N."""
        return self.ends.high

    @property
    def load_factor(self) -> float:
        return self.bolt_stiffness / (self.bolt_stiffness + self.member_stiffness)


@dataclass(frozen=True, slots=True)
class Heated:
    """Temperatures of a case, K."""

    assembly: float
    bolt: float
    member: float


def temperatures(bench: Bench, joint: Joint, case: Case) -> Heated:
    """Temperatures of a case; what is not given is the assembly temperature, 20 °C by default."""
    load = joint.load
    assembly = load.assembly_temperature if load is not None else None
    if assembly is None:
        bench.default("load.assembly_temperature", bench.show(293.15, "temperature"), PRACTICE)
        assembly = 293.15
    bolt = case.bolt_temperature if case.bolt_temperature is not None else assembly
    member = case.member_temperature if case.member_temperature is not None else assembly
    return Heated(assembly, bolt, member)


def thermal_change(bench: Bench, case: Case, group: Group, member: Material, at: Heated) -> float | None:
    """Change of one bolt's preload by temperature; None (and a missing check) where an expansion is not known."""
    lines = group.lines
    title = f"change of preload by temperature, {case.name}{group.hw.of}"
    if at.bolt == at.assembly and at.member == at.assembly:
        lines.put("thermal_change", 0.0)
        return 0.0
    try:
        strains = strain(group.hw.material, at.assembly, at.bolt), strain(member, at.assembly, at.member)
        needs = [n for n, v in zip(("bolting.expansion", "member.expansion"), strains, strict=True) if v is None]
        if strains[0] is None or strains[1] is None:
            bench.missing("thermal_change", title, needs, note="needs " + ", ".join(needs), kind="force")
            return None
        return _put_thermal(group, member, at, (strains[0], strains[1]))
    except (InputError, LibraryError) as error:
        bench.missing("thermal_change", title, (), note=bench.said(error), kind="force")
        return None


def _put_thermal(group: Group, member: Material, at: Heated, strains: tuple[float, float]) -> float:
    rise_b, rise_m = at.bolt - at.assembly, at.member - at.assembly
    heat = jl.Heat(
        group.hw.clamp_length or 0.0,
        strains[0] / rise_b if rise_b else 0.0,
        rise_b,
        strains[1] / rise_m if rise_m else 0.0,
        rise_m,
        modulus_share(group.hw.material, at.assembly, at.bolt),
        modulus_share(member, at.assembly, at.member),
    )
    value = jl.thermal_change(heat, 1.0 / group.bolt_stiffness, 1.0 / group.member_stiffness, group.preload)
    group.lines.put(
        "thermal_change",
        value,
        {
            "L": (heat.clamp_length, "length"),
            "α_m": (heat.member_expansion, "expansion"),
            "ΔT_m": (rise_m, "temperature_difference"),
            "α_b": (heat.bolt_expansion, "expansion"),
            "ΔT_b": (rise_b, "temperature_difference"),
            "F": (group.preload, "force"),
            "k_b": (group.bolt_stiffness, "stiffness"),
            "k_m": (group.member_stiffness, "stiffness"),
            "bolt E_T/E": (heat.bolt_modulus_share, "share"),
            "member E_T/E": (heat.member_modulus_share, "share"),
        },
    )
    return value


def required_separation(bench: Bench, case: Case, number: int) -> tuple[float, str]:
    """Wanted separation factor and its basis: 1.2, a test 1.1. What is a test is said by its kind; none is operating."""
    if case.required_separation is not None:
        return case.required_separation, "plan"
    if case.kind is None:
        said = 'the kind that wants more; a test says kind = "test"'
        bench.default(f"case.{number}.kind", "operating", said)
    value = SEPARATION_TEST if case.kind == "test" else SEPARATION
    bench.default(f"case.{number}.required_separation", f"{value:g}", PRACTICE)
    return value, PRACTICE


def put_bolt(
    bench: Bench, case: Case, number: int, group: Group, force: float, thermal: float, at: Heated
) -> jl.BoltState:
    """Joint diagram of one bolt in one case: results on ``lines``, the checks on the bench."""
    lines = group.lines
    needed, basis = required_separation(bench, case, number)
    state = jl.bolt_state(group.low, group.high, group.load_factor, force, thermal)
    phi = (group.load_factor, "share")
    out, change = (force, "force"), (thermal, "force")
    lines.put(
        "residual_clamp",
        state.residual_clamp,
        {"F_low": (group.low, "force"), "ΔF": change, "Φ": phi, "F_A": out},
    )
    lines.put(
        "separation_factor",
        state.separation_factor,
        {"F_low": (group.low, "force"), "ΔF": change, "Φ": phi, "F_A": out},
    )
    lines.put(
        "bolt_load_high",
        state.high,
        {"F_high": (group.high, "force"), "ΔF": change, "Φ": phi, "F_A": out},
    )
    lines.put("load_swing", state.swing, {"Φ": phi, "F_A": out})
    check_separation(bench, case, group, state, force, needed, basis)
    check_service(bench, case, group, state, at)
    return state


def check_separation(
    bench: Bench, case: Case, group: Group, state: jl.BoltState, force: float, needed: float, basis: str
) -> None:
    """Low preload (temperature included) against what unloads the faces times the wanted factor."""
    title = f"low preload against separation, {case.name}{group.hw.of}"
    unload = (1.0 - group.load_factor) * force
    need = needed * max(unload, 0.0)
    note = "" if unload > 0.0 else "nothing opens the joint in this case"
    said = f"(1 − Φ)·F_A times {needed:g}; factor: {basis}"
    bench.at_least("separation_factor", title, need, state.low, "force", said, note)


def check_service(bench: Bench, case: Case, group: Group, state: jl.BoltState, at: Heated) -> None:
    """Bolt load at the high end with half the torsion that tightening left, against yield at bolt temperature."""
    hw, title = group.hw, f"bolt stress in service, {case.name}{group.hw.of}"
    if hw.section is None:
        return
    if hw.yield_strength is None:
        bench.missing("bolt_load_high", title, ("bolting.grade",), note="needs bolting.grade", kind="stress")
        return
    axial, twist = max(state.high, 0.0) / hw.section.area, 0.5 * group.twist_high
    stress = combined_stress(axial, twist)
    group.lines.put(
        "service_stress",
        stress,
        {"F_S": (state.high, "force"), "A_min": (hw.section.area, "area"), "τ_high/2": (twist, "stress")},
    )
    try:
        strength, basis = yield_at(hw, at.bolt, bench.system)
    except (InputError, LibraryError) as error:
        bench.missing("bolt_load_high", title, ("bolting.grade",), note=bench.said(error), kind="stress")
        return
    group.lines.put("yield_at_temperature", strength)
    note = f"at {bench.show(at.bolt, 'temperature')}" if at.bolt > at.assembly else ""
    bench.at_most("bolt_load_high", title, stress, strength, "stress", basis, note)


def outside(joint: Joint, case: Case) -> float:
    """Opening force besides pressure, N: the joint's and the case's own."""
    own = joint.load.extra_axial if joint.load is not None else None
    return math.fsum(value for value in (own, case.extra_axial) if value is not None)
