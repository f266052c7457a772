"""What differs between two plans, place by place."""

from __future__ import annotations

from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.changes import changes
from splitline.plan.edits import ABSENT
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
    if unplaced(draft.tree) != unplaced(BASE.tree):
        assert seen
    elif draft.tree == BASE.tree:
        assert not seen


def unplaced(value: Any) -> Any:
    """A tree without the order of its tables: an entry that only moved is no change of what it says."""
    if isinstance(value, dict):
        return {key: unplaced(part) for key, part in value.items()}
    if isinstance(value, list) and value and all(isinstance(part, dict) for part in value):
        return sorted((unplaced(part) for part in value), key=repr)
    return value
