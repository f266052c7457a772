"""Scatter and relaxation of a joint, the low and high preload that follow, and the bolt at the high end while it is tightened."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from splitline.assess.context import Context
from splitline.assess.joint_preload import NO_TWIST
from splitline.assess.joint_sheet import PRACTICE, SHEET, SIZE, VDI, Sized, gasketed, method_of
from splitline.assess.joint_types import Grip
from splitline.assess.sheet import Absent, Against, Assumed, Each, Rule
from splitline.bolting import joint_load as jl
from splitline.bolting import torque as tq
from splitline.bolting.introduction import Introduction, introduction
from splitline.bolting.thread import Section, Thread
from splitline.library.scatter import Scatter, scatter
from splitline.plan.model.joint import Joint
from splitline.plan.passes import Passes

if TYPE_CHECKING:
    from splitline.assess.tightening import Predicted

RELAXATION, RELAXATION_GASKET = 0.05, 0.10


@dataclass(frozen=True, slots=True)
class Spread:
    """Preload lies within ± scatter at two standard deviations; relaxation is lost after tightening. Shares of 1."""

    scatter: float
    relaxation: float
    source: str


@SHEET.result(each={"frictions": Each("friction")})
def usual_scatter(joint: Joint, frictions: tuple[Grip, ...], context: Context) -> Scatter | None:
    """Of the method, where the plan gives none; a torque wrench is assumed where it gives no method either."""
    if joint.tightening is not None and joint.tightening.scatter is not None:
        return None
    return scatter(context.library, method_of(joint) or "torque wrench", frictions[0].dry)


@SHEET.result()
def spread(joint: Joint, usual_scatter: Scatter | None = None) -> Spread:
    """Scatter and relaxation of the plan, or the usual ones of method and seal."""
    how = joint.tightening
    share, source = (how.scatter or 0.0 if how is not None else 0.0), "scatter of the plan"
    if usual_scatter is not None:
        share, source = usual_scatter.value, usual_scatter.source
    if how is not None and how.relaxation is not None:
        return Spread(share, how.relaxation, source)
    return Spread(share, RELAXATION_GASKET if gasketed(joint) else RELAXATION, source)


@SHEET.note()
def scatter_taken(joint: Joint, usual_scatter: Scatter) -> Assumed:
    unsaid = " (no method is given: a torque wrench is assumed)" if joint.tightening is None else ""
    basis = f"{method_of(joint) or 'torque wrench'}: {usual_scatter.source}{unsaid}"
    return Assumed(usual_scatter.value, "tightening.scatter", basis, text=f"± {usual_scatter.value:.0%}")


@SHEET.note()
def about_the_scatter(joint: Joint, usual_scatter: Scatter) -> str | None:
    method = method_of(joint) or "torque wrench"
    return f"Scatter of {method}: {usual_scatter.note}" if usual_scatter.note else None


@SHEET.note()
def relaxation_taken(joint: Joint, spread: Spread) -> Assumed | None:
    if joint.tightening is not None and joint.tightening.relaxation is not None:
        return None
    faces = "gasketed" if gasketed(joint) else "metal faces"
    return Assumed(spread.relaxation, "tightening.relaxation", f"{faces}; {PRACTICE}", text=f"{spread.relaxation:g}")


# low and high preload


@SHEET.result()
def top(planned: Passes) -> float:
    """Share of the highest pass: one above the target stays in the bolts, for a wrench never slackens a nut."""
    return max(1.0, *planned.shares)


@SHEET.result(SIZE)
def top_preload(preload: float, top: float) -> float:
    return top * preload


@SHEET.result(SIZE)
def base_preload(preload: float, preload_set: float | None = None) -> float:
    """What the last set value gives, where that is less than the target."""
    return preload if preload_set is None else min(preload, preload_set)


@SHEET.result()
def ends_at(forecast: Predicted) -> list[float]:
    """What every bolt ends at, N."""
    return [float(load) for load in forecast.prediction.final]


@SHEET.result()
def main_preload(forecast: Predicted) -> float:
    """Target of the main size, N."""
    return forecast.targets[forecast.main[0] - 1]


def _scaled(
    end: float, target: float, preload: float, ends: list[float], bolts: tuple[int, ...], high: bool
) -> float | None:
    """An end of the main size for another size, in proportion to what each ends at."""
    pick = max if high else min
    main, own = [e for b, e in enumerate(ends, 1) if b not in bolts], [ends[b - 1] for b in bolts]
    if not main or not own:
        return None
    return preload * end / target * (pick(own) / preload) / max(pick(main) / target, 1e-9)


@SHEET.result(SIZE)
def own_low(
    size: Sized, preload: float, predicted_low: float, ends_at: list[float], main_preload: float
) -> float | None:
    """Lowest bolt with scatter as predicted."""
    if size.number == 0:
        return max(predicted_low, 0.0)
    low = _scaled(predicted_low, main_preload, preload, ends_at, size.bolts, high=False)
    return None if low is None else max(low, 0.0)


@SHEET.result(SIZE)
def own_high(
    size: Sized, preload: float, predicted_high: float, ends_at: list[float], main_preload: float
) -> float | None:
    """Highest bolt with scatter as predicted."""
    if size.number == 0:
        return predicted_high
    return _scaled(predicted_high, main_preload, preload, ends_at, size.bolts, high=True)


@dataclass(frozen=True, slots=True)
class Ends:
    """Low and high preload of one size, N."""

    low: float  # of the lowest bolt
    low_mean: float  # of all bolts on average: for what they carry together (a gasket)
    high: float  # of the highest bolt
    high_mean: float  # of all bolts together: no prediction of the highest one in it


@SHEET.result(SIZE)
def ends(
    size: Sized,
    base_preload: float,
    top_preload: float,
    spread: Spread,
    own_low: float | None = None,
    own_high: float | None = None,
    ends_at: list[float] | None = None,
) -> Ends:
    """The low end starts from what the last set value gives, and from the prediction where lower; the high end from the
    highest pass."""
    before, kept = base_preload * (1.0 - spread.scatter), 1.0 - spread.relaxation
    low = (before if own_low is None else min(before, own_low)) * kept
    together = top_preload * (1.0 + spread.scatter)
    mean = base_preload
    if size.bolts and ends_at is not None:
        mean = sum(ends_at[bolt - 1] for bolt in size.bolts) / len(size.bolts)
    low_mean = min(base_preload, max(mean, 0.0)) * (1.0 - spread.scatter) * kept
    return Ends(low, low_mean, max(together, own_high or 0.0), together)


SHEET.tell("preload_low", "ends.low", "force", "Low preload", "F_low", "min(F·(1 − s), predicted low)·(1 − r)",
           "scatter: {spread.source}",
           puts={"F": ("base_preload", "force"), "s": ("spread.scatter", "share"), "r": ("spread.relaxation", "share"),
                 "predicted low": ("own_low", "force")})  # fmt: skip
SHEET.tell("preload_high", "ends.high", "force", "High preload", "F_high", "F·(1 + s)", "scatter: {spread.source}",
           puts={"F": ("top_preload", "force"), "s": ("spread.scatter", "share"),
                 "predicted high": ("own_high", "force")})  # fmt: skip


@SHEET.result(SIZE, kind="number", title="Tightening factor", symbol="α_A", formula="(1 + s)/(1 − s)", source=VDI,
              puts={"s": ("spread.scatter", "share")}, after=("preload",))  # fmt: skip
def tightening_factor(spread: Spread) -> float:
    return jl.tightening_factor(spread.scatter)


# the worst pair for overload: the high preload with the low friction that gives it at this torque

LIMIT_YIELD = "yield of the bolt; usage over 0.90 is shown as near (VDI 2230-1:2003 tightens to 90 % of yield)"


def _untwisted(joint: Joint) -> bool:
    return method_of(joint) in NO_TWIST


@SHEET.result(SIZE, name="twist_high", when=_untwisted)
def no_twist(section: Section) -> float:
    return 0.0


@SHEET.result(SIZE)
def twist_high(
    ends: Ends, thread: Thread, section: Section, friction: Grip, top: float, torque: float | None = None,
    bearing_diameter: float = 0.0, hole_diameter: float = 0.0,
) -> float:  # fmt: skip
    """Torsion when the torque gives the high preload, Pa: both coefficients are lower by one factor."""
    faces = {"bolting.bearing_diameter": bearing_diameter, "bolting.hole_diameter": hole_diameter}
    if torque is None or friction.nominal is None or not all(faces.values()):
        needs = friction.needs or tuple(name for name, value in faces.items() if not value)
        why = "torsion is not known without friction" + (f": {friction.note}" if friction.note else "")
        raise Absent(*needs, why=why)
    scale = tq.friction_scale(top * torque, ends.high, thread, friction.nominal, bearing_diameter, hole_diameter)
    factor = tq.flank_torque_factor(thread, scale * friction.nominal.thread)
    return tq.torsion_stress(ends.high * factor, section)


@SHEET.result(SIZE, kind="stress", title="Combined stress, low friction and high preload", symbol="σ_v,high",
              formula="√(σ² + 3 τ²) at F_high", source=VDI,
              puts={"F_high": ("ends.high", "force"), "A_min": ("section.area", "area"),
                    "τ": ("twist_high", "stress")})  # fmt: skip
def combined_stress_high(ends: Ends, section: Section, twist_high: float) -> float:
    return tq.combined_stress(ends.high / section.area, twist_high)


_overload = partial(
    SHEET.check, "combined_stress", "overload while tightening: high preload, low friction{size.of}", SIZE, kind="stress",
    basis=LIMIT_YIELD,
)  # fmt: skip


@_overload(after=("ends", "section"))
def torsion_known(twist_high: float) -> None:
    """Only says what is missing: any method that turns the nut under load twists the bolt."""


@_overload(quiet=True)
def not_overloaded(combined_stress_high: float, yield_strength: float) -> Against:
    return Against(combined_stress_high, yield_strength)


# embedding


@SHEET.result(SIZE, kind="force", title="Preload lost by embedding", symbol="F_Z",
              formula="3.29 µm·(L/d)^0.34 / (1/k_b + 1/k_m)", source="VDI 2230:1986", after=("preload",),
              puts={"L": ("clamp_length", "length"), "d": ("thread.d", "length"), "k_b": ("bolt_stiffness", "stiffness"),
                    "k_m": ("member_stiffness", "stiffness")})  # fmt: skip
def embedding_loss(clamp_length: float, thread: Thread, bolt_stiffness: float, member_stiffness: float) -> float:
    return jl.embedding_loss(clamp_length, thread.d, 1.0 / bolt_stiffness, 1.0 / member_stiffness)


@SHEET.check("relaxation", "relaxation taken against embedding{size.of}", SIZE, quiet=True,
             basis="VDI 2230:1986, f_Z = 3.29·(L/d)^0.34 µm")  # fmt: skip
def relaxation_covers(embedding_loss: float, preload: float, spread: Spread) -> Rule | None:
    if embedding_loss <= spread.relaxation * preload:
        return None
    lost, taken = f"{embedding_loss / preload:.0%}", f"{spread.relaxation:.0%}"
    return Rule("near", f"embedding may take {lost} of this short bolt's preload, {taken} is taken")


# where the outside force enters: given, or the safe end of each check


@SHEET.result()
def introduced(joint: Joint) -> Introduction:
    return introduction(joint.load.introduction if joint.load is not None else None)


@SHEET.note()
def safe_ends(joint: Joint) -> Assumed | None:
    if not joint.case or (joint.load is not None and joint.load.introduction is not None):
        return None
    basis = "VDI 2230-1: the safe end of each check"
    return Assumed(None, "load.introduction", basis, text="n = 0 for the clamp, 1 for the bolt")
