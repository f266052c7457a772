"""The as-built dossier: what was planned, what was done, by whom, and how the record stands; PDF, Markdown or CSV."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from splitline.report.pdf.paper import PAPERS

if TYPE_CHECKING:
    from splitline.assess.assessment import Assessment
    from splitline.plan.draft import Draft
    from splitline.record.as_built import AsBuilt
    from splitline.record.journal import Record
    from splitline.report.blocks import Bundle


def write(plan: Path, record: Path, output: Path, paper: str = "A4", force: bool = False) -> None:
    """Write the dossier of the record beside ``plan``. RecordError: there is none; PlanError: neither plan nor its copy reads."""
    from splitline.report.output import check_suffix, write_bundle

    check_suffix(output)
    del record  # stands beside the plan; the journal finds it
    write_bundle(dossier_of(plan, dt.datetime.now().astimezone()), output, PAPERS[paper], force)


def dossier_of(plan: Path, now: dt.datetime) -> Bundle:
    """The dossier's sheets, as of ``now``, by the plans that stand in the record."""
    from splitline.assess.recorded import open_book

    book = open_book(plan, now)
    return bundle_of(book.stands.draft, book.stands.assessment, book.record, book.built)


def bundle_of(draft: Draft, assessment: Assessment, record: Record, built: AsBuilt) -> Bundle:
    """The sheets of a record folded into tables."""
    from splitline.plan.canonical import digest
    from splitline.report.blocks import Bundle
    from splitline.report.sheets import foot, under, unready
    from splitline.report.sheets.common import Options
    from splitline.report.sheets.dossier import dossier_sheets

    plan = draft.plan
    options = Options("US" if plan.us else "SI")
    sheets = dossier_sheets(plan, assessment, built, options)
    return Bundle(
        plan.info.title or built.title,
        sheets,
        under(plan),
        foot(plan, assessment, record, digest(draft.tree)),
        unready(draft.examples),
    )
