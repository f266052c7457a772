"""A pressure or leak test and the barring over of a rotor: what a plain step of the order of work is read by."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.plan.model import Step
from splitline.record.judged import judged

AT_START, AT_END = "test pressure at start", "test pressure at end"
BARRED = "breakaway torque to bar over"
TITLE, BASIS = (
    "Drop of pressure over the hold of the test",
    "drawing or test procedure; both readings at one temperature",
)


MOST_TITLE = "Pressure of the test against the greatest allowed"
MOST_BASIS = (
    "drawing or test procedure; else 10 % above, 50 psi at most, as the relief valve of ASME B31.3 345.5.2 "
    "(not checked against the standard's text)"
)
OVER, OVER_CAP = 0.10, 50 * 6894.757  # of the test pressure; Pa


def test_limit(step: Step) -> float | None:
    """Greatest pressure (Pa) that may stand in the test; None where the plan gives no test pressure."""
    if step.test_pressure_max is not None or step.test_pressure is None:
        return step.test_pressure_max
    return step.test_pressure + min(OVER * step.test_pressure, OVER_CAP)


def leak_test(step: Step, bench: Bench, ctx: Context) -> None:
    """Missing without pressure, hold and allowed drop; on-site until both readings are there; then judged by the drop."""
    bench.put("test_pressure", step.test_pressure)
    bench.put("test_hold", step.test_hold)
    most = test_limit(step)
    bench.put("test_pressure_max", most)
    if most is not None and step.test_pressure_max is None:
        bench.default("test_pressure_max", bench.show(most, "pressure"), MOST_BASIS)
    needs = [name for name in ("test_pressure", "test_hold", "test_drop") if getattr(step, name) is None]
    if needs or step.test_drop is None:
        bench.missing("leak_test", TITLE, needs, BASIS, kind="pressure")
        return
    start, end = (ctx.observed.get(step.id, name) for name in ("test_start", "test_end"))
    reached = [float(read) for read in (start, end) if isinstance(read, int | float)]
    if reached and most is not None:
        said = bench.fails if judged(max(reached), None, most, "pressure") == "outside" else bench.passes
        note = f"{bench.show(max(reached), 'pressure')}, at most {bench.show(most, 'pressure')}"
        said("test_pressure", MOST_TITLE, MOST_BASIS, note)
    if not isinstance(start, int | float) or not isinstance(end, int | float):
        note = f"at most {bench.show(step.test_drop, 'pressure')}; read the pressure at the start and at the end"
        bench.on_site("leak_test", TITLE, ("test_start", "test_end"), BASIS, note, kind="pressure")
        return
    drop = bench.put("test_drop", float(start) - float(end))
    if step.test_drop > 0:
        bench.at_most("leak_test", TITLE, max(drop, 0.0), step.test_drop, "pressure", BASIS)
    else:
        said = bench.fails if drop > 0 else bench.passes
        said("leak_test", TITLE, BASIS, f"dropped by {bench.show(drop, 'pressure')}, none is allowed")


def barred(step: Step, most: float, bench: Bench, ctx: Context) -> None:
    """The torque that broke the rotor away, against the greatest allowed; on-site until it is read."""
    title, basis = "Breakaway torque of the rotor", "drawing; a rotor that needs more rubs or is locked"
    read = ctx.observed.get(step.id, "bar_over")
    if not isinstance(read, int | float):
        bench.on_site("bar_over", title, ("bar_over",), basis, f"at most {bench.show(most, 'torque')}", kind="torque")
        return
    value = bench.put("bar_over", abs(float(read)))
    bench.at_most("bar_over", title, value, most, "torque", basis)
