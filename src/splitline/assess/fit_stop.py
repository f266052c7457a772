"""The witnessed zero and the stop dimension of a taper: both read from one fixed face, and held against the advance."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.plan.model import Fit

BASIS = "drawing; the zero less the advance is the stop dimension where both are read from one face"


def stop(fit: Fit, bench: Bench, ctx: Context) -> None:
    """Put the zero where it was read; the stop dimension must agree with zero and advance before any pressure."""
    middle, high = bench.get("advance"), bench.get("advance_high")
    entered = ctx.observed.get(fit.id, "zero")
    zero = float(entered) if isinstance(entered, int | float) else None
    if zero is not None and middle is not None and zero > (high or middle):
        bench.put("zero_dimension", zero)
    else:
        zero = None
    if fit.stop_dimension is None:
        return
    if fit.stop_tolerance is None:
        note = "without a tolerance no reading of it can be judged"
        bench.missing("stop_dimension", "Stop dimension", ("stop_tolerance",), "drawing", note, kind="length")
        return
    if middle is None:
        return
    spread = ((high or middle) - bench.get("advance_low")) / 2 if high is not None else 0.0
    most = fit.stop_tolerance + spread
    bench.put("zero_low", fit.stop_dimension + middle - most)
    bench.put("zero_high", fit.stop_dimension + middle + most)
    title = "Zero less advance against the stop dimension"
    if zero is None:
        note = "read the zero from the face of the stop dimension; it is compared before any pressure"
        bench.on_site("stop_from_zero", title, ("zero",), BASIS, note, kind="length")
        return
    off = abs(bench.put("stop_from_zero", zero - middle) - fit.stop_dimension)
    bench.at_most("stop_from_zero", title, off, most, "length", BASIS)
