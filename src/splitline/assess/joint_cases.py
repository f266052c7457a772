"""Load cases: what pressure and temperature leave of the clamp, and what they make of the bolt load."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_material import modulus_shares, strain, yield_at
from splitline.assess.joint_scatter import Ends
from splitline.assess.joint_types import Hardware, Material
from splitline.bolting import joint_load as jl
from splitline.bolting.introduction import Introduction
from splitline.bolting.torque import combined_stress
from splitline.errors import InputError, LibraryError
from splitline.plan.model.joint import Case, Joint

SEPARATION, SEPARATION_TEST = 1.2, 1.1
PRACTICE = "common practice, no published source"
LIMIT = "VDI 2230-1:2003, 5.5.2: half the torsion stays"


@dataclass(frozen=True, slots=True)
class Group:
    """One size of bolts as the cases see it. Without stiffnesses nothing relieves the faces (Φ = 0)."""

    number: int  # of the size, 0 the main one
    hw: Hardware
    preload: float
    ends: Ends
    bolt_stiffness: float | None
    member_stiffness: float | None
    twist_high: float | None  # torsion while tightening at the high preload, Pa; None where friction is not known
    introduction: Introduction
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
    def load_factor(self) -> float | None:
        """Φ, None without stiffnesses."""
        if self.bolt_stiffness is None or self.member_stiffness is None:
            return None
        return self.bolt_stiffness / (self.bolt_stiffness + self.member_stiffness)

    @property
    def relief(self) -> float:
        """n·Φ at the end that relieves the faces least."""
        return self.introduction.low * (self.load_factor or 0.0)

    @property
    def felt(self) -> float | None:
        """n·Φ at the end that loads the bolt most, None without stiffnesses."""
        return None if self.load_factor is None else self.introduction.high * self.load_factor


@dataclass(frozen=True, slots=True)
class Heated:
    """Temperatures of a case, K: one value where given, both ends where a hot case leaves one open."""

    assembly: float
    bolts: tuple[float, ...]
    members: tuple[float, ...]

    @property
    def cold(self) -> bool:
        """Whether nothing is warmer or colder than at assembly."""
        return set(self.bolts) | set(self.members) == {self.assembly}


@dataclass(frozen=True, slots=True)
class Thermal:
    """Change of one bolt's preload by temperature, N: the same twice where every temperature and modulus is known.

    ``by_bolt``: the greatest change at each temperature (K) the bolt may have.
    """

    low: float
    high: float
    by_bolt: tuple[tuple[float, float], ...]


def temperatures(bench: Bench, joint: Joint, case: Case, number: int) -> Heated:
    """Temperatures of a case. With both left open nothing changes; with one given the other is not guessed at 20 °C."""
    load = joint.load
    assembly = load.assembly_temperature if load is not None else None
    if assembly is None:
        bench.default("load.assembly_temperature", bench.show(293.15, "temperature"), PRACTICE)
        assembly = 293.15
    bolt, member = case.bolt_temperature, case.member_temperature
    if bolt is None and member is None:
        said = f"{bench.show(assembly, 'temperature')}, bolts as well"
        bench.default(f"case.{number}.member_temperature", said, "no temperature is given: as assembled")
    return Heated(
        assembly,
        _ends_of(bench, f"case.{number}.bolt_temperature", bolt, member, assembly),
        _ends_of(bench, f"case.{number}.member_temperature", member, bolt, assembly),
    )


def _ends_of(bench: Bench, field: str, own: float | None, other: float | None, assembly: float) -> tuple[float, ...]:
    if own is not None:
        return (own,)
    if other is None or other == assembly:
        return (assembly,)
    ends = (min(assembly, other), max(assembly, other))
    said = " or ".join(bench.show(end, "temperature") for end in ends)
    bench.default(field, said, "not given: each check takes the worse of assembly and the other parts' temperature")
    return ends


def thermal_change(bench: Bench, case: Case, group: Group, member: Material, at: Heated) -> Thermal | None:
    """Change of one bolt's preload by temperature; None (and a missing check) where something is not known."""
    lines = group.lines
    title = f"change of preload by temperature, {case.name}{group.hw.of}"
    if at.cold:
        lines.put("thermal_change", 0.0)
        return Thermal(0.0, 0.0, ((at.assembly, 0.0),))
    if group.load_factor is None:
        needs = ("bolting.clamp_length", "member.modulus")
        bench.missing(
            "thermal_change", title, needs, note="needs the stiffness of bolt and clamped parts", kind="force"
        )
        return None
    try:
        needs_ = _no_expansion(group.hw.material, member, at)
        if needs_:
            bench.missing("thermal_change", title, needs_, note="needs " + ", ".join(needs_), kind="force")
            return None
        return _put_thermal(bench, group, member, at)
    except (InputError, LibraryError) as error:
        wanted = [group.hw.field("grade")] if not _known(group.hw.material) else []
        wanted += ["member.material"] if not _known(member) else []
        bench.missing("thermal_change", title, wanted, note=bench.said(error), kind="force")
        return None


