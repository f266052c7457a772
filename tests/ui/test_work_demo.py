"""The demo plan worked through from the first permit to the last signature, by whoever the fitter's desk asks."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

from splitline.record.as_built import build
from splitline.record.entry import JOINED, Measured, Tightened
from splitline.record.evidence import verify
from splitline.record.export import csv_text, json_text
from splitline.record.markdown import markdown
from splitline.ui.work import acts
from splitline.ui.work.counts import counts_open
from splitline.ui.work.desk import Desk
from splitline.ui.work.gate import failing, gate_of
from splitline.ui.work.now import Now
from splitline.ui.work.task import Limits, Task
from tests.record.helpers import Ticking

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def middle(limits: Limits) -> float:
    if limits.low is not None and limits.high is not None:
        return (limits.low + limits.high) / 2
    return limits.low if limits.low is not None else 0.9 * (limits.high or 0.0)


def one_act(at: Desk, now: Now, task: Task, clock: Ticking) -> None:
    """What a careful crew does about a task."""
    first = task.answers[0].id
    left = counts_open(now, task.step.plan.id) if task.step else ()
    if task.kind == "sign":
        acts.sign(at, task, "witness" if first == "called" else "hold", "Petra")
    elif left:
        acts.count_out(at, task, left[0].item, left[0].wanted)
    elif first == "accept-plan":
        result = at.assessment.find("lift", task.item)
        acts.accept_plan(at, task, tuple(check.key for check in failing(result)), "Petra", "by drawing")
    elif task.kind == "set-up":
        set_up(at, now, task)
    elif task.kind == "bolts":
        assert task.answers[0].ready
        acts.tighten(at, task)
    elif first == "start" and task.answers[0].ready:
        acts.sign(at, task, "start")
    elif task.answers[0].ready:
        acts.sign(at, task, "mounting" if task.kind == "mounting" else "done")
    elif any(
        "wait another" in words for words in (*(f.caption for f in task.figures), *(line for line, _ in task.lines))
    ):
        clock.forward(minutes=5)
    else:
        have = {e.what for e in now.alive if isinstance(e, Measured) and e.item == task.item and e.pass_ == task.part}
        wanted = [each for each in task.readings if each.what not in have or task.kind != "mounting"]
        asked = next((line for line, _ in task.lines if line.startswith("Done asks")), "")
        named = [each for each in wanted if each.what in asked.partition(": ")[2] or asked.endswith(each.what)]
        limits = wanted[0] if task.kind == "mounting" else (named or wanted[-1:])[0]
        acts.read(at, task, limits, middle(limits), "")


def set_up(at: Desk, now: Now, task: Task) -> None:
    told = [text for text, _ in task.lines if text.startswith("Estimate: lowest")]
    begun = any(isinstance(each, Tightened) and each.joint == task.joint for each in now.alive)
    assert bool(told) == begun, "before each pass but the first: the stud most in doubt"
    joint = now.joint(task.joint)
    assert joint is not None
    assert joint.tightening is not None
    tools = joint.tightening.tool[: joint.tightening.tools_together or 1]
    lubricant = joint.friction.lubricant if joint.friction else None
    names, serials = (JOINED.join(str(getattr(tool, what)) for tool in tools) for what in ("name", "serial"))
    acts.set_up(at, task, lubricant or "paste", "B1", names, serials, dt.date(2099, 1, 1))


def test_the_demo_plan_is_closed_up_and_its_record_tells_it_all(tmp_path: Path) -> None:
    path = Path(shutil.copy(DEMO, tmp_path))
    clock = Ticking()
    at = Desk(path, clock)
    at.take_seat("Ines")
    at.stand_plan()
    for _ in range(600):
        clock.forward(seconds=20)
        now, task = at.task()
        assert task.kind != "stopped", task.lines
        if task.kind == "nothing":
            break
        one_act(at, now, task, clock)
    assert "Everything in the order of work is done and signed." in task.lines[0][0]
    assert verify(path).ok
    built = build(at.job, now.record, now.at)
    assert all(all(joint.closed) and joint.bolts for joint in built.joints)
    assert all(pull is not None for joint in built.joints for line in joint.bolts for pull in line.pulls)
    assert {state.state for state in built.steps} == {"done"}
    assert built.deviations == ()
    assert {window.phase for window in built.windows} <= {"kept", "not started"}
    assert len(csv_text(built).splitlines()) > sum(len(j.bolts) * len(j.passes) for j in built.joints)
    assert "Thrust collar" in markdown(built)
    assert json_text(built, now.record.entries).count('"kind": "tightened"') > 50


def desk_at(folder: Path, target: str) -> Desk:
    """At the demo's step with this target, the only one of the order of work."""
    head, *steps = DEMO.read_text("utf-8").split("[[step]]")
    own = next(each for each in steps if target in each)
    own = "\n".join(line for line in own.splitlines() if not line.startswith("needs"))
    (folder / "one.toml").write_text(f"{head}[[step]]{own}", "utf-8")
    at = Desk(folder / "one.toml", Ticking())
    return seated(at)


