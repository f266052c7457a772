"""Bolts of a pass that were pulled to another value than the plan sets now: marked, named, never taken for the others."""

from __future__ import annotations

import math

from splitline.record.entry import JOINED, Tightened
from splitline.record.progress import PassProgress
from splitline.ui.work.now import Now
from splitline.ui.work.values import instructed

OLD = "≠"  # before the number of such a bolt on the map
SAME = 1e-6  # the record keeps numbers as text; nothing a gauge could show


def pulled_otherwise(now: Now, joint: str, current: PassProgress) -> tuple[int, ...]:
    """Bolts done in the pass at another torque or pressure than the plan as it stands sets for the tool they were pulled with.

    What is not known on both sides is not compared.
    """
    found, result = now.joint(joint), now.assessment.find("joint", joint)
    out = []
    for bolt, entry in sorted(current.done.items()):
        values = instructed(found, result, current.plan, bolt, tuple(filter(None, entry.tool.split(JOINED))))
        torque = values.torque if values.set_torque is None else values.set_torque
        if _differ(entry.torque, torque) or _differ(entry.pressure, values.pressure):
            out.append(bolt)
    return tuple(out)


def _differ(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and not math.isclose(one, other, rel_tol=SAME)


def old_said(now: Now, joint: str, current: PassProgress) -> str:
    """Of a pass, in words; "" where all done in it were pulled to what is set now."""
    bolts = pulled_otherwise(now, joint, current)
    parts = []
    if bolts:
        was = _first(current.done[bolts[0]])
        parts.append(f"{OLD} {_many(bolts)} pulled in {current.plan.name} at another value than now{was}")
    if current.low:
        was = _first(next(iter(current.low.values())))
        parts.append(
            f"{_many(tuple(current.low))} pulled in {current.plan.name} to less than it asks now{was}: pulled again"
        )
    return "; ".join(parts)


def _first(entry: Tightened) -> str:
    return f", the first at {entry.shown}" if entry.shown else ""


def _many(bolts: tuple[int, ...]) -> str:
    return " ".join(map(str, bolts)) if len(bolts) <= 12 else f"{len(bolts)} of them"
