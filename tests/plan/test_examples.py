"""Example values of a starting plan: known as such until replaced or taken as right, then without the word in the file."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.plan.examples import without_word
from splitline.plan.read import open_plan, read_text
from splitline.plan.save import save
from splitline.plan.start import start_plan

TEXT = """format = 1

[plan]
title = "New"  # example
revision = "A"  # mine

[[joint]]
id = "a"
title = "First"  # example

[[joint]]
id = "b"
title = "Second"  # example: as on the drawing
"""


@pytest.mark.parametrize(
    ("tail", "left"),
    [
        ("   # example\n", "\n"),
        ("  # example: gauge\r\n", "  # gauge\r\n"),
        ("  # examples of old\n", "  # examples of old\n"),
        ("  # an example\n", "  # an example\n"),
        ("\n", "\n"),
    ],
)
def test_only_the_word_goes(tail: str, left: str) -> None:
    assert without_word(tail) == left


def test_a_value_is_an_example_until_it_is_replaced() -> None:
    draft = read_text(TEXT)
    assert draft.examples == 3
    assert draft.is_example(("joint", 1, "title"))
    assert not draft.is_example(("plan", "revision"))
    changed = draft.edit(("joint", 1, "title"), "Mine")
    assert not changed.is_example(("joint", 1, "title"))
    assert changed.new_text == TEXT.replace('"Second"  # example: as on', '"Mine"  # as on')


def test_an_example_is_taken_as_right_and_follows_its_item() -> None:
    draft = read_text(TEXT).move(("joint", 1), 0)
    assert draft.is_example(("joint", 0, "title"))
    own = draft.as_own(("joint", 0, "title"))
    assert own.changed
    assert not own.is_example(("joint", 0, "title"))
    assert own.is_example(("joint", 1, "title"))
    assert 'title = "Second"  # as on the drawing' in own.new_text
    assert 'title = "First"  # example' in own.new_text


def test_taking_as_right_alone_is_saved(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    start_plan("barrel-head-cover", path)
    draft = open_plan(path)
    saved = save(draft.as_own(("joint", 0, "bolting", "thread")))
    assert not saved.changed
    assert not saved.is_example(("joint", 0, "bolting", "thread"))
    assert open_plan(path).examples == draft.examples - 1
    assert open_plan(path).tree == draft.tree
