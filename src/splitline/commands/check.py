"""splitline check PLAN: every check of a plan; exit 0 (ok, near, on-site), 1 (fails, missing) or 2 (cannot be read)."""

from __future__ import annotations

import argparse
import datetime as dt
import gc
import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from splitline.assess.answers import answers
from splitline.assess.assessment import Assessment, alone, assess
from splitline.assess.context import Context
from splitline.assess.to_json import assessment_json
from splitline.assess.what_if import WhatIf
from splitline.errors import PlanError, SplitlineError
from splitline.library.store import Library
from splitline.outlet import print_json
from splitline.plan.read import open_plan
from splitline.report.text import print_assessment
from splitline.units import System

EXIT = {"ok": 0, "near": 0, "on-site": 0, "missing": 1, "fails": 1}


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "check",
        help="assess a plan and print every check",
        description="Assess every item of a plan. Exit 0: ok, near or on-site; 1: something fails or is missing; 2: unreadable.",
        epilog="example:\n  splitline check plans/k410-closeup.toml --json",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "plan", type=Path, nargs="+", metavar="PLAN", help="the plan file; several are assessed in turn"
    )
    parser.add_argument("--json", action="store_true", help="print the assessment as JSON, SI numbers")
    parser.add_argument(
        "--working", action="store_true", help="print formula, numbers put in, result and source of every result"
    )
    parser.add_argument("--item", metavar="ID", help="only the item of this id")
    parser.add_argument(
        "--why-not",
        metavar="KEY",
        help="with --item: what moves this check, what would make it ok, what would break it (its key, as --json names it)",
    )
    parser.add_argument("--units", choices=("SI", "US"), help="units of the print; default: as the plan says")
    parser.add_argument(
        "--date", type=dt.date.fromisoformat, metavar="YYYY-MM-DD", help="assess as on this day; default: today"
    )


def run(args: argparse.Namespace) -> int:
    """Run it; the collector of cycles rests meanwhile, which would only walk through what was just imported."""
    gc.disable()
    try:
        plans = [path for given in args.plan for path in _expanded(given)]
        if len(plans) == 1:
            return _run(plans[0], args)
        return _several(plans, args)
    finally:
        gc.enable()


def _expanded(given: Path) -> list[Path]:
    """The files a pattern means where the shell has left it as it is; the records beside plans are none."""
    if given.exists() or not any(sign in given.name for sign in "*?["):
        return [given]
    found = sorted(given.parent.glob(given.name))
    plans = [
        path for path in found if path.suffix == ".toml" and not path.name.endswith((".record.toml", "library.toml"))
    ]
    return plans or [given]


def _several(plans: list[Path], args: argparse.Namespace) -> int:
    """Each plan in turn, its own mistakes told beside it; the worst exit code. JSON: one line each."""
    worst = 0
    for number, path in enumerate(plans):
        if not args.json:
            print(f"{'' if number == 0 else chr(10)}== {path}")
        try:
            worst = max(worst, _run(path, args))
        except SplitlineError as error:
            print(f"splitline: {error}", file=sys.stderr)
            worst = 2
    return worst


def _run(path: Path, args: argparse.Namespace) -> int:
    draft = open_plan(path)
    if draft.problems:
        print(f"{path}: {_count(len(draft.problems))}", file=sys.stderr)
        for problem in draft.problems:
            line = f"line {problem.line}: " if problem.line else ""
            print(f"  {line}{problem.where}: {problem.message}", file=sys.stderr)
        return 2
    library = Library.load(path.parent)
    assessment = assess(draft.plan, library, args.date or dt.date.today(), system=args.units)
    if args.item and not any(item.id == args.item for item in assessment.items):
        raise PlanError(f'no item "{args.item}" in {path}; there are: {", ".join(i.id for i in assessment.items)}')
    if args.item:
        assessment = replace(assessment, items=tuple(item for item in assessment.items if item.id == args.item))
    if args.why_not:
        return _why_not(assessment, library, args)
    if args.json:
        print_json(json.dumps(assessment_json(assessment), ensure_ascii=False, allow_nan=False))
    else:
        print_assessment(assessment, system=args.units, working=args.working, only=args.item)
        if draft.examples:
            print(f"\n{_examples(draft.examples)}")
    return EXIT[assessment.verdict]


def _why_not(assessment: Assessment, library: Library, args: argparse.Namespace) -> int:
    """The answers of one check. PlanError: it is not there, or it has no usage."""
    system: System = args.units or ("US" if assessment.plan.us else "SI")
    items = [item for item in assessment.items if item.id == args.item] if args.item else []
    if not items:
        raise PlanError("--why-not wants one item: --item ID")
    result = items[0]
    checks = [c for c in result.checks if c.key == args.why_not]
    if not checks:
        known = ", ".join(dict.fromkeys(check.key for check in result.checks))
        raise PlanError(f'no check "{args.why_not}" of {args.item}; there are: {known}')
    check = max(checks, key=lambda each: each.usage or -1.0)
    assess_alone = alone(result.kind, Context(library, args.date or dt.date.today(), system=system))
    if check.usage is None or assess_alone is None:
        raise PlanError(f"{check.title}: {check.said(system)}. A check without a usage has nothing to answer with")
    item = assessment.plan.find(result.kind, result.id)
    print(f"{result.title} › {check.title}: {check.said(system)}, usage {check.usage:.3f}")
    for section in answers(WhatIf(item, assess_alone), check, library.names, system):
        print()
        for line in section:
            print(f"{'' if line.style == 'title' else '  '}{line.text}")
    return EXIT[check.verdict]


def _examples(n: int) -> str:
    values = "1 value is" if n == 1 else f"{n} values are"
    return (
        f'{values} still the starting plan\'s: replace each, or take the word "example" away behind it when it is right'
    )


def _count(n: int) -> str:
    return "1 mistake" if n == 1 else f"{n} mistakes"
