"""What the text of a step demands in figures is what its screen demands: of the demo and of every starting plan."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from splitline.plan.starting import TEMPLATES, starting_text
from splitline.record.order import StepState
from splitline.ui.work.desk import Desk
from splitline.ui.work.now import Now
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_item import item_task
from splitline.ui.work.tasks_joint import joint_task

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
TEXTS = {"demo": DEMO.read_text("utf-8")} | {name: starting_text(name) for name in TEMPLATES}
FIGURE = re.compile(
    r"\d+(?:\.\d+)?(?: to \d+(?:\.\d+)?)? (?:mm/m|mrad|mm|m|bar|MPa|kN|N·m|N\*m|V|min|h|°C|deg|°|%)(?![\w/])"
)
COUNTED = re.compile(r"\b(?:two|three|four|\d+) (?:repeats|readings|stages)\b|\b(?:each|every) \d+ ?\w+")


def task_of(state: StepState, now: Now) -> Task:
    """The step as if its turn had come."""
    own = replace(state, state="now")
    here = replace(now, stops=(), states=(own,), chosen=state.plan.id, planned=None)
    return joint_task(own, here, ()) if state.plan.kind == "joint" else item_task(own, here, ())


def demanded(task: Task) -> str:
    """Everything the screen demands beside the text of the step itself."""
    figures = [f"{f.caption} {f.text} {f.unit} {f.accepted}" for f in task.figures]
    return "\n".join([*figures, *(text for text, _ in task.lines if text != task.title)])


@pytest.mark.parametrize("name", TEXTS)
def test_no_text_of_a_step_demands_a_figure_that_its_screen_does_not(tmp_path: Path, name: str) -> None:
    (tmp_path / "plan.toml").write_text(TEXTS[name], "utf-8")
    at = Desk(tmp_path / "plan.toml")
    at.take_seat("Ines")
    now = at.refresh()
    assert now.states
    for state in now.states:
        task = task_of(state, now)
        said = demanded(task)
        for wanted in (*FIGURE.findall(state.plan.text), *COUNTED.findall(state.plan.text)):
            assert wanted in said, f'{state.plan.id} says "{wanted}" in words; its screen demands: {said}'


def test_the_oracle_finds_a_figure() -> None:
    for text in ("level within 0.5 mm/m", "three repeats within 0.02 mm", "force log each 100 mm"):
        assert FIGURE.findall(text)
    assert FIGURE.findall("Trial lift 20 to 50 mm: hold") == ["20 to 50 mm"]
    assert COUNTED.findall("three repeats")
    assert COUNTED.findall("each 100 mm")


def test_a_reading_of_the_tilt_is_judged_by_the_limit_of_the_plan(tmp_path: Path) -> None:
    """One limit for check and reading: 3 mrad where the plan says so, not the usual two degrees."""
    plan = tmp_path / "plan.toml"
    text = starting_text("single-lift").replace("[[lift]]", '[[lift]]\ntilt_limit = "3 mrad"', 1)
    plan.write_text(text, "utf-8")
    at = Desk(plan)
    at.take_seat("Ines")
    now = at.refresh()
    lift = now.assessment.of_kind("lift")[0]
    state = next(each for each in now.states if each.plan.kind == "lift")
    check = next(each for each in lift.checks if each.key == "tilt")
    assert check.limit == pytest.approx(0.003)
    tilt = next(each for each in task_of(state, now).readings if each.what == "tilt")
    assert tilt.high == pytest.approx(0.003)
    trim = next(each for each in lift.checks if each.key == "tilt_trim")
    assert "allowed 3.0 mm per m" in trim.note
