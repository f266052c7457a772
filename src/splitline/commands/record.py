"""splitline record PLAN: what was done, and whether the record still stands as it was written."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.assess.recorded import open_book
from splitline.errors import PlanError, RecordError
from splitline.outlet import print_json
from splitline.record.clock import wall
from splitline.record.diverge import diverged
from splitline.record.evidence import verify
from splitline.record.export import json_text
from splitline.record.facts import in_one_zone
from splitline.record.journal import Journal
from splitline.record.markdown import markdown
from splitline.ui.work.record_file import built_of, export

if TYPE_CHECKING:
    from splitline.record.deviations import Deviation

ALTERED = 1


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "record",
        help="what was done: as-built tables, exports, verification",
        description="Print the record of a plan, write it to a file, or verify it. Exit 0: the record stands as it was "
        "written; 1: an entry was altered or is missing; 2: there is no record, or plan or record cannot be read. "
        "Verification is evidence against mistakes and quiet edits, not proof against a forger.",
        epilog="examples:\n  splitline record plans/k410-closeup.toml --verify\n"
        "  splitline record plans/k410-closeup.toml -o as-built.csv",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file; its record stands beside it")
    parser.add_argument(
        "--verify",
        action="store_true",
        help="check every entry against the chain and the head file; name pulls set differently from what their plan told",
    )
    parser.add_argument(
        "--compare",
        type=Path,
        metavar="OTHER",
        help="name what this record and another copy of it have apart; exit 1 if so",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, SI numbers")
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE", help="write the record: FILE.csv, FILE.json, FILE.md or FILE.pdf"
    )
    parser.add_argument("--force", action="store_true", help="write over a file that is there (never a plan or record)")


def _compare(first: Path, second: Path) -> int:
    """What each of two copies has that the other has not. RecordError: one is not there."""
    records = []
    for path in (first, second):
        journal = Journal(path)
        record = journal.refresh()
        if not record.count:
            raise RecordError(f"{journal.paths.record}: there is no record")
        records.append(in_one_zone(record))
    found = diverged(*records)
    print(f"alike up to entry {found.agree}")
    for path, only in ((first, found.only_first), (second, found.only_second)):
        print(f"{path}: {len(only)} entries the other has not")
        for line in only:
            print(f"  {line}")
    return 0 if found.same else ALTERED


def run(args: argparse.Namespace) -> int:
    """Run it."""
    if args.compare is not None:
        return _compare(args.plan, args.compare)
    if args.verify:
        return _verify(args.plan, args.json)
    if args.output is not None:
        record = export(args.plan, args.output, args.force)
        print(f"written: {args.output}")
    else:
        record, built, us = built_of(args.plan)
        if args.json:
            print_json(json_text(built, record.entries).rstrip("\n"))
        else:
            print(markdown(built, us), end="")
    for problem in record.problems:
        print(f"{args.plan}: {problem.text}", file=sys.stderr)
    return ALTERED if record.problems else 0


def _by_plans(plan: Path) -> tuple[tuple[Deviation, ...], tuple[str, ...]]:
    """Pulls set otherwise than their own plan told; how the plan beside differs. No chain is judged by them."""
    try:
        book = open_book(plan, wall())
    except PlanError as error:
        return (), (f"set values are not compared, for want of a plan: {error}",)
    kind = "set otherwise than told"
    return tuple(each for each in book.built.deviations if each.kind == kind), book.beside


def _verify(plan: Path, as_json: bool) -> int:
    found = verify(plan)
    deviating, beside = _by_plans(plan)
    if as_json:
        data = {
            "format": 1,
            "ok": found.ok,
            "count": found.count,
            "head": found.head,
            "problems": [{"entry": p.number, "key": p.key, "text": p.text} for p in found.problems],
            "seen": found.seen,
            "copy": found.copy,
            "remarks": list(found.remarks),
            "deviations": [{"kind": d.kind, "entry": d.entry, "text": d.text} for d in deviating],
            "plan_file_beside": list(beside),
        }
        print_json(json.dumps(data, ensure_ascii=False))
        return 0 if found.ok else ALTERED
    for problem in found.problems:
        print(f"▲ {problem.text}")
    for each in deviating:
        print(f"▲ {each.text}")
    for remark in (*found.remarks, *beside):
        print(f"· {remark}")
    if found.ok:
        print(f"● {found.count} entries stand as they were written")
    print(f"  count {found.count}   record code {found.head}   copy number {found.copy}")
    if found.seen:
        print(f"  greatest count this folder has seen: {found.seen}")
    print(
        "  Compare count and record code with the printed sheets and sign-offs. This is evidence, not proof against a forger."
    )
    return 0 if found.ok else ALTERED
