"""The documents of a plan as a screen offers them, each written to a PDF by the same way as its command."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from splitline.errors import PlanError
from splitline.report.blocks import Bundle
from splitline.report.kit import kit
from splitline.report.load import Opened, read_for_print
from splitline.report.output import write_bundle
from splitline.report.pdf.paper import PAPERS, Paper
from splitline.report.sheets import foot, sheets_of, under, unready
from splitline.report.sheets.common import Options
from splitline.report.sheets.kit import kit_sheet
from splitline.units import System


def write(plan: Path, what: str, output: Path, item: str | None = None, paper: str = "A4") -> None:
    """Write "pack", "working", "item", "kit" or "dossier", over a file of this name that is no plan and no record.

    PlanError: the plan does not read; RecordError: a dossier without a record; OutputFileError: it cannot be written.
    """
    if what == "dossier":
        from splitline.report.dossier import write as write_dossier

        write_dossier(plan, plan, output, paper, force=True)
        return
    found = read_for_print(plan)
    size = PAPERS[paper]
    options = Options("US" if found.plan.us else "SI", size, found.examples)
    if what == "kit":
        bundle = kit_bundle(found, options.system, size)
    elif what in ("pack", "working", "item"):
        bundle = sheets_of(
            found.plan, found.assessment, found.record, found.digest, options, item if what == "item" else None
        )
        if what == "pack":
            bundle = without_working(bundle)
    else:
        raise PlanError(f'no document is called "{what}"')
    write_bundle(bundle, output, size, force=True)


def without_working(bundle: Bundle) -> Bundle:
    """The toolbox pack: what is taken to the job, without why its values are so."""
    return replace(bundle, sheets=tuple(sheet for sheet in bundle.sheets if sheet.kind != "why"))


def kit_bundle(found: Opened, system: System, paper: Paper) -> Bundle:
    """The kit list as a document of its own."""
    plan = found.plan
    sheet = kit_sheet(kit(plan, found.assessment, system), Options(system, paper))
    feet = foot(plan, found.assessment, found.record, found.digest)
    return Bundle(plan.info.title, (sheet,), under(plan), feet, unready(found.examples))
