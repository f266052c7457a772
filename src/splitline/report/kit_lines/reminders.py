"""What a plan does not count and a crib must not forget: reminders; the site's own list governs.

All of it is common practice without a published source. What is needed is told by fields of the plan alone: a method, a kind of
mounting, a floor under a tail.
"""

from __future__ import annotations

from collections.abc import Iterator

from splitline.assess.assessment import Assessment
from splitline.plan.model import Fit, Joint, Lift, Plan
from splitline.report.kit_lines.line import Line, merged
from splitline.units import System

REMINDERS = "Reminders: the site's list governs"
HYDRAULIC = ("hydraulic wrench", "hydraulic tensioner")
SPARE = 2  # studs and nuts a size


def reminder_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of the whole plan, one thing told once."""
    del assessment, system
    found: list[Line] = []
    for joint in plan.joints:
        found += _joint(joint)
    for lift in plan.lifts:
        found += _lift(lift)
    for fit in plan.fits:
        found += _fit(fit)
    for push in plan.insertions:
        found.append(_line("O-ring lubricant, of the O-rings' compound", 1, push.id))
        found.append(_line("jack spacers, where the push is longer than a stroke", None, push.id))
    if plan.joints or plan.fits:
        every = (*(joint.id for joint in plan.joints), *(fit.id for fit in plan.fits))
        found.append(Line(REMINDERS, "solvent and lint-free wipes", "", None, 0, (), every, as_needed=True))
        found.append(
            Line(REMINDERS, "leak-test set: regulator, two gauges, relief valve, hose, caps", "", 1, 0, (), ())
        )
    worn = "gloves, eye and face protection, hearing protection, helmets"
    found.append(Line(REMINDERS, worn, "", None, 0, (), (), as_needed=True))
    return merged(found)


def _line(what: str, needed: int | None, item: str, note: str = "", spare: int = 0) -> Line:
    return Line(REMINDERS, what, "", needed, spare, (), (item,), note, as_needed=needed is None)


def _joint(joint: Joint) -> Iterator[Line]:
    how = joint.tightening
    at_once = (how.tools_together or 1) if how is not None else 1
    if how is not None and how.method in HYDRAULIC:
        yield _line("hydraulic hose, checked and in date", at_once, joint.id, "one a tool", 1)
        yield _line("couplings for these hoses, pairs", at_once, joint.id, "one pair a hose", 1)
    if how is not None and how.method in ("hydraulic wrench", "torque wrench"):
        yield _line("reaction arm and its bearing point", at_once, joint.id, "hands stay clear of it")
    yield _line("spare fasteners of each size with nuts", 0, joint.id, "for one that is galled", SPARE)


def _lift(lift: Lift) -> Iterator[Line]:
    yield _line("tag lines", 2, lift.id)
    if len(lift.leg) > 1:
        yield _line("master link or hook ring, for all legs", 1, lift.id, "rated for the whole load at its angles")
    if lift.tail is not None and lift.tail.kind == "floor":
        yield _line("floor pivot under the tail, with its bearing plate", 1, lift.id)


def _fit(fit: Fit) -> Iterator[Line]:
    if fit.mounting == "oil":
        yield _line("oil-injection shields, and nobody in line with a fitting", None, fit.id)
    elif fit.mounting == "heat":
        yield _line("heat-proof gloves and a stop the part is pushed to", None, fit.id)
