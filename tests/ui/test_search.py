"""What a search puts first."""

from __future__ import annotations

import pytest

from splitline.library.store import Library
from splitline.ui.forms.library import options_of
from splitline.ui.screens.picker import Option, matching

LIBRARY = Library.load()


def first(typed: str, *options: tuple[str, str]) -> str:
    return matching([Option(label, label, note) for label, note in options], typed)[0].label


def test_a_word_itself_stands_before_its_start_and_that_before_the_inside() -> None:
    legs = [(f"Cover › leg {n} {what}", f"{n}.2 m") for n in (1, 2, 12) for what in ("length", "pick")]
    assert first("leg 2 pick", *legs) == "Cover › leg 2 pick"
    assert first("tag", ("machine stage", ""), ("plan › tags", ""), ("plan › tag", "")) == "plan › tag"
    assert first("plan tag", ("machine", "plan tag of the machine"), ("plan › tag", "")) == "plan › tag"


def test_a_label_stands_before_a_note() -> None:
    assert first("pitch", ("thread", "pitch of the thread"), ("thread pitch", "")) == "thread pitch"


@pytest.mark.parametrize("note", ["ISO 4014:2022", "ASME B18.2.1-2012, table 2", "[handbook, 2011]"])
def test_the_year_of_a_source_is_not_searched(note: str) -> None:
    year = note.rstrip("]").split(",")[0][-4:] if "table" in note or ":" in note else "2011"
    assert matching([Option(1, "bolt M8", note)], year) == []


def test_a_figure_of_the_plan_is_searched_though_it_looks_like_a_year() -> None:
    assert matching([Option(1, "leg 1 length", "2000 mm")], "2000")


def test_the_rope_of_the_size_typed_comes_first() -> None:
    found = matching(options_of(LIBRARY, "slings", "SI", ""), "rope 20 6x36")
    assert found[0].value == "wire rope 20 mm 6x36 IWRC"
