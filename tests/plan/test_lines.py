"""Where each value stands, held against tomllib: cutting the value out of its line gives the value."""

from __future__ import annotations

import tomllib
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.draft import lines_of
from splitline.plan.edits import get
from splitline.plan.read import read_text
from splitline.plan.scan import Places, scan, value_end
from tests.plan.random_edits import random_edit
from tests.plan.texts import COMMENTED

ODD = '''\
"quoted key" = 1
'lit.eral' . b = 2
a.b.c = [ 1, # [ " ]
  [ "]", '}' ], { x = 1, "y z" = [ 2 ] },
]
s = """one
# not a comment = 1
[not.a.heading] \\""" still
"""
l = \'\'\'a\'\'b
[x]\'\'\'
e = ""
q = """a"""""
d = 2027-03-01T10:00:00Z # c
f = -1.5e-3
[t."q.r"]
z = true
[[u]]
[[u.v]]
w = 1
[[u.v]]
w = 2
[[u]]
[u.x]
w = 3'''


def test_every_line_by_hand() -> None:
    lines = lines_of(ODD)
    assert lines[("quoted key",)] == 1
    assert lines[("lit.eral", "b")] == 2
    assert lines[("a", "b", "c", 0)] == 3
    assert lines[("a", "b", "c", 1, 1)] == 4
    assert lines[("a", "b", "c", 2, "y z", 0)] == 4
    assert lines[("s",)] == 6
    assert lines[("l",)] == 10
    assert lines[("t", "q.r", "z")] == 17
    assert lines[("u", 0, "v", 1, "w")] == 22
    assert lines[("u", 1, "x", "w")] == 25


def paths(value: Any, path: tuple[Any, ...] = ()) -> set[tuple[Any, ...]]:
    found = {path} if path else set()
    for key, cell in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        found |= paths(cell, (*path, key))
    return found


@pytest.mark.parametrize("text", [ODD, ODD.replace("\n", "\r\n"), COMMENTED, COMMENTED.replace("\n", "\r\n")])
def test_every_path_has_a_line_and_every_value_its_span(text: str) -> None:
    tree = tomllib.loads(text)
    assert paths(tree) == set(lines_of(text))
    places, table = Places(), ()
    whole = ""
    for line in scan(text):
        whole += text[line.start : line.end]
        if line.form == "heading":
            table = places.heading(line)
        elif line.form == "pair":
            start, end = line.value
            assert tomllib.loads(f"x = {text[start:end]}") == {"x": get(tree, (*table, *line.keys))}
            assert text.count("\n", 0, line.start) + 1 == line.number
    assert whole == text


@settings(max_examples=20, deadline=None)
@given(st.randoms(use_true_random=False))
def test_lines_after_random_edits(rnd: Random) -> None:
    draft = read_text(COMMENTED)
    for _ in range(15):
        draft = draft.apply(random_edit(rnd, draft))
    text = draft.new_text
    assert paths(tomllib.loads(text)) == set(lines_of(text))


@pytest.mark.parametrize(
    "value", ['"""a"""', '""""a""""', "'''x''''", '"\\""', '""', "''", "[]", "{}", "[[],{}]", "1", "true"]
)
def test_the_end_of_a_value(value: str) -> None:
    tomllib.loads(f"x = {value}")
    assert value_end(f"{value} # c\n", 0) == len(value)
