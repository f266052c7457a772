"""Whoever a comment belongs to keeps it: through edits, additions, deletions, copies and reordering."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.draft import Draft
from splitline.plan.edits import Move
from splitline.plan.fields import copy_of, new_item
from splitline.plan.migrate import plain_lists
from splitline.plan.read import read_text
from tests.plan.random_edits import random_edit
from tests.plan.texts import COMMENTED

TOKEN = re.compile(r"@([a-z-]+)([^\n]*)")
ITEM = re.compile(r"^\[\[(joint|lift|item|step|fit|insertion|clearance|window)\]\]")


def chunks(text: str) -> dict[str, str]:
    """The text of each item by id: from the comment block above its heading to the next item's. Knows no TOML."""
    lines = text.split("\n")
    starts = []
    for number, line in enumerate(lines):
        if ITEM.match(line):
            start = number
            while start and lines[start - 1].startswith("#"):
                start -= 1
            starts.append(start)
    found = {}
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        chunk = "\n".join(lines[start:end])
        name = re.search(r'^id = "([^"]+)"', chunk, re.M)
        assert name is not None, chunk
        found[name.group(1)] = chunk
    return found


def owned(text: str) -> list[tuple[str, str]]:
    return [(match.group(1), match.group(2)) for match in TOKEN.finditer(text)]


def holds(draft: Draft) -> None:
    text = draft.new_text
    assert plain_lists(tomllib.loads(text)) == draft.tree
    parts = chunks(text)
    every = owned(text)
    assert Counter(every) <= Counter(owned(COMMENTED)), "a comment stands twice"
    for name, chunk in parts.items():
        for owner, words in owned(chunk):
            assert owner in (name, "nobody"), f'"@{owner}{words}" stands with {name}'
    before = owned(COMMENTED)
    assert [c for c in every if c[0] in ("nobody", "top")] == [c for c in before if c[0] in ("nobody", "top")]
    for lead in (("head", " the cover"), ("head", " second line"), ("tail", " the other cover"), ("lift-a", " first lift"),
                 ("lift-b", " second lift"), ("one", " first step"), ("two", " second step"), ("ring", "")):  # fmt: skip
        assert (lead in every) == (lead[0] in parts), f"{lead} lost or left behind"
    joint = next((j for j in draft.tree.get("joint", ()) if j["id"] == "head"), {})
    cases = joint.get("case", ()) if isinstance(joint.get("case"), list) else ()
    for name, lead in (("design", " case one"), ("leak test", " case two")):
        there = any(case.get("name") == name for case in cases)
        assert (("head", lead) in every) == there


def test_the_starting_text_is_as_this_test_reads_it() -> None:
    holds(read_text(COMMENTED))
    assert set(chunks(COMMENTED)) == {"head", "tail", "lift-a", "lift-b", "ring", "one", "two"}


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False), st.integers(1, 12))
def test_comments_stay_with_their_owner(rnd: Random, count: int) -> None:
    draft = read_text(COMMENTED)
    for _ in range(count):
        draft = draft.apply(random_edit(rnd, draft))
    holds(draft)


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_also_when_saved_and_read_between(rnd: Random) -> None:
    draft = read_text(COMMENTED)
    for _ in range(4):
        for _ in range(3):
            draft = draft.apply(random_edit(rnd, draft))
        holds(draft)
        draft = read_text(draft.new_text)


@pytest.mark.parametrize("eol", ["\n", "\r\n"])
def test_a_cover_deleted_leaves_nothing_of_its_own_and_everything_of_others(eol: str) -> None:
    text = read_text(COMMENTED.replace("\n", eol)).remove(("joint", 0)).new_text
    assert "@head" not in text
    assert text.count("@tail") == COMMENTED.count("@tail")
    assert text.count("@nobody") == COMMENTED.count("@nobody")
    assert ("\r\n" in text) == (eol == "\r\n")
    assert not re.search(r"(?<!\r)\n", text) or eol == "\n"


def test_an_item_moved_takes_its_comments_along_and_banners_stay() -> None:
    text = read_text(COMMENTED).apply(Move(("joint",), 1, 0)).new_text
    order = [text.index(mark) for mark in ("@nobody: joints", "@tail the other", 'id = "tail"', "@head the cover", 'id = "head"',
                                           "@head after the case", "@nobody: lifts", "@lift-a first")]  # fmt: skip
    assert order == sorted(order)


def test_a_new_item_gets_nobodys_comment_and_stands_where_it_was_put() -> None:
    text = read_text(COMMENTED).insert(("joint", 1), new_item("joint", ["joint"])).new_text
    assert text.index("@head after the case") < text.index('id = "joint-2"') < text.index("@tail the other cover")
    assert "@" not in chunks(text)["joint-2"]


def test_a_copy_stands_behind_its_model_without_its_comments() -> None:
    draft = read_text(COMMENTED)
    text = draft.insert(("lift", 1), copy_of(draft.get(("lift", 0)), draft.tree)).new_text
    assert list(chunks(text))[2:5] == ["lift-a", "lift-a-2", "lift-b"]
    assert "@" not in chunks(text)["lift-a-2"]


def test_an_item_under_a_new_id_keeps_its_comments() -> None:
    text = read_text(COMMENTED).edit(("joint", 0, "id"), "cover").new_text
    assert chunks(text)["cover"].count("@head") == COMMENTED.count("@head")
