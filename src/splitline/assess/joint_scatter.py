"""Scatter and relaxation of a joint, and the low and high preload that follow."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.library.scatter import scatter
from splitline.plan.model.joint import Joint

RELAXATION, RELAXATION_GASKET = 0.05, 0.10
PRACTICE = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Spread:
    """Preload lies within ± scatter at two standard deviations; relaxation is lost after tightening. Shares of 1."""

    scatter: float
    relaxation: float
    source: str


def spread_of(bench: Bench, ctx: Context, joint: Joint, dry: bool) -> Spread:
    """Scatter and relaxation of the plan, or the usual ones of method and seal, said."""
    tightening = joint.tightening
    share = tightening.scatter if tightening is not None else None
    source = "scatter of the plan"
    if share is None:
        method = tightening.method if tightening is not None else "torque wrench"
        found = scatter(ctx.library, method, dry)
        share, source = found.value, found.source
        said = "" if tightening is not None else " (no method is given: a torque wrench is assumed)"
        bench.default("tightening.scatter", f"± {share:.0%}", f"{method}: {source}{said}")
        if found.note:
            bench.note(f"Scatter of {method}: {found.note}")
    relaxation = tightening.relaxation if tightening is not None else None
    if relaxation is None:
        gasketed = joint.load is not None and joint.load.seal == "gasket"
        relaxation = RELAXATION_GASKET if gasketed else RELAXATION
        bench.default(
            "tightening.relaxation", f"{relaxation:g}", f"{'gasketed' if gasketed else 'metal faces'}; {PRACTICE}"
        )
    return Spread(share, relaxation, source)


def put_limits(
    bench: Bench, lines: Lines, spread: Spread, preload: float, preload_set: float | None
) -> tuple[float, float]:
    """F_low and F_high. The low end starts from what the last set value really gives, and from the prediction if lower."""
    s, r = spread.scatter, spread.relaxation
    base = preload if preload_set is None else min(preload, preload_set)
    predicted = bench.get("predicted_low") if lines is bench else None
    before = base * (1.0 - s)
    if isinstance(predicted, int | float):
        before = min(before, max(float(predicted), 0.0))
    else:
        predicted = None
    low, high = before * (1.0 - r), preload * (1.0 + s)
    puts = {"F": (base, "force"), "s": (s, "share"), "r": (r, "share"), "predicted low": (predicted, "force")}
    lines.put("preload_low", low, {**puts}, source=f"scatter: {spread.source}")
    lines.put("preload_high", high, {"F": (preload, "force"), "s": (s, "share")}, source=f"scatter: {spread.source}")
    return low, high
