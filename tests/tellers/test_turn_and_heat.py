"""By turn and heat: what each size is snugged to, heated by and turned by, told alike by every face; what lacks is said."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.covered import labels
from splitline.assess.tightening_list import order_list
from splitline.commands.order import order_lines
from splitline.plan.passes import passes_of
from splitline.record.from_plan import job_of
from splitline.record.job import PassPlan
from splitline.report.blocks import Table, text_of
from splitline.report.kit_lines.bolting import bolting_lines
from splitline.report.sheets import joint as sheet
from splitline.report.sheets.common import Options
from splitline.report.sheets.joint_sizes import size_table
from splitline.ui.work.values import instructed, nut_lines
from splitline.units import System, show, split
from tests.assess.joint_plans import assess, check, joint
from tests.assess.test_accepted import OTHER

SMALL = {**OTHER, "bolting": {**OTHER["bolting"], "heater_bore": "10 mm"}}


def told(method: str, **more: Any) -> dict[str, Any]:
    how = {"method": method, **{key: value for key, value in more.items() if value is not None}}
    return {
        "size": [SMALL], "tightening": how, "target__bolt_stress": None, "target__yield_fraction": 0.5,
        "bolting__heater_bore": "14 mm",
    }  # fmt: skip


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(("turn", "heat")),
    st.sampled_from((None, 0.05, 0.2)),
    st.sampled_from((None, [1.0], [0.5, 1.0], [0.3, 0.8, 1.0])),
    st.sampled_from((None, 1)),
    st.sampled_from(("SI", "US")),
)
def test_every_teller_tells_the_same_turn_and_rise(
    method: str, snug: float | None, shares: list[float] | None, rounds: int | None, system: System
) -> None:
    """By hand from preload and the two stiffnesses: θ = 2π/P·(F − F_snug)·(1/k_b + 1/k_m) (Shigley, eq. 8-29)."""
    given_plan = told(method, snug=snug, passes=shares, finish_rounds=rounds)
    result, plan = assess(**given_plan), joint(**given_plan)
    listed = order_list(plan, result)
    order = "\n".join(order_lines(listed, system))
    json = {one["name"]: one["steps"] for one in listed.as_json()["passes"]}
    rows = [row for block in sheet.settings(plan, result, listed, Options(system=system))
            if isinstance(block, Table) for row in block.rows]  # fmt: skip
    front = next(b for b in size_table(plan, result, listed, system) if isinstance(b, Table))
    share_of_snug = 0.1 if snug is None else snug
    for size, (bolt, r, pitch) in enumerate(((2, result.results, 3e-3), (1, result.sizes[0].results, 4e-3))):
        give = 1 / r["bolt_stiffness"] + 1 / r["member_stiffness"]
        for one in listed.passes:
            screen = instructed(
                plan, result, PassPlan(one.name, listed.steps, one.share, one.name[:5] == "round"), bolt
            )
            step = next(s for s in json[one.name] if bolt in s["bolts"])
            row = next(
                row for row in rows
                if (text_of(row[0]), text_of(row[2])) == (sheet.pass_words(one.name), listed.sizes[size])
            )  # fmt: skip
            paper = [text_of(cell) for cell in row]
            if one.name == "snug":
                torque = share_of_snug * r["torque"]
                assert screen.torque == step["torque"] == pytest.approx(torque)
                assert screen.large(system) == ("torque", *split(torque, "torque", system))
                assert show(torque, "torque", system) in paper
                assert show(torque, "torque", system) in order
                assert screen.turn is None
                assert screen.heat is None
                continue
            assert screen.torque is None
            assert "torque" not in step
            if one.name.startswith("round"):  # nobody turns or heats a second time
                assert (screen.turn, screen.heat, step.get("turn"), step.get("heat_rise")) == (None,) * 4
                continue
            turn = 2 * math.pi / pitch * (one.share - share_of_snug) * r["preload"] * give
            assert screen.turn == step["turn"] == pytest.approx(turn)
            assert screen.large(system) == ("turn from mark", *split(turn, "angle", system))
            assert show(turn, "angle", system) in paper
            assert show(turn, "angle", system) in order
            if method == "heat":
                rise = one.share * r["heat_rise"]
                assert screen.heat == step["heat_rise"] == pytest.approx(rise)
                said = show(rise, "temperature_difference", system)
                assert said in nut_lines(screen, system)[0][0]
                assert said in paper
                assert said in order
        printed = [text_of(cell) for cell in front.rows[size]]
        assert show(r["turn_angle"], "angle", system) in printed
        assert show(r["torque_snug"], "torque", system) in printed
        assert (method == "heat") == (show(r["heat_rise"], "temperature_difference", system) in printed)


def test_no_passes_of_a_torque_wrench_are_asked_of_a_heater() -> None:
    plan, result = joint(**told("heat")), assess(**told("heat"))
    listed = order_list(plan, result)
    assert [one.name for one in listed.passes] == ["snug", "1"]
    assert "rounds" not in "\n".join(order_lines(listed, "SI")).lower()
    assert "torque_passes" not in result.results
    assert labels(plan) == ("snug", "1")
    from splitline.plan.model import Plan, PlanInfo

    job = job_of(Plan(info=PlanInfo(title="t"), joints=(plan,)), {"head": [(1,), (2,)]})
    assert [(one.name, one.share) for one in job.joints[0].passes] == [("snug", 0.1), ("1", 1.0)]
    assert passes_of(plan.tightening).shares == (1.0,)
    assert not [c for c in result.checks if c.key == "heat_passes"]
    thrice = assess(**told("heat", passes=[0.3, 0.6, 1.0]))
    assert check(thrice, "heat_passes").verdict == "near"


def test_what_a_heater_needs_is_missing_where_it_is_not_given() -> None:
    result = assess(**{**told("heat"), "bolting__heater_bore": None})
    assert check(result, "heater_bore").verdict == "missing"
    assert check(result, "heater_bore").needs == ("bolting.heater_bore",)
    assert not [c for c in assess(**told("heat")).checks if c.key == "heater_bore"]
    cold = assess(
        **{**told("heat"), "bolting__expansion": None, "bolting__grade": None, "bolting__yield_strength": "700 MPa"}
    )
    assert {c.verdict for c in cold.checks if c.key == "heat_rise"} == {"missing"}


def test_a_turn_without_its_snug_or_its_stiffness_is_missing_and_nothing_is_pulled() -> None:
    for change, key, name in (
        ({"friction": None}, "torque_snug", "snug"),
        ({"member__modulus": None}, "turn_angle", "1"),
    ):
        given_plan = {**told("turn"), **change}
        result, plan = assess(**given_plan), joint(**given_plan)
        assert {c.verdict for c in result.checks if c.key == key} == {"missing"}
        share = 0.1 if name == "snug" else 0.3
        screen = instructed(plan, result, PassPlan(name, ((2,),), share), 2)
        assert not screen.known
        assert screen.why
        assert screen.large("SI") == ("", "", "")


def test_the_kit_of_a_heated_joint_has_a_heater_a_size_and_a_wrench_for_the_snug() -> None:
    from splitline.assess.assessment import Assessment
    from splitline.plan.model import Plan, PlanInfo

    plan, result = joint(**told("heat")), assess(**told("heat"))
    whole = Plan(info=PlanInfo(title="t"), joints=(plan,))
    lines = bolting_lines(whole, Assessment(whole, (result,), "", dt.date(2026, 11, 25)), "SI")
    said = [(line.what, line.size) for line in lines]
    assert [size for what, size in said if what == "stud heater"] == ["for a bore of 14 mm", "for a bore of 10 mm"]
    (span,) = [size for what, size in said if what == "torque wrench"]
    snugs = sorted(group["torque_snug"] for group in (result.results, result.sizes[0].results))
    assert span == f"sets {show(snugs[0], 'torque')} to {show(snugs[1], 'torque')}"
