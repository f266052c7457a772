"""Sheets as CSV: one line a fact, a table row, a caution, a signature; sheet, item and block named on each."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING

from splitline.report.blocks import (
    Block,
    Bundle,
    Cautions,
    Facts,
    Heading,
    Para,
    Picture,
    Points,
    Sheet,
    Signs,
    Table,
    blocks_of,
    text_of,
)

if TYPE_CHECKING:
    from splitline.report.kit import Kit

HEAD = ("sheet", "item", "block", "row", "cells")  # as many cells as the block has columns


def csv_text(bundle: Bundle) -> str:
    """Text a spreadsheet would run as a formula gets an apostrophe; a place to write in is empty, a missing value is said."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEAD)
    for label, texts in (
        ("unready", (bundle.unready,) if bundle.unready else ()),
        ("under", bundle.under),
        ("foot", bundle.foot),
    ):
        for number, text in enumerate(texts, 1):
            writer.writerow(("", "", label, number, safe(text)))
    for sheet in bundle.sheets:
        for row in _rows(sheet):
            writer.writerow(tuple(safe(cell) for cell in row))
    return out.getvalue()


def safe(text: str) -> str:
    """Text that no spreadsheet runs; numbers keep their minus."""
    from splitline.record.export import safe_cell

    return safe_cell(text)


def _rows(sheet: Sheet) -> Iterator[tuple[str, ...]]:
    name = sheet.what or sheet.kind
    yield name, sheet.item, "title", "", sheet.title
    heading = ""
    for block in blocks_of(sheet):
        if isinstance(block, Heading):
            heading = block.text
            continue
        label = block.title if isinstance(block, Table) and block.title else heading or type(block).__name__.lower()
        for row, cells in _lines(block):
            yield (name, sheet.item, label, row, *cells)


def _lines(block: Block) -> Iterator[tuple[str, tuple[str, ...]]]:
    if isinstance(block, Facts):
        for number, (label, value) in enumerate(block.rows, 1):
            yield str(number), (label, text_of(value))
    elif isinstance(block, Table):
        yield "head", block.head
        for number, row in enumerate(block.rows, 1):
            yield str(number), tuple(text_of(cell) for cell in row)
    elif isinstance(block, Signs):
        yield "head", ("to sign", "by", "name", "date, time", "signature")
        for number, (what, role) in enumerate(block.rows, 1):
            yield str(number), (what, role, "", "", "")
    elif isinstance(block, Cautions | Points):
        for number, text in enumerate(block.texts, 1):
            yield str(number), (("caution", text) if isinstance(block, Cautions) else (text,))
    elif isinstance(block, Para):
        yield "1", (block.text,)
    elif isinstance(block, Picture):
        yield "1", ("drawing", f"{block.drawing.said}. {block.caption}".strip())


def kit_csv(kit: Kit) -> str:
    """The kit list as one flat table."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("section", "what", "size", "needed", "spare", "total", "serials", "used in", "note", "count out"))
    for line in kit.lines:
        size = "missing" if line.size is None else line.size
        needed, total = line.counted(line.needed), line.counted(line.total)
        cells = (
            line.section, line.what, size, needed, str(line.spare), total, ", ".join(line.serials), ", ".join(line.used_in),
            line.note, "yes" if line.count_out else "",
        )  # fmt: skip
        writer.writerow(tuple(safe(cell) for cell in cells))
    return out.getvalue()
