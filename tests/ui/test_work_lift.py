"""Lifts, probes and gaps on the fitter's desk: what only the job knows comes first, what fails needs a name."""

from __future__ import annotations

import datetime as dt
import math
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.assessment import Assessment, _cache
from splitline.assess.result import Check, ItemResult
from splitline.record.entry import Measured, Signed
from splitline.ui.session import Session
from splitline.ui.work import acts
from splitline.ui.work.asks import limits_said
from splitline.ui.work.desk import Desk
from splitline.ui.work.flow_lift import trial
from splitline.ui.work.gate import failing
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_lift import lift_facts, lift_readings, on_site, tried
from tests.record.helpers import Ticking
from tests.ui.work_helpers import plan_file

PLAN = """format = 1
[plan]
title = "Close-up"
[[lift]]
id = "head-lift"
title = "Head lift"
[[clearance]]
id = "probe"
title = "Axial probe"
kind = "probe"
low = "1.15 mm"
high = "1.35 mm"
sensitivity = 7.87
[[clearance]]
id = "joint-gap"
title = "Joint gap"
kind = "measure"
high = "0.05 mm"
[[step]]
id = "lift"
text = "Head onto its spigot"
lift = "head-lift"
[[step]]
id = "set-probe"
text = "Probe gap"
clearance = "probe"
[[step]]
id = "gap"
text = "Joint gap"
clearance = "joint-gap"
"""


def _check(key: str, verdict: Any, *needs: str) -> Check:
    return Check(key, key.replace("_", " "), "at most", 120e3, 100e3, "force", 1.2, verdict, "by the tag", needs=needs)


def lifting(fails: bool) -> Any:
    """An assessor whose lift wants tags and a radius until they are entered, and fails or not."""

    def assess(plan: Any, folder: Path, observed: Any) -> Assessment:
        checks = [_check("crane_usage", "fails")] if fails else []
        absent = [f"leg.{n}.tag" for n in (1, 2) if not observed.get("head-lift", f"leg.{n}.tag")]
        if absent:
            checks.append(_check("sling_tag", "on-site", *absent))
        if observed.get("head-lift", "crane.radius") is None:
            checks.append(_check("radius", "on-site", "crane.radius"))
        lift = ItemResult("lift", "head-lift", "Head lift", "ok", {"hook_load": 31e3}, checks=tuple(checks))
        probe = ItemResult("clearance", "probe", "Probe", "ok")
        gap = ItemResult("clearance", "joint-gap", "Gap", "ok")
        return Assessment(plan, (lift, probe, gap), "v", dt.date(2027, 3, 1))

    return assess


def at_desk(tmp_path: Path, fails: bool = False) -> Desk:
    at = Desk(plan_file(tmp_path, text=PLAN), Ticking(), lifting(fails))
    at.take_seat("Ines")
    return at


def task(at: Desk) -> Task:
    return at.task()[1]


def test_a_lift_waits_for_tags_and_radius(tmp_path: Path) -> None:
    at = at_desk(tmp_path)
    now = task(at)
    assert [(f.caption, f.text, f.unit) for f in now.figures] == [("hook load, margin and dynamics in it", "31", "kN")]
    assert now.answers[0].id == "site"
    result = at.assessment.find("lift", "head-lift")
    assert on_site(result) == ("leg.1.tag", "leg.2.tag", "crane.radius")
    acts.tag(at, now, "leg.1.tag", "WR-1")
    acts.tag(at, now, "leg.2.tag", "WR-2")
    acts.read(at, task(at), now.readings[2], 7.0, "7 m")
    assert [a.id for a in task(at).answers].count("done") == 0
    acts.sign(at, task(at), "trial")
    assert task(at).answers[0].id == "done"
    acts.sign(at, task(at), "done")
    signed = [e for e in at.journal.refresh().entries if isinstance(e, Signed)]
    assert [(e.act, e.statement) for e in signed] == [("tag", "WR-1"), ("tag", "WR-2"), ("trial", ""), ("done", "")]


