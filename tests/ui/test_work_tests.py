"""Leak test, barring over, pushing with two jacks and running nuts down under a tensioner: no act without its number.

Two readings with a hold between them, judged by the drop: common practice, no published source; figures by hand.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from splitline.assess.context import Context, Observed
from splitline.assess.result import ItemResult
from splitline.assess.step import AT_END, AT_START, BARRED, assess_step
from splitline.errors import RecordError
from splitline.library.store import Library
from splitline.plan.model import Plan, PlanInfo, Step
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Task
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import desk_at, seated, set_up

LIBRARY = Library.load()
VALUES = {"test": "gas", "test_pressure": "6 bar", "test_hold": "30 min", "test_drop": "0.1 bar"}
HEAD = 'format = 1\n[plan]\ntitle = "Close-up"\n[[step]]\nid = "tight"\ntext = "Leak test"\n'
FULL = 'test = "gas"\ntest_pressure = "6 bar"\ntest_hold = "30 min"\ntest_drop = "0.1 bar"\n'


def desk(folder: Path, step: str) -> Desk:
    (folder / "one.toml").write_text(HEAD + step, "utf-8")
    at = Desk(folder / "one.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    return at


def captions(task: Task) -> dict[str, str]:
    return {each.caption: f"{each.text} {each.unit}" for each in task.figures}


def result(step: dict[str, Any], seen: dict[str, float] | None = None) -> ItemResult:
    made = Step.model_validate({"id": "tight"} | step)
    observed = Observed({("tight", name): value for name, value in (seen or {}).items()})
    return assess_step(
        made, Plan(PlanInfo(title="Test"), steps=(made,)), Context(LIBRARY, dt.date(2026, 11, 25), observed)
    )


def test_a_leak_test_tells_pressure_hold_and_drop_and_wants_two_readings(tmp_path: Path) -> None:
    at = desk(tmp_path, FULL)
    first = at.task()[1]
    assert captions(first) == {
        "test pressure": "6 bar",
        "never above": "6.6 bar",
        "drop, at most": "0.1 bar",
        "hold": "30 min",
    }
    assert not first.answers[0].ready
    assert [each.what for each in first.readings] == [AT_START]
    acts.read(at, first, first.readings[0], 6.2e5, "6.2 bar")
    held = at.task()[1]
    assert "wait another" in captions(held)
    assert held.wait == pytest.approx(1800)  # so the clock on the screen runs
    assert not held.answers[0].ready
    assert AT_END not in [each.what for each in held.readings]  # not before the hold is over
    at.clock.forward(minutes=30)  # type: ignore[attr-defined]
    over = at.task()[1]
    (end,) = over.readings
    assert (end.what, end.low) == (AT_END, pytest.approx(6.1e5))
    assert end.judge(6.05e5) == "outside"
    acts.read(at, over, end, 6.15e5, "6.15 bar")
    assert at.task()[1].answers[0].ready


def test_a_drop_beyond_the_allowed_one_stops_the_work(tmp_path: Path) -> None:
    at = desk(tmp_path, FULL)
    first = at.task()[1]
    acts.read(at, first, first.readings[0], 6.2e5, "6.2 bar")
    at.clock.forward(minutes=30)  # type: ignore[attr-defined]
    over = at.task()[1]
    acts.read(at, over, over.readings[0], 6.0e5, "6 bar")
    assert at.task()[1].kind == "stopped"


def test_a_test_without_its_figures_is_missing_in_check_and_on_the_screen(tmp_path: Path) -> None:
    assert [(c.key, c.verdict) for c in result({"test": "gas"}).checks] == [("leak_test", "missing")]
    at = desk(tmp_path, 'test = "gas"\n')
    shut = at.task()[1]
    assert any("test_pressure" in text for text, style in shut.lines if style == "missing")
    assert shut.answers[0].id == "accept-plan"
    for act in ("start", "done"):
        with pytest.raises(RecordError, match="named person accepts"):
            acts.sign(at, shut, act)
    acts.accept_plan(at, shut, ("leak_test",), "Tomas", "procedure 7, by the commissioning lead")
    after = at.task()[1]
    assert after.answers[0].id == "done"
    assert any("test_pressure" in text for text, style in after.lines if style == "missing")


@pytest.mark.parametrize(("end", "verdict"), [(6.15e5, "ok"), (6.05e5, "fails"), (6.3e5, "ok"), (None, "on-site")])
def test_the_drop_is_judged_in_check(end: float | None, verdict: str) -> None:
    seen = {"test_start": 6.2e5} | ({} if end is None else {"test_end": end})
    assert [c.verdict for c in result(VALUES, seen).checks if c.key == "leak_test"] == [verdict]


@pytest.mark.parametrize(
    ("pressure", "given", "most"),
    # ASME B31.3 345.5.2 (from memory): the relief valve not above the test by more than 10 % or 50 psi, whichever is less
    [("6 bar", None, 6.6e5), ("100 bar", None, 100e5 + 50 * 6894.757), ("6 bar", "6.2 bar", 6.2e5)],
)
def test_a_start_above_the_test_pressure_has_a_limit_on_screen_and_in_check(
    tmp_path: Path, pressure: str, given: str | None, most: float
) -> None:
    values = VALUES | {"test_pressure": pressure} | ({} if given is None else {"test_pressure_max": given})
    for start, outside in ((most * 0.999, False), (most * 1.01, True)):
        verdicts = {c.verdict for c in result(values, {"test_start": start}).checks if c.key == "test_pressure"}
        assert verdicts == {"fails" if outside else "ok"}
    at = desk(tmp_path, "".join(f'{key} = "{value}"\n' for key, value in values.items()))
    task = at.task()[1]
    assert task.readings[0].judge(most * 1.01) == "outside"
    acts.read(at, task, task.readings[0], most * 1.01, "over")
    assert at.task()[1].kind == "stopped"


def test_barring_over_has_its_torque_and_wants_it_read(tmp_path: Path) -> None:
    at = desk(tmp_path, 'bar_over = "180 N*m"\n')
    first = at.task()[1]
    assert captions(first) == {"breaks away by hand, at most": "180 N·m"}
    assert not first.answers[0].ready
    assert first.readings[0].judge(181.0) == "outside"
    acts.read(at, first, first.readings[0], 90.0, "90 N*m")
    assert at.task()[1].answers[0].ready
    assert [c.verdict for c in result({"bar_over": "180 N*m"}, {"bar_over": 190.0}).checks] == ["fails"]
    assert first.readings[0].what == BARRED


@pytest.mark.parametrize(
    "step",
    [
        {"test_pressure": "6 bar"},
        VALUES | {"test_drop": "60 bar"},
        VALUES | {"clearance": "float"},
        {"bar_over": "9 N*m", "fit": "hub"},
        VALUES | {"test_pressure_max": "5 bar"},
    ],
)
def test_figures_of_a_test_that_cannot_be_are_refused(step: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match=r"test|bar_over"):
        Step.model_validate({"id": "tight"} | step)


def test_two_jacks_are_told_how_far_one_may_lead_and_one_jack_is_not(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'insertion = "bundle-push"')
    assert "one jack ahead of the other, at most" not in captions(at.task()[1])
    assert captions(at.task()[1])["expected, up to"] == "91.4 bar"
    text = (tmp_path / "one.toml").read_text("utf-8")
    (tmp_path / "one.toml").write_text(text.replace("jacks = 1\n", "jacks = 2\n"), "utf-8")
    two = seated(Desk(tmp_path / "one.toml", Ticking()))
    assert captions(two.task()[1])["one jack ahead of the other, at most"] == "2 mm"


def test_a_tensioned_nut_is_run_down_by_hand_under_pressure_with_its_torque(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'joint = "suction-head"')
    now, task = at.task()
    set_up(at, now, task)
    lines = [text for text, _ in at.task()[1].lines]
    assert "pressure held: run each nut down by hand to 60 N·m, then release" in lines
