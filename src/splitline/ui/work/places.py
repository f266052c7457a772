"""Places of a joint's bolts and their predicted preload, read out of plan and assessment."""

from __future__ import annotations

import math
from functools import lru_cache

from splitline.assess.assessment import Assessment
from splitline.plan.model import Joint
from splitline.ui.draw.bolt_map import circle_places, line_places
from splitline.ui.work.task import Task

Place = tuple[float, float]


def _joint(assessment: Assessment, ident: str) -> Joint | None:
    found = assessment.plan.find("joint", ident)
    return found if isinstance(found, Joint) else None


def seen_from_of(assessment: Assessment, ident: str) -> str:
    """Where the map is seen from."""
    joint = _joint(assessment, ident)
    return (joint.layout.seen_from or "") if joint and joint.layout else ""


def places_of(assessment: Assessment, ident: str) -> tuple[Place, ...]:
    """Places of bolts 1 to n; () where the plan does not give them."""
    joint = _joint(assessment, ident)
    return _places(joint) if joint is not None else ()


@lru_cache(maxsize=8)
def _places(joint: Joint) -> tuple[Place, ...]:
    layout = joint.layout
    if layout is None:
        return ()
    if layout.shape == "circle" and layout.bolts:
        clockwise = layout.numbering != "counter-clockwise"
        return tuple(circle_places(layout.bolts, layout.diameter or 1.0, layout.first_at or 0.0, clockwise))
    if layout.shape == "split-line" and layout.side_a:
        side_b = layout.side_b or layout.side_a
        span = max(layout.side_a) - min(layout.side_a)
        return tuple(line_places(layout.side_a, side_b, layout.half_width or max(span / 4, 1e-3)))
    if layout.points:
        return tuple((float(x), float(y)) for x, y in layout.points)
    return ()


def preload_of(assessment: Assessment, task: Task) -> dict[int, float]:
    """Predicted preload by bolt as a share of the greatest of the last pass, as the passes so far leave it."""
    result = assessment.find("joint", task.joint) if task.joint else None
    rows = result.results.get("predicted_passes") if result else None
    if not rows:
        return {}
    joint = _joint(assessment, task.joint)
    snug = joint is None or joint.tightening is None or joint.tightening.snug is None or joint.tightening.snug > 0
    place = _row(task.pass_, snug, len(rows))
    top = max(rows[-1], default=0.0)
    if place is None or not top or not math.isfinite(top):
        return {}
    done = {mark.bolt for mark in task.marks if mark.style == "done"}
    before = rows[place - 1] if place > 0 else [0.0] * len(rows[0])
    return {n: (rows[place] if n in done else before)[n - 1] / top for n in range(1, len(rows[0]) + 1)}


def _row(pass_: str, snug: bool, count: int) -> int | None:
    if pass_ == "snug":
        return 0
    if pass_.isdecimal():
        found = int(pass_) - 1 + snug
        return found if found < count else None
    return count - 1 if pass_.startswith("round") else None
