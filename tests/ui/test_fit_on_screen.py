"""A fit on the fitter's screen: every mounting step tells its numbers large before the act, and a pad asks for what it says."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from splitline.record.entry import Measured
from splitline.ui.draw.digits import _LETTERS, ROWS, figures, small, unit_rows
from splitline.ui.work import acts
from splitline.ui.work.asks import units_of
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.picture import work_rows
from splitline.ui.work.task import Figure, Task
from splitline.units import KINDS
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import desk_at, one_act
from tests.ui.test_work_screen import WorkApp, seen, settle


def walked(at: Desk, zero: float) -> dict[str, Task]:
    """Each mounting step of the demo's collar as it first stands on the screen."""
    seen: dict[str, Task] = {}
    for _ in range(60):
        at.clock.forward(seconds=20)  # type: ignore[attr-defined]
        now, task = at.task()
        if task.kind != "mounting":
            break
        seen.setdefault(task.part, task)
        read = {e.what for e in now.alive if isinstance(e, Measured)}
        if task.readings and task.readings[0].what.startswith("zero") and task.readings[0].what not in read:
            acts.read(at, task, task.readings[0], zero, "36.8 mm")
        else:
            one_act(at, now, task, at.clock)  # type: ignore[attr-defined]
    return seen


@pytest.fixture(scope="module")
def steps(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Task]:
    return walked(desk_at(tmp_path_factory.mktemp("fit"), 'fit = "thrust-collar"'), 0.0368)


def drawn(task: Task, cells: int, rows: int) -> str:
    return "\n".join("".join(text for text, _ in row) for row in work_rows(task, (), "", {}, cells, rows))


def test_no_mounting_step_of_the_collar_lacks_its_number(steps: dict[str, Task]) -> None:
    assert len(steps) == 14
    for part, task in steps.items():
        if part != "3":  # the stop in place is a hold for a name, without a figure
            assert task.figures, task.lines
    stages = [steps[str(part)].figures[0] for part in range(4, 8)]
    assert [(each.text, each.unit) for each in stages] == [("1.35", "mm"), ("2.7", "mm"), ("4.05", "mm"), ("5.4", "mm")]


# What is left for the instruction at 80 × 24, 80 × 30, 100 × 32 and 160 × 50, and on an upright tablet.
BODIES = [(78, 14), (78, 19), (98, 22), (158, 40), (80, 46)]


def stands_large(figure: Figure, said: str) -> bool:
    """Whether the figure is drawn in points, in one of its sizes, beside its unit in words or in letters as high."""
    rows = [figures(figure.text, room, tall)[-1:] for tall in (2, 1) for room in range(8, 90)]
    rows.append(small(figure.text, 90)[-1:])
    behind = [f"  {figure.unit}", *(f"   {row}" for row in unit_rows(figure.unit, 90)[-1:])]
    return any(f"{row}{unit}" in said for last in rows for row in last for unit in behind)


@pytest.mark.parametrize(("cells", "rows"), BODIES)
def test_every_figure_of_a_stage_stands_large_at_every_size(steps: dict[str, Task], cells: int, rows: int) -> None:
    for part in range(4, 8):
        task = steps[str(part)]
        names = [figure.caption.partition(",")[0] for figure in task.figures]
        assert names[1:] == ["bore pressure", "ram pressure", "bore pressure"]
        said = drawn(task, cells, rows)
        for figure in task.figures:
            assert figure.caption in said, said
            assert stands_large(figure, said), (figure, said)
        assert "to be read" in said, said
        for caution in task.cautions:
            assert caution.short in said or caution.text.split(":")[0] in said


