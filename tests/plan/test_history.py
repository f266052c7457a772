"""Undo and redo."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import PlanError
from splitline.plan.edits import ABSENT, Edit, Move, get, same
from splitline.plan.history import History
from splitline.plan.read import read_text
from tests.plan.random_edits import random_edit
from tests.plan.texts import COMMENTED


@settings(max_examples=8, deadline=None)
@given(st.randoms(use_true_random=False))
def test_200_edits_undone_end_where_they_began_and_redone_where_they_ended(rnd: Random) -> None:
    start = read_text(COMMENTED)
    history = History(start)
    for _ in range(200):
        history = history.do(random_edit(rnd, history.draft))
    end = history.draft
    while history.can_undo:
        history = history.undo()
    assert same(history.draft.tree, start.tree)
    assert history.draft.new_text == COMMENTED
    assert {p.message for p in history.draft.problems} == {p.message for p in start.problems}
    while history.can_redo:
        history = history.redo()
    assert same(history.draft.tree, end.tree)


def test_a_deleted_item_undone_has_its_comments_again() -> None:
    history = History(read_text(COMMENTED))
    history = history.do(history.draft.edit_for(("joint", 0), ABSENT))
    assert "@head" not in history.draft.new_text
    assert history.undo().draft.new_text == COMMENTED


def test_an_edit_after_undo_forgets_what_was_undone() -> None:
    history = History(read_text(COMMENTED))
    history = history.do(Edit(("plan", "title"), "Close-up", "a")).undo().do(Edit(("plan", "title"), "Close-up", "b"))
    assert not history.can_redo
    assert history.redo() is history
    assert history.undo().undo().undo().draft.tree == read_text(COMMENTED).tree


def test_steps_of_an_arrow_key_are_undone_together() -> None:
    history = History(read_text(COMMENTED))
    path = ("joint", 0, "bolting", "clamp_length")
    for value in ("269 mm", "270 mm", "271 mm"):
        history = history.do(history.draft.edit_for(path, value), together=True)
    assert len(history.done) == 1
    assert history.undo().draft.get(path) == "268 mm"
    assert history.undo().redo().draft.get(path) == "271 mm"


def test_only_the_edited_path_is_new() -> None:
    draft = read_text(COMMENTED)
    other = draft.edit(("joint", 0, "bolting", "thread"), "M64x4")
    assert other.tree["joint"][1] is draft.tree["joint"][1]
    assert other.tree["joint"][0]["friction"] is draft.tree["joint"][0]["friction"]
    assert draft.get(("joint", 0, "bolting", "thread")) == "M48x3"


def test_missing_tables_are_made_and_taken_away_again() -> None:
    draft = read_text(COMMENTED)
    edit = draft.edit_for(("joint", 1, "size", 0, "bolting", "thread"), "M64x4")
    assert edit.path == ("joint", 1, "size")
    after = draft.apply(edit)
    assert after.get(("joint", 1, "size")) == [{"bolting": {"thread": "M64x4"}}]
    assert same(after.apply(edit.inverse()).tree, draft.tree)


def test_the_last_entry_takes_its_list_along() -> None:
    draft = read_text(COMMENTED).remove(("item", 0))
    assert "item" not in draft.tree


@pytest.mark.parametrize(
    "edit",
    [
        Edit((), 1, 2),
        Edit(("plan", "title"), "something else", "x"),
        Edit(("joint", 9), {"id": "a"}, ABSENT),
        Edit(("joint", 9, "title"), "a", "b"),
        Edit(("joint", 0, "title", "x"), ABSENT, "b"),
        Move(("joint",), 0, 7),
        Move(("plan",), 0, 0),
    ],
)
def test_an_edit_that_does_not_fit_is_refused(edit: Edit | Move) -> None:
    with pytest.raises(PlanError):
        read_text(COMMENTED).apply(edit)


def test_same_knows_what_the_file_would_show() -> None:
    assert not same(1, True)
    assert not same(1, 1.0)
    assert not same({"a": 1}, {"a": 1, "b": 2})
    assert same({"a": 1, "b": float("nan")}, {"b": float("nan"), "a": 1})
    assert get({"a": [1]}, ("a", 1)) is ABSENT


def test_edits_made_in_one_go_are_undone_in_one_go_or_not_made_at_all() -> None:
    start = read_text(COMMENTED)
    rename = [start.edit_for(("joint", 0, "id"), "cover"), start.edit_for(("item", 0, "used_in"), "cover")]
    history = History(start).do(*rename, at=("joint", 0, "id"), said="new id")
    assert history.draft.problems == ()
    assert (history.done[-1].at, history.done[-1].said) == (("joint", 0, "id"), "new id")
    assert history.undo().draft.tree == start.tree
    with pytest.raises(PlanError):
        history.do(start.edit_for(("plan", "title"), "x"), rename[0])
    assert history.draft.get(("plan", "title")) == "Close-up"
