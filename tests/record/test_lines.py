"""The record's subset of TOML, against Python's own TOML reader."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import RecordError
from splitline.record.lines import LineReader, write_lines

TEXTS = st.text(st.characters(exclude_categories=("Cs",)))
NASTY = st.sampled_from(
    [
        "[[entry]]",
        'a"b\\c',
        "Prüfmaß",
        "שלום \u202eevil",
        "line\nbreak\r\n",
        "\x00\x1b[31m",
        "\u2028",
        "]]\n[[entry]]\n",
    ]
)
OFFSETS = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
SCALARS = (
    TEXTS | NASTY | st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.floats(allow_nan=False, allow_infinity=False)
)
ARRAYS = st.lists(TEXTS | NASTY | st.integers(0, 400) | st.lists(TEXTS, max_size=2).map(tuple), max_size=4).map(tuple)
VALUES = SCALARS | ARRAYS | st.dates() | st.datetimes(timezones=OFFSETS)
KEYS = st.from_regex(r"[a-z][a-z0-9_]{0,8}", fullmatch=True)


def as_lists(value: object) -> object:
    return [as_lists(each) for each in value] if isinstance(value, tuple) else value


@given(st.dictionaries(KEYS, VALUES, max_size=6))
def test_written_lines_read_back_and_are_toml(table: dict[str, object]) -> None:
    text = write_lines(table.items())  # type: ignore[arg-type]
    assert LineReader().table(text) == table
    oracle = tomllib.loads(text)
    assert oracle == {key: as_lists(value) for key, value in table.items()}
    assert text.count("\n") == len(table)
    assert not any(mark in text for mark in "\r\x00\x1b\u2028\u202e")


@given(st.text("ab=\"\\[],. \t\n0123456789eE+-_:TZtrufalsn'#u{}", max_size=30))
def test_a_line_that_reads_is_toml_of_the_same_value(raw: str) -> None:
    line = f"k = {raw}"
    try:
        key, value = LineReader().pair(line)
    except RecordError:
        return
    assert tomllib.loads(line) == {key: as_lists(value)}


@pytest.mark.parametrize(
    "line",
    [
        "k = 0x1f", "k = 1_000", "k = +1", "k = 01", "k = 1.50", "k = nan", "k = inf", "k = 'text'", 'k = "a', 'k = "',
        'k = """a"""', "k=1", 'k = "\\/"', 'k = "\\ud800"', 'k = "\\U0001F600"', "k = [1,2]", "k = [1, 2] # why",
        "k = null", "k = {}", "k = 1 ", "K = 1", "k.a = 1", "k = 2027-03-01T06:00:00", "k = 2027-03-01 06:00:00Z",
        "k = 2027-03-01T06:00:00Z", "k = 20270301", "# words", "", '[[entry]]',
    ],
)  # fmt: skip
def test_anything_but_the_one_spelling_is_refused(line: str) -> None:
    if line == "k = 20270301":
        assert LineReader().pair(line) == ("k", 20270301)
        return
    with pytest.raises(RecordError):
        LineReader().pair(line)


def test_a_key_twice_and_an_unended_line_are_refused() -> None:
    with pytest.raises(RecordError, match="twice"):
        LineReader().table("a = 1\na = 2\n")
    with pytest.raises(RecordError, match="does not end"):
        LineReader().table("a = 1")


@pytest.mark.parametrize("value", [float("nan"), float("-inf"), datetime(2027, 3, 1), "half a \ud83d character"])
def test_what_cannot_be_recorded_says_so(value: object) -> None:
    with pytest.raises(RecordError):
        write_lines([("k", value)])  # type: ignore[list-item]


def test_a_date_and_a_time_stay_what_they_are() -> None:
    table = {"due": date(2027, 3, 1), "at": datetime(2027, 3, 1, 6, tzinfo=UTC)}
    assert write_lines(table.items()) == "due = 2027-03-01\nat = 2027-03-01T06:00:00+00:00\n"
