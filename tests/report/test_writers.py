"""Markdown and CSV of the block model."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from splitline.output_file import OutputFileError
from splitline.report.blocks import (
    MISSING,
    Beside,
    Blank,
    Bundle,
    Cautions,
    Facts,
    Heading,
    Para,
    Picture,
    Points,
    Sheet,
    Signs,
    Strong,
    Table,
    Together,
    row,
)
from splitline.report.kit import kit
from splitline.report.markdown import markdown_text
from splitline.report.output import ReportError, check_suffix, write_bundle
from splitline.report.pdf.paper import PAPERS
from splitline.report.shapes import Drawing
from splitline.report.table_csv import csv_text, kit_csv, safe
from tests.report.prints import bundle, demo

TABLE = Table(
    ("What", "Value"),
    (row("=1+1", Strong("5 |")), row("-0.3 mm", MISSING), row("-12", Blank("bar"))),
    align=("left", "right"),
    title="T [x]",
)
SHEET = Sheet(
    "joint", "id-1", "Größe [Rev. C] *a*",
    (
        Cautions(("Hands <clear>",)), Heading("Head"), Para("text", "strong"), Facts((("Label", MISSING), ("Other", "5"))),
        Beside((TABLE,), (Picture(Drawing(10, 10, said="a map"), "seen from above"),)),
        Together((Points(("one", "two")), Signs((("HOLD: lift", "supervisor"),)))),
    ),
    "Bolting sheet",
)  # fmt: skip
BUNDLE = Bundle("Überprüfung", (SHEET,), ("K-410",), ("plan digest abc",))


def test_markdown_keeps_text_of_people_and_says_what_is_missing() -> None:
    text = markdown_text(BUNDLE)
    assert text.startswith("# Überprüfung\n")
    assert "## Bolting sheet: Größe \\[Rev. C\\] \\*a\\* (id-1)" in text
    assert "> **▲ Hands \\<clear\\>**" in text
    assert "- Label: **missing**" in text
    assert "| =1+1 | **5 \\|** |" in text
    assert "| -12 | \\_\\_\\_\\_ bar |" in text
    assert "| --- | ---: |" in text
    assert "Drawing (in the PDF): a map. seen from above" in text
    assert "| HOLD: lift | supervisor |" in text
    assert text.rstrip().endswith("plan digest abc")


def test_csv_has_every_cell_and_runs_no_formula() -> None:
    rows = list(csv.reader(io.StringIO(csv_text(BUNDLE))))
    assert ["Bolting sheet", "id-1", "T [x]", "1", "'=1+1", "5 |"] in rows
    assert ["Bolting sheet", "id-1", "T [x]", "2", "'-0.3 mm", "missing"] in rows
    assert ["Bolting sheet", "id-1", "T [x]", "3", "-12", ""] in rows
    assert ["Bolting sheet", "id-1", "Head", "1", "Label", "missing"] in rows
    assert ["", "", "foot", "1", "plan digest abc"] in rows
    assert not [cell for each in rows for cell in each if cell.startswith(("=", "+", "@"))]


LEADS = ["", " ", "\n", "\r\n", "\t", "\u00a0", "\u202f", "\u3000", "\u2003", "\u200b", "\ufeff", "\v", "\u00ad"]
SIGNS = ["=", "+", "-", "@", "＝", "＋", "－", "＠", "﹢", "﹣", "﹦", "﹫", "−"]


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("lead", LEADS)
def test_no_cell_is_run_whatever_stands_before_its_sign(lead: str, sign: str) -> None:
    """A spreadsheet cleans blanks away and takes the wide signs of the Far East for the plain ones (common knowledge of
    CSV injection, no published source for each program)."""
    text = f"{lead}{sign}HYPERLINK(1)"
    table = Table(("What",), (row(text),))
    made = Bundle("t", (Sheet("joint", "j", text, (table, Para(text), Facts(((text, text),)))),))
    cells = [cell for line in csv.reader(io.StringIO(csv_text(made))) for cell in line]
    assert len([cell for cell in cells if "HYPERLINK" in cell]) == 5
    assert all(cell.startswith("'") for cell in cells if "HYPERLINK" in cell)


@pytest.mark.parametrize("text", ["-0.3", "+5", "-1e3", "0.3 mm", "a = b", "B12"])
def test_numbers_and_plain_words_stay_as_they_are(text: str) -> None:
    assert safe(text) == text


def test_the_kit_as_csv_is_one_flat_table() -> None:
    made = kit(demo().plan, demo().assessment)
    rows = list(csv.DictReader(io.StringIO(kit_csv(made))))
    assert len(rows) == len(made.lines)
    ring = next(each for each in rows if each["what"] == "Casing O-ring")
    assert (ring["needed"], ring["spare"], ring["total"]) == ("3", "1", "4")
    assert any(each["size"] == "missing" for each in rows)


@pytest.mark.parametrize("suffix", [".pdf", ".md", ".csv"])
def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, suffix: str) -> None:
    target = tmp_path / f"out{suffix}"
    write_bundle(BUNDLE, target, PAPERS["A4"])
    assert target.stat().st_size > 100
    assert [path.name for path in tmp_path.iterdir()] == [target.name]
    with pytest.raises(OutputFileError, match="cannot be written"):
        write_bundle(BUNDLE, tmp_path / "none" / f"out{suffix}", PAPERS["A4"])


def test_another_suffix_is_refused_with_those_there_are() -> None:
    with pytest.raises(ReportError, match=r"\.pdf, \.md, \.csv"):
        check_suffix(Path("sheets.docx"))


def test_no_sheet_of_the_demo_has_a_row_of_another_length() -> None:
    for sheet in bundle(demo()).sheets:
        csv_text(Bundle("t", (sheet,)))
        for block in sheet.blocks:
            if isinstance(block, Table):
                assert {len(each) for each in block.rows} <= {len(block.head)}
                assert len(block.widths) in (0, len(block.head)), (sheet.title, block.title)
