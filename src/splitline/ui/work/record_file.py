"""The record of a plan beside its plan, and written to a file by its ending. No screens in here."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from splitline.assess.recorded import open_book
from splitline.errors import RecordError
from splitline.outlet import shown
from splitline.output_file import may_write, write_file
from splitline.record.clock import wall
from splitline.record.export import csv_text, json_text
from splitline.record.journal import Journal
from splitline.record.markdown import markdown
from splitline.record.paths import beside

if TYPE_CHECKING:
    from splitline.record.as_built import AsBuilt
    from splitline.record.journal import Record

WRITES = (".csv", ".json", ".md", ".pdf")


def export(plan: Path, target: Path, force: bool = False) -> Record:
    """Write the record to a file by its ending. RecordError: no record, another ending, cannot be written."""
    may_write(target, force)
    if target.suffix.lower() == ".pdf":
        from importlib import import_module

        record = _read(plan)  # says plainly that there is none, before a dossier is begun
        import_module("splitline.report.dossier").write(plan, beside(plan).record, target, force=force)
        return record
    record, built, us = built_of(plan)
    _write(target, built, record, us, force)
    return record


def _read(plan: Path) -> Record:
    journal = Journal(plan)
    record = journal.refresh()
    if not record.count and not record.problems:
        raise RecordError(
            f"{journal.paths.record}: there is no record yet; work is entered with `splitline {plan} --work`"
        )
    return record


def built_of(plan: Path) -> tuple[Record, AsBuilt, bool]:
    """Record, its tables by the plans that stand in it, and whether they show US units. RecordError: no record."""
    book = open_book(plan, wall())
    return book.record, book.built, book.stands.draft.plan.us


def _write(target: Path, built: AsBuilt, record: Record, us: bool, force: bool) -> None:
    suffix = target.suffix.lower()
    if suffix == ".csv":
        text = csv_text(built, us)
    elif suffix == ".json":
        text = json_text(built, record.entries)
    elif suffix == ".md":
        text = markdown(built, us)
    else:
        raise RecordError(f"{target}: a record is written to a file ending in {', '.join(WRITES)}")
    marked = "utf-8-sig" if suffix == ".csv" else "utf-8"  # spreadsheets take UTF-8 only when it is marked
    write_file(target, shown(text).encode(marked, "replace"), force)
