"""What fails or misses an input does not start without a named acceptance: one gate for every kind of item."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.assessment import Assessment
from splitline.assess.context import NOTHING, Observed
from splitline.assess.result import Check, ItemResult
from splitline.errors import RecordError
from splitline.plan.model import Plan
from splitline.record.entry import Note
from splitline.ui.work import acts, flows
from splitline.ui.work.desk import Desk
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import task
from tests.ui.test_work_screen import entries
from tests.ui.work_helpers import assessor, plan_file

ONE_OF_EACH = """format = 1
[plan]
title = "Close-up"
crew = ["Ines", "Tomas"]
[[joint]]
id = "it"
title = "Cover"
[joint.layout]
shape = "circle"
bolts = 8
"""
OTHERS = {
    "lift": '[[lift]]\nid = "it"\ntitle = "Head"\n',
    "fit": '[[fit]]\nid = "it"\ntitle = "Collar"\n',
    "insertion": '[[insertion]]\nid = "it"\ntitle = "Bundle"\n',
    "clearance": '[[clearance]]\nid = "it"\ntitle = "Float"\nkind = "measure"\nhigh = "0.4 mm"\n',
}
HEAD = 'format = 1\n[plan]\ntitle = "Close-up"\ncrew = ["Ines", "Tomas"]\n'


def plan_of(kind: str) -> str:
    item = ONE_OF_EACH if kind == "joint" else HEAD + OTHERS[kind]
    return f'{item}[[step]]\nid = "go"\ntext = "Go"\n{kind} = "it"\n'


def with_check(verdict: Any) -> Callable[[Plan, Path, Observed], Assessment]:
    def assess(plan: Plan, folder: Path, observed: Observed = NOTHING) -> Assessment:
        needs = ("friction.lubricant",) if verdict == "missing" else ()
        usage = 1.2 if verdict == "fails" else None
        check = Check(
            "bolt_stress", "Bolt stress", "at most", 1.2, 1.0, "number", usage, verdict, "by hand", needs=needs
        )
        of = assessor(plan, folder, observed)
        kinds = ("joint", "lift", "fit", "insertion", "clearance")
        known = {(each.kind, each.id): each for each in of.items}
        items = tuple(
            replace(known.get((kind, item.id), ItemResult(kind, item.id, item.title, "ok")), checks=(check,))
            for kind in kinds
            for item in plan.of_kind(kind)
        )
        return Assessment(plan, items, "0123abcd", dt.date(2027, 3, 1))

    return assess


def at_work(tmp_path: Path, kind: str, verdict: str) -> Desk:
    at = Desk(plan_file(tmp_path, text=plan_of(kind)), Ticking(), with_check(verdict))
    at.take_seat("Ines")
    at.stand_plan()
    return at


@pytest.mark.parametrize("verdict", ["fails", "missing"])
@pytest.mark.parametrize("kind", ["joint", "lift", "fit", "insertion", "clearance"])
def test_it_starts_only_with_a_name_and_a_reason(tmp_path: Path, kind: str, verdict: str) -> None:
    at = at_work(tmp_path, kind, verdict)
    shown = task(at)
    assert shown.answers[0].id == "accept-plan"
    assert any("Bolt stress" in text and style == verdict for text, style in shown.lines)
    for act in ("start", "done", "mounting", "trial"):
        with pytest.raises(RecordError, match="Bolt stress"):
            acts.sign(at, shown, act)
    if kind == "joint":
        with pytest.raises(RecordError, match="Bolt stress"):
            acts.set_up(at, replace(shown, joint="it", pass_="snug"), "paste", "B7", "W1", "1", dt.date(2099, 1, 1))
        with pytest.raises(RecordError, match="Bolt stress"):
            acts.tighten(at, replace(shown, joint="it", pass_="snug", bolts=(1, 5)))
    acts.accept_plan(at, shown, ("bolt_stress",), "Tomas", "maker agrees")
    note = entries(at.path)[-1]
    assert isinstance(note, Note)
    assert (note.done_by, note.text, note.checks) == ("Tomas", "maker agrees", ("bolt_stress",))
    assert task(at).answers[0].id != "accept-plan"


@pytest.mark.parametrize("verdict", ["ok", "near", "on-site"])
@pytest.mark.parametrize("kind", ["joint", "fit", "insertion", "clearance"])
def test_what_passes_or_is_known_on_the_job_alone_is_not_held(tmp_path: Path, kind: str, verdict: str) -> None:
    assert task(at_work(tmp_path, kind, verdict)).answers[0].id != "accept-plan"


def test_another_failing_check_or_a_new_plan_asks_anew(tmp_path: Path) -> None:
    at = at_work(tmp_path, "fit", "fails")
    acts.accept_plan(at, task(at), ("another",), "Tomas", "maker agrees")
    assert task(at).answers[0].id == "accept-plan"
    acts.accept_plan(at, task(at), ("bolt_stress",), "Tomas", "maker agrees")
    assert task(at).answers[0].id != "accept-plan"
    at.path.write_text(at.path.read_text("utf-8").replace("Collar", "Other collar"), "utf-8")
    at.load()
    at.stand_plan()
    assert task(at).answers[0].id == "accept-plan"


def test_an_acceptance_of_an_earlier_version_still_counts(tmp_path: Path) -> None:
    at = at_work(tmp_path, "lift", "fails")
    acts.note(at, "bolt_stress | maker agrees", "plan accepted", "it")
    shown = task(at)
    assert shown.answers[0].id != "accept-plan"
    assert any(text.endswith(": maker agrees") for text, _ in shown.lines)


def test_a_reading_outside_is_a_stop_of_its_own_and_shuts_no_gate(tmp_path: Path) -> None:
    from splitline.assess.each_alone import assessed

    text = HEAD + OTHERS["clearance"] + '[[step]]\nid = "go"\ntext = "Go"\nclearance = "it"\n'
    at = Desk(plan_file(tmp_path, text=text), Ticking(), assessed)
    at.take_seat("Ines")
    at.stand_plan()
    shown = task(at)
    acts.read(at, shown, shown.readings[-1], 0.6e-3, "0.6 mm")
    stop = at.refresh().stops[0]
    acts.accept(at, stop.key, "Tomas", "maker agrees")
    assert task(at).answers[0].id == "done"


@pytest.mark.parametrize("verdict", ["fails", "missing"])
@pytest.mark.parametrize("kind", ["", "joint", "fit"])
def test_what_is_checked_of_the_step_itself_holds_it_too(tmp_path: Path, kind: str, verdict: Any) -> None:
    """A pressure test without its figures, a joint that is closed over: the step's own checks, whatever it works on."""

    def assess(plan: Plan, folder: Path, observed: Observed = NOTHING) -> Assessment:
        of = assessor(plan, folder, observed)
        check = Check("leak_test", "Leak test", "at most", None, None, "pressure", None, verdict, "by hand")
        own = tuple(ItemResult("step", step.id, step.heading, verdict, checks=(check,)) for step in plan.steps)
        return replace(of, items=(*of.items, *own))

    plain = HEAD + '[[step]]\nid = "go"\ntext = "Go"\n[[step]]\nid = "next"\ntext = "Next"\n'
    at = Desk(plan_file(tmp_path, text=plan_of(kind) if kind else plain), Ticking(), assess)
    at.take_seat("Ines")
    at.stand_plan()
    shown = task(at)
    assert shown.answers[0].id == "accept-plan"
    for act in ("start", "done"):
        with pytest.raises(RecordError, match="Leak test"):
            acts.sign(at, shown, act)
    acts.accept_plan(at, shown, ("leak_test",), "Tomas", "maker agrees", "go")
    assert task(at).answers[0].id != "accept-plan"
    if not kind:  # one acceptance is for one step
        acts.sign(at, task(at), "done")
        assert task(at).answers[0].id == "accept-plan"


