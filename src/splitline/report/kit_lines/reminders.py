"""What a plan does not count and a crib must not forget: reminders; the site's own list governs.

All of it is common practice without a published source. What is needed is told by fields of the plan alone: a method, a kind of
mounting, a floor under a tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.plan.model import Fit, Insertion, Joint, Lift, Plan
from splitline.report.kit_lines.gauges import gauge_line
from splitline.report.kit_lines.line import Line, merged
from splitline.units import System, show

REMINDERS = "Reminders: the site's list governs"
HYDRAULIC = ("hydraulic wrench", "hydraulic tensioner")
SPARE = 2  # studs and nuts a size


def reminder_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of the whole plan, one thing told once."""
    found: list[Line] = []
    for joint in plan.joints:
        item = assessment.find("joint", joint.id)
        found += _joint(joint, item.results if item is not None else {})
    for lift in plan.lifts:
        found += _lift(lift)
    for fit in plan.fits:
        found += _fit(fit)
    for push in plan.insertions:
        item = assessment.find("insertion", push.id)
        found += _push(push, item.results if item is not None else {}, system)
    if plan.joints or plan.fits:
        every = (*(joint.id for joint in plan.joints), *(fit.id for fit in plan.fits))
        found.append(Line(REMINDERS, "solvent and lint-free wipes", "", None, 0, (), every, as_needed=True))
        found += _leak_test(plan, system)
    worn = "gloves, eye and face protection, hearing protection, helmets"
    found.append(Line(REMINDERS, worn, "", None, 0, (), (), as_needed=True))
    return merged(found)


def _line(what: str, needed: int | None, item: str, note: str = "", spare: int = 0, size: str = "") -> Line:
    return Line(REMINDERS, what, size, needed, spare, (), (item,), note, as_needed=needed is None)


def _hoses(count: int | None, item: str, each: str) -> Iterator[Line]:
    for what, of in (("hydraulic hose, checked and in date", f"one a {each}"), ("couplings, pairs", "one pair a hose")):
        yield Line(REMINDERS, what, "", count, 1, (), (item,), of)


def _at_once(joint: Joint, results: Mapping[str, Any]) -> int | None:
    """Hydraulic tools that work at once, each on its hose; None where the plan does not tell."""
    how = joint.tightening
    if how is not None and how.method == "hydraulic tensioner":
        return max((len(step) for step in results.get("order_steps") or ()), default=0) or None
    return (how.tools_together or 1) if how is not None else 1


def _joint(joint: Joint, results: Mapping[str, Any]) -> Iterator[Line]:
    how = joint.tightening
    if how is not None and how.method in HYDRAULIC:
        yield from _hoses(_at_once(joint, results), joint.id, "tool")
    if how is not None and how.method in ("hydraulic wrench", "torque wrench"):
        together = how.tools_together or 1
        yield _line("reaction arm and its bearing point", together, joint.id, "hands stay clear of it")
    main = joint.bolting
    for own in (main, *(size.bolting for size in joint.size)):
        kind = (own.kind if own is not None else None) or (main.kind if main is not None else None)
        thread = (own.thread if own is not None else None) or (main.thread if main is not None else None)
        what = (
            "spare cap screw"
            if kind == "cap-screw"
            else "spare bolt with nut"
            if kind == "bolt"
            else "spare stud with nuts"
        )
        yield Line(REMINDERS, what, thread, 0, SPARE, (), (joint.id,), "for one that is galled")


def _lift(lift: Lift) -> Iterator[Line]:
    yield _line("tag lines", 2, lift.id)
    if len(lift.leg) > 1:
        yield _line("master link or hook ring, for all legs", 1, lift.id, "rated for the whole load at its angles")
    if lift.tail is not None and lift.tail.kind == "floor":
        yield _line("floor pivot under the tail, with its bearing plate", 1, lift.id)


def _fit(fit: Fit) -> Iterator[Line]:
    if fit.mounting == "oil":
        yield _line("oil-injection shields, and nobody in line with a fitting", None, fit.id)
        yield from _hoses(2, fit.id, "pump: injection and ram")
    elif fit.mounting == "heat":
        yield _line("heat-proof gloves and a stop the part is pushed to", None, fit.id)


def _push(push: Insertion, results: Mapping[str, Any], system: System) -> Iterator[Line]:
    """Spacers carry a jack on over each further stroke; the strokes are the insertion's own result."""
    yield _line("O-ring lubricant, of the O-rings' compound", 1, push.id)
    yield from _hoses(push.jacks, push.id, "jack")
    strokes, stroke = results.get("strokes"), push.jack_stroke
    size = f"each {show(stroke, 'length', system)} long, one stroke" if stroke is not None else None
    if strokes is None or push.jacks is None:
        yield Line(REMINDERS, "jack spacers", size, None, 0, (), (push.id,), "strokes or jacks not given in the plan")
    elif strokes > 1:
        said = f"{strokes:.0f} strokes of each jack: one less of spacers behind it"
        yield _line("jack spacers", (round(strokes) - 1) * push.jacks, push.id, said, size=size or "")


def _leak_test(plan: Plan, system: System) -> Iterator[Line]:
    """The set, with gauges for the pressures the plan's tests are read at."""
    tests = [step for step in plan.steps if step.test is not None]
    yield Line(
        REMINDERS, "leak-test set: regulator, relief valve, hose, caps", "", 1, 0, (), tuple(s.id for s in tests)
    )
    if not tests:
        yield Line(REMINDERS, "gauge of the leak test", "", 2, 0, (), (), "for the site's test pressure")
    for step in tests:
        gauge = gauge_line("gauge of the leak test", step.test_pressure, step.id, system, REMINDERS)
        yield replace(gauge, needed=2, spare=0)
