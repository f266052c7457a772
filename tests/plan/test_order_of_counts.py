"""Counts and holds of the demo and of every starting plan stand at the moment they are true.

Common practice, no published source: what is counted out is counted before anything is pulled over it, a lift is signed by who
directs it, and a hold under pressure or with a hub on oil belongs to a named role.
"""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import pytest

from splitline.plan.model import Item, Plan, Step
from splitline.plan.read import open_plan
from splitline.ui.work import acts
from splitline.ui.work.counts import counts_open
from splitline.ui.work.gate import failing
from tests.ui.test_work_demo import desk_at, middle

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
STARTING = sorted(Path(str(resources.files("splitline.plan") / "starting")).glob("*.toml"))


@pytest.fixture(params=[DEMO, *STARTING], ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> Plan:
    draft = open_plan(request.param)
    return draft.plan


def uses(item: Item, plan: Plan) -> list[int]:
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    return [n for n, step in enumerate(plan.steps) if step.id in used or (step.target or ("", ""))[1] in used]


def test_nothing_is_closed_over_what_is_still_to_be_counted(plan: Plan) -> None:
    for item in plan.items:
        if not item.count_out:
            continue
        places = uses(item, plan)
        assert places, item.id
        between = plan.steps[places[0] + 1 : places[-1] + 1]
        assert not [step.id for step in between if step.joint is not None], (
            f"{item.id}: a joint is pulled before the count"
        )
        assert plan.steps[places[-1]].hold, f"{item.id}: nobody signs that they are out"


def test_every_lift_and_every_fit_on_oil_is_signed_or_its_plan_is_that_one_lift(plan: Plan) -> None:
    oil = {fit.id for fit in plan.fits if fit.mounting == "oil"}
    for step in plan.steps:
        if step.fit in oil or step.test is not None or (step.lift is not None and signed_lifts(plan)):
            assert step.hold or before(step, plan), step.id


def signed_lifts(plan: Plan) -> bool:
    return any(step.lift is not None and step.hold for step in plan.steps)


def before(step: Step, plan: Plan) -> bool:
    """A lift whose checks are a step of their own before it, and that one is held."""
    return any(other.hold for other in plan.steps if other.id in (step.needs or ()))


def test_every_step_comes_after_what_it_needs(plan: Plan) -> None:
    done: set[str] = set()
    for step in plan.steps:
        assert set(step.needs or ()) <= done, f"{step.id} needs a step that comes later"
        done.add(step.id)


def test_pins_are_asked_for_after_the_landing_and_not_before(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'lift = "suction-head-lift"')
    asked: list[tuple[str, bool]] = []
    for _ in range(12):
        now, task = at.task()
        if task.kind != "plain" or task.step is None:
            break
        asked.append((task.answers[0].id, any("count out" in text for text, _ in task.lines)))
        first = task.answers[0]
        if first.id == "accept-plan":
            keys = tuple(check.key for check in failing(at.assessment.find("lift", task.item)))
            acts.accept_plan(at, task, keys, "Petra", "by drawing")
        elif first.ready:
            acts.sign(at, task, first.id)
        elif first.id == "done" and counts_open(now, task.step.plan.id):
            break
        else:
            acts.read(at, task, task.readings[-1], middle(task.readings[-1]), "")
    assert asked[-1][1], asked
    assert not any(counted for act, counted in asked if act == "trial"), asked
