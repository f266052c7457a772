"""The order of work as the fitter sees it: numbers, states in words, whole titles, why a step waits; back again."""

from __future__ import annotations

from pathlib import Path

from splitline.ui.draw.rows import row_width
from splitline.ui.work.steps import StepsScreen, step_lines
from tests.ui.test_work_desk import started, task
from tests.ui.test_work_screen import app_for, begun, seen, settle, target
from tests.ui.work_helpers import PLAN, desk, plan_file

LONG = "Discharge head studs of the recycle machine, tightened crosswise with two tools from snug to the full load"


def test_every_step_has_number_word_title_and_reason(tmp_path: Path) -> None:
    at = started(tmp_path)
    now = at.refresh()
    rows = [line.row for line in step_lines(now.states, "studs", 70)]
    text = "\n".join("".join(part for part, _ in row) for row in rows)
    for words in (
        "1  ✓ done",
        "2  ▸ now",
        "3  ‖ waits",
        "4  ‖ waits",
        "you are here",
        "hold point of step 2 is not signed by lead",
    ):
        assert words in text
    assert text.count("H hold point, lead: not signed") == 1


def test_a_long_title_is_wrapped_not_cut(tmp_path: Path) -> None:
    at = desk(plan_file(tmp_path, text=PLAN.replace("Discharge head studs", LONG)))
    rows = [line.row for line in step_lines(at.refresh().states, "", 60)]
    text = " ".join(" ".join(part for part, _ in row) for row in rows)
    assert " ".join(LONG.split()) in " ".join(text.split())
    assert "…" not in text
    assert all(row_width(row) <= 60 for row in rows)


def test_every_entry_is_three_rows_for_a_glove(tmp_path: Path) -> None:
    lines = step_lines(started(tmp_path).refresh().states, "", 70)
    for ident in ("bead", "studs", "measure-float", "mount"):
        assert sum(ident in (line.target, line.belongs) for line in lines) >= 3


async def test_a_waiting_step_says_why_and_esc_goes_back(tmp_path: Path) -> None:
    app = app_for(started(tmp_path).path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        assert app.work.shown is not None
        before = app.work.shown.bolts
        for back in ("escape", "enter"):
            await pilot.press("m")
            await settle(pilot, lambda: "another step of the order of work" in seen(app))
            await pilot.click(target(app, "steps"))
            await settle(pilot, lambda: isinstance(app.screen, StepsScreen) and "Total float" in seen(app))
            await pilot.press("down")
            await pilot.press("enter")
            await settle(pilot, lambda: "This step waits" in seen(app))
            assert "Discharge head studs is not signed by lead" in seen(app)
            await pilot.press(back)
            await settle(pilot, lambda: app.work.shown is not None and app.work.shown.bolts == before)


async def test_steps_by_touch_alone(tmp_path: Path) -> None:
    app = app_for(started(tmp_path).path)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, app)
        await pilot.click(target(app, "more"))
        await settle(pilot, lambda: "another step of the order of work" in seen(app))
        await pilot.click(target(app, "steps"))
        await settle(pilot, lambda: isinstance(app.screen, StepsScreen) and "Total float" in seen(app))
        await pilot.click("#steps", offset=(20, 7))  # a row of the third entry
        await pilot.click(target(app, "go"))
        await settle(pilot, lambda: "This step waits" in seen(app))
        await pilot.click(target(app, "step-back"))
        await settle(pilot, lambda: app.work.shown is not None and app.work.shown.kind == "bolts")


def test_a_plain_steps_number_is_no_figure(tmp_path: Path) -> None:
    at = desk(plan_file(tmp_path))
    at.stand_plan()
    found = task(at)
    assert (found.kind, found.figures, found.right) == ("plain", (), "step 1 of 4")
    assert found.lines[0] == ("Lay the bead", "strong")
