"""Friction, target preload, torque and stress of one size of bolts while it is tightened."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from splitline.assess.context import Context
from splitline.assess.joint_sheet import SHEET, SHIGLEY, SIZE, VDI, Sized, method_of
from splitline.assess.joint_types import Grip, Strength
from splitline.assess.sheet import Absent, Against, Rule
from splitline.bolting import torque as tq
from splitline.bolting.ranges import positive
from splitline.bolting.stretch import load_from_stretch
from splitline.bolting.thread import Section, Thread
from splitline.bolting.torque import Friction, friction_from_nut_factor
from splitline.errors import InputError, LibraryError
from splitline.library.lubricants import Lubricant, lubricant
from splitline.plan.model.bolting import FrictionTable
from splitline.plan.model.joint import Joint, Target
from splitline.units import show

NO_TWIST = ("hydraulic tensioner", "heat")  # methods that pull or heat the bolt and then run the nut down by hand
BY_TORQUE = ("", "torque wrench", "hydraulic wrench")
AT_TARGET = "stress at target on the least area"

# friction: two coefficients, a nut factor, or a lubricant by class of product

NOTHING_GIVEN = Grip(needs=("friction.lubricant",), note="no lubricant and no friction is given")


@dataclass(frozen=True, slots=True)
class Rubbing:
    """The face that turns, m."""

    bearing: float
    hole: float

    @property
    def mean(self) -> float:
        """Diameter its friction acts at."""
        return tq.mean_bearing_diameter(self.bearing, self.hole)


@SHEET.result(SIZE)
def rubbing(bearing_diameter: float, hole_diameter: float) -> Rubbing:
    return Rubbing(bearing_diameter, hole_diameter)


@SHEET.result(SIZE)
def friction(joint: Joint, context: Context, thread: Thread | None = None, rubbing: Rubbing | None = None) -> Grip:
    """Friction as the plan gives it. A lubricant beside given numbers names the class; the numbers count."""
    table, found, problem = joint.friction, None, ""
    if table is None:
        return NOTHING_GIVEN
    if table.lubricant:
        try:
            found = lubricant(context.library, table.lubricant)
        except LibraryError as error:
            problem = str(error)
    if table.nut_factor is not None:
        return _short(table.nut_factor, found, thread, rubbing)
    if table.thread is not None and table.bearing is not None:
        source = "plan" if found is None else f"plan, {found.name}"
        return Grip(Friction(table.thread, table.bearing), source=source, dry=found is not None and found.dry)
    if found is not None:
        return _with_given(_long(found), table)
    given = {"friction.thread": table.thread, "friction.bearing": table.bearing}
    needs = tuple(name for name, value in given.items() if value is None)
    if any(given.values()):
        return Grip(needs=needs, note=problem or "needs " + ", ".join(needs))
    return replace(NOTHING_GIVEN, note=problem or NOTHING_GIVEN.note)


def _long(found: Lubricant) -> Grip:
    return Grip(
        nominal=Friction(found.thread.nominal, found.bearing.nominal),
        low=Friction(found.thread.low, found.bearing.low),
        high=Friction(found.thread.high, found.bearing.high),
        source=f"{found.name}: {found.source}",
        dry=found.dry,
        note=found.note,
    )


def _with_given(grip: Grip, table: FrictionTable) -> Grip:
    if grip.nominal is None or (table.thread is None and table.bearing is None):
        return grip
    thread = table.thread if table.thread is not None else grip.nominal.thread
    bearing = table.bearing if table.bearing is not None else grip.nominal.bearing
    return replace(grip, nominal=Friction(thread, bearing), low=None, high=None, source=f"plan and {grip.source}")


def _short(factor: float, found: Lubricant | None, thread: Thread | None, face: Rubbing | None) -> Grip:
    """Nut factor; the torsion comes from the lubricant's class, or from the one friction that gives this factor."""
    if found is not None:
        nominal = Friction(found.thread.nominal, found.bearing.nominal)
        source = f"nut factor of the plan; torsion from {found.name}: {found.source}"
        return Grip(nominal, nut_factor=factor, source=source, dry=found.dry)
    bare = Grip(nut_factor=factor, source="nut factor of the plan")
    if thread is None or face is None:
        return replace(bare, note="no lubricant class, and no bearing face to tell friction from the nut factor")
    try:
        mu = friction_from_nut_factor(factor, thread, face.bearing, face.hole)
    except InputError as error:
        return replace(bare, note=str(error))
    told = f"nut factor of the plan; torsion from the friction {mu:.3f} in thread and bearing that gives it"
    return replace(bare, nominal=Friction(mu, mu), source=told)


