"""A shift on the demo plan, worked through by a program: the record behind the picture of the fitter's screen."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from splitline.plan.model import Joint
from splitline.record.entry import JOINED
from splitline.ui.work import acts
from splitline.ui.work.counts import counts_open
from splitline.ui.work.desk import Desk
from splitline.ui.work.gate import failing
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.tasks_lift import enterable, on_site

MORNING = dt.datetime(2026, 9, 1, 6, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
DUE = dt.date(2027, 3, 1)


class Clock:
    """Moves only when told."""

    def __init__(self) -> None:
        self.now = MORNING

    def __call__(self) -> dt.datetime:
        return self.now


def worked(path: Path, joint: str = "discharge-head", pass_: str = "2", place: int = 6) -> Desk:
    """Work the plan up to one instruction of one joint. RuntimeError with the last task where it stays stuck."""
    clock = Clock()
    desk = Desk(path, clock)
    desk.take_seat("Ines")
    desk.stand_plan()
    for _ in range(2000):
        clock.now += dt.timedelta(minutes=2)
        task = desk.task()[1]
        if (task.joint, task.pass_, task.place, task.kind) == (joint, pass_, place, "bolts"):
            desk.leave_seat()
            return desk
        _one(desk, task)
    raise RuntimeError(f"stuck at {task.title}: {task.kind}, {task.lines}")


def _one(desk: Desk, task: Task) -> None:
    """One act that brings the work on."""
    now = desk.refresh()
    left = counts_open(now, task.step.plan.id) if task.step is not None else ()
    if task.kind == "stopped":
        acts.accept(desk, task.stop, "Petra", "checked on the machine")
    elif task.kind == "sign":
        asked = task.step is not None and task.step.asks_witness
        acts.sign(desk, task, "witness" if asked else "hold", "Petra")
    elif left:
        acts.count_out(desk, task, left[0].item, left[0].wanted)
    elif task.kind == "set-up":
        _set_up(desk, task)
    elif task.kind == "bolts":
        acts.tighten(desk, task)
    elif task.answers[:1] and task.answers[0].id == "site":
        _on_site(desk, task)
    elif task.answers[:1] and task.answers[0].id == "accept-plan":
        keys = tuple(check.key for check in failing(desk.assessment.find("lift", task.item)))
        acts.accept_plan(desk, task, keys, "Petra", "checked on the machine")
    elif task.answers and task.answers[0].ready:
        acts.sign(desk, task, task.answers[0].id if task.answers[0].id == "start" else "done")
    else:
        for limits in task.readings:
            acts.read(desk, task, limits, _between(limits), "")


def _on_site(desk: Desk, task: Task) -> None:
    """Tags and radius that the plan leaves to the job."""
    for need in on_site(desk.assessment.find("lift", task.item)):
        if need == "crane.radius":
            acts.read(desk, task, Limits("hook radius", "length"), 7.0, "7 m")
        elif enterable(need):
            acts.tag(desk, task, need, "S-104")


def _set_up(desk: Desk, task: Task) -> None:
    joint = desk.assessment.plan.find("joint", task.joint)
    assert isinstance(joint, Joint)
    assert joint.tightening is not None
    tools = joint.tightening.tool[: joint.tightening.tools_together or 1]
    names, serials = (JOINED.join(str(getattr(tool, what)) for tool in tools) for what in ("name", "serial"))
    lubricant = joint.friction.lubricant if joint.friction is not None else None
    acts.set_up(desk, task, str(lubricant or "molybdenum disulfide paste"), "B-117", names, serials, DUE)


def _between(limits: Limits) -> float:
    if limits.low is not None and limits.high is not None:
        return (limits.low + limits.high) / 2
    return 0.9 * limits.high if limits.high is not None else (limits.low or 0.0)