def _known(material: Material) -> bool:
    """Whether its modulus is known against temperature, be it between two ends."""
    return material.modulus_curve is not None or bool(material.typed_curves)


def _no_expansion(bolt: Material, member: Material, at: Heated) -> list[str]:
    return [
        name
        for name, material, ends in (("bolting.expansion", bolt, at.bolts), ("member.expansion", member, at.members))
        if any(strain(material, at.assembly, end) is None for end in ends)
    ]


def _put_thermal(bench: Bench, group: Group, member: Material, at: Heated) -> Thermal:
    """The least and the greatest change over what the plan leaves open."""
    k_b, k_m = group.bolt_stiffness or 1.0, group.member_stiffness or 1.0
    found: list[tuple[float, jl.Heat]] = []
    by_bolt: dict[float, float] = {}
    for bolt, parts in product(at.bolts, at.members):
        rise_b, rise_m = bolt - at.assembly, parts - at.assembly
        strain_b, strain_m = strain(group.hw.material, at.assembly, bolt), strain(member, at.assembly, parts)
        shares = product(
            modulus_shares(group.hw.material, at.assembly, bolt), modulus_shares(member, at.assembly, parts)
        )
        for share_b, share_m in shares:
            heat = jl.Heat(
                group.hw.clamp_length or 0.0,
                (strain_b or 0.0) / rise_b if rise_b else 0.0,
                rise_b,
                (strain_m or 0.0) / rise_m if rise_m else 0.0,
                rise_m,
                share_b,
                share_m,
            )
            found.append((jl.thermal_change(heat, 1.0 / k_b, 1.0 / k_m, group.preload), heat))
            by_bolt[bolt] = max(by_bolt.get(bolt, -math.inf), found[-1][0])
    low, high = min(found, key=lambda each: each[0]), max(found, key=lambda each: each[0])
    _say_typed(bench, group, member, at)
    _put_line(group, "thermal_change", *low, k_b, k_m)
    if high[0] != low[0]:
        _put_line(group, "thermal_change_high", *high, k_b, k_m)
    return Thermal(low[0], high[0], tuple(by_bolt.items()))


def _say_typed(bench: Bench, group: Group, member: Material, at: Heated) -> None:
    """A modulus of one number in a hot case: what is taken, and on which side."""
    for field, material, ends in (
        (group.hw.field("modulus"), group.hw.material, at.bolts),
        ("member.modulus", member, at.members),
    ):
        shares = modulus_shares(material, at.assembly, max(ends))
        if len(shares) > 1:
            most = min(material.typed_curves, key=lambda curve: curve.at(max(ends)) / curve.at(at.assembly))
            said = f"{min(shares):.3f} to 1 of the value given, at {bench.show(max(ends), 'temperature')}"
            basis = f"one number is given: the worse for each check of it and its fall as {most.what}"
            bench.default(f"{field} when hot", said, f"{basis}; {most.source}")


