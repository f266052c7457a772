"""Pages: nothing overlaps, nothing is cut off, every page says what it belongs to."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.outlet import shown
from splitline.report.blocks import Blank, Bundle, Facts, Large, Para, Sheet, Strong, Table, Together, row
from splitline.report.pdf.flow import flow, pdf_bytes
from splitline.report.pdf.legible import INSTEAD, covered, legible
from splitline.report.pdf.paper import PAPERS
from splitline.report.pdf.pen import Pen
from splitline.report.pdf.tables import LARGE, layout, table_rows
from tests.report.prints import DEMO, WRONG, bundle, demo, plan_of

LONG = "Zwischenflansch zum Abströmgehäuse [Rev. C] " * 5


@pytest.fixture(name="pen", scope="module")
def pen_fixture() -> Pen:
    return Pen(PAPERS["A4"])


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("path", [DEMO, WRONG], ids=lambda path: path.stem)
def test_every_piece_stays_on_its_page_and_off_the_others(path: Path, paper: str) -> None:
    pen = Pen(PAPERS[paper])
    pages = flow(pen, bundle(demo(path), paper=paper))
    for page in pages:
        assert page.placed
        at = page.top
        for placed in page.placed:
            assert placed.y >= at - 1e-6
            at = placed.y + placed.height
        assert at <= page.bottom + 1e-6, page.sheet.title


def test_each_sheet_begins_a_page_and_says_when_it_runs_on(pen: Pen) -> None:
    printed = bundle(demo())
    pages = flow(pen, printed)
    first = [page for page in pages if not page.continued]
    assert [page.sheet.title for page in first] == [sheet.title for sheet in printed.sheets]


def test_a_long_table_repeats_its_head_and_loses_no_row(pen: Pen) -> None:
    rows = tuple(row(str(n), "x") for n in range(200))
    pages = flow(pen, Bundle("t", (Sheet("k", "", "S", (Table(("a", "b"), rows),)),)))
    assert len(pages) > 2
    assert sum(len(page.placed) for page in pages) == 200 + len(pages)


def test_columns_side_by_side_run_over_pages(pen: Pen) -> None:
    rows = tuple(row(str(n), "x") for n in range(400))
    pages = flow(pen, Bundle("t", (Sheet("k", "", "S", (Table(("a", "b"), rows, beside=3, tall=True),)),)))
    assert len(pages) == 4
    assert all(placed.y + placed.height <= page.bottom + 1e-6 for page in pages for placed in page.placed)


def test_what_belongs_together_moves_to_the_next_page_together(pen: Pen) -> None:
    lines = "\n".join(["line"] * 20)
    blocks = (Para("\n".join(["line"] * 45)), Together((Para(lines), Para(lines))))
    pages = flow(pen, Bundle("t", (Sheet("k", "", "S", blocks),)))
    assert len(pages) == 2
    assert len(pages[1].placed) == 1


@settings(max_examples=60, deadline=None)
@given(st.text(st.characters(blacklist_categories=["Cs"]), max_size=250), st.floats(8, 180))
def test_wrapping_is_never_wider_than_its_room_and_loses_nothing(text: str, room: float) -> None:
    pen = _shared()
    lines = pen.wrap(text, 9, room)
    text = shown(text)  # signs nobody sees are told
    glyph = max((pen.width(char, 9) for char in text), default=0.0)
    assert all(pen.width(line, 9) <= max(room, glyph) + 1e-6 for line in lines)
    squeezed = [char for char in text if char not in " \n\t"]
    assert [char for line in lines for char in line if char not in " \n\t"] == squeezed


_pens: list[Pen] = []


def _shared() -> Pen:
    if not _pens:
        _pens.append(Pen(PAPERS["A4"]))
    return _pens[0]


def test_a_title_of_200_characters_is_wrapped_on_every_paper(tmp_path: Path) -> None:
    text = f'format = 1\n[plan]\ntitle = "{LONG}"\nmachine = "{LONG}"\n[[joint]]\nid = "j"\ntitle = "{LONG}"\n'
    found = plan_of(tmp_path, text)
    for paper in PAPERS.values():
        data = pdf_bytes(bundle(found, paper=paper.name), paper)
        assert data.startswith(b"%PDF-")


def test_missing_in_a_narrow_column_still_fits(pen: Pen) -> None:
    from splitline.report.blocks import MISSING

    table = Table(tuple("abcdefghijklmnopqrst"), (row(*[MISSING] * 20),))
    (page,) = flow(pen, Bundle("t", (Sheet("k", "", "S", (table,)),)))
    assert page.placed[0].height < 12


def test_right_to_left_names_are_drawn_in_reading_order() -> None:
    assert legible("שלמה") == "המלש"
    assert legible("Bolt 12 שלמה") == "Bolt 12 המלש"
    assert legible("محمد") == "\ufeaa\ufee4\ufea4\ufee3"  # final dal, medial mim, medial ha, initial mim


def test_what_the_fonts_lack_becomes_a_frame_and_control_characters_are_told() -> None:
    assert covered("漢字 ok", frozenset(map(ord, " ok"))) == f"{INSTEAD}{INSTEAD} ok"
    assert legible("a\u0000b\u200bc\td") == r"a\u0000b\u200bc d"


@pytest.mark.parametrize("text", ["Ä Ö Ü ß Śłóńź İ ş ő č", "● ◐ ▲ ○ ◌ ✓ ⚑ → ± µ ² ³ · √ ≤ ≥ ⌀ α δ μ σ Ω"])
def test_the_fonts_have_what_the_trade_writes(pen: Pen, text: str) -> None:
    for font in ("sans", "bold"):
        assert covered(text, pen._glyphs[font]) == text


def test_a_bold_cell_is_measured_in_bold(pen: Pen) -> None:
    assert pen.width("Discharge", 9, "bold") > pen.width("Discharge", 9, "sans")
    table = Table(("x",), (row(Strong("Discharge")),))
    assert flow(pen, Bundle("t", (Sheet("k", "", "S", (table,)),)))


def test_a_set_value_is_large_and_unbroken_with_its_other_unit_under_it(pen: Pen) -> None:
    rows = (
        row("pass 3", Large("505 bar (7324 psi)")),
        row("pass 3", Large("505 bar")),
        row("pass 3", Strong("505 bar")),
    )
    table = Table(("Pass", "Set"), rows)
    plan = layout(pen, table, 60)
    two, one, small = (made.height for made in table_rows(pen, table, plan)[1])
    assert two > one > small
    assert plan.widths[1] > pen.width("505 bar", LARGE, "bold")


def test_a_title_never_stands_with_one_row_at_the_foot_of_a_page(pen: Pen) -> None:
    rows = tuple(row(str(n), "x") for n in range(30))
    for lines in range(48, 68):
        blocks = (Para("\n".join(["line"] * lines)), Table(("a", "b"), rows, title="Loads"))
        pages = flow(pen, Bundle("t", (Sheet("k", "", "S", blocks),)))
        first = len(pages[0].placed) - lines
        assert first <= 1 or first >= 6  # gap, title, head and three rows; or nothing of it


def test_a_fact_to_write_in_has_room_and_a_large_one_is_taller(pen: Pen) -> None:
    facts = Facts((("STOP", Large("118.8 bar")), ("Valve", Blank("bar")), ("Mass", "7 t")))
    (page,) = flow(pen, Bundle("t", (Sheet("k", "", "S", (facts,)),)))
    large, blank, plain = (placed.height for placed in page.placed)
    assert large > plain
    assert blank >= 6.0
