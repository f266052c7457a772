"""Lifts, probes and gaps on the fitter's desk: what only the job knows comes first, what fails needs a name."""

from __future__ import annotations

import datetime as dt
import math
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.assessment import Assessment, _cache
from splitline.assess.result import Check, ItemResult
from splitline.record.entry import Signed
from splitline.ui.session import Session
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.lift_facts import lift_facts
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_lift import failing, on_site
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
        volts = {"probe_voltage_low": -9.05, "probe_voltage_high": -10.6}
        probe = ItemResult("clearance", "probe", "Probe", "ok", volts)
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
    assert [(f.caption, f.text, f.unit) for f in now.figures] == [("hook load", "31", "kN")]
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
    least = math.degrees(min(result.results["leg_angle"]))
    assert f"{least:.0f}° to the horizontal, {90 - least:.0f}° to the vertical" in text
    assert f"{max(result.results['leg_usage']):.0%} used" in text
    assert sum(-(-len(line) // 78) for line, _ in lines) <= 10


def test_tilt_stands_beside_what_the_spigot_allows() -> None:
    session = Session.open(DEMO)
    _, outcome = session.compute()
    result = outcome.find("lift", "discharge-head-lift")
    assert result is not None
    tilt = next(line for line, style in lift_facts(result, "SI") if "tilt:" in line and style == "near")
    assert "up to 36.9 mm per m within the doubts; the spigot allows 3.6 mm per m" in tilt


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
    assert (volts.quantity, volts.low, volts.high) == ("voltage", -10.6, -9.05)
    assert "inside" in acts.read(at, now, volts, -10.0, "-10 V")
    acts.sign(at, task(at), "done")
    at.chosen = "gap"
    now = task(at)
    assert [each.what for each in now.readings] == ["as found", "gap", "as left"]
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
