"""A pressure or leak test and the barring over of a rotor: what a plain step of the order of work is read by."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.plan.model import Step

AT_START, AT_END = "test pressure at start", "test pressure at end"
BARRED = "breakaway torque to bar over"
TITLE, BASIS = (
    "Drop of pressure over the hold of the test",
    "drawing or test procedure; both readings at one temperature",
)


def leak_test(step: Step, bench: Bench, ctx: Context) -> None:
    """Missing without pressure, hold and allowed drop; on-site until both readings are there; then judged by the drop."""
    bench.put("test_pressure", step.test_pressure)
    bench.put("test_hold", step.test_hold)
    needs = [name for name in ("test_pressure", "test_hold", "test_drop") if getattr(step, name) is None]
    if needs or step.test_drop is None:
        bench.missing("leak_test", TITLE, needs, BASIS, kind="pressure")
        return
    start, end = (ctx.observed.get(step.id, name) for name in ("test_start", "test_end"))
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
