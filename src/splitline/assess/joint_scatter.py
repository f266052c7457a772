"""Scatter and relaxation of a joint, and the low and high preload that follow."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.joint_preload import NO_TWIST
from splitline.assess.joint_sheet import PRACTICE, SHEET, gasketed, method_of
from splitline.assess.joint_types import Grip, Hardware
from splitline.assess.sheet import Assumed, Each
from splitline.bolting import joint_load as jl
from splitline.bolting import torque as tq
from splitline.bolting.joint_load import tightening_factor
from splitline.library.scatter import Scatter, scatter
from splitline.plan.model.joint import Joint

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


@dataclass(frozen=True, slots=True)
class Ends:
    """Low and high preload of one size, N."""

    low: float  # of the lowest bolt
    low_mean: float  # of all bolts on average: for what they carry together (a gasket)
    high: float  # of the highest bolt
    high_mean: float  # of all bolts together: no prediction of the highest one in it


def put_limits(
    bench: Bench,
    lines: Lines,
    spread: Spread,
    preload: float,
    preload_set: float | None,
    bolts: tuple[int, ...],
    top: float = 1.0,
) -> Ends:
    """F_low and F_high. The low end starts from what the last set value gives, and from the prediction where lower.

    ``top``: share of the target in the highest pass, 1 at least; the high end starts from it.
    """
    s, r = spread.scatter, spread.relaxation
    base = preload if preload_set is None else min(preload, preload_set)
    predicted = _predicted_low(bench, lines, preload, bolts)
    before = base * (1.0 - s)
    low = (before if predicted is None else min(before, predicted)) * (1.0 - r)
    ahead = _predicted_high(bench, lines, preload, bolts)
    together = top * preload * (1.0 + s)
    high = max(together, 0.0 if ahead is None else ahead)
    puts = {"F": (base, "force"), "s": (s, "share"), "r": (r, "share"), "predicted low": (predicted, "force")}
    lines.put("preload_low", low, {**puts}, source=f"scatter: {spread.source}")
    over = {"F": (top * preload, "force"), "s": (s, "share"), "predicted high": (ahead, "force")}
    lines.put("preload_high", high, {**over}, source=f"scatter: {spread.source}")
    lines.put("tightening_factor", tightening_factor(s), {"s": (s, "share")})
    ends = bench.get("predicted")
    mean = sum(ends[b - 1] for b in bolts) / len(bolts) if bolts and isinstance(ends, list) else base
    return Ends(low, min(base, max(mean, 0.0)) * (1.0 - s) * (1.0 - r), high, together)


def _predicted_high(bench: Bench, lines: Lines, preload: float, bolts: tuple[int, ...]) -> float | None:
    """Highest bolt with scatter as predicted; for another size the main size's, in proportion to what each ends at."""
    high, ends = bench.get("predicted_high"), bench.get("predicted")
    if not isinstance(high, int | float) or lines is bench:
        return float(high) if isinstance(high, int | float) else None
    main, target = [end for b, end in enumerate(ends or (), 1) if b not in bolts], bench.get("preload")
    if not main or not target or not bolts:
        return None
    own = float(max(ends[b - 1] for b in bolts)) / preload
    return preload * float(high) / float(target) * own / max(float(max(main)) / float(target), 1e-9)


def _predicted_low(bench: Bench, lines: Lines, preload: float, bolts: tuple[int, ...]) -> float | None:
    """Lowest bolt with scatter as predicted; for another size the main size's, in proportion to what each ends at."""
    low, ends = bench.get("predicted_low"), bench.get("predicted")
    if not isinstance(low, int | float):
        return None
    if lines is bench:
        return max(float(low), 0.0)
    main, target = [end for b, end in enumerate(ends or (), 1) if b not in bolts], bench.get("preload")
    if not main or not target or not bolts:
        return None
    own = float(min(ends[b - 1] for b in bolts)) / preload
    share: float = float(low) / float(target) * own / max(float(min(main)) / float(target), 1e-9)
    return max(share, 0.0) * preload


LIMIT_YIELD = "yield of the bolt; usage over 0.90 is shown as near (VDI 2230-1:2003 tightens to 90 % of yield)"


def put_high(
    bench: Bench, lines: Lines, hw: Hardware, grip: Grip, torque: float | None, high: float, method: str
) -> float | None:
    """Worst pair for overload: the high preload with the low friction that gives it at this torque.

    Returns the torsion, 0 where the method does not twist the bolt, None where friction is not known.
    """
    section, strength = hw.section, hw.yield_strength
    if hw.thread is None or section is None:
        return None
    twist = 0.0 if method in NO_TWIST else _twist_at(hw, grip, torque, high)
    title = "overload while tightening: high preload, low friction" + hw.of
    if twist is None:  # any method that turns the nut under load twists the bolt
        needs = grip.needs or face_needs(hw)
        note = "torsion is not known without friction" + (f": {grip.note}" if grip.note else "")
        bench.missing("combined_stress", title, needs, LIMIT_YIELD, note, kind="stress")
        return None
    combined = tq.combined_stress(high / section.area, twist)
    puts = {"F_high": (high, "force"), "A_min": (section.area, "area"), "τ": (twist, "stress")}
    lines.put("combined_stress_high", combined, {**puts})
    if strength is not None:
        bench.at_most("combined_stress", title, combined, strength, "stress", LIMIT_YIELD)
    return twist


def _twist_at(hw: Hardware, grip: Grip, torque: float | None, high: float) -> float | None:
    """Torsion when a torque gives a high preload: both coefficients are lower by one factor."""
    thread, section = hw.thread, hw.section
    if torque is None or thread is None or section is None:
        return None
    if grip.nominal is None or hw.bearing is None or hw.hole is None:
        return None
    scale = tq.friction_scale(torque, high, thread, grip.nominal, hw.bearing, hw.hole)
    return tq.torsion_stress(high * tq.flank_torque_factor(thread, scale * grip.nominal.thread), section)


def put_embedding(
    bench: Bench, lines: Lines, hw: Hardware, preload: float, relaxation: float, bolt: float, member: float
) -> None:
    """What VDI 2230 expects to be lost by embedding; said where it is more than the relaxation taken."""
    if hw.thread is None or hw.clamp_length is None:
        return
    loss = jl.embedding_loss(hw.clamp_length, hw.thread.d, 1.0 / bolt, 1.0 / member)
    puts = {
        "L": (hw.clamp_length, "length"), "d": (hw.thread.d, "length"), "k_b": (bolt, "stiffness"),
        "k_m": (member, "stiffness"),
    }  # fmt: skip
    lines.put("embedding_loss", loss, {**puts})
    if loss > relaxation * preload:
        title, basis = "relaxation taken against embedding" + hw.of, "VDI 2230:1986, f_Z = 3.29·(L/d)^0.34 µm"
        note = f"embedding may take {loss / preload:.0%} of this short bolt's preload, {relaxation:.0%} is taken"
        bench.near("relaxation", title, basis, note)


def face_needs(hw: Hardware) -> tuple[str, ...]:
    named = (("bearing_diameter", hw.bearing), ("hole_diameter", hw.hole))
    return tuple(f"bolting.{name}" for name, value in named if value is None)