@SHEET.result(SIZE)
def coefficients(friction: Grip) -> Friction:
    """In thread and bearing, nominal."""
    if friction.nominal is None:
        raise Absent(*friction.needs, why=friction.note)
    return friction.nominal


def _by_factor(friction: Grip) -> bool:
    return friction.nut_factor is not None


@SHEET.result(SIZE, name="torque_factor", when=_by_factor)
def torque_factor_short(friction: Grip, thread: Thread) -> float:
    return (friction.nut_factor or 0.0) * thread.d


@SHEET.result(SIZE)
def torque_factor(coefficients: Friction, thread: Thread, rubbing: Rubbing) -> float:
    """T/F, m, at nominal friction."""
    return tq.torque_factor(thread, coefficients, rubbing.bearing, rubbing.hole)


# target preload, from whichever target the plan gives

_preload = partial(
    SHEET.result, SIZE, name="preload", kind="force", title="Target preload", symbol="F", source="{target_source}"
)


@SHEET.result(SIZE)
def target(size: Sized) -> Target:
    names = ("bolt_stress", "yield_fraction", "preload", "torque", "stretch")
    if size.target is None or all(getattr(size.target, name) is None for name in names):
        raise Absent("target", why="give one target: bolt_stress, yield_fraction, preload, torque or stretch")
    return size.target


@SHEET.result(SIZE)
def target_source(target: Target) -> str:
    return f"target: {target.source}" if target.source else "target of the plan"


def _by_stress(target: Target) -> bool:
    return target.bolt_stress is not None


def _by_yield(target: Target) -> bool:
    return target.yield_fraction is not None


def _by_load(target: Target) -> bool:
    return target.preload is not None


def _by_given_torque(target: Target) -> bool:
    return target.torque is not None


@_preload(
    when=_by_stress, formula="σ·A_s", puts={"σ": ("target.bolt_stress", "stress"), "A_s": ("stress_area", "area")}
)
def preload(target: Target, thread: Thread) -> float:
    return positive("target preload", (target.bolt_stress or 0.0) * thread.stress_area)


@_preload(when=_by_yield, formula="share·R_e·A_min",
          puts={"share": ("target.yield_fraction", "share"), "R_e": ("yield_strength", "stress"),
                "A_min": ("section.area", "area")})  # fmt: skip
def preload_of_yield(target: Target, section: Section, yield_strength: float) -> float:
    return positive("target preload", (target.yield_fraction or 0.0) * yield_strength * section.area)


@_preload(when=_by_load, formula="as given", puts={"F": ("target.preload", "force")})
def preload_given(target: Target, thread: Thread) -> float:
    return positive("target preload", target.preload or 0.0)


@_preload(when=_by_given_torque, formula="T / (T/F)",
          puts={"T": ("target.torque", "torque"), "T/F": ("torque_factor", "length")})  # fmt: skip
def preload_of_torque(target: Target, torque_factor: float) -> float:
    return positive("target preload", (target.torque or 0.0) / torque_factor)


@_preload(formula="ΔL·k_b", puts={"ΔL": ("target.stretch", "length"), "k_b": ("bolt_stiffness", "stiffness")})
def preload_of_stretch(target: Target, bolt_stiffness: float) -> float:
    return positive("target preload", load_from_stretch(target.stretch or 0.0, bolt_stiffness))


@SHEET.check("preload", "target preload{size.of}", SIZE)
def has_a_target(preload: float) -> None:
    """Only says what is missing."""


# stress at target

F = {"F": ("preload", "force")}


@SHEET.result(SIZE, kind="stress", title="Stress on the stress area", symbol="σ", formula="F / A_s", source="definition",
              puts={**F, "A_s": ("thread.stress_area", "area")})  # fmt: skip
