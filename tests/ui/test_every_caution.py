"""Every act's cautions stand wherever that act is told: work screen, card, drawings, order of work, sheets, bolt log.

Which caution belongs to which method is written down here a second time, by hand: common practice, no published source.
"""

from __future__ import annotations

import datetime as dt
import shutil
from functools import cache
from pathlib import Path

import pytest

from splitline.assess.assessment import Assessment, assess
from splitline.assess.result import Caution
from splitline.library.store import Library
from splitline.plan.model import Plan, Step
from splitline.plan.read import open_plan
from splitline.report.blocks import Cautions, Para, Sheet, blocks_of
from splitline.report.pdf.flow import flow
from splitline.report.pdf.paper import PAPERS
from splitline.report.pdf.pen import Pen
from splitline.report.sheets import sheets_of
from splitline.report.sheets.common import Options
from splitline.ui.card.facts import fact_lines
from splitline.ui.screens.view import ViewScreen, views_of
from splitline.ui.session import Session
from splitline.ui.work.desk import Desk
from splitline.ui.work.picture import work_rows
from splitline.ui.work.task import Figure, Task
from splitline.ui.work.tasks import ACTS, act_of
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import one_act

ROOT = Path(__file__).parents[2]
PLANS = {
    **{path.name: path for path in sorted((ROOT / "plans").glob("*.toml")) if path.name != "library.toml"},
    **{path.name: path for path in sorted((ROOT / "src/splitline/plan/starting").glob("*.toml"))},
}
TODAY = dt.date(2027, 3, 1)
ALWAYS = {
    "hydraulic wrench": {
        "reaction-arm",
        "hydraulic-energy",
        "oil-injection",
        "stud-line",
        "no-live-tightening",
        "pinch",
    },
    "hydraulic tensioner": {"tensioner-line", "hydraulic-energy", "oil-injection", "no-live-tightening", "pinch"},
    "torque wrench": {"hand-wrench", "stud-line", "no-live-tightening", "pinch"},
    "stretch": {"stud-line", "no-live-tightening", "pinch"},
    "turn": {"stud-line", "no-live-tightening", "pinch"},
    "heat": {"hot-parts", "heaters", "no-live-tightening", "pinch"},
    "oil": {"oil-injection", "floated-hub", "hydraulic-energy", "pinch"},
    "hot": {"hot-parts", "pinch"},
    "press": {"press-line", "hydraulic-energy", "pinch"},
    "lift": {"suspended-load"},
    "insertion": {"jack", "hydraulic-energy", "pinch"},
    "tilting-pad": {"rotor-lifted"},
    "float-split": {"rotor-pushed"},
    "shim": {"rotor-pushed"},
}
AT_STOP = {
    "hydraulic wrench": "release-tool",
    "hydraulic tensioner": "release-tool",
    "torque wrench": "tool-off",
    "stretch": "tool-off",
    "turn": "tool-off",
    "heat": "heaters-off",
    "oil": "hold-hub",
    "hot": "hot-hub",
    "press": "press-off",
    "lift": "set-down",
    "insertion": "jack-off",
}


@cache
def read(name: str) -> tuple[Plan, Assessment]:
    plan = open_plan(PLANS[name]).plan
    return plan, assess(plan, Library.load(PLANS[name].parent), TODAY)


def way(plan: Plan, kind: str, ident: str) -> str:
    """How the item is done, as the tables above call it."""
    if kind == "joint":
        joint = next(each for each in plan.joints if each.id == ident)
        return joint.tightening.method if joint.tightening else ""
    if kind == "fit":
        found = next(each for each in plan.fits if each.id == ident).mounting or ""
        return "hot" if found == "heat" else found
    if kind == "clearance":
        return next(each for each in plan.clearances if each.id == ident).kind
    return kind


def items(plan: Plan) -> list[tuple[str, str]]:
    return [(kind, item.id) for kind, item in plan if kind in ("joint", "lift", "fit", "insertion", "clearance")]


@pytest.mark.parametrize("name", PLANS)
def test_each_item_has_what_its_method_asks_for_and_what_is_done_when_it_stops(name: str) -> None:
    plan, assessment = read(name)
    for kind, ident in items(plan):
        result = assessment.find(kind, ident)
        assert result is not None
        how = way(plan, kind, ident)
        assert {each.code for each in result.cautions} >= ALWAYS.get(how, set()), (ident, how)
        stopped = {each.code for each in result.cautions if each.at("stopped")}
        assert how not in AT_STOP or stopped == {AT_STOP[how]}


def test_a_step_puts_its_own_words_first_and_a_test_its_energy() -> None:
    plan, assessment = read("k410-closeup.toml")
    step = next(each for each in plan.steps if each.caution)
    assert assessment.cautions(step.id, "up-25")[0].text == step.caution
    assert {each.code for each in assessment.cautions("leak-test", "")} >= {"stored-gas", "no-live-tightening"}
    for each in plan.steps:
        if each.target is not None and each.target[0] == "fit":
            mounting = assessment.find("fit", each.target[1])
            assert mounting is not None
            for one in mounting.fit.mounting:
                assert assessment.cautions(each.id, one.name), one.name
            ram = {c.code for c in assessment.cautions(each.id, "ram-off")}
            assert ("ram-release" in ram) == (way(plan, *each.target) == "oil")


def said(rows: list[object]) -> str:
    return " ".join(" ".join(" ".join(part[0] for part in row) for row in rows).split())  # type: ignore[attr-defined]


def stands(caution: Caution, text: str) -> bool:
    return caution.short in text or " ".join(caution.text.split()) in text


