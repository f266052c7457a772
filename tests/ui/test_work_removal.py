"""A fit taken off on the fitter's screen: its own sequence, kept apart from its mounting; the way of heating by choice."""

from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import ValidationError

from splitline.plan.model import Step
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Task
from tests.assess.test_fit import fit
from tests.record.helpers import Ticking
from tests.ui.test_four_other_fits import FITS, SIZES

STEPS = (
    '[[step]]\nid = "off"\ntext = "Hub off"\nfit = "taper"\nremoval = true\n'
    '[[step]]\nid = "on"\nfit = "taper"\nneeds = ["off"]\n'
)


def desk(folder: Path) -> Desk:
    text = (
        f'format = 1\n[plan]\ntitle = "Off and on"\n[[fit]]\nid = "taper"\ntitle = "Hub"\n{SIZES}{FITS["taper"]}{STEPS}'
    )
    (folder / "one.toml").write_text(text, "utf-8")
    at = Desk(folder / "one.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    return at


def walked(at: Desk, step: str) -> dict[str, Task]:
    """Every step of the sequence of a step of the order of work."""
    seen: dict[str, Task] = {}
    for _ in range(40):
        at.clock.forward(seconds=30)  # type: ignore[attr-defined]
        _, task = at.task()
        if task.kind != "mounting" or task.step is None or task.step.plan.id != step:
            break
        seen.setdefault(task.part, task)
        have = {name for name, _ in task.lines}
        todo = next((text for text in have if text.startswith("to be read: ")), "")
        if task.answers[0].ready:
            acts.sign(at, task, "mounting", "Petra")
        else:
            assert todo
            limits = task.readings[0]
            acts.read(at, task, limits, 0.9 * (limits.high or 1.0), "")
    return seen


def test_a_hub_is_taken_off_step_by_step_and_then_mounted_from_the_first_step(tmp_path: Path) -> None:
    at = desk(tmp_path)
    off = walked(at, "off")
    assert list(off) == ["1", "2", "3", "4"]
    assert [each.middle for each in off.values()] == [f"taking off, step {n} of 4" for n in range(1, 5)]
    stop, up = off["1"], off["2"]
    assert (stop.sign, stop.figures[0].caption) == ("hold", "gap between hub and stop, at least")
    assert up.figures[0].caption == "bore pressure, at most"
    assert "floated-hub" in {each.code for each in up.cautions}
    _, closing = at.task()
    assert (closing.kind, closing.answers[0].id) == ("plain", "done")
    acts.sign(at, closing, "done")
    _, first = at.task()
    assert (first.kind, first.part, first.middle) == ("mounting", "1", "mounting step 1 of 14")


def test_the_stop_before_a_jump_and_the_line_of_the_hub_are_cautioned_through_the_whole_removal(tmp_path: Path) -> None:
    for part, task in walked(desk(tmp_path), "off").items():
        codes = {each.code for each in task.cautions}
        assert {"floated-hub", "oil-injection", "hydraulic-energy"} <= codes, part


def test_removal_needs_a_fit() -> None:
    with pytest.raises(ValidationError, match="needs a fit"):
        Step.model_validate({"id": "off", "removal": True})


@pytest.mark.parametrize(
    ("way", "said", "never"),
    [
        ("induction", "demagnetise", "flash"),
        ("flame", "always moving", "demagnetise"),
        ("hot oil", "flash point", "demagnetise"),
    ],
)
def test_what_goes_with_a_way_of_heating_follows_its_choice(way: str, said: str, never: str) -> None:
    found = fit(mounting="heat", heat_by=way, max_temperature="260 degC").fit
    words = next(step.text for step in found.mounting if step.name == "heat")
    assert said in words
    assert never not in words
    assert way in words
    last = found.removal[-1].text
    assert ("demagnetise" in last) is (way == "induction")
