"""A pass the tool in hand cannot make: nothing large to pull to, and Done stays shut."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from splitline.library.store import Library
from splitline.plan.model import Joint
from splitline.plan.read import open_plan
from splitline.record.job import PassPlan
from splitline.ui.work.values import Instructed, instructed

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def snug(share: float, *tools: str) -> Instructed:
    found = open_plan(DEMO)
    place = next(i for i, joint in enumerate(found.plan.joints) if joint.id == "discharge-head")
    joint = found.edit(("joint", place, "tightening", "snug"), share).plan.joints[place]
    assert isinstance(joint, Joint)
    result = assess_joint(joint, Context(Library.load(), dt.date(2026, 1, 1)))
    return instructed(joint, result, PassPlan("snug", ((1, 13),), share), 1, tools)


@pytest.mark.parametrize("tool", ["wrench W1", "wrench W2"])
def test_a_snug_within_the_chart_is_set_by_each_tool_s_own(tool: str) -> None:
    values = snug(0.2, tool)
    assert values.large("SI") == ("set pump to", "100", "bar")
    assert not values.out_of_reach


def test_a_snug_below_the_chart_shows_no_figure_to_pull_to() -> None:
    values = snug(0.1, "wrench W1")
    assert values.out_of_reach
    assert values.large("SI") == ("", "", "")
    assert values.why == "below the chart of wrench W1"