def bolt_stress(preload: float, thread: Thread) -> float:
    return preload / thread.stress_area


@SHEET.result(SIZE, kind="stress", title="Stress on the least area", symbol="σ_min", formula="F / A_min",
              source="definition", puts={**F, "A_min": ("section.area", "area")})  # fmt: skip
def least_area_stress(preload: float, section: Section) -> float:
    return preload / section.area


@SHEET.result(SIZE, kind="share", title="Share of yield on the least area", symbol="F/F_y", formula="F / (A_min·R_e)",
              source="definition",
              puts={**F, "A_min": ("section.area", "area"), "R_e": ("yield_strength", "stress")})  # fmt: skip
def yield_usage(least_area_stress: float, yield_strength: float) -> float:
    return least_area_stress / yield_strength


@SHEET.check("yield_usage", AT_TARGET + "{size.of}", SIZE, kind="stress")
def yield_known(yield_strength: float) -> None:
    """Only says what is missing, before there is any preload too."""


@SHEET.check("yield_usage", AT_TARGET + "{size.of}", SIZE, kind="stress", basis="yield: {strength.source}", quiet=True)
def under_yield(least_area_stress: float, yield_strength: float, strength: Strength) -> Against:
    return Against(least_area_stress, yield_strength)


# torque at target, and the torsion it leaves

_FLANKS = {**F, "d2": ("thread.pitch_diameter", "length"), "tan λ": ("thread.lead_tangent", "number"),
           "μ_t": ("coefficients.thread", "number")}  # fmt: skip
_torque = partial(SHEET.result, SIZE, name="torque", kind="torque", title="Torque at target", symbol="T")


@_torque(when=_by_factor, formula="K·F·d", source="short form; {friction.source}",
         puts={"K": ("friction.nut_factor", "number"), **F, "d": ("thread.d", "length")})  # fmt: skip
def torque_of_factor(preload: float, torque_factor: float) -> float:
    return preload * torque_factor


@_torque(formula="F·[(d2/2)·(tan λ + μ_t sec 30°)/(1 − μ_t tan λ sec 30°) + μ_b·D_m/2]",
         source=f"{SHIGLEY}, eq. 8-26; friction: {{friction.source}}",
         puts={**_FLANKS, "μ_b": ("coefficients.bearing", "number"), "D_m": ("rubbing.mean", "length")})  # fmt: skip
def torque(preload: float, torque_factor: float) -> float:
    return preload * torque_factor


def by_torque(joint: Joint) -> bool:
    return method_of(joint) in BY_TORQUE


def _torque_asked(joint: Joint, friction: Grip, preload: float | None = None) -> bool:
    """Where the method is by torque; before there is a preload, only for the friction."""
    unknown = friction.nominal is None and friction.nut_factor is None
    return by_torque(joint) and (preload is not None or unknown)


@SHEET.check("torque", "torque{size.of}", SIZE, when=_torque_asked)
def torque_known(torque_factor: float) -> None:
    """Only says what is missing."""


@SHEET.result(SIZE, kind="number", title="Nut factor", symbol="K", formula="T / (F·d)", source="definition",
              puts={"T": ("torque", "torque"), **F, "d": ("thread.d", "length")})  # fmt: skip
def nut_factor(torque: float, torque_factor: float, thread: Thread) -> float:
    return torque_factor / thread.d


@SHEET.check("nut_factor", "nut factor{size.of}", SIZE, when=by_torque, quiet=True,
             basis="0.10 to 0.22 is usual; common practice, no published source")  # fmt: skip
def plausible_factor(nut_factor: float) -> Rule | None:
    note = f"K = {nut_factor:.3f} is outside 0.10 to 0.22: check the friction for these threads"
    return None if 0.10 <= nut_factor <= 0.22 else Rule("near", note)


@SHEET.result(SIZE)
def loosening_factor(torque: float, thread: Thread, coefficients: Friction, rubbing: Rubbing) -> float:
    """T_off/F, m."""
    return tq.loosening_torque_factor(thread, coefficients, rubbing.bearing, rubbing.hole)


