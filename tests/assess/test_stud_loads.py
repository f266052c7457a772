"""What is in every stud now, from a record's pulls and readings of the demo's discharge head."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from splitline.assess.each_alone import assessed
from splitline.assess.result import ItemResult
from splitline.assess.stud_loads import advice, estimated, sentence, stud_loads
from splitline.plan.model import Joint
from splitline.plan.read import open_plan
from splitline.record.entry import Entry, Measured, Tightened
from splitline.record.from_plan import job_of
from splitline.record.job import JointPlan

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
HEAD = "discharge-head"


@pytest.fixture(scope="module")
def head() -> tuple[Joint, ItemResult, JointPlan]:
    plan = open_plan(DEMO).plan
    assert plan is not None
    assessment = assessed(plan, DEMO.parent)
    joint, result = plan.find("joint", HEAD), assessment.find("joint", HEAD)
    assert isinstance(joint, Joint)
    assert result is not None
    whole = job_of(plan, {HEAD: result.results["order_steps"]}).joint(HEAD)
    assert whole is not None
    return joint, result, whole


def pulled(head: tuple[Joint, ItemResult, JointPlan], last: str = "round 1", off: float = 1.0) -> list[Entry]:
    """Every pull up to a pass; ``off``: what was set, as a share of what is told."""
    _, result, whole = head
    assert result.settings is not None
    out: list[Entry] = []
    for each in whole.passes:
        for step in each.steps:
            assert each.share is not None or each.finish
            share = 1.0 if each.share is None else each.share
            told = result.settings.of_bolt(step[0], share)
            out.append(
                Tightened(
                    number=len(out) + 1, uid=f"p{len(out)}", done_by="A. Fitter", joint=HEAD, pass_=each.name,
                    bolts=step, share=share, tool=told.tool, torque=told.torque,
                    pressure=None if told.value is None else told.value * off,
                )
            )  # fmt: skip
        if each.name == last:
            break
    return out


def stretch(head: tuple[Joint, ItemResult, JointPlan], entries: list[Entry], stud: int, share: float) -> None:
    """A stretch of a share of what the stud is expected to hold."""
    joint, result, _ = head
    expected = stud_loads(result, joint, entries)
    made_up = result.joint.made_up
    assert expected is not None
    assert made_up is not None
    stiffness = made_up.per_bolt("bolt_stiffness")
    assert stiffness is not None
    load = next(each.load for each in expected.studs if each.stud == stud)
    entries.append(
        Measured(
            number=len(entries) + 1, uid=f"r{len(entries)}", done_by="A. Fitter", item=HEAD, what="stretch", bolt=stud,
            value=share * load / stiffness[stud - 1], quantity="length",
        )
    )  # fmt: skip


def test_as_planned_it_is_the_prediction(head: Any) -> None:
    joint, result, _ = head
    found = stud_loads(result, joint)
    assert found is not None
    assert found.planned
    np.testing.assert_allclose([each.load for each in found.studs], result.joint.predicted.prediction.final, rtol=1e-9)
    assert "as planned" in sentence(found, "stud", "SI")
    assert found.advice == "go on"


def test_pulls_as_told_come_to_the_same_and_other_set_values_do_not(head: Any) -> None:
    joint, result, _ = head
    found, lower = (stud_loads(result, joint, pulled(head, off=off)) for off in (1.0, 0.9))
    assert found is not None
    assert lower is not None
    np.testing.assert_allclose([each.load for each in found.studs], result.joint.predicted.prediction.final, rtol=1e-9)
    np.testing.assert_allclose([e.load for e in lower.studs], [0.9 * e.load for e in found.studs], rtol=1e-9)
    assert not found.planned
    assert found.prior


def test_planned_passes_are_never_argued_away(head: Any) -> None:
    """Chances may be high after pass 3: the round that is planned stays."""
    joint, result, _ = head
    before = stud_loads(result, joint, pulled(head, "3"))
    after = stud_loads(result, joint, pulled(head))
    assert before is not None
    assert after is not None
    assert before.chance is not None
    assert before.chance > 0.95
    assert before.advice == "go on"
    assert after.advice == "enough"
    assert "whatever stands here" in " ".join(advice(after, "stud", "SI"))


def test_readings_move_the_others_too(head: Any) -> None:
    """One batch of paste: three studs that hold less make the rest less."""
    joint, result, _ = head
    entries = pulled(head)
    before = stud_loads(result, joint, entries)
    for stud in (1, 7, 13):
        stretch(head, entries, stud, 0.88)
    after = stud_loads(result, joint, entries)
    assert before is not None
    assert after is not None
    assert [each.stud for each in after.studs if each.read] == [1, 7, 13]
    unread = [(a.load, b.load) for a, b in zip(after.studs, before.studs, strict=True) if not a.read]
    assert all(later < earlier for later, earlier in unread)
    assert "set values and readings" in sentence(after, "stud", "SI")


def test_weak_studs_are_named_with_what_would_help(head: Any) -> None:
    joint, result, _ = head
    entries = pulled(head)
    for stud in (1, 7, 13, 19):
        stretch(head, entries, stud, 0.75)
    found = stud_loads(result, joint, entries)
    assert found is not None
    assert found.chance is not None
    assert found.chance < 0.95
    assert found.advice in ("pull", "round", "measure")
    assert found.after is None or found.after > found.chance
    asked = found.next[0]
    assert asked.after < asked.before
    assert any(each.stud == asked.lowest for each in found.studs)


def test_a_reading_nothing_explains_is_asked_about_and_not_counted(head: Any) -> None:
    joint, result, _ = head
    entries = pulled(head)
    stretch(head, entries, 7, 1.0)
    before = stud_loads(result, joint, entries)
    stretch(head, entries, 5, 0.3)
    found = stud_loads(result, joint, entries)
    assert before is not None
    assert found is not None
    assert [each.stud for each in found.asked] == [5]
    assert found.asked[0].apart < -3
    assert [each.load for each in found.studs] == [each.load for each in before.studs]
    assert "NOT counted" in " ".join(advice(found, "stud", "SI"))


def test_where_readings_and_model_disagree_no_chance_is_told(head: Any) -> None:
    joint, result, _ = head
    entries = pulled(head)
    for stud in (2, 9, 16):
        stretch(head, entries, stud, 0.3)
    found = stud_loads(result, joint, entries)
    assert found is not None
    assert found.disagree
    assert found.chance is None
    assert all(each.below_need is None for each in found.studs)
    assert "in doubt" in sentence(found, "stud", "SI")


def test_the_plan_may_want_another_confidence(head: Any) -> None:
    joint, result, _ = head
    entries = pulled(head, off=0.7)
    for confidence, enough in ((0.5, True), (0.9999, False)):
        wanted = joint.model_copy(update={"tightening": joint.tightening.model_copy(update={"confidence": confidence})})
        found = stud_loads(result, wanted, entries)
        assert found is not None
        assert found.chance is not None
        assert 0.5 < found.chance < 0.9999
        assert found.confidence == confidence
        assert (found.advice == "enough") == enough
        assert "tightening.confidence" not in {what for what, _, _ in found.defaults}


def test_it_is_kept_until_an_entry_is_added(head: Any) -> None:
    joint, result, _ = head
    entries = pulled(head)
    first = estimated(result, joint, entries)
    assert estimated(result, joint, list(entries)) is first
    stretch(head, entries, 3, 1.0)
    assert estimated(result, joint, entries) is not first
