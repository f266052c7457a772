"""Steps 15 to 26 of the demo by keys: the screen of each, as it first stands, shows its number in large figures or to be read."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from splitline.ui.work.picture import work_rows
from tests.ui.test_work_demo import DEMO, desk_at, set_up

STEPS = tomllib.loads(DEMO.read_text("utf-8"))["step"][14:]


def test_these_are_the_steps_of_covers_rotor_seals_fits_and_test() -> None:
    assert [step["id"] for step in STEPS[:2]] == ["suction-on", "suction-tension"]
    assert [step["id"] for step in STEPS[-2:]] == ["leak-test", "bar-over"]


@pytest.mark.parametrize("cells_rows", [(78, 14), (98, 22)])
@pytest.mark.parametrize("step", STEPS, ids=[step["id"] for step in STEPS])
def test_the_step_has_its_number(tmp_path: Path, step: dict[str, object], cells_rows: tuple[int, int]) -> None:
    at = desk_at(tmp_path, f'id = "{step["id"]}"')
    now, task = at.task()
    if task.kind == "set-up":
        set_up(at, now, task)
        now, task = at.task()
    assert task.step is not None
    assert task.step.plan.id == step["id"]
    assert task.figures, task.lines
    said = "\n".join("".join(text for text, _ in row) for row in work_rows(task, (), "", {}, *cells_rows))
    assert any(sign in said for sign in "█▀▄")
    assert any(figure.unit in said for figure in task.figures)