def _put_line(group: Group, key: str, value: float, heat: jl.Heat, k_b: float, k_m: float) -> None:
    group.lines.put(
        key,
        value,
        {
            "L": (heat.clamp_length, "length"),
            "α_m": (heat.member_expansion, "expansion"),
            "ΔT_m": (heat.member_rise, "temperature_difference"),
            "α_b": (heat.bolt_expansion, "expansion"),
            "ΔT_b": (heat.bolt_rise, "temperature_difference"),
            "F": (group.preload, "force"),
            "k_b": (k_b, "stiffness"),
            "k_m": (k_m, "stiffness"),
            "bolt E_T/E": (heat.bolt_modulus_share, "share"),
            "member E_T/E": (heat.member_modulus_share, "share"),
        },
    )


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
    bench: Bench, case: Case, number: int, group: Group, force: float, thermal: Thermal, at: Heated
) -> jl.BoltState:
    """Joint diagram of one bolt in one case: results on ``lines``, the checks on the bench."""
    lines = group.lines
    needed, basis = required_separation(bench, case, number)
    state = jl.bolt_state(group.low, group.high, group.relief, force, thermal.low)
    relief = {"n": (group.introduction.low, "number"), "Φ": (group.load_factor or 0.0, "share")}
    out = (force, "force")
    low = {"F_low": (group.low, "force"), "ΔF": (thermal.low, "force"), **relief, "F_A": out}
    lines.put("residual_clamp", state.residual_clamp, {**low})
    lines.put("separation_factor", state.separation_factor, {**low})
    check_separation(bench, case, group, state, force, needed, basis)
    felt = group.felt
    if felt is not None and force < 0.0:  # it closes the joint: what relieves the bolt least counts
        felt = group.relief
    if felt is None:
        title = f"bolt stress in service, {case.name}{group.hw.of}"
        needs = ("bolting.clamp_length", "member.modulus")
        bench.missing(
            "bolt_load_high", title, needs, note="needs the stiffness of bolt and clamped parts", kind="stress"
        )
        return jl.bolt_state(
            group.low, group.high, 1.0, max(force, 0.0), thermal.high
        )  # for threads and faces: all of it
    upper = jl.bolt_state(group.low, group.high, felt, force, thermal.high)
    phi = {"n": (group.introduction.high, "number"), "Φ": (group.load_factor or 0.0, "share")}
    high = {"F_high": (group.high, "force"), "ΔF": (thermal.high, "force"), **phi, "F_A": out}
    lines.put("bolt_load_high", upper.high, {**high})
    lines.put("load_swing", upper.swing, {**phi, "F_A": out})
    loads = [(bolt, jl.bolt_state(group.low, group.high, felt, force, most).high) for bolt, most in thermal.by_bolt]
    check_service(bench, case, group, loads, at)
    return upper


def check_separation(
    bench: Bench, case: Case, group: Group, state: jl.BoltState, force: float, needed: float, basis: str
) -> None:
    """Low preload (temperature included) against what unloads the faces times the wanted factor."""
    title = f"low preload against separation, {case.name}{group.hw.of}"
    unload = (1.0 - group.relief) * force
    need = needed * max(unload, 0.0)
    note = "" if unload > 0.0 else "nothing opens the joint in this case"
    said = f"(1 − n·Φ)·F_A times {needed:g}; factor: {basis}; n = {group.introduction.low:g}"
    bench.at_least("separation_factor", title, need, state.low, "force", said, note)


def check_service(bench: Bench, case: Case, group: Group, loads: list[tuple[float, float]], at: Heated) -> None:
    """Bolt load at the high end with half the torsion that tightening left, against yield at bolt temperature.

    ``loads``: the bolt load (N) at each temperature (K) the bolt may have; the worse of stress over yield counts.
    """
    hw, title = group.hw, f"bolt stress in service, {case.name}{group.hw.of}"
    if hw.section is None:
        return
    if hw.yield_strength is None and hw.hot_yield is None:
        bench.missing("bolt_load_high", title, ("bolting.grade",), note="needs bolting.grade", kind="stress")
        return
    if group.twist_high is None:
        note = "the torsion that tightening leaves is not known without friction"
        bench.missing("bolt_load_high", title, ("friction.lubricant",), LIMIT, note, kind="stress")
        return
    twist, area = 0.5 * group.twist_high, hw.section.area
    found = [(combined_stress(max(load, 0.0) / area, twist), load, bolt) for bolt, load in loads]
    try:
        limits = [yield_at(hw, bolt, bench.system) for _, _, bolt in found]
    except (InputError, LibraryError) as error:
        _put_service(group, *max(found)[:2], area, twist)
        bench.missing("bolt_load_high", title, (hw.field("hot_yield"),), note=bench.said(error), kind="stress")
        return
    (stress, load, bolt), (strength, basis) = max(
        zip(found, limits, strict=True), key=lambda one: one[0][0] / one[1][0]
    )
    _put_service(group, stress, load, area, twist)
    group.lines.put("yield_at_temperature", strength)
    note = f"at {bench.show(bolt, 'temperature')}" if bolt > at.assembly else ""
    bench.at_most("bolt_load_high", title, stress, strength, "stress", basis, note)


def _put_service(group: Group, stress: float, load: float, area: float, twist: float) -> None:
    puts = {"F_S": (load, "force"), "A_min": (area, "area"), "τ_high/2": (twist, "stress")}
    group.lines.put("service_stress", stress, {**puts})


def outside(joint: Joint, case: Case) -> float:
    """Opening force besides pressure, N: the joint's and the case's own."""
    own = joint.load.extra_axial if joint.load is not None else None
    return math.fsum(value for value in (own, case.extra_axial) if value is not None)
