"""What a hold is signed on: the plan's own statement, or one by the kind of its step.

A name under nothing in particular proves little; common practice, no published source. No text of a step is read: its kind,
and what the plan asks to be measured, say which default stands.
"""

from __future__ import annotations

from splitline.plan.model import Joint, Plan, Step

PLAIN = "The step is done as it is written, and was looked at where it was done."
LIFT = "The load is landed and secured, free of the hook; level and seat were looked at; slings and fittings came off undamaged."
TURNED = "The load stands as it was to be turned, secured; pivot, slings and fittings are undamaged."
MOUNTED = "Every mounting step is done and read; the part sits at its place and is locked."
TAKEN_OFF = "The part is off; seat and bore were looked at."
PUSHED = "The bundle is home; the force log shows no jump; jacks and track are free."
MEASURED = "The readings were taken as the sheet tells, more than once, and are within their limits."
TESTED = "Both readings were taken at one temperature, the drop is within what is allowed, and no leak was found at any joint."
BARRED = "The rotor turns by hand all the way round, without a rub; the torque was read."


def statement_of(step: Step, plan: Plan) -> str:
    """The statement of a step's hold; "" where the step has none."""
    if not step.hold:
        return ""
    if step.hold_statement:
        return step.hold_statement
    if step.joint is not None:
        return _joint(step, plan)
    if step.lift is not None:
        lift = next((each for each in plan.lifts if each.id == step.lift), None)
        return TURNED if lift is not None and lift.tail is not None else LIFT
    if step.fit is not None:
        return TAKEN_OFF if step.removal else MOUNTED
    if step.insertion is not None:
        return PUSHED
    if step.clearance is not None:
        return MEASURED
    return TESTED if step.test is not None else BARRED if step.bar_over is not None else PLAIN


def _joint(step: Step, plan: Plan) -> str:
    """With what this joint is accepted by."""
    joint = next((each for each in plan.joints if each.id == step.joint), None)
    said = ["Every fastener of these passes is pulled in the order told, none is left out unsaid"]
    said += _read(joint) if joint is not None else []
    return f"{'; '.join(said)}."


def _read(joint: Joint) -> list[str]:
    accept = joint.acceptance
    if accept is None:
        return ["the joint was looked at all round"]
    found = ["the gap is closed all round by feeler"] if accept.gap_max is not None else []
    stretched = accept.measured_bolts or accept.stretch_low is not None or accept.stretch_share is not None
    found += ["stretch was read and is within its limits"] if stretched else []
    return found or ["the joint was looked at all round"]
