"""Files that are no plans: a plain word each, no traceback, the file untouched."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import PlanError
from splitline.plan.problem import PlanFileError
from splitline.plan.read import MOST_BYTES, open_plan, read_text
from tests.plan.texts import COMMENTED

PLAN = b'format = 1\n[plan]\ntitle = "x"\n'


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "the file is empty"),
        (b" \n\t\r\n", "the file is empty"),
        (b"\xef\xbb\xbf", "the file is empty"),
        (b"\x7fELF\x02\x01\x01\x00\x00", "binary file"),
        (bytes(range(256)) * 20, "binary file"),
        (b"\x89PNG\r\n\x1a\n\x08\x06\x11\xfe", "binary file"),
        ("format = 1\n[plan]\ntitle = 'Größe'\n".encode("latin-1"), "line 3 is not UTF-8 text: save the file as UTF-8"),
        ("format = 1\n".encode("utf-16"), "UTF-16: save it as UTF-8"),
        (b"format = 2\n[plan]\nnew = 3\n", "this plan has format 2; this Splitline reads up to 1"),
        (b"# x\n" * (MOST_BYTES // 4) + b"\n" * 3_000_000, "5.0 MB; a plan has at most 2 MB"),
        (b"[" * 50_000, "it is not valid TOML"),
        (b"a = " + b"[" * 50_000, "it is not valid TOML"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_refused_and_untouched(tmp_path: Path, raw: bytes, said: str) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(raw)
    with pytest.raises(PlanError) as error:
        open_plan(path)
    assert said in str(error.value)
    assert str(path) in str(error.value)
    assert path.read_bytes() == raw
    assert os.listdir(tmp_path) == ["plan.toml"]


def test_no_such_file_names_the_nearest(tmp_path: Path) -> None:
    (tmp_path / "head-cover.toml").write_bytes(PLAN)
    with pytest.raises(PlanError, match=r'did you mean "head-cover\.toml"'):
        open_plan(tmp_path / "headcover.toml")
    with pytest.raises(PlanError, match="there is no such file"):
        open_plan(tmp_path / "no" / "such.toml")


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match="is a folder: name a plan file in it"):
        open_plan(tmp_path)


def test_a_record_is_no_plan(tmp_path: Path) -> None:
    (tmp_path / "cover.record.toml").write_text("[[entry]]\n", "utf-8")
    with pytest.raises(PlanError, match=r"is a record, not a plan: open cover\.toml"):
        open_plan(tmp_path / "cover.record.toml")


def test_a_pipe_without_a_writer_does_not_hold_us(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "plan.toml")
    with pytest.raises(PlanError, match="not a file that can be read"):
        open_plan(tmp_path / "plan.toml")


@pytest.mark.skipif(os.getuid() == 0, reason="root reads everything")
def test_no_permission(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(PLAN)
    path.chmod(0)
    with pytest.raises(PlanError, match="no permission"):
        open_plan(path)


def test_no_permission_said_plainly(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", refuse)
    with pytest.raises(PlanError, match="no permission to read this file"):
        open_plan(tmp_path / "plan.toml")


def test_a_name_with_a_null_character() -> None:
    with pytest.raises(PlanError, match="cannot be read"):
        open_plan("a\0b.toml")


@pytest.mark.parametrize(
    "change", [lambda b: b"\xef\xbb\xbf" + b, lambda b: b.replace(b"\n", b"\r\n"), lambda b: b.rstrip()]
)
def test_byte_order_mark_line_ends_and_a_missing_last_one_are_no_matter(tmp_path: Path, change: object) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(change(COMMENTED.encode()))  # type: ignore[operator]
    draft = open_plan(path)
    assert draft.tree == tomllib.loads(COMMENTED)
    assert draft.new_text.encode() == draft.origin.raw.removeprefix(b"\xef\xbb\xbf")  # type: ignore[union-attr]


def test_a_site_library_with_mistakes_does_not_keep_a_plan_shut(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_bytes(PLAN)
    (tmp_path / "library.toml").write_text("[[grades]\n", "utf-8")
    draft = open_plan(tmp_path / "plan.toml")
    assert len(draft.problems) == 1
    assert "library.toml" in str(draft.problems[0])


def test_a_sites_own_rows_are_names_too(tmp_path: Path) -> None:
    own = '[[lubricants]]\nname = "our paste"\nthread = 0.11\nthread_low = 0.1\nthread_high = 0.12\nbearing = 0.11\n' \
          'bearing_low = 0.1\nbearing_high = 0.12\nsource = "own tests"\n'  # fmt: skip
    text = PLAN + b'[[joint]]\nid = "a"\ntitle = "A"\n[joint.friction]\nlubricant = "our paste"\n'
    (tmp_path / "plan.toml").write_bytes(text)
    assert len(open_plan(tmp_path / "plan.toml").problems) == 1
    (tmp_path / "library.toml").write_text(own, "utf-8")
    assert open_plan(tmp_path / "plan.toml").problems == ()


# TOML that does not parse


def faults(text: str) -> list[tuple[int | None, str]]:
    with pytest.raises(PlanFileError) as error:
        read_text(text)
    return [(problem.line, problem.message) for problem in error.value.problems]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("clamp_length = 268 mm", 'write the value in quotes: "268 mm"'),
        ("clamp_length = 26,8", 'use a point for decimals and quotes with a unit, as in "26.8 mm"'),
        ("hidden = True", "true or false in lower case"),
        ("hidden = yes", "true or false in lower case"),
        ('title = "A', "a quotation mark is missing"),
        ("title =", "a value is missing after ="),
        ("title", "key = value"),
        ("title: x", "key = value"),
        ("[joint.bolting", "a heading ends with a bracket"),
        ("[[joint]", "double brackets ends with two"),
        ("[plan]", "this stands in the file twice"),
        ('title = "a"\ntitle = "b"', "this stands in the file twice"),
        ('title = "C:\\plans"', "a backslash"),
        ("passes = [0.3, 0.6", "] is missing"),
        ('a b = "x"', "key = value"),
        ('title = "x" "y"', "something stands after the value"),
        ("title = 'x\x01'", "control character"),
    ],
)
def test_a_faulty_line_and_what_to_write(row: str, said: str) -> None:
    found = faults(f"format = 1\n[plan]\n{row}\n")
    assert any(said in message for _, message in found), found


def test_every_faulty_line_is_named() -> None:
    text = 'format = 1\n[plan]\ntitle = x y\n[[joint]]\nid = "a"\ntitle = "A\n[joint.bolting\nkind = stud\n'
    assert [line for line, _ in faults(text)] == [3, 6, 7, 8]


def test_mistakes_in_the_values_are_named_beside_faulty_lines() -> None:
    text = 'format = 1\n[plan]\ntitle = x y\n[[joint]]\nid = "a"\ntitle = "A"\n[joint.target]\npreload = "5 mm"\nforce = 3\n'
    assert [line for line, _ in faults(text)] == [3, 8, 9]


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_text_with_anything_done_to_it_gives_a_draft_or_a_plain_word(data: st.DataObject) -> None:
    text = COMMENTED
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = start + data.draw(st.integers(0, 30))
        piece = data.draw(
            st.sampled_from(
                ["", '"', "[", "]", "\n", "=", "x", ",", "{", "}", "#", "\\", "'''", "[[joint]]\n", "\x00", "\r"]
            )
        )
        text = text[:start] + piece + text[end:]
    assert outcome(text)


def outcome(text: str) -> bool:
    """A draft whose mistakes have words, or an error that has some."""
    try:
        draft = read_text(text)
    except PlanFileError as error:
        return bool(error.problems)
    except PlanError as error:
        return bool(str(error))
    return draft.plan is not None and all(problem.message for problem in draft.problems)


@settings(max_examples=100, deadline=None)
@given(
    st.recursive(
        st.one_of(st.text(max_size=5), st.integers(), st.floats(), st.booleans(), st.dates()),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(st.sampled_from(["id", "title", "bolting", "case", "kind", "x"]), inner, max_size=3)
        ),
        max_leaves=6,
    ),
    st.sampled_from(["joint", "lift", "fit", "insertion", "clearance", "window", "item", "step", "plan", "format"]),
)
def test_any_value_in_any_place_is_a_problem_and_no_crash(value: object, key: str) -> None:
    from splitline.plan.draft import Draft

    draft = Draft({"format": 1, "plan": {"title": "x"}, key: value})
    assert all(problem.message and problem.where for problem in draft.problems)
    assert draft.plan is not None
