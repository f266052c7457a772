"""Two people edit one plan and both save."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.draft import Draft
from splitline.plan.edits import ABSENT, same
from splitline.plan.fields import new_item
from splitline.plan.merge import merged
from splitline.plan.read import open_plan, read_text
from splitline.plan.save import PlanChangedError, save
from splitline.plan.splice import parses_to
from tests.plan.random_edits import random_edit
from tests.plan.texts import COMMENTED

BASE = read_text(COMMENTED)


def saved(draft: Draft) -> Draft:
    """As somebody else reads it from the file."""
    return read_text(draft.new_text)


def test_edits_at_different_places_are_both_kept() -> None:
    mine = BASE.edit(("joint", 0, "bolting", "thread"), "M64x4").edit(("plan", "site"), "here")
    theirs = saved(BASE.edit(("joint", 0, "bolting", "clamp_length"), "300 mm").remove(("lift", 1)))
    both = merged(mine, theirs)
    assert both.conflicts == ()
    assert both.draft.get(("joint", 0, "bolting")) == {"thread": "M64x4", "kind": "stud", "clamp_length": "300 mm"}
    assert both.draft.get(("plan", "site")) == "here"
    assert [lift["id"] for lift in both.draft.tree["lift"]] == ["lift-a"]
    assert "@head" in both.draft.new_text
    assert "@lift-b" not in both.draft.new_text


def test_the_same_place_is_a_conflict_that_keeps_mine_and_tells_theirs() -> None:
    path = ("joint", 0, "bolting", "clamp_length")
    both = merged(BASE.edit(path, "300 mm"), saved(BASE.edit(path, "310 mm")))
    assert [(c.path, c.base, c.mine, c.theirs, c.where) for c in both.conflicts] == [
        (path, "268 mm", "300 mm", "310 mm", 'joint "head" › bolting › clamp_length')
    ]
    assert both.draft.get(path) == "300 mm"


def test_both_added_and_both_reordered() -> None:
    mine = BASE.insert(("joint", 1), {"id": "mine", "title": "M"})
    theirs = saved(BASE.move(("joint", 1), 0).insert(("joint", 2), {"id": "theirs", "title": "T"}))
    both = merged(mine, theirs)
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["tail", "head", "mine", "theirs"]


def test_what_i_moved_stays_moved_under_what_they_typed() -> None:
    mine = BASE.move(("joint", 1), 0).insert(("joint", 1), {"id": "mine", "title": "M"})
    both = merged(mine, saved(BASE.edit(("joint", 0, "title"), "Theirs").insert(("joint", 2), {"id": "new"})))
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["tail", "mine", "head", "new"]
    assert both.draft.get(("joint", 2, "title")) == "Theirs"
    assert both.conflicts == ()


def test_where_both_moved_entries_mine_stands_and_theirs_is_told() -> None:
    base = BASE.insert(("joint", 2), {"id": "third", "title": "T"})
    base = read_text(base.new_text)
    both = merged(base.move(("joint", 0), 2), saved(base.move(("joint", 0), 1)))
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["tail", "third", "head"]
    (only,) = both.conflicts
    assert (only.where, only.path) == ("order of joint", ("joint",))
    assert (only.mine, only.theirs) == (["tail", "third", "head"], ["tail", "head", "third"])


def test_what_they_deleted_and_i_edited_stays_and_is_told() -> None:
    mine = BASE.edit(("joint", 1, "title"), "Edited")
    both = merged(mine, saved(BASE.remove(("joint", 1))))
    assert [c.theirs for c in both.conflicts] == [ABSENT]
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["head", "tail"]


def test_what_i_deleted_and_they_edited_stays_and_is_told() -> None:
    both = merged(BASE.remove(("joint", 1)), saved(BASE.edit(("joint", 1, "title"), "Edited")))
    assert [c.mine for c in both.conflicts] == [ABSENT]
    assert both.draft.get(("joint", 1, "title")) == "Edited"


def test_what_one_deleted_and_the_other_left_alone_is_gone() -> None:
    both = merged(BASE.remove(("joint", 1)), saved(BASE.edit(("plan", "title"), "x")))
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["head"]
    both = merged(BASE.edit(("plan", "title"), "x"), saved(BASE.remove(("joint", 1))))
    assert [joint["id"] for joint in both.draft.tree["joint"]] == ["head"]
    assert both.conflicts == ()


def test_from_a_refused_save_to_a_saved_merge(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(COMMENTED, "utf-8")
    mine = open_plan(path).edit(("plan", "title"), "mine")
    save(open_plan(path).insert(("step", 2), new_item("step", ())))
    with pytest.raises(PlanChangedError):
        save(mine)
    both = merged(mine, open_plan(path))
    save(both.draft)
    assert open_plan(path).get(("plan", "title")) == "mine"
    assert len(open_plan(path).tree["step"]) == 3


@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_with_nothing_on_one_side_the_other_is_the_result(rnd: Random) -> None:
    other = BASE
    for _ in range(8):
        other = other.apply(random_edit(rnd, other))
    assert same(merged(BASE, saved(other)).draft.tree, other.tree)
    assert same(merged(other, saved(other)).draft.tree, other.tree)
    assert merged(other, saved(BASE)).conflicts == ()


@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_any_two_edits_merge_into_a_plan_that_can_be_saved(rnd: Random) -> None:
    mine = theirs = BASE
    for _ in range(6):
        mine = mine.apply(random_edit(rnd, mine))
        theirs = theirs.apply(random_edit(rnd, theirs))
    both = merged(mine, saved(theirs)).draft
    assert parses_to(both.new_text, both.tree)
