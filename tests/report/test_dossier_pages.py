"""The dossier on paper: a front page to sign, few pages, nothing near-empty; its pictures, also in words."""

from __future__ import annotations

import datetime as dt
import math
import re
import shutil
from itertools import groupby
from pathlib import Path

import pytest

from splitline.assess.recorded import open_book
from splitline.record.journal import Journal, Record
from splitline.record.plans import put_plan
from splitline.report.blocks import Bundle, Picture, Signs, Table, blocks_of, text_of
from splitline.report.dossier import bundle_of, dossier_of
from splitline.report.markdown import markdown_text
from splitline.report.pdf.flow import Page, flow
from splitline.report.pdf.paper import PAPERS
from splitline.report.pdf.pen import Pen
from splitline.report.pictures.time_bars import TimedStep, time_bars
from splitline.report.shapes import Label, Line, Polygon
from tests.record.helpers import START, Ticking
from tests.record.rich import HEAD, Rich, rich
from tests.report.prints import DEMO

BODY, REGISTER = 13, 7  # pages of the rich record: 12 when this was written, one to spare; it had 28 and 19


@pytest.fixture(name="whole", scope="module")
def whole_fixture(tmp_path_factory: pytest.TempPathFactory) -> Rich:
    return rich(tmp_path_factory.mktemp("rich"))


@pytest.fixture(name="made", scope="module")
def made_fixture(whole: Rich) -> Bundle:
    return dossier_of(whole.path, whole.clock.now + dt.timedelta(hours=1))


def pages_of(bundle: Bundle) -> dict[str, list[Page]]:
    pages = flow(Pen(PAPERS["A4"]), bundle)
    return {title: list(own) for title, own in groupby(pages, key=lambda page: page.sheet.title)}


def test_a_close_up_takes_few_pages_and_its_register_is_an_appendix(made: Bundle) -> None:
    pages = pages_of(made)
    register = pages.pop("Every entry")
    assert sum(map(len, pages.values())) <= BODY
    assert len(register) <= REGISTER
    assert made.sheets[-1].title == "Every entry"


def test_the_front_is_one_page_with_its_places_to_sign(made: Bundle) -> None:
    assert len(pages_of(made)["As built"]) == 1
    assert [row[1] for block in blocks_of(made.sheets[0]) if isinstance(block, Signs) for row in block.rows] == [
        "reviewer", "owner",
    ]  # fmt: skip


def test_no_page_says_only_that_nothing_is_recorded(made: Bundle) -> None:
    for title, pages in pages_of(made).items():
        for page in pages:
            used = max(placed.y + placed.height for placed in page.placed) - page.top
            assert used > 0.2 * (page.bottom - page.top), title


def test_a_record_without_work_is_a_front_page_and_the_order_of_work(tmp_path: Path) -> None:
    path = tmp_path / "k410.toml"
    shutil.copy(DEMO, path)
    journal = Journal(path, clock=Ticking(), sync=lambda fd: None)
    put_plan(journal, path.read_text("utf-8"), "Ines", "K-410", "B")
    bundle = dossier_of(path, START)
    assert [sheet.title for sheet in bundle.sheets] == [
        "As built", "Order of work, as done", "Deviations, remarks, signatures", "Every entry",
    ]  # fmt: skip
    assert sum(map(len, pages_of(bundle).values())) <= 4
    said = [
        text_of(cell)
        for block in blocks_of(bundle.sheets[0])
        if isinstance(block, Table)
        for row in block.rows
        for cell in row
    ]
    assert any(text.startswith("27 steps not done: 1 to 27") for text in said)


@pytest.mark.parametrize("count", [1, 9, 60, 170, 245, 330, 420])
def test_a_job_at_any_moment_has_its_front_on_one_page_and_no_empty_sheets(whole: Rich, count: int) -> None:
    entries = whole.journal.record.entries[:count]
    last = entries[-1].entered_at
    assert last is not None
    book = open_book(whole.path, last, Record(entries, count))
    bundle = bundle_of(book.stands.draft, book.stands.assessment, book.record, book.built)
    assert all(sheet.blocks for sheet in bundle.sheets)
    assert len(pages_of(bundle)["As built"]) == 1
    assert markdown_text(bundle)


def test_the_map_as_left_tells_each_bolt_and_the_chart_its_band(made: Bundle) -> None:
    sheet = next(each for each in made.sheets if each.item == HEAD)
    places, chart, estimate = [block for block in blocks_of(sheet) if isinstance(block, Picture)]
    labels = [shape.text for shape in places.drawing.shapes if isinstance(shape, Label)]
    assert labels.count("0.22") == 23  # 24 studs, one set aside and conceded
    assert "stretch, mm" in labels
    assert "not pulled to the end: 5" in places.drawing.said
    bands = [shape for shape in chart.drawing.shapes if isinstance(shape, Polygon) and shape.fill == 0.88]
    assert bands
    assert "23 values, lowest 0.22 mm (1)" in chart.drawing.said
    assert "no value: 5" in chart.drawing.said
    assert "above need, below yield" in estimate.caption


def test_markdown_says_in_words_what_the_pictures_show(made: Bundle) -> None:
    text = markdown_text(made).replace("\\", "")
    assert "by bolt 1: 0.22, 2: 0.22" in text
    assert "stretch by bolt, pass 3: 23 values" in text
    assert "6: planned 90 min, took 2" in text
    assert re.search(r"no entries 03-01 1\d:\d\d to 03-01 2\d:\d\d", text)


def test_bars_stand_where_their_times_are(made: Bundle) -> None:
    del made
    hours = dt.timedelta(hours=1)
    steps = (
        TimedStep(1, "lift", (0.0, 7200.0), START, START + hours, START + 2 * hours, True),
        TimedStep(2, "turn", (7200.0, 14400.0), None, START + 4 * hours),
    )
    drawing = time_bars(steps, START, START + 4 * hours, [(START + 2 * hours, START + 3 * hours)], 182)
    bars = [shape for shape in drawing.shapes if isinstance(shape, Polygon)]
    black = [bar for bar in bars if bar.fill == 0.0 and len({y for _, y in bar.points}) == 2]
    hollow = [bar for bar in bars if bar.fill is None]
    grey = [bar for bar in bars if bar.fill == 0.9]

    def wide(bar: Polygon) -> float:
        return max(x for x, _ in bar.points) - min(x for x, _ in bar.points)

    assert [wide(bar) for bar in hollow] == pytest.approx([2 * wide(black[0])] * 2)
    assert wide(grey[0]) == pytest.approx(wide(black[0]))
    diamond = next(bar for bar in bars if bar.fill == 0.0 and len({y for _, y in bar.points}) == 3)
    assert math.isclose(sum(x for x, _ in diamond.points) / 4, max(x for bar in hollow for x, _ in bar.points))
    signed = next(s for s in drawing.shapes if isinstance(s, Line) and s.width == 0.5)
    assert signed.x0 == pytest.approx(max(x for x, _ in hollow[0].points))
    assert drawing.said == (
        "1: planned 120 min, took 60 min; 2: planned 120 min, done 03-01 10:00, its start not written down; "
        "no entries 03-01 08:00 to 03-01 09:00"
    )
