"""Plans opened and printed for the tests."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path
from typing import Any

from splitline.report.blocks import Beside, Block, Bundle, Cell, Facts, Sheet, Table, blocks_of, text_of
from splitline.report.load import Opened, opened
from splitline.report.pdf.paper import PAPERS
from splitline.report.sheets import sheets_of
from splitline.report.sheets.common import Options

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "plans" / "k410-closeup.toml"
WRONG = ROOT / "plans" / "wrong-on-purpose.toml"
TODAY = dt.date(2026, 11, 25)


@cache
def demo(path: Path = DEMO) -> Opened:
    """A plan that ships, assessed on a fixed day."""
    found = opened(path, TODAY)
    assert found is not None
    return found


def plan_of(folder: Path, text: str) -> Opened:
    """A plan written to a folder and opened."""
    path = folder / "plan.toml"
    path.write_text(text, "utf-8")
    found = opened(path, TODAY)
    assert found is not None
    return found


def bundle(found: Opened, only: str | None = None, paper: str = "A4", system: Any = "SI") -> Bundle:
    """All its sheets."""
    options = Options(system, PAPERS[paper])
    return sheets_of(found.plan, found.assessment, found.record, found.digest, options, only)


def sheet(found: Opened, kind: str, item: str) -> Sheet:
    """One sheet."""
    return next(each for each in bundle(found, item or None).sheets if each.kind == kind)


def fact(of: Sheet, label: str) -> Cell:
    """The value beside a label."""
    for block in blocks_of(of):
        if isinstance(block, Facts):
            for name, value in block.rows:
                if name == label:
                    return value
    raise AssertionError(f"no fact {label!r} on {of.title}")


def table(of: Sheet, title: str) -> Table:
    """The table whose title begins so."""
    return next(block for block in blocks_of(of) if isinstance(block, Table) and block.title.startswith(title))


def texts(of: Table) -> list[tuple[str, ...]]:
    """Its rows as plain text."""
    return [tuple(text_of(cell) for cell in row) for row in of.rows]


def of_type(of: Sheet, kind: type[Block]) -> list[Any]:
    """Every block of a type."""
    return [block for block in blocks_of(of) if isinstance(block, kind)]


__all__ = [
    "DEMO", "TODAY", "WRONG", "Beside", "bundle", "demo", "fact", "of_type", "plan_of", "sheet", "table", "texts",
]  # fmt: skip