def test_a_trial_lift_struck_is_made_again(tmp_path: Path) -> None:
    at = at_desk(tmp_path)
    for n in (1, 2):
        acts.tag(at, task(at), f"leg.{n}.tag", f"WR-{n}")
    acts.read(at, task(at), task(at).readings[2], 7.0, "7 m")
    assert task(at).answers[0].id == "trial"
    acts.sign(at, task(at), "trial")
    acts.strike(at, at.journal.refresh().entries[-1].number, "not done after all")
    assert task(at).answers[0].id == "trial"
    acts.sign(at, task(at), "trial")
    assert task(at).answers[0].id == "done"


DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


@pytest.mark.parametrize("ident", ["rotor-lift", "bundle-lift", "discharge-head-upend", "discharge-head-lift"])
def test_what_the_supervisor_looks_at_fits_a_small_screen(ident: str) -> None:
    session = Session.open(DEMO)
    _, outcome = session.compute()
    result = outcome.find("lift", ident)
    assert result is not None
    lines = lift_facts(result, "SI")
    text = "\n".join(line for line, _ in lines)
    least = math.degrees(min(result.results["leg_angle_worst"]))
    assert f"{least:.0f}° to the horizontal, {90 - least:.0f}° to the vertical" in text
    assert f"{max(result.results['leg_usage']):.0%} used" in text
    assert sum(-(-len(line) // 78) for line, _ in lines) <= 10


def test_tilt_stands_beside_what_the_spigot_allows() -> None:
    session = Session.open(DEMO)
    _, outcome = session.compute()
    result = outcome.find("lift", "discharge-head-lift")
    assert result is not None
    tilt = next(line for line, style in lift_facts(result, "SI") if "tilt:" in line and style == "near")
    assert "up to 37.1 mm per m with tolerances; the spigot allows 3.6 mm per m" in tilt


def test_roll_about_the_picks_is_told_from_the_slope_that_is_judged() -> None:
    session = Session.open(DEMO)
    _, outcome = session.compute()
    result = outcome.find("lift", "rotor-lift")
    assert result is not None
    tilt = next(line for line, _ in lift_facts(result, "SI") if "tilt:" in line)
    assert "of which the line through the picks" in tilt
    assert tilt.endswith("allowed 34.9 mm per m")  # tan 2°


def test_a_lift_whose_check_fails_needs_a_name(tmp_path: Path) -> None:
    at = at_desk(tmp_path, fails=True)
    now = task(at)
    assert now.answers[0].id == "accept-plan"
    assert any("has" in line or "120 kN" in line for line, style in now.lines if style == "fails")
    keys = tuple(check.key for check in failing(at.assessment.find("lift", "head-lift")))
    acts.accept_plan(at, now, keys, "Aiko", "chart of the other crane")
    assert task(at).answers[0].id == "site"
    assert ("accepted by Aiko: chart of the other crane", "near") in task(at).lines
    at.path.write_text(at.path.read_text("utf-8").replace("Head lift", "Cover lift"), "utf-8")
    at.load()
    at.stand_plan()
    assert task(at).answers[0].id == "accept-plan"


def test_a_probe_is_judged_in_volts_and_a_gap_by_its_feeler(tmp_path: Path) -> None:
    at = at_desk(tmp_path)
    at.chosen = "set-probe"
    now = task(at)
    (volts,) = now.readings
    assert volts.quantity == "voltage"
    assert (volts.low, volts.high) == pytest.approx((-1.35 * 7.87, -1.15 * 7.87))  # mV/µm is V/mm
    assert "inside" in acts.read(at, now, volts, -10.0, "-10 V")
    acts.sign(at, task(at), "done")
    at.chosen = "gap"
    now = task(at)
    assert [each.what for each in now.readings] == ["as found", "gap", "measured"]
    assert not now.answers[0].ready
    acts.read(at, now, now.readings[1], 3e-5, "0.03 mm", at="3 o'clock")
    assert task(at).answers[0].ready


def test_what_could_not_be_assessed_is_not_worked_on_and_the_rest_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from splitline.assess import lift as room

    def broken(*_: object) -> None:
        raise TypeError("a fault of the program")

    monkeypatch.setattr(room, "assess_lift", broken)
    _cache.clear()
    at = Desk(plan_file(tmp_path, text=PLAN), Ticking())
    at.take_seat("Ines")
    assert at.problems == ('lift "head-lift": could not be assessed; it is not worked on before that is mended',)
    now = task(at)
    assert (now.kind, now.title) == ("nothing", "Head onto its spigot")
    at.chosen = "gap"
    assert task(at).kind == "plain"


def demo_lift(ident: str) -> ItemResult:
    session = Session.open(DEMO)
    _, outcome = session.compute()
    result = outcome.find("lift", ident)
    assert result is not None
    return result


def test_a_load_cell_at_rest_is_judged_without_the_dynamic_factor() -> None:
    """2520 kg calculated, 10 % margin, 110 kg of rigging: 2520·1.1 + 110 = 2882 kg at most, 2520·0.9 + 110 = 2378 at least."""
    cell = lift_readings(demo_lift("discharge-head-lift"), "SI", False)[0]
    assert cell.high == pytest.approx(2882 * 9.80665)
    assert cell.low == pytest.approx(2378 * 9.80665)


def test_the_tilt_before_trimming_is_held_to_the_doubts_and_after_it_to_the_spigot() -> None:
    result = demo_lift("discharge-head-lift")
    before = {each.what: each for each in lift_readings(result, "SI", False)}
    assert before["tilt before trimming"].high == result.results["axis_tilt_worst"]
    assert before["tilt"].high == result.results["spigot_tilt"]
    assert limits_said(before["tilt"], "SI") == "accepted up to 3.636 mrad"  # as the level shows it, mm per m
    assert "tilt before trimming" not in {each.what for each in lift_readings(result, "SI", True)}
    free = {each.what: each for each in lift_readings(demo_lift("rotor-lift"), "SI", False)}
    assert free["tilt"].high == pytest.approx(math.radians(2.0))


def test_a_second_enter_after_the_trial_lift_does_not_close_the_lift(tmp_path: Path) -> None:
    at = at_desk(tmp_path)
    for n in (1, 2):
        acts.tag(at, task(at), f"leg.{n}.tag", f"WR-{n}")
    acts.read(at, task(at), next(each for each in task(at).readings if each.what == "hook radius"), 7.0, "7 m")
    acts.sign(at, task(at), "trial")
    first = task(at).answers[0]
    assert (first.id, first.guarded) == ("done", True)


class Answering:
    """A screen whose questions are answered from a list; acts are carried out at once."""

    def __init__(self, at: Desk, *answers: str | None) -> None:
        self.desk, self.answers, self.said = at, list(answers), ""
        self.now = at.task()[0]

    async def ask(self, question: Any) -> str | None:
        return self.answers.pop(0)

    def act(self, todo: Any) -> None:
        self.said = todo()


ONE_LIFT = DEMO.read_text("utf-8")
ONE_LIFT = (
    'format = 1\n[plan]\ntitle = "Head"\ncrew = ["Ines"]\n'
    + ONE_LIFT[
        ONE_LIFT.index('[[lift]]\nid = "discharge-head-lift"') : ONE_LIFT.index('[[lift]]\nid = "suction-head-lift"')
    ]
    + '[[step]]\nid = "on"\ntext = "Head on"\nlift = "discharge-head-lift"\n'
)


@pytest.mark.parametrize(("typed", "kind", "ticked"), [("0.1 deg", "plain", True), ("0.5 deg", "stopped", False)])
async def test_a_lift_to_be_trimmed_is_ticked_with_its_tilt(
    tmp_path: Path, typed: str, kind: str, ticked: bool
) -> None:
    at = Desk(plan_file(tmp_path, text=ONE_LIFT), Ticking())
    at.take_seat("Ines")
    screen: Any = Answering(at, "clear", "none", typed)
    await trial(screen, task(at))
    now, after = at.task()
    assert (after.kind, tried(now, "on")) == (kind, ticked)
    assert [e.what for e in now.alive if isinstance(e, Measured)] == ["tilt"]


async def test_going_back_from_the_tilt_ticks_nothing(tmp_path: Path) -> None:
    at = Desk(plan_file(tmp_path, text=ONE_LIFT), Ticking())
    at.take_seat("Ines")
    screen: Any = Answering(at, "clear", "none", None)
    await trial(screen, task(at))
    assert not tried(at.task()[0], "on")
