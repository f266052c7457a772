"""What differs between two plans, place by place."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.changes import changes, moved
from splitline.plan.edits import ABSENT, same
from splitline.plan.read import read_text
from tests.plan.random_edits import random_edit
from tests.plan.texts import COMMENTED

BASE = read_text(COMMENTED)


def test_values_put_changed_and_taken_away_are_named() -> None:
    later = (
        BASE.edit(("joint", 0, "bolting", "clamp_length"), "300 mm").edit(("plan", "site"), "here").remove(("lift", 1))
    )
    found = {each.where: (each.old, each.new) for each in changes(BASE.tree, later.tree, tracked=True)}
    assert found['joint "head" › bolting › clamp_length'] == ("268 mm", "300 mm")
    assert found["plan › site"] == (ABSENT, "here")
    gone = found['lift "lift-b"']
    assert gone[0]["id"] == "lift-b"
    assert gone[1] is ABSENT
    assert len(found) == 3


def test_an_entry_moved_or_put_before_others_is_not_a_change_of_those() -> None:
    new = {"id": "extra", "title": "Extra"}
    later = BASE.apply(BASE.insert_for(("lift", 0), new))
    (only,) = changes(BASE.tree, read_text(later.new_text).tree)
    assert (only.where, only.old, only.new["id"]) == ('lift "extra"', ABSENT, "extra")


@settings(max_examples=30, deadline=None)
@given(st.randoms(use_true_random=False))
def test_nothing_differs_from_itself_and_every_edit_is_seen(random: Random) -> None:
    assert changes(BASE.tree, BASE.tree) == ()
    draft = BASE
    for _ in range(3):
        edit = random_edit(random, draft)
        draft = draft.apply(edit)
    seen = changes(BASE.tree, draft.tree, tracked=True)
    if not same(draft.tree, BASE.tree):
        assert seen
    else:
        assert not seen


@pytest.mark.parametrize(
    ("path", "where", "old", "new"),
    [
        (("joint",), "order of joint", ["head", "tail"], ["tail", "head"]),
        (("step",), "order of step", ["one", "two"], ["two", "one"]),
        (("joint", 0, "case"), 'joint "head" › order of case', ["design", "leak test"], ["leak test", "design"]),
        (("lift", 0, "leg"), 'lift "lift-a" › order of leg', ["n", "s"], ["s", "n"]),
    ],
    ids=lambda value: str(value) if isinstance(value, str) else "",
)
@pytest.mark.parametrize("tracked", [True, False])
def test_entries_that_changed_places_are_told(
    path: tuple[Any, ...], where: str, old: list[str], new: list[str], tracked: bool
) -> None:
    later = BASE.move((*path, 0), 1)
    tree = later.tree if tracked else read_text(later.new_text).tree
    (only,) = changes(BASE.tree, tree, tracked)
    assert (only.path, only.where, only.old[:2], only.new[:2]) == (path, where, old, new)


def test_only_the_names_between_the_first_and_the_last_that_moved_are_told() -> None:
    assert moved("abcdef", "abdcef") == (["c", "d"], ["d", "c"])
    assert moved("abc", "axbc") is None
    assert moved("abc", "cab") == (["a", "b", "c"], ["c", "a", "b"])
    assert moved("aab", "ab") is None
    assert moved("abc", "cb") == (["b", "c"], ["c", "b"])
