"""Large figures and the body of the fitter's screen, as rows of text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.plan.places import circle_places, line_places
from splitline.ui.draw.digits import ROWS, figures
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import row_width
from splitline.ui.work.picture import work_rows
from splitline.ui.work.task import Figure, Mark, Task

PLACES = circle_places(24, 1.18, 0.13, True)
TASK = Task(
    "bolts", "k", "Cover", "pass 1 of 4", "step 1", (Figure("STUDS", "12+24"), Figure("set", "175", "bar")),
    (("2050 N·m", "strong"), ("then 1 + 13     9 to go", "")), joint="head", bolts=(12, 24),
    marks=(Mark(12, "▸", "now"), Mark(24, "▸", "now"), Mark(1, "▹", "next"), Mark(5, "✓", "done")),
)  # fmt: skip


def test_each_digit_has_a_shape_of_its_own() -> None:
    assert len({tuple(figures(char, 20)) for char in "0123456789"}) == 10


def test_figures_shrink_to_their_room_and_then_say_no() -> None:
    wide, narrow = figures("3420", 60), figures("3420", 20)
    assert len(wide) == len(narrow) == ROWS
    assert len(narrow[0]) <= 20 < len(wide[0]) <= 60
    assert figures("3420", 10) == []
    assert figures("M48x3", 60) == []
    assert len(figures("7", 60, tall=2)) == 2 * ROWS


@given(st.text("0123456789.,:+- −", min_size=1, max_size=9), st.integers(1, 90), st.integers(1, 2))
def test_figures_are_a_block(text: str, room: int, tall: int) -> None:
    rows = figures(text, room, tall)
    assert len({len(row) for row in rows}) <= 1
    assert all(len(row) <= room for row in rows)


def said(task: Task, cells: int, rows: int) -> list[str]:
    return ["".join(text for text, _ in row) for row in work_rows(task, PLACES, "outside", {1: 0.5}, cells, rows)]


@pytest.mark.parametrize(("cells", "rows"), [(78, 18), (118, 34), (158, 44)])
def test_the_body_fits_and_shows_map_figures_and_lines(cells: int, rows: int) -> None:
    found = work_rows(TASK, PLACES, "outside", {1: 0.5}, cells, rows)
    assert len(found) <= rows
    assert all(row_width(row) <= cells for row in found)
    text = "\n".join(said(TASK, cells, rows))
    for word in ("STUDS", "2050 N·m", "then 1 + 13", "▸12", "▸24", "✓ done", "seen from", "outside", "bar", "██"):
        assert word in text


def test_the_map_never_moves() -> None:
    other = Task("bolts", "k", figures=TASK.figures, joint="head", marks=(Mark(7, "⊘", "near"),))
    first, second = said(TASK, 78, 18), said(other, 78, 18)
    place = next((y, row.index("18")) for y, row in enumerate(first) if "18" in row[:34])
    assert second[place[0]].index("18") == place[1]


def test_without_places_the_words_have_all_the_room() -> None:
    rows = work_rows(TASK, (), "", {}, 78, 18)
    assert "STUDS" in rows[1][0][0] + rows[0][0][0]


@pytest.mark.parametrize("bolts", [8, 12, 16, 20, 24])
@pytest.mark.parametrize("mark", [("✓", "done"), ("⊘", "near"), ("▸", "now")])
def test_every_stud_keeps_its_number_beside_its_mark_on_the_smallest_screen(bolts: int, mark: tuple[str, str]) -> None:
    places = circle_places(bolts, 1.18, 0.13, True)
    task = Task("bolts", "k", joint="head", marks=tuple(Mark(n, *mark) for n in range(1, bolts + 1)))
    text = "\n".join("".join(t for t, _ in row)[:36] for row in work_rows(task, places, "the drive end", {}, 78, 18))
    found = [int(n) for n in re.findall(rf"{mark[0]}(\d+)", text)]
    assert sorted(found) == list(range(1, bolts + 1))


def test_where_it_is_seen_from_stands_in_full() -> None:
    for cells, rows in ((78, 18), (98, 26), (60, 14)):
        text = " ".join(
            " ".join(row[:36].split()) for row in said_from("outside, facing the discharge head", cells, rows)
        )
        words = re.sub(r"[^a-z, ]", " ", text.replace("⠀", " "))
        for word in ("seen", "outside,", "facing", "discharge", "head"):
            assert word in words, (cells, rows, text)


def said_from(seen_from: str, cells: int, rows: int) -> list[str]:
    return ["".join(text for text, _ in row) for row in work_rows(TASK, PLACES, seen_from, {}, cells, rows)]


def test_a_split_line_says_in_full_from_where_it_is_seen() -> None:
    side = [0.08 + 0.15 * n for n in range(8)]
    places = line_places(side, side, 0.34)
    seen = "above, coupling end to the left"
    for cells, rows in ((78, 18), (98, 26), (118, 34)):
        shown = ["".join(text for text, _ in row) for row in work_rows(TASK, places, seen, {}, cells, rows)]
        words = re.findall(r"[a-z,]+", " ".join(shown))
        assert all(word in words for word in f"seen from {seen}".split())


def test_the_legend_is_never_cut() -> None:
    signs = (("✓", "done"), ("▸", "now"), ("▹", "next"), ("⊘", "near"), ("▫", "accent"))
    task = Task("bolts", "k", joint="head", marks=tuple(Mark(n, *sign) for n, sign in enumerate(signs, 1)))
    text = "\n".join("".join(t for t, _ in row) for row in work_rows(task, PLACES, "", {}, 78, 18))
    for sign, word in zip("✓▸▹⊘▫", ("done", "now", "next", "aside", "taken"), strict=True):
        assert f"{sign} {word}" in text


def test_an_upright_tablet_has_figures_above_map_and_words() -> None:
    rows = said(TASK, 80, 44)
    assert len(rows) <= 44
    blocks = [y for y, row in enumerate(rows) if "██" in row]
    assert len(blocks) == 4 * ROWS  # both figures twice as high
    first = next(y for y, row in enumerate(rows) if "▸24" in row)
    assert max(blocks) < first
    words = next(y for y, row in enumerate(rows) if "then 1 + 13" in row)
    assert words > first
    assert max(map(len, rows)) <= 80


def test_a_warning_is_told_by_a_sign_where_there_is_no_colour() -> None:
    lines = (
        ("Nobody in line with a tensioner or a stud end, and hands clear of the reaction arm at all times.", "caution"),
        ("waits 20 min", "fails"),
        ("○ said already", "missing"),
        ("plain words", "dim"),
    )
    found = said(Task("plain", "k", lines=lines), 50, 20)[1:]
    assert found[:5] == [
        "! Nobody in line with a tensioner or a stud end,",
        "  and hands clear of the reaction arm at all",
        "  times.",
        "▲ waits 20 min",
        "○ said already",
    ]
    assert found[5] == "plain words"


def test_on_an_upright_tablet_the_map_stays_where_it_is_from_set_up_to_studs() -> None:
    set_up = Task("set-up", "k", lines=(("Before pass 1", "strong"), ("Hands clear", "caution")), joint="head")
    first, second = said(TASK, 80, 44), said(set_up, 80, 44)
    for number in ("18", "13"):
        place = next((y, row.index(number)) for y, row in enumerate(first) if number in row[:40] and y > 24)
        assert second[place[0]].index(number) == place[1]
    assert set(letters("Before pass 1", 78, 1)) <= {
        row[: len(letters("Before pass 1", 78, 1)[0])] for row in second[:24]
    }
