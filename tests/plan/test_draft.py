"""The draft: one edit checks one item again; plan and problems follow the text."""

from __future__ import annotations

import math

import pytest

from splitline.library.store import Library
from splitline.plan import check
from splitline.plan.draft import Draft
from splitline.plan.edits import Move
from splitline.plan.names import Names
from splitline.plan.problem import where
from splitline.plan.read import read_text
from tests.plan.texts import COMMENTED


def test_si_inside_and_the_typed_text_beside_it() -> None:
    draft = read_text(COMMENTED)
    joint = draft.plan.joints[0]
    assert joint.bolting is not None
    assert joint.bolting.clamp_length == pytest.approx(0.268)
    assert draft.get(("joint", 0, "bolting", "clamp_length")) == "268 mm"
    assert draft.plan.lifts[0].part[0].mass == 6400
    assert draft.plan.find("step", "two") is draft.plan.steps[1]
    assert not math.isnan(joint.case[1].pressure or math.nan)


def test_one_edit_checks_one_item_again(monkeypatch: pytest.MonkeyPatch) -> None:
    draft = read_text(COMMENTED)
    assert draft.plan.joints
    checked: list[str] = []
    real = check._check
    monkeypatch.setattr(check, "_check", lambda *args: checked.append(args[3]) or real(*args))
    after = draft.edit(("joint", 0, "bolting", "clamp_length"), "271.25 mm")
    assert after.plan.joints[0] is not draft.plan.joints[0]
    assert after.plan.joints[1] is draft.plan.joints[1]
    assert checked == ["joint"]
    checked.clear()
    back = after.edit(("joint", 0, "bolting", "clamp_length"), "268 mm")
    assert back.plan.joints[0] is draft.plan.joints[0]
    assert checked == []


def test_a_mistake_comes_and_goes_with_its_edit() -> None:
    draft = read_text(COMMENTED)
    assert draft.problems == ()
    wrong = draft.edit(("joint", 0, "bolting", "clamp_length"), "268")
    assert [str(p) for p in wrong.problems] == [
        'joint "head" › bolting › clamp_length: "268" has no unit: a length is written with one, as in "268 mm"'
    ]
    assert [joint.id for joint in wrong.plan.joints] == ["tail"]
    assert wrong.edit(("joint", 0, "bolting", "clamp_length"), "268 mm").problems == ()


def test_an_item_moved_away_breaks_no_reference_but_the_order_of_needs() -> None:
    draft = read_text(COMMENTED).apply(Move(("step",), 1, 0))
    assert ["stands later in the order of work" in p.message for p in draft.problems] == [True]


def test_names_of_another_library() -> None:
    draft = read_text(COMMENTED).edit(("joint", 0, "friction", "lubricant"), "unheard of")
    assert len(draft.problems) == 1
    assert draft.with_names(Names()).problems == ()
    told = read_text(COMMENTED).with_names(Names.of(Library.load()), ("library.toml: a mistake",))
    assert [str(p) for p in told.problems] == ["site library: library.toml: a mistake"]


def test_an_empty_draft_is_a_plan_with_two_problems() -> None:
    draft = Draft({})
    assert [p.path for p in draft.problems] == [("format",), ("plan",)]
    assert draft.plan.info.title == ""
    assert list(draft.plan) == []


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("joint", 0, "bolting", "clamp_length"), 'joint "head" › bolting › clamp_length'),
        (("joint", 0, "case", 1, "pressure"), 'joint "head" › case "leak test" › pressure'),
        (("lift", 0, "part", 7, "mass"), 'lift "lift-a" › part entry 8 › mass'),
        (("plan", "crew", 1), "plan › crew entry 2"),
        ((), ""),
    ],
)
def test_where(path: tuple[str | int, ...], words: str) -> None:
    assert where(read_text(COMMENTED).tree, path) == words