def test_the_limit_of_the_pump_stands_large_where_it_is_the_least(tmp_path: Path) -> None:
    desk_at(tmp_path, 'fit = "thrust-collar"')
    plan = tmp_path / "one.toml"
    plan.write_text(plan.read_text("utf-8").replace('oil_hold = "10 min"', 'max_pump_pressure = "1800 bar"'), "utf-8")
    at = Desk(plan, Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    most = [each for each in walked(at, 0.0368)["6"].figures if each.caption == "bore pressure, never above"]
    assert [(each.text, each.unit) for each in most] == [("1800", "bar")]


async def test_the_pad_of_a_push_asks_for_jack_pressure_first_and_then_for_the_travel(tmp_path: Path) -> None:
    app = WorkApp(tmp_path / "one.toml", desk_at(tmp_path, 'insertion = "bundle-push"'))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot, lambda: "Who works here?" in seen(app))
        await pilot.press("enter")
        await settle(pilot, lambda: "Go on" in seen(app))  # the plan was accepted before
        await pilot.press("enter")
        await settle(pilot, lambda: app.screen is app.work and app.work.shown.middle == "push-in")
        await pilot.press("r")
        await settle(pilot, lambda: isinstance(app.screen, ChoiceScreen))
        await pilot.press("1")
        await settle(pilot, lambda: "which instrument" in seen(app))
        await pilot.press("2")  # not noted
        await settle(pilot, lambda: isinstance(app.screen, PadScreen))
        assert "jack pressure" in seen(app)
        await pilot.press("6", "0", "enter")
        await settle(pilot, lambda: "Travel of the bundle so far" in seen(app))
    assert app.work.desk.journal.record.entries  # nothing was stored of the half-given reading
    assert not [e for e in app.work.desk.journal.record.entries if isinstance(e, Measured)]


def test_the_advance_is_computed_from_the_zero_and_the_dimension_read(steps: dict[str, Task]) -> None:
    assert steps["5"].readings[0].what == "dimension from the fixed face"
    assert ("advance = zero 36.8 mm less the dimension read", "") in steps["5"].lines


def test_a_wait_cannot_be_left_as_done(steps: dict[str, Task]) -> None:
    for task in steps.values():
        if task.wait:
            assert not task.answers[0].ready
            assert "finish" not in {answer.id for answer in task.answers}


def test_letters_of_the_units_stand_apart_and_every_common_unit_has_them() -> None:
    assert {len(rows) for rows in _LETTERS.values()} == {ROWS}
    assert all(a != b for a, b in combinations(_LETTERS.values(), 2))
    for quantity in ("pressure", "length", "force", "voltage", "temperature"):
        assert quantity in KINDS
        for system in ("SI", "US"):
            assert unit_rows(units_of(quantity, system)[0], 34), (quantity, system)  # type: ignore[arg-type]


def test_a_unit_without_room_or_letters_stays_small() -> None:
    assert unit_rows("bar", 5) == []
    assert unit_rows("Ω", 40) == []


def test_the_shim_to_fit_stands_large_right_after_the_float_found(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "thrust-float"')
    first = at.task()[1]
    assert "shim to fit" not in {each.caption for each in first.figures}
    acts.read(at, first, first.readings[0], 0.48e-3, "0.48 mm")
    now = at.task()[1]
    # 6.35 mm in place, float 0.48 found, 0.33 wanted: 0.15 mm more shim, 6.50 mm (arithmetic)
    (shim,) = [each for each in now.figures if each.caption == "shim to fit"]
    assert (float(shim.text), shim.unit) == (6.5, "mm")
    assert any("add 0.15 mm on the outboard side" in text for text, _ in now.lines)
    fitted = now.readings[1]
    assert fitted.what == "shim fitted"
    assert (fitted.low, fitted.high) == pytest.approx((6.45e-3, 6.55e-3))
    assert not now.answers[0].ready
    acts.read(at, now, fitted, 6.5e-3, "6.5 mm")
    assert not at.task()[1].answers[0].ready, "the float left is still to be read"


def test_position_and_float_stand_together(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "total-float"')
    first = at.task()[1]
    acts.read(at, first, first.readings[-1], 8.0e-3, "8 mm")
    shown = {(each.caption, each.text) for each in at.task()[1].figures}
    assert ("from the active stop", "3.84") in shown  # 0.48 × 8 mm


def test_guide_pins_are_counted_out_after_the_landing_not_before_the_trial_lift(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'lift = "suction-head-lift"')
    for _ in range(12):
        now, task = at.task()
        if task.answers[0].id == "trial":
            break
        one_act(at, now, task, at.clock)  # type: ignore[arg-type]
    assert task.answers[0].ready
    assert "count" not in {answer.id for answer in task.answers}
    assert not any("count out" in text for text, _ in task.lines)
    acts.sign(at, task, "trial")
    landed = at.task()[1]
    assert not landed.answers[0].ready
    assert "count" in {answer.id for answer in landed.answers}