def seated(at: Desk) -> Desk:
    """Ines at a plan of one step: that its hidden joints are in no step is accepted."""
    at.take_seat("Ines")
    at.stand_plan()
    now, task = at.task()
    for ward in gate_of(now, task.step.plan).open_wards if task.step else ():
        if task.step is not None and ward.id == task.step.plan.id:
            acts.accept_plan(at, task, tuple(c.key for c in ward.wrong), "Lead", "one step is looked at", ward.id)
    return at


def test_a_push_with_strokes_left_is_doubted_and_its_stop_says_what_to_do_first(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'insertion = "bundle-push"')
    now = at.task()[1]
    acts.read(at, now, now.readings[0], 60e5, "60 bar", at="100 mm")
    assert at.task()[1].doubt == "the log ends at 100 mm of 1650 mm"
    for way in range(200, 1000, 100):  # as many readings as strokes are not the whole way
        acts.read(at, now, now.readings[0], 60e5, "60 bar", at=f"{way} mm")
    assert at.task()[1].doubt == "the log ends at 900 mm of 1650 mm"
    acts.read(at, now, now.readings[0], 60e5, "60 bar", at="1.65 m")
    assert at.task()[1].doubt == ""
    acts.read(at, now, now.readings[0], 130e5, "130 bar", at="200 mm")
    stopped = at.task()[1]
    assert stopped.kind == "stopped"
    assert stopped.lines[1][0].startswith("Bundle into the casing: jack pressure at 200 mm reads 130 bar")
    assert any("jack pressure off" in each.text for each in stopped.cautions)


def test_a_wrong_count_is_loud_and_readings_come_before_the_count(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "seal-position"')
    now = at.task()[1]
    assert [a.id for a in now.answers[:3]] == ["done", "reading", "count"]
    assert "1 STILL INSIDE" in acts.count_out(at, now, "seal-plates", 3)
    assert any("3 of 4 are out" in text for text, style in at.task()[1].lines if style == "fails")
    assert "Count again" in acts.count_out(at, now, "seal-plates", 5)
    assert "4 out" in acts.count_out(at, now, "seal-plates", 4)
    assert [a.id for a in at.task()[1].answers[:2]] == ["done", "reading"]


def test_a_load_turned_up_is_followed_from_pivot_to_hook(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'lift = "discharge-head-upend"')
    task = at.task()[1]
    text = "\n".join(line for line, _ in task.lines)
    assert any("hook over the head" in each.text for each in task.cautions)
    assert "as it turns, load alone: hook 12.4 kN to 23.3 kN, tail 10.9 kN to 0" in text
    assert "tail still on its pivot" in text
    assert "clear" not in text
    assert "tilt:" not in text  # it is turned on purpose
    cell, tilt = task.readings[0], next(each for each in task.readings if each.what == "tilt")
    assert (tilt.low, tilt.high) == (None, None)
    assert cell.low is not None
    assert cell.high is not None
    assert cell.low < 12.4e3 < 23.3e3 < cell.high  # half the weight at the start is no alarm
    assert sum(-(-len(line) // 76) for line, _ in task.lines) <= 11  # beside the figures of the smallest screen
