"""Load cases: what outside force and temperature leave of the clamp, and what they make of the bolt load."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from splitline.assess.context import Context
from splitline.assess.joint_load import CASE, CaseAt
from splitline.assess.joint_material import modulus_shares, strain, yield_at
from splitline.assess.joint_scatter import Ends
from splitline.assess.joint_sheet import PRACTICE, SHEET, SHIGLEY, SIZE, VDI, Sized
from splitline.assess.joint_types import Material, Strength
from splitline.assess.sheet import Absent, Against, Assumed, Each, Rule
from splitline.assess.speak import said
from splitline.bolting import joint_load as jl
from splitline.bolting.introduction import Introduction
from splitline.bolting.thread import Section
from splitline.bolting.torque import combined_stress
from splitline.errors import InputError, LibraryError
from splitline.library.curves import REFERENCE, Curve
from splitline.plan.model.joint import Joint
from splitline.units import show

if TYPE_CHECKING:
    from splitline.assess.tightening import Predicted

SEPARATION, SEPARATION_TEST = 1.2, 1.1
LIMIT = "VDI 2230-1:2003, 5.5.2: half the torsion stays"
STIFFNESSES = "needs the stiffness of bolt and clamped parts"

# temperatures


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


@SHEET.result(CASE)
def heated(case: CaseAt, joint: Joint) -> Heated:
    """With both left open nothing changes; with one given the other is not guessed at 20 °C."""
    given = joint.load.assembly_temperature if joint.load is not None else None
    assembly = REFERENCE if given is None else given
    bolt, member = case.plan.bolt_temperature, case.plan.member_temperature
    return Heated(assembly, _ends_of(bolt, member, assembly), _ends_of(member, bolt, assembly))


def _ends_of(own: float | None, other: float | None, assembly: float) -> tuple[float, ...]:
    if own is not None:
        return (own,)
    return (assembly,) if other is None or other == assembly else (min(assembly, other), max(assembly, other))


@SHEET.note(CASE)
def usual_assembly(joint: Joint, heated: Heated) -> Assumed | None:
    if joint.load is not None and joint.load.assembly_temperature is not None:
        return None
    return Assumed(heated.assembly, "load.assembly_temperature", PRACTICE, "temperature")


@SHEET.note(CASE)
def as_assembled(case: CaseAt, heated: Heated, context: Context) -> Assumed | None:
    if case.plan.bolt_temperature is not None or case.plan.member_temperature is not None:
        return None
    text = f"{show(heated.assembly, 'temperature', context.system)}, bolts as well"
    return Assumed(None, case.field("member_temperature"), "no temperature is given: as assembled", text=text)


def _open_end(name: str, of: str) -> None:
    """Both ends of a temperature that a hot case leaves open."""

    def taken(case: CaseAt, heated: Heated, context: Context) -> Assumed | None:
        ends = getattr(heated, of)
        if len(ends) == 1:
            return None
        text = " or ".join(show(end, "temperature", context.system) for end in ends)
        basis = "not given: each check takes the worse of assembly and the other parts' temperature"
        return Assumed(ends, case.field(name), basis, text=text)

    taken.__name__ = f"open_{of}"
    SHEET.note(CASE)(taken)


_open_end("bolt_temperature", "bolts")
_open_end("member_temperature", "members")

# change of preload by temperature


@dataclass(frozen=True, slots=True)
class Thermal:
    """Change of one bolt's preload by temperature, N: the same twice where every temperature and modulus is known.

    ``by_bolt``: the greatest change at each temperature (K) the bolt may have; ``cool`` and ``warm``: what gives the ends.
    """

    low: float
    high: float
    by_bolt: tuple[tuple[float, float], ...]
    cool: jl.Heat | None = None
    warm: jl.Heat | None = None


@SHEET.result(SIZE, CASE, after=("ends",))
def thermal(
    size: Sized, clamped: Clamped, heated: Heated, bolt_material: Material, member_material: Material, context: Context
) -> Thermal:
    """The least and the greatest change over what the plan leaves open."""
    if heated.cold:
        return Thermal(0.0, 0.0, ((heated.assembly, 0.0),))
    if clamped.load_factor is None:
        raise Absent("bolting.clamp_length", "member.modulus", why=STIFFNESSES)
    try:
        needs = [
            name
            for name, material, ends in (
                ("bolting.expansion", bolt_material, heated.bolts),
                ("member.expansion", member_material, heated.members),
            )
            if any(strain(material, heated.assembly, end) is None for end in ends)
        ]
        if not needs:
            return _over_what_is_open(size, clamped, heated, bolt_material, member_material)
    except (InputError, LibraryError) as error:
        wanted = [size.own("grade")] if not _known(bolt_material) else []
        wanted += ["member.material"] if not _known(member_material) else []
        raise Absent(*wanted, why=said(error, context.system)) from error
    raise Absent(*needs)


def _known(material: Material) -> bool:
    """Whether its modulus is known against temperature, be it between two ends."""
    return material.modulus_curve is not None or bool(material.typed_curves)


def _over_what_is_open(size: Sized, clamped: Clamped, at: Heated, own: Material, member: Material) -> Thermal:
    found: list[tuple[float, jl.Heat]] = []
    by_bolt: dict[float, float] = {}
    k_b, k_m = clamped.bolt_stiffness or 1.0, clamped.member_stiffness or 1.0
    for bolt, parts in product(at.bolts, at.members):
        rise_b, rise_m = bolt - at.assembly, parts - at.assembly
        strain_b, strain_m = strain(own, at.assembly, bolt), strain(member, at.assembly, parts)
        shares = product(modulus_shares(own, at.assembly, bolt), modulus_shares(member, at.assembly, parts))
        for share_b, share_m in shares:
            heat = jl.Heat(
                size.bolting.clamp_length or 0.0,
                (strain_b or 0.0) / rise_b if rise_b else 0.0,
                rise_b,
                (strain_m or 0.0) / rise_m if rise_m else 0.0,
                rise_m,
                share_b,
                share_m,
            )
            found.append((jl.thermal_change(heat, 1.0 / k_b, 1.0 / k_m, clamped.preload), heat))
            by_bolt[bolt] = max(by_bolt.get(bolt, -math.inf), found[-1][0])
    low, high = min(found, key=lambda each: each[0]), max(found, key=lambda each: each[0])
    return Thermal(low[0], high[0], tuple(by_bolt.items()), low[1], high[1])


@SHEET.check("thermal_change", "change of preload by temperature, {case.name}{size.of}", SIZE, CASE, kind="force",
             after=("ends",))  # fmt: skip
def thermal_known(thermal: Thermal) -> None:
    """Only says what is missing."""


def _when_hot(of: str) -> None:
    """A modulus of one number in a hot case: what is taken, and on which side."""

    def taken(
        size: Sized, heated: Heated, bolt_material: Material, member_material: Material, context: Context
    ) -> Assumed | None:
        bolt = of == "bolts"
        material, hot = (bolt_material, max(heated.bolts)) if bolt else (member_material, max(heated.members))
        shares = modulus_shares(material, heated.assembly, hot)
        if len(shares) < 2:
            return None
        most = min(material.typed_curves, key=lambda curve: curve.at(hot) / curve.at(heated.assembly))
        at = show(hot, "temperature", context.system)
        text = f"{min(shares):.3f} to 1 of the value given, at {at}"
        basis = f"one number is given: the worse for each check of it and its fall as {most.what}; {most.source}"
        field = size.own("modulus") if bolt else "member.modulus"
        return Assumed(None, f"{field} when hot", basis, text=text)

    taken.__name__ = f"hot_{of}"
    SHEET.note(SIZE, CASE, after=("thermal_heat",))(taken)


SHEET.tell("thermal_heat", "thermal.cool")
_when_hot("bolts")
_when_hot("members")


def _puts(of: str) -> dict[str, tuple[str, str]]:
    return {
        "L": (f"thermal.{of}.clamp_length", "length"), "α_m": (f"thermal.{of}.member_expansion", "expansion"),
        "ΔT_m": (f"thermal.{of}.member_rise", "temperature_difference"),
        "α_b": (f"thermal.{of}.bolt_expansion", "expansion"),
        "ΔT_b": (f"thermal.{of}.bolt_rise", "temperature_difference"), "F": ("preload", "force"),
        "k_b": ("bolt_stiffness", "stiffness"), "k_m": ("member_stiffness", "stiffness"),
        "bolt E_T/E": (f"thermal.{of}.bolt_modulus_share", "share"),
        "member E_T/E": (f"thermal.{of}.member_modulus_share", "share"),
    }  # fmt: skip


BY_HEAT = "[L (α_m ΔT_m − α_b ΔT_b) + F (1/k_b + 1/k_m)] / (E/E_T/k_b + E/E_T/k_m) − F"


def _changed(thermal: Thermal) -> bool:
    return thermal.cool is not None


@SHEET.result(SIZE, CASE, name="thermal_change", when=_changed, kind="force", title="Change of preload by temperature",
              symbol="ΔF", formula=BY_HEAT, source=f"{VDI}, 5.4.2.3", puts=_puts("cool"))  # fmt: skip
def least_change(thermal: Thermal) -> float:
    return thermal.low


SHEET.tell(
    "thermal_change", "thermal.low", "force", "Change of preload by temperature", "ΔF", BY_HEAT, f"{VDI}, 5.4.2.3"
)


@SHEET.result(SIZE, CASE, when=_changed, kind="force", title="Change of preload by temperature, greatest", symbol="ΔF_high",
              formula=BY_HEAT, source=f"{VDI}, 5.4.2.3; over what the plan leaves open", puts=_puts("warm"))  # fmt: skip
def thermal_change_high(thermal: Thermal) -> float | None:
    return thermal.high if thermal.high != thermal.low else None


# joint diagram of one bolt


@dataclass(frozen=True, slots=True)
class Clamped:
    """One size of bolts as the cases see it. Without stiffnesses nothing relieves the faces (Φ = 0)."""

    preload: float
    ends: Ends
    introduction: Introduction
    bolt_stiffness: float | None
    member_stiffness: float | None
    load_factor: float | None  # Φ

    @property
    def relief(self) -> float:
        """n·Φ at the end that relieves the faces least."""
        return self.introduction.low * (self.load_factor or 0.0)

    def felt(self, force: float) -> float | None:
        """n·Φ at the end that loads the bolt most, None without stiffnesses. A force that closes the joint: the least."""
        if force < 0.0 or self.load_factor is None:
            return self.relief if self.load_factor is not None else None
        return self.introduction.high * self.load_factor


@SHEET.result(SIZE)
def clamped(
    preload: float, ends: Ends, introduced: Introduction, bolt_stiffness: float | None = None,
    member_stiffness: float | None = None, load_factor: float | None = None,
) -> Clamped:  # fmt: skip
    return Clamped(preload, ends, introduced, bolt_stiffness, member_stiffness, load_factor)


@SHEET.result(SIZE)
def phi(clamped: Clamped) -> float:
    """Φ as it is written down: 0 where nothing relieves the faces."""
    return clamped.load_factor or 0.0


@SHEET.result(SIZE, CASE)
def state(clamped: Clamped, own_force: float, thermal: Thermal) -> jl.BoltState:
    """The bolt at the low end."""
    return jl.bolt_state(clamped.ends.low, clamped.ends.high, clamped.relief, own_force, thermal.low)


_LOW = {"F_low": ("ends.low", "force"), "ΔF": ("thermal.low", "force"), "n": ("introduced.low", "number"),
        "Φ": ("phi", "share"), "F_A": ("own_force", "force")}  # fmt: skip
SHEET.tell("residual_clamp", "state.residual_clamp", "force", "Clamp left per bolt at low preload", "F_K",
           "F_low + ΔF − (1 − n·Φ)·F_A", f"{SHIGLEY}, eq. 8-25", puts=_LOW)  # fmt: skip
SHEET.tell("separation_factor", "state.separation_factor", "number", "Low preload over what unloads the faces", "S",
           "(F_low + ΔF) / ((1 − n·Φ)·F_A)", f"{SHIGLEY}, eq. 8-30", puts=_LOW)  # fmt: skip


@SHEET.note(SIZE, CASE, after=("state",))
def operating(case: CaseAt) -> Assumed | None:
    if case.plan.kind is not None or case.plan.required_separation is not None:
        return None
    basis = 'the kind that wants more; a test says kind = "test"'
    return Assumed("operating", case.field("kind"), basis, text="operating")


@SHEET.note(SIZE, CASE, after=("state",))
def usual_separation(case: CaseAt, wanted_separation: float) -> Assumed | None:
    if case.plan.required_separation is not None:
        return None
    return Assumed(wanted_separation, case.field("required_separation"), PRACTICE, text=f"{wanted_separation:g}")


@SHEET.result(CASE)
def wanted_separation(case: CaseAt) -> float:
    """Separation factor wanted: 1.2, a test 1.1. What is a test is said by its kind; none is operating."""
    usual = SEPARATION_TEST if case.plan.kind == "test" else SEPARATION
    return usual if case.plan.required_separation is None else case.plan.required_separation


@SHEET.result(SIZE, CASE)
def unloading(clamped: Clamped, own_force: float) -> float:
    """What unloads the faces, N."""
    return (1.0 - clamped.relief) * own_force


@SHEET.result(SIZE, CASE)
def clamp_needed(unloading: float, wanted_separation: float) -> float:
    """Low preload, temperature included, that the wanted separation takes, N."""
    return wanted_separation * max(unloading, 0.0)


@SHEET.check("separation_factor", "low preload against separation, {case.name}{size.of}", SIZE, CASE, sense="at least",
             kind="force", quiet=True)  # fmt: skip
def not_separated(
    case: CaseAt, state: jl.BoltState, clamp_needed: float, unloading: float, wanted_separation: float,
    introduced: Introduction,
) -> Against:  # fmt: skip
    source = PRACTICE if case.plan.required_separation is None else "plan"
    basis = f"(1 − n·Φ)·F_A times {wanted_separation:g}; factor: {source}; n = {introduced.low:g}"
    note = "" if unloading > 0.0 else "nothing opens the joint in this case"
    return Against(clamp_needed, state.low, note, basis)


@SHEET.result(SIZE, CASE)
def upper(clamped: Clamped, own_force: float, thermal: Thermal) -> jl.BoltState | None:
    """The bolt at the high end."""
    felt = clamped.felt(own_force)
    if felt is None:
        return None
    return jl.bolt_state(clamped.ends.low, clamped.ends.high, felt, own_force, thermal.high)


@SHEET.check(
    "bolt_load_high", "bolt stress in service, {case.name}{size.of}", SIZE, CASE, kind="stress", after=("state",)
)
def stiffnesses_known(upper: jl.BoltState | None = None) -> Rule | None:
    return None if upper is not None else Rule("missing", STIFFNESSES, ("bolting.clamp_length", "member.modulus"))


_HIGH = {"n": ("introduced.high", "number"), "Φ": ("phi", "share"), "F_A": ("own_force", "force")}
SHEET.tell("bolt_load_high", "upper.high", "force", "Bolt load at high preload", "F_S", "F_high + ΔF + n·Φ·F_A",
           f"{SHIGLEY}, eq. 8-24",
           puts={"F_high": ("ends.high", "force"), "ΔF": ("thermal.high", "force"), **_HIGH})  # fmt: skip
SHEET.tell("load_swing", "upper.swing", "force", "Swing of the bolt load", "ΔF_S", "n·Φ·F_A", f"{SHIGLEY}, eq. 8-24",
           puts=_HIGH)  # fmt: skip


@SHEET.result(SIZE, CASE)
def case_load(clamped: Clamped, own_force: float, thermal: Thermal, upper: jl.BoltState | None = None) -> float:
    """Greatest bolt load of the case, N: all of the force where no stiffness is known."""
    if upper is not None:
        return upper.high
    return jl.bolt_state(clamped.ends.low, clamped.ends.high, 1.0, max(own_force, 0.0), thermal.high).high


@SHEET.result(SIZE, each={"loads": Each("case_load", present=True)})
def greatest(ends: Ends, loads: tuple[float, ...]) -> float:
    """Greatest bolt load of all cases, for threads and faces, N."""
    return max((ends.high, *loads))


# bolt load at the high end with half the torsion that tightening left, against yield at bolt temperature


@dataclass(frozen=True, slots=True)
class Service:
    """The bolt temperature (K) at which stress over yield is worst; ``fault``: why yield is not known there."""

    stress: float
    load: float
    bolt: float
    limit: float | None = None
    basis: str = ""
    fault: Exception | None = None


@SHEET.result(SIZE, CASE)
def service(
    clamped: Clamped, own_force: float, thermal: Thermal, upper: jl.BoltState, section: Section, twist_high: float,
    strength: Strength, context: Context, hot_yield: Curve | None = None,
) -> Service | None:  # fmt: skip
    if strength.yields is None and hot_yield is None:
        return None
    ends, felt = clamped.ends, clamped.felt(own_force) or 0.0
    loads = [(jl.bolt_state(ends.low, ends.high, felt, own_force, most).high, bolt) for bolt, most in thermal.by_bolt]
    found = [(combined_stress(max(load, 0.0) / section.area, 0.5 * twist_high), load, bolt) for load, bolt in loads]
    try:
        limits = [yield_at(strength, hot_yield, bolt, context.system) for _, _, bolt in found]
    except (InputError, LibraryError) as error:
        return Service(*max(found), fault=error)
    worst, limit = max(zip(found, limits, strict=True), key=lambda one: one[0][0] / one[1][0])
    return Service(*worst, *limit)


SHEET.tell("service_stress", "service.stress", "stress", "Combined stress in service at high preload", "σ_S",
           "√((F_S/A_min)² + 3 (τ_high/2)²)", f"{VDI}, 5.5.2: half the torsion stays",
           puts={"F_S": ("service.load", "force"), "A_min": ("section.area", "area"),
                 "τ_high/2": ("half_twist", "stress")})  # fmt: skip
SHEET.tell("yield_at_temperature", "service.limit", "stress", "Yield at bolt temperature", "R_e,T",
           "yield · share kept at temperature", "grade and its curve")  # fmt: skip


@SHEET.result(SIZE)
def half_twist(twist_high: float) -> float:
    """Half the torsion stays, Pa."""
    return 0.5 * twist_high


@SHEET.check("bolt_load_high", "bolt stress in service, {case.name}{size.of}", SIZE, CASE, kind="stress",
             after=("upper", "section"))  # fmt: skip
def within_yield(
    size: Sized, heated: Heated, strength: Strength, context: Context, service: Service | None = None,
    hot_yield: Curve | None = None,
) -> Against | Rule:  # fmt: skip
    if service is None and strength.yields is None and hot_yield is None:
        return Rule("missing", "needs bolting.grade", ("bolting.grade",))
    if service is None:
        note = "the torsion that tightening leaves is not known without friction"
        return Rule("missing", note, ("friction.lubricant",), LIMIT)
    if service.limit is None:
        why = said(service.fault, context.system) if service.fault is not None else ""
        return Rule("missing", why, (size.own("hot_yield"),))
    warm = service.bolt > heated.assembly
    note = f"at {show(service.bolt, 'temperature', context.system)}" if warm else ""
    return Against(service.stress, service.limit, note, service.basis)


# preload right after tightening that keeps every case's separation


@SHEET.result(SIZE, CASE)
def need_after_tightening(clamp_needed: float, state: jl.BoltState, ends: Ends, relaxation: float) -> float:
    """(need − change by temperature)/(1 − relaxation), N."""
    return (clamp_needed - (state.low - ends.low)) / (1 - relaxation)


SHEET.tell("relaxation", "spread.relaxation")


@SHEET.result(SIZE, each={"needs": Each("need_after_tightening", present=True)})
def size_need(size: Sized, needs: tuple[float, ...]) -> tuple[int, float] | None:
    """The greatest of all cases, with the number of the size; None where no case was assessed."""
    return (size.number, max(*needs, 0.0)) if needs else None


@SHEET.result(each={"sizes": Each("size_need", present=True)}, kind="force", after=("forecast",),
              title="Preload the cases need right after tightening", formula="(need − ΔF)/(1 − r)", source="statics")  # fmt: skip
def needed_preload(sizes: tuple[tuple[int, float], ...]) -> float | None:
    """Of the main size."""
    return dict(sizes).get(0)


@SHEET.result(kind="share", title="Chance that a bolt ends below what is needed", formula="1 − E[Π Φ], or share of trials",
              source="normal scatter, one draw per bolt and one common")  # fmt: skip
def chance_below_need(forecast: Predicted, needed_preload: float) -> float:
    return forecast.scattered.extremes.lowest_below(needed_preload)
