"""Instruments for the acceptance the plan asks: feelers, micrometers, indicators, meters."""

from __future__ import annotations

import math
from collections.abc import Iterator

from splitline.assess.accepted import accepted_of_size
from splitline.assess.assessment import Assessment
from splitline.assess.clearance_reading import reading_of
from splitline.assess.result import ItemResult
from splitline.plan.model import Clearance, Fit, Joint, Plan
from splitline.report.kit_lines.line import Line, merged
from splitline.units import System, show

MEASURE = "Measuring"
STEPS = (1e-3, 0.5e-3, 0.1e-3, 0.05e-3, 0.02e-3, 0.01e-3, 0.005e-3, 0.002e-3, 0.001e-3)
SHARE = 0.1  # an instrument reads a tenth of the band it judges: common practice, no published source
MICROMETER = 25e-3  # range of one micrometer


def measuring_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of all that is measured."""
    found: list[Line] = []
    for joint in plan.joints:
        item = assessment.find("joint", joint.id)
        found += _joint(joint, item, system)
    for fit in plan.fits:
        found += _fit(fit, system)
    for clearance in plan.clearances:
        found += _clearance(clearance, system)
    for insertion in plan.insertions:
        found.append(Line(MEASURE, "dial indicator with stand", _reads(0.01e-3, system), 2, 1, (), (insertion.id,)))
    return merged([*found, *_lifts(plan, assessment, system)])


def reading_step(band: float) -> float | None:
    """The coarsest usual reading step that is a tenth of the band or less; None below a micrometre."""
    return next((step for step in STEPS if step <= SHARE * band * (1 + 1e-9)), None)


def _reads(step: float | None, system: System) -> str | None:
    return None if step is None else f"reads {show(step, 'length', system)}"


def _joint(joint: Joint, result: ItemResult | None, system: System) -> Iterator[Line]:
    accept = joint.acceptance
    if accept is not None and accept.gap_max is not None:
        leaf = f"with a {show(accept.gap_max, 'length', system)} leaf"
        yield Line(MEASURE, "feeler gauge set", leaf, 1, 1, (), (joint.id,), "must not enter after pull-down")
    method = joint.tightening.method if joint.tightening is not None else ""
    if method in ("turn", "heat"):
        yield Line(MEASURE, "angle gauge for the nut", "", 1, 1, (), (joint.id,), "turn from snug")
    sizes = result.sizes if result is not None else ()
    every = [accepted_of_size(joint, result, bolts) for bolts in ((), *(size.bolts for size in sizes))]
    asked = (accept is not None and accept.measured_bolts) or any(each.by_plan for each in every)
    if not asked and method not in ("stretch", "heat"):
        return
    bands = [high - low for low, high in (each.stretch for each in every) if low is not None and high is not None]
    narrow = min((band for band in bands if band > 0), default=None)
    step = None if narrow is None else reading_step(narrow)
    size = _reads(step, system)
    yield Line(
        MEASURE, "depth micrometer or ultrasonic length meter", size, 1, 1, (), (joint.id,), "stretch of the bolts"
    )


def _fit(fit: Fit, system: System) -> Iterator[Line]:
    used = (fit.id,)
    span = None
    if fit.shaft_diameter is not None:
        low = math.ceil(fit.shaft_diameter / MICROMETER - 1e-9) * MICROMETER - MICROMETER
        span = f"{show(low, 'length', system)} to {show(low + MICROMETER, 'length', system)}"
    yield Line(MEASURE, "outside micrometer", span, 1, 1, (), used, "shaft seat")
    yield Line(MEASURE, "inside micrometer", span, 1, 0, (), used, "hub bore")
    yield Line(MEASURE, "surface thermometer", "", 1, 1, (), used)
    if fit.taper is not None:
        yield Line(MEASURE, "depth micrometer", _reads(0.01e-3, system), 1, 1, (), used, "zero and advance")
        yield Line(MEASURE, "bluing paste", "", 1, 0, (), used, "contact of the taper")


def _clearance(clearance: Clearance, system: System) -> Iterator[Line]:
    used = (clearance.id,)
    reading = reading_of(clearance)
    low, high = (clearance.low, clearance.high) if clearance.kind == "probe" else (reading.low, reading.high)
    step = reading_step(high - low) if low is not None and high is not None and high > low else None
    reads = _reads(step, system)
    if clearance.kind == "probe":
        yield Line(MEASURE, "voltmeter", "reads 0.01 V", 1, 1, (), used)
    elif clearance.kind in ("float-split", "shim", "tilting-pad"):
        yield Line(
            MEASURE, "dial indicator with stand", reads, 2 if clearance.kind != "tilting-pad" else 1, 1, (), used
        )
        if clearance.kind == "shim":
            yield Line(
                MEASURE, "outside micrometer for shims", f"up to {show(MICROMETER, 'length', system)}", 1, 0, (), used
            )
        if clearance.kind == "tilting-pad":
            yield Line(MEASURE, "mandrel or lifting bar for the lift check", "", 1, 0, (), used)
    elif low is not None and low <= 0 and high is not None and high <= 0.5e-3 and low > -1e-9:
        size = f"with a {show(high, 'length', system)} leaf"
        yield Line(MEASURE, "feeler gauge set", size, 1, 1, (), used)
    else:
        yield Line(MEASURE, "depth gauge or feelers", reads, 1, 0, (), used)


def _lifts(plan: Plan, assessment: Assessment, system: System) -> Iterator[Line]:
    """One load cell for all lifts, by the greatest hook load; a level where a spigot must be met."""
    loads: list[float | None] = []
    for lift in plan.lifts:
        item = assessment.find("lift", lift.id)
        loads.append(item.results.get("hook_load") if item is not None else None)
        if lift.spigot is not None:
            yield Line(MEASURE, "machine level or inclinometer", "", 1, 0, (), (lift.id,))
    if loads:
        known = [load for load in loads if load is not None]
        size = f"at least {show(max(known), 'force', system)}" if len(known) == len(loads) else None
        yield Line(MEASURE, "load cell at the hook", size, 1, 0, (), tuple(lift.id for lift in plan.lifts))