@pytest.mark.parametrize("cells", [(78, 17), (98, 24)])
def test_the_work_screen_of_every_act_and_stop_cuts_none(cells: tuple[int, int]) -> None:
    """With two large figures, twelve lines and a map, as full as a screen gets."""
    places = [(float(n % 6), float(n // 6)) for n in range(24)]
    lines = tuple((f"line {n} of many words that fill the screen of the fitter", "") for n in range(12))
    figures = (Figure("STUDS", "13+1"), Figure("set", "334", "bar"))
    for name in PLANS:
        plan, assessment = read(name)
        for step in plan.steps:
            for act in ("bolts", "set-up", "stopped", "", "hold", "ram-off"):
                kind = act if act in ("bolts", "set-up", "stopped") else "plain"
                wanted = assessment.cautions(step.id, act)
                joint = step.joint or ""
                task = Task(kind, "k", figures=figures, lines=lines, joint=joint, cautions=wanted)  # type: ignore[arg-type]
                text = said(work_rows(task, places if joint else (), "outside", {}, *cells))  # type: ignore[arg-type]
                assert all(stands(each, text) for each in wanted), (name, step.id, act)


def test_what_the_fitter_is_told_carries_them_all_the_way_through_the_demo(tmp_path: Path) -> None:
    at = Desk(Path(shutil.copy(PLANS["k410-closeup.toml"], tmp_path)), clock := Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    seen = set()
    for _ in range(600):
        clock.forward(seconds=20)
        now, task = at.task()
        if task.kind == "nothing":
            break
        if task.kind in ACTS and task.step is not None:
            act = act_of(task, now)
            seen.add((task.item, act))
            assert task.cautions == now.assessment.cautions(task.step.plan.id, act)
            how = way(now.assessment.plan, task.step.plan.kind, task.item) if task.item else ""
            if act in ("bolts", "set-up") or task.step.plan.kind in ("lift", "insertion", "clearance"):
                assert {each.code for each in task.cautions} >= ALWAYS.get(how, set())
        one_act(at, now, task, clock)
    assert {"bolts", "set-up", "ram-off", ""} <= {act for _, act in seen}


@pytest.mark.parametrize("name", PLANS)
def test_card_and_drawings(name: str, tmp_path: Path) -> None:
    session = Session.open(Path(shutil.copy(PLANS[name], tmp_path)))
    session.take(*session.compute())
    plan, assessment = read(name)
    for kind, ident in [*items(plan), *(("step", step.id) for step in plan.steps)]:
        index = session.index_of(kind, ident)
        result = assessment.find(kind, ident)
        if index is None or result is None or session.result(kind, index) is None:
            continue
        wanted = assessment.cautions(ident) if kind == "step" else result.cautions
        card = said([line.row for line in fact_lines(session, kind, index, 60, None, False)])
        assert all(" ".join(each.text.split()) in card.replace("! ", "") for each in wanted), ident
        views = views_of(session, kind, index)
        for view in views:
            if view.prepare is not None:
                continue
            screen = ViewScreen(session, (kind, index), views)
            screen.at = views.index(view)
            rows = screen.drawn(78, 20, view.start)
            assert len(rows) == 20
            assert all(each.short in said(rows) for each in wanted if each.at("") or each.at("bolts")), view.title  # type: ignore[arg-type]


def steps_of(plan: Plan) -> list[tuple[int, Step]]:
    return list(enumerate(plan.steps, 1))


@pytest.mark.parametrize("name", PLANS)
def test_order_of_work_every_page_and_the_bolt_log(name: str) -> None:
    plan, assessment = read(name)
    paper = PAPERS["A4"]
    bundle = sheets_of(plan, assessment, None, "digest", Options(paper=paper))
    order = next((each for each in bundle.sheets if each.kind == "work"), None)
    lines = [text for block in blocks_of(order) if isinstance(block, Cautions) for text in block.texts] if order else []
    for number, step in steps_of(plan):
        for each in assessment.cautions(step.id):
            own = [line for line in lines if line.endswith(each.text)]
            assert len(own) == 1
            assert str(number) in own[0].partition(":")[0].replace(",", "").split()
    for sheet in bundle.sheets:
        if sheet.kind in ("joint", "lift", "fit", "insertion"):
            _one_sheet(sheet, assessment)
    pages = flow(Pen(paper, "plan"), bundle)
    assert pages
    for page in pages:
        if page.sheet.kind in ("joint", "lift", "fit", "insertion"):
            assert page.sheet.cautions


def _one_sheet(sheet: Sheet, assessment: Assessment) -> None:
    result = assessment.find(sheet.kind, sheet.item)
    assert result is not None
    framed = [text for block in blocks_of(sheet) if isinstance(block, Cautions) for text in block.texts]
    assert {each.text for each in result.cautions} <= set(framed)
    assert {each.short for each in result.cautions} <= set(sheet.cautions)
    blocks = list(blocks_of(sheet))
    for at, block in enumerate(blocks):
        if getattr(block, "text", "") == "Written down on the job":
            log = blocks[at + 1]
            assert isinstance(log, Para)
            assert all(each.short in log.text for each in result.cautions)


def test_a_load_on_the_floor_does_not_read_as_what_the_floor_may_carry() -> None:
    _, assessment = read("k410-closeup.toml")
    notes = [note for item in assessment.of_kind("lift") for note in item.notes]
    assert any(note.startswith("Load on the floor under the pivot: up to") for note in notes)
    assert not any("carries up to" in note for note in notes)


def test_every_trial_lift_goes_as_high_as_the_caution_says() -> None:
    for name in PLANS:
        plan, _ = read(name)
        for step in plan.steps:
            text = step.text or ""
            if step.lift and text.startswith("Trial lift"):
                assert "20 to 50 mm" in text
