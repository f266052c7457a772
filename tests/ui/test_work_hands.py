"""One wrench is in one pair of hands; with one tool one stud is told."""

from __future__ import annotations

import asyncio
import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from splitline.errors import RecordError
from splitline.record.entry import Tightened
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.flow_set_up import ask_set_up
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import started, task
from tests.ui.work_helpers import PLAN, desk, plan_file

LATER = dt.date(2099, 1, 1)
PASTE = "molybdenum disulfide paste"


def with_tool(at: Desk, tool: str, serial: str) -> None:
    acts.set_up(at, task(at), PASTE, "B7", tool, serial, LATER)


def test_a_wrench_that_another_crew_set_up_with_pulls_nothing_more_for_the_first(tmp_path: Path) -> None:
    clock = Ticking()
    ines = started(tmp_path, clock=clock)
    shown = task(ines)
    assert shown.kind == "bolts"
    tomas = desk(ines.path, "Tomas", clock)
    clock.forward(minutes=1)
    with_tool(tomas, "wrench W1", "W1-118")
    with pytest.raises(RecordError, match="W1-118 is with Tomas"):  # what stood on the glass a moment ago
        acts.tighten(ines, shown)
    asked = task(ines)
    assert asked.kind == "set-up"
    assert any("wrench W1 W1-118 is with Tomas" in text for text, style in asked.lines if style == "fails")
    with_tool(ines, "wrench W1", "W1-200")  # another wrench of the same make
    acts.tighten(ines, task(ines))
    acts.tighten(tomas, task(tomas))
    pulls = [e for e in ines.journal.refresh().entries if isinstance(e, Tightened)]
    assert [(e.crew, e.serial) for e in pulls] == [("Ines", "W1-200"), ("Tomas", "W1-118")]


class Saying:
    """A screen that gives prepared answers and keeps what was asked."""

    def __init__(self, at: Desk, *answers: str | None) -> None:
        self.desk, self.now = at, at.refresh()
        self.answers, self.asked = list(answers), list[str]()

    async def ask(self, question: Any) -> str | None:
        self.asked.append(question._title)
        return self.answers.pop(0) if self.answers else None


@pytest.mark.parametrize("answer", ["yes", None])
def test_taking_a_wrench_over_is_asked(tmp_path: Path, answer: str | None) -> None:
    ines = started(tmp_path)
    tomas = desk(ines.path, "Tomas")
    screen: Any = Saying(tomas, "0", answer)  # the plan's first tool, which Ines has
    found = asyncio.run(ask_set_up(screen, task(tomas)))
    assert screen.asked == ["Tool in your hands", "Take wrench W1 W1-118 over?"]
    assert (found is not None) == (answer == "yes")


def test_a_wrench_of_a_closed_pass_lies_free(tmp_path: Path) -> None:
    ines = started(tmp_path, 4)
    acts.tighten(ines, task(ines))
    acts.tighten(ines, task(ines))
    tomas = desk(ines.path, "Tomas")
    screen: Any = Saying(tomas, PASTE, "B7", "0")
    assert asyncio.run(ask_set_up(screen, task(tomas))) is not None
    assert not [title for title in screen.asked if title.startswith("Take")]


def test_with_one_tool_one_stud_is_told_and_its_partner_next(tmp_path: Path) -> None:
    together = PLAN.replace('method = "hydraulic wrench"', 'method = "hydraulic wrench"\ntools_together = 2')
    at = desk(plan_file(tmp_path, text=together))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    with_tool(at, "wrench W1", "W1-118")
    one = task(at)
    assert one.bolts == (1,)
    assert ("then 5     4 to go", "") in one.lines
    acts.tighten(at, one)
    assert task(at).bolts == (5,)
    acts.set_up(at, task(at), PASTE, "B7", "wrench W1 + wrench W2", "W1-118 + W2-7", LATER)
    acts.tighten(at, task(at))
    assert task(at).bolts == (2, 6)  # two tools again: both at once
    acts.set_up(at, task(at), PASTE, "B7", "wrench W1", "W1-118", LATER)
    assert task(at).bolts == (2,)  # and not both with the one that is left


def test_the_heads_of_a_tensioner_are_pulled_together(tmp_path: Path) -> None:
    text = PLAN.replace('method = "hydraulic wrench"', 'method = "hydraulic tensioner"\ntools_together = 2')
    at = desk(plan_file(tmp_path, text=text))
    at.stand_plan()
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    with_tool(at, "wrench W1", "W1-118")
    assert task(at).bolts == (1, 5)
