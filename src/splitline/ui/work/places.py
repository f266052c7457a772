"""Places of a joint's bolts and their predicted preload, read out of plan and assessment."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from splitline.assess.assessment import Assessment
from splitline.assess.result import ItemResult
from splitline.assess.tightening_play import play
from splitline.plan.model import Joint
from splitline.plan.places import bolt_places
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.assess.tightening_play import Frame

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
    return _places(joint)


_places = lru_cache(maxsize=8)(bolt_places)


def preload_of(assessment: Assessment, task: Task) -> dict[int, float]:
    """Predicted preload by bolt as a share of its target, as the steps done so far leave it; {} where not predicted."""
    result = assessment.find("joint", task.joint) if task.joint else None
    frames = _frames(result) if result is not None else ()
    done = {mark.bolt for mark in task.marks if mark.style == "done"}
    wanted = task.pass_ if not task.pass_.startswith("round") else "round 1"
    found = None
    for frame in frames:
        if frame.pass_name == wanted and not set(frame.bolts) <= done:
            break
        found = frame
        if frame.pass_name == wanted and frame.step == frame.steps:
            break
    if found is None or not any(frame.pass_name == wanted for frame in frames):
        return {}
    return dict(enumerate(found.shares, 1))


_kept: list[tuple[ItemResult, tuple[Frame, ...]]] = []  # the last joint played


def _frames(result: ItemResult) -> tuple[Frame, ...]:
    if result.joint.predicted is None:
        return ()
    if not _kept or _kept[0][0] is not result:
        try:
            frames = play(result)
        except Exception:  # a picture only: the work goes on without it
            frames = ()
        _kept[:] = [(result, frames)]
    return _kept[0][1]
