"""splitline record PLAN: what was done, and whether the record still stands as it was written."""

from __future__ import annotations

import argparse
import datetime as dt
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from splitline.record.as_built import AsBuilt
    from splitline.record.job import Job
    from splitline.record.journal import Record

ALTERED = 1
_WRITES = (".csv", ".json", ".md", ".pdf")


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "record",
        help="what was done: as-built tables, exports, verification",
        description="Print the record of a plan, write it to a file, or verify it. Exit 0: the record stands as it was "
        "written; 1: an entry was altered or is missing; 2: there is no record, or plan or record cannot be read. "
        "Verification is evidence against mistakes and quiet edits, not proof against a forger.",
        epilog="examples:\n  splitline record plans/demo.toml --verify\n  splitline record plans/demo.toml -o as-built.csv",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file; its record stands beside it")
    parser.add_argument("--verify", action="store_true", help="check every entry against the chain and the head file")
    parser.add_argument("--json", action="store_true", help="print JSON, SI numbers")
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE", help="write the record: FILE.csv, FILE.json, FILE.md or FILE.pdf"
    )


def run(args: argparse.Namespace) -> int:
    """Run it."""
    if args.verify:
        return _verify(args.plan, args.json)
    if args.output is not None:
        record = export(args.plan, args.output)
        print(f"written: {args.output}")
    else:
        record, built, us = _built(args.plan)
        if args.json:
            from splitline.record.export import json_text

            print(json_text(built, record.entries), end="")
        else:
            from splitline.record.markdown import markdown

            print(markdown(built, us), end="")
    for problem in record.problems:
        print(f"{args.plan}: {problem.text}", file=sys.stderr)
    return ALTERED if record.problems else 0


def export(plan: Path, target: Path) -> Record:
    """Write the record to a file by its ending. RecordError: no record, another ending, cannot be written."""
    if target.suffix.lower() == ".pdf":
        from importlib import import_module

        from splitline.record.paths import beside

        record = _read(plan)  # says plainly that there is none, before a dossier is begun
        import_module("splitline.report.dossier").write(plan, beside(plan).record, target)
        return record
    record, built, us = _built(plan)
    _write(target, built, record, us)
    return record


def _verify(plan: Path, as_json: bool) -> int:
    from splitline.record.evidence import verify

    found = verify(plan)
    if as_json:
        import json

        data = {
            "format": 1,
            "ok": found.ok,
            "count": found.count,
            "head": found.head,
            "problems": [{"entry": p.number, "key": p.key, "text": p.text} for p in found.problems],
            "remarks": list(found.remarks),
        }
        print(json.dumps(data, ensure_ascii=False))
        return 0 if found.ok else ALTERED
    for problem in found.problems:
        print(f"▲ {problem.text}")
    for remark in found.remarks:
        print(f"· {remark}")
    if found.ok:
        print(f"● {found.count} entries stand as they were written")
    print(f"  count {found.count}   head {found.head}")
    print(
        "  Compare count and head with the printed sheets and sign-offs. This is evidence, not proof against a forger."
    )
    return 0 if found.ok else ALTERED


def _read(plan: Path) -> Record:
    from splitline.errors import RecordError
    from splitline.record.journal import Journal

    journal = Journal(plan)
    record = journal.refresh()
    if not record.count and not record.problems:
        raise RecordError(
            f"{journal.paths.record}: there is no record yet; work is entered with `splitline {plan} --work`"
        )
    return record


def _built(plan: Path) -> tuple[Record, AsBuilt, bool]:
    from splitline.record.as_built import build
    from splitline.record.clock import wall

    record = _read(plan)
    job, us = _job(plan, record)
    return record, build(job, record, wall()), us


def _job(path: Path, record: Record) -> tuple[Job, bool]:
    """The job by the plan file, or by the plan in the record where the file is gone or no longer reads."""
    from splitline.assess.assessment import assess
    from splitline.errors import PlanError
    from splitline.library.store import Library
    from splitline.plan.read import open_plan, read_text
    from splitline.record.from_plan import job_of
    from splitline.record.plans import standing

    try:
        draft = open_plan(path)
    except PlanError:
        stands = standing(record.entries)
        if stands is None:
            raise
        draft = read_text(stands.text, path)
    assessment = assess(draft.plan, Library.load(path.parent), dt.date.today())
    orders = {item.id: item.results.get("order_steps", ()) for item in assessment.of_kind("joint")}
    return job_of(draft.plan, orders), draft.plan.us


def _write(target: Path, built: AsBuilt, record: Record, us: bool) -> None:
    from splitline.errors import RecordError

    suffix = target.suffix.lower()
    if suffix == ".csv":
        from splitline.record.export import csv_text

        text = csv_text(built)
    elif suffix == ".json":
        from splitline.record.export import json_text

        text = json_text(built, record.entries)
    elif suffix == ".md":
        from splitline.record.markdown import markdown

        text = markdown(built, us)
    else:
        raise RecordError(f"{target}: a record is written to a file ending in {', '.join(_WRITES)}")
    try:
        target.write_text(text, "utf-8")
    except OSError as error:
        raise RecordError(f"{target}: cannot be written: {error.strerror}") from error
