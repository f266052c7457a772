"""An edited plan as text: only what was edited changes."""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.plan.edits import ABSENT, Path
from splitline.plan.read import read_text
from splitline.plan.splice import new_value, parses_to, splice
from splitline.plan.toml_text import value_text
from tests.plan.texts import COMMENTED


def changed_lines(before: str, after: str) -> list[str]:
    return [row for row in difflib.ndiff(before.splitlines(), after.splitlines()) if row[:2] in ("- ", "+ ")]


@pytest.mark.parametrize(
    ("path", "new", "rows"),
    [
        (("joint", 0, "bolting", "thread"), "M64x4", ['- thread = "M48x3"   # @head', '+ thread = "M64x4"   # @head']),
        (("joint", 0, "bolting", "clamp_length"), "10 in", ["- clamp_length = '268 mm'", '+ clamp_length = "10 in"']),
        (("plan", "crew", 0), "Tom", ['-     "Ines",   # @plan chief', '+     "Tom",   # @plan chief']),
        (("lift", 0, "leg", 1, "pick", 1), "5 mm", ['-     "-1 mm",  # @lift-a y', '+     "5 mm",  # @lift-a y']),
        (
            ("joint", 1, "layout", "bolts"),
            16,
            ['- layout = { shape = "circle", bolts = 12 }   # @tail', '+ layout = { shape = "circle", bolts = 16 }   # @tail'],
        ),
        (
            ("joint", 1, "target", "preload"),
            "510 kN",
            ['- target.preload = "500 kN"   # @tail', '+ target.preload = "510 kN"   # @tail'],
        ),
        (("joint", 1, "target", "maker_torque"), "3 kN*m", ['+ target.maker_torque = "3 kN*m"']),
        (("joint", 0, "bolting", "engagement"), "62 mm", ['+ engagement = "62 mm"']),
        (("joint", 0, "bolting", "clamp_length"), ABSENT, ["- clamp_length = '268 mm'"]),
        (("step", 1, "needs"), ABSENT, ['- needs = ["one"]']),
        (("joint", 0, "hidden"), True, ["+ hidden = true"]),
        (("joint", 0, "load", "seal"), "o-ring", ["+ ", "+ [joint.load]", '+ seal = "o-ring"']),
    ],
)  # fmt: skip
def test_one_edit_changes_its_own_line(path: Path, new: Any, rows: list[str]) -> None:
    draft = read_text(COMMENTED).edit(path, new)
    assert changed_lines(COMMENTED, draft.new_text) == rows
    assert parses_to(draft.new_text, draft.tree)


def test_nothing_edited_nothing_changed() -> None:
    draft = read_text(COMMENTED)
    assert draft.new_text == COMMENTED
    assert not draft.changed
    back = draft.edit(("joint", 0, "title"), "x").edit(("joint", 0, "title"), "Head cover")
    assert back.new_text == COMMENTED
    assert not back.changed


def test_a_table_goes_where_it_is_declared() -> None:
    text = read_text(COMMENTED).edit(("joint", 0, "layout", "shape"), "circle").new_text
    assert text.index("[joint.friction]") < text.index("[joint.layout]") < text.index("[[joint.case]]")


def test_a_second_tool_makes_a_list_of_a_single_table() -> None:
    text = 'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "a"\n[joint.tightening]\nmethod = "turn"\n' \
           '[joint.tightening.tool] # mine\nname = "w"\n'  # fmt: skip
    draft = read_text(text)
    assert draft.get(("joint", 0, "tightening", "tool")) == [{"name": "w"}]
    assert not draft.changed
    assert draft.edit(("joint", 0, "tightening", "tool", 0, "name"), "v").new_text == text.replace('"w"', '"v"')
    two = draft.insert(("joint", 0, "tightening", "tool", 1), {"name": "v"})
    assert "[[joint.tightening.tool]] # mine" in two.new_text
    assert parses_to(two.new_text, two.tree)


def test_a_file_without_a_last_line_end() -> None:
    text = 'format = 1\n[plan]\ntitle = "x"'
    draft = read_text(text).edit(("plan", "title"), "y").insert(("joint", 0), {"id": "a", "title": "A"})
    assert draft.new_text == 'format = 1\n[plan]\ntitle = "y"\n\n[[joint]]\nid = "a"\ntitle = "A"'


def test_a_plan_from_nothing() -> None:
    tree = {"format": 1, "plan": {"title": "x"}, "joint": [{"id": "a", "title": "A", "case": [{"name": "design"}]}]}
    text = splice("", {}, tree)
    assert tomllib.loads(text) == tree
    assert text.startswith("format = 1\n\n[plan]\n")


def test_tables_of_one_item_scattered_over_the_file() -> None:
    text = 'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "A"\n# B\n[[lift]]\nid = "b"\ntitle = "B"\n' \
           "# mine\n[joint.bolting]\nkind = 'stud'\n"  # fmt: skip
    draft = read_text(text).edit(("joint", 0, "bolting", "thread"), "M48x3")
    assert parses_to(draft.new_text, draft.tree)
    assert "# mine\n[joint.bolting]" in draft.new_text


def test_an_inner_table_before_the_one_around_it() -> None:
    text = (
        'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "A"\n[[joint.tightening.tool]]\nname = \'w\'\n'
    )
    draft = read_text(text).edit(("joint", 0, "tightening", "method"), "turn")
    assert parses_to(draft.new_text, draft.tree)
    assert draft.new_text.index("[joint.tightening]") < draft.new_text.index("[[joint.tightening.tool]]")


@pytest.mark.parametrize(
    ("old", "new", "kept"),
    [
        (["a", "b", "c"], ["a", "c"], "# first"),
        (["a", "b", "c"], ["a", "b", "c", "d"], "# first"),
        (["a", "b", "c"], ["a", "x", "c"], "# second"),
        (["a", "b", "c"], ["z", "a", "b", "c"], "# second"),
    ],
)
def test_comments_inside_a_list_stay_with_its_entries(old: list[str], new: list[str], kept: str) -> None:
    text = '[\n    "a", # first\n    "b", # second\n    "c",\n]'
    changed = new_value(text, old, new)
    assert tomllib.loads(f"x = {changed}") == {"x": new}
    assert kept in changed


CELLS = st.one_of(
    st.text(max_size=30),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
)
VALUES = st.recursive(
    CELLS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)


@given(VALUES, st.sampled_from(["\n", "\r\n"]))
def test_every_value_reads_back(value: Any, eol: str) -> None:
    assert tomllib.loads(f"x = {value_text(value, eol)}{eol}") == {"x": value}


@given(st.text(st.sampled_from("\"\\\n\r\t\x7f\x00a'#"), max_size=12))
def test_every_awkward_text_reads_back(text: str) -> None:
    assert tomllib.loads(f"x = {value_text(text)}\n") == {"x": text}


@given(VALUES, VALUES)
def test_any_value_can_become_any_other_in_place(old: Any, new: Any) -> None:
    changed = new_value(value_text(old), old, new)
    assert tomllib.loads(f"x = {changed}\n") == {"x": new}