@SHEET.result(SIZE, kind="torque", title="Torque to loosen, same friction", symbol="T_off", source=f"{SHIGLEY}, eq. 8-2",
              formula="F·[(d2/2)·(μ_t sec 30° − tan λ)/(1 + μ_t tan λ sec 30°) + μ_b·D_m/2]",
              puts={**F, "T_off/F": ("loosening_factor", "length")})  # fmt: skip
def loosening_torque(preload: float, loosening_factor: float) -> float:
    return preload * loosening_factor


def twists(joint: Joint) -> bool:
    """Whether the nut is turned under load."""
    return method_of(joint) not in NO_TWIST


@SHEET.result(SIZE, when=twists, kind="torque", title="Thread part of the torque", symbol="M_G", puts=_FLANKS,
              formula="F·(d2/2)·(tan λ + μ_t sec 30°)/(1 − μ_t tan λ sec 30°)", source=f"{SHIGLEY}, eq. 8-26")  # fmt: skip
def thread_torque(preload: float, thread: Thread, coefficients: Friction) -> float:
    return preload * tq.thread_torque_factor(thread, coefficients.thread)


@SHEET.result(SIZE, kind="stress", title="Torsion while tightening", symbol="τ", formula="12 M_G / (π (d³ − b³))", source=VDI,
              puts={"M_G": ("thread_torque", "torque"), "d": ("section.outer", "length"),
                    "b": ("section.bore", "length")})  # fmt: skip
def torsion_stress(thread_torque: float, section: Section) -> float:
    return tq.torsion_stress(thread_torque, section)


@SHEET.result(SIZE, kind="stress", title="Combined stress while tightening", symbol="σ_v", formula="√(σ_min² + 3 τ²)",
              source=VDI, puts={"σ_min": ("least_area_stress", "stress"), "τ": ("torsion_stress", "stress")})  # fmt: skip
def combined_stress(least_area_stress: float, torsion_stress: float) -> float:
    return tq.combined_stress(least_area_stress, torsion_stress)


@SHEET.note(SIZE, when=twists)
def torsion_unknown(preload: float, section: Section, friction: Grip) -> str | None:
    if friction.nominal is not None or friction.nut_factor is None:
        return None
    return "Torsion cannot be told from a nut factor alone here: " + (friction.note or "no friction class is given")


# what the same torque gives at both ends of the lubricant's range: beside the scatter, never on top


@dataclass(frozen=True, slots=True)
class FactorEnds:
    """T/F at the ends of the lubricant's range, m."""

    low: float
    high: float


@SHEET.result(SIZE, when=by_torque)
def factor_ends(friction: Grip, thread: Thread, rubbing: Rubbing) -> FactorEnds | None:
    if friction.low is None or friction.high is None:
        return None
    ends = (tq.torque_factor(thread, mu, rubbing.bearing, rubbing.hole) for mu in (friction.low, friction.high))
    return FactorEnds(*ends)


_end = partial(SHEET.result, SIZE, kind="force", source="{friction.source}")


@_end(title="Preload at this torque, friction high", symbol="F_μhigh", formula="T / (T/F at high friction)",
      puts={"T": ("torque", "torque"), "T/F": ("factor_ends.high", "length")})  # fmt: skip
def preload_friction_high(torque: float, factor_ends: FactorEnds) -> float:
    return torque / factor_ends.high


@_end(title="Preload at this torque, friction low", symbol="F_μlow", formula="T / (T/F at low friction)",
      puts={"T": ("torque", "torque"), "T/F": ("factor_ends.low", "length")})  # fmt: skip
def preload_friction_low(torque: float, factor_ends: FactorEnds) -> float:
    return torque / factor_ends.low


@SHEET.note(SIZE)
def own_range(
    size: Sized, torque: float, preload_friction_high: float, preload_friction_low: float, context: Context
) -> str | None:
    if size.number:
        return None
    applied = show(torque, "torque", context.system)
    low, high = (show(end, "force", context.system) for end in (preload_friction_high, preload_friction_low))
    return (
        f"At {applied} the lubricant's own range of friction gives {low} to "
        f"{high}. The scatter of the method already contains friction; it is not added on top."
    )
