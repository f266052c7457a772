"""What a hold is signed on, by fields of the plan alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.plan import hold_words as words
from splitline.plan.hold_words import statement_of
from splitline.plan.model import Plan
from splitline.plan.read import open_plan, read_text

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
HEAD = 'format = 1\n[plan]\ntitle = "t"\n'


def plan_of(text: str) -> Plan:
    draft = read_text(HEAD + text, Path("t.toml"))
    assert not draft.problems, draft.problems
    return draft.plan


def said(text: str) -> str:
    plan = plan_of(text)
    return statement_of(plan.steps[0], plan)


@pytest.mark.parametrize(
    ("text", "statement"),
    [
        ('[[step]]\nid = "s"\nhold = "lead"\n', words.PLAIN),
        ('[[step]]\nid = "s"\n', ""),
        ('[[lift]]\nid = "l"\ntitle = "L"\n[[step]]\nid = "s"\nlift = "l"\nhold = "lead"\n', words.LIFT),
        ('[[fit]]\nid = "f"\ntitle = "F"\n[[step]]\nid = "s"\nfit = "f"\nhold = "lead"\n', words.MOUNTED),
        (
            '[[fit]]\nid = "f"\ntitle = "F"\n[[step]]\nid = "s"\nfit = "f"\nremoval = true\nhold = "lead"\n',
            words.TAKEN_OFF,
        ),
        ('[[step]]\nid = "s"\ntest = "gas"\nhold = "lead"\n', words.TESTED),
        ('[[step]]\nid = "s"\nbar_over = "180 N*m"\nhold = "lead"\n', words.BARRED),
        ('[[step]]\nid = "s"\nhold = "lead"\nhold_statement = "No rag is left inside"\n', "No rag is left inside"),
    ],
)
def test_by_the_kind_of_the_step(text: str, statement: str) -> None:
    assert said(text) == statement


def test_a_joint_is_signed_on_what_it_is_accepted_by() -> None:
    joint = '[[joint]]\nid = "j"\ntitle = "J"\n'
    step = '[[step]]\nid = "s"\njoint = "j"\nhold = "lead"\n'
    assert "looked at all round" in said(joint + step)
    assert "gap is closed all round" in said(joint + '[joint.acceptance]\ngap_max = "0.05 mm"\n' + step)
    assert "stretch was read" in said(joint + '[joint.acceptance]\nstretch_low = "0.1 mm"\n' + step)


def test_a_text_of_the_step_decides_nothing() -> None:
    assert said('[[step]]\nid = "s"\ntext = "Leak test of the lift with a gap"\nhold = "lead"\n') == words.PLAIN


def test_a_statement_without_a_hold_is_refused() -> None:
    draft = read_text(HEAD + '[[step]]\nid = "s"\nhold_statement = "x"\n', Path("t.toml"))
    assert any("hold_statement needs hold" in problem.message for problem in draft.problems)


def test_every_hold_of_the_demo_has_one() -> None:
    plan = open_plan(DEMO).plan
    held = [step for step in plan.steps if step.hold]
    assert held
    assert all(statement_of(step, plan) for step in held)