class Asked:
    """A screen whose questions are answered from a list."""

    def __init__(self, desk: Desk, *answers: str) -> None:
        self.desk, self.answers, self.system = desk, list(answers), "SI"
        self.now = desk.refresh()
        self.lines: list[str] = []

    async def ask(self, question: Any) -> str:
        self.lines += [text for text, _ in question._lines]
        return self.answers.pop(0)

    def act(self, todo: Any) -> bool:
        todo()
        return True


async def test_who_accepts_sees_every_check_first(tmp_path: Path) -> None:
    at = at_work(tmp_path, "joint", "fails")
    screen: Any = Asked(at, "Tomas", "lead", "by drawing")
    await flows.accept_plan(screen, task(at))
    assert any("Bolt stress" in text for text in screen.lines)
    assert task(at).kind == "set-up"


async def test_one_acceptance_takes_what_fails_of_the_item_and_of_the_step(tmp_path: Path) -> None:
    both = with_check("fails")

    def assess(plan: Plan, folder: Path, observed: Observed = NOTHING) -> Assessment:
        of = both(plan, folder, observed)
        check = Check("coverage", "Passes covered", "at most", None, None, "count", None, "fails", "by hand")
        return replace(of, items=(*of.items, ItemResult("step", "go", "Go", "fails", checks=(check,))))

    at = Desk(plan_file(tmp_path, text=plan_of("fit")), Ticking(), assess)
    at.take_seat("Ines")
    at.stand_plan()
    screen: Any = Asked(at, "Tomas", "lead", "by drawing")
    await flows.accept_plan(screen, task(at))
    assert any("Bolt stress" in text for text in screen.lines)
    assert any("Passes covered" in text for text in screen.lines)
    assert task(at).answers[0].id != "accept-plan"
    assert [(e.item, e.checks) for e in entries(at.path) if isinstance(e, Note)] == [
        ("it", ("bolt_stress",)),
        ("go", ("coverage",)),
    ]
