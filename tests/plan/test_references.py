"""What holds between items: unique ids, references, the order of work."""

from __future__ import annotations

import pytest

from splitline.plan.draft import Draft
from splitline.plan.read import read_text
from tests.counting import calls

HEAD = 'format = 1\n[plan]\ntitle = "x"\n'
JOINT = """\
[[joint]]
id = "cover"
title = "C"
[joint.layout]
shape = "circle"
bolts = 12
[joint.tightening]
method = "turn"
passes = [0.5, 1.0]
"""


def step(name: str, more: str = "") -> str:
    return f'[[step]]\nid = "{name}"\ntext = "T"\n{more}\n'


def said(text: str) -> list[str]:
    return [f"{problem.where}: {problem.message}" for problem in read_text(HEAD + text).problems]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (JOINT + step("cover"), '"cover" is already the id of a joint'),
        (JOINT + step("s", 'joint = "covr"'), 'no joint has the id "covr"; did you mean "cover"?'),
        (step("s", 'lift = "l"'), "the plan has no lift"),
        (JOINT + step("s", 'joint = "cover"\npasses = [3]'), 'pass 3 does not exist: joint "cover" has 2'),
        (JOINT + step("s", 'joint = "cover"\nbolts = [12, 13]'), 'bolt 13 does not exist: joint "cover" has 12'),
        (
            JOINT + step("s", 'joint = "cover"\nlift = "l"') + '[[lift]]\nid = "l"\ntitle = "L"\n',
            "a step points at one thing",
        ),
        (step("s", "bolts = [1]"), "passes and bolts need a joint"),
        (step("a", 'needs = ["b"]') + step("b"), 'needs "b", which stands later in the order of work'),
        (step("a", 'needs = ["a"]'), 'step "a" needs itself'),
        (step("a") + step("b", 'needs = ["aa"]'), 'no step has the id "aa"; did you mean "a"?'),
        (
            step("a", 'needs = ["c"]') + step("b", 'needs = ["a"]') + step("c", 'needs = ["b"]'),
            "steps need one another in a circle: a needs c needs b needs a",
        ),
        ('[[window]]\nid = "w"\ntitle = "W"\nfrom = "b.done"\n' + step("a"), 'no step has the id "b"'),
        (
            '[[window]]\nid = "w"\ntitle = "W"\nfrom = "b.done"\nto = "a.done"\n' + step("a") + step("b"),
            "does not come after from in the order of work",
        ),
        ('[[item]]\nid = "i"\ntitle = "I"\nused_in = "cover"\n', 'nothing in the plan has the id "cover"'),
    ],
)
def test_one_mistake(text: str, words: str) -> None:
    found = said(text)
    assert any(words in each for each in found), found
    assert len(found) == 1


def test_a_plan_that_holds_together() -> None:
    text = (
        JOINT
        + step("a", 'joint = "cover"\npasses = ["snug", 1, 2, "round"]\nbolts = [1, 12]')
        + step("b", 'needs = ["a"]')
    )
    text += '[[window]]\nid = "w"\ntitle = "W"\nfrom = "a.start"\nto = "a.done"\nat_most = "45 min"\n'
    text += '[[item]]\nid = "i"\ntitle = "I"\nused_in = ["cover", "a"]\n'
    assert said(text) == []


def test_references_to_an_item_with_mistakes_of_its_own_hold() -> None:
    assert len(said(JOINT + "hidden = 3\n" + step("s", 'joint = "cover"'))) == 1


def test_a_step_whose_reference_fails_is_not_in_the_plan() -> None:
    plan = read_text(HEAD + step("a") + step("b", 'fit = "x"')).plan
    assert [each.id for each in plan.steps] == ["a"]


def test_a_chain_of_needs_twice_as_long_is_no_more_than_twice_the_work() -> None:
    def circle(long: int) -> None:
        steps = [{"id": f"s{n}", "text": "T", "needs": [f"s{m}" for m in range(max(0, n - 5), n)]} for n in range(long)]
        steps[0]["needs"] = [f"s{long - 1}"]
        problems = Draft({"format": 1, "plan": {"title": "x"}, "step": steps}).problems
        assert any("in a circle" in problem.message for problem in problems)

    circle(400)  # what is built once is built
    assert calls(lambda: circle(400)) < 2.5 * calls(lambda: circle(200))
