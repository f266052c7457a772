"""splitline sheet PLAN -o FILE: sheets to print, sign and file; PDF, Markdown or CSV."""

from __future__ import annotations

import argparse
import datetime as dt
from pathlib import Path
from typing import Any

from splitline.output_file import may_write
from splitline.report.documents import without_working
from splitline.report.load import opened
from splitline.report.output import check_suffix, write_bundle
from splitline.report.pdf.paper import PAPERS as SIZES
from splitline.report.sheets import sheets_of
from splitline.report.sheets.common import Options

PAPERS = ("A4", "A3", "Letter")
_EPILOG = """examples:
  splitline sheet plans/k410-closeup.toml -o closeup.pdf
  splitline sheet plans/k410-closeup.toml -o working.pdf --working
  splitline sheet plans/k410-closeup.toml -o head.pdf --item discharge-head --paper A3
  splitline sheet plans/k410-closeup.toml -o closeup.csv --units US

Exit 0: written; 2: the plan cannot be read or the file cannot be written. A value that is missing is printed as an
empty frame with the word missing."""


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "sheet",
        help="print sheets: PDF, Markdown or CSV",
        description="Sheets of a plan: order of work, bolting sheets with map and log, lift, fit, insertion and clearance "
        "sheets, the working of every value, the kit list.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file")
    parser.add_argument("-o", "--output", type=Path, metavar="FILE", help="FILE.pdf, FILE.md or FILE.csv "
                        "(default: the plan's name with .pdf, in this folder)")  # fmt: skip
    parser.add_argument("--force", action="store_true", help="write over a file that is there (never a plan or record)")
    parser.add_argument("--item", metavar="ID", help="only the sheets of the item of this id")
    parser.add_argument("--working", action="store_true", help="all of them with why the values are so")
    parser.add_argument(
        "--brief", action="store_true", help="one item without its working, which it has unless asked not to"
    )
    parser.add_argument("--paper", choices=PAPERS, default="A4", help="paper of the PDF (default: A4)")
    parser.add_argument("--units", choices=("SI", "US"), help="units of the print; default: as the plan says")
    parser.add_argument(
        "--date", type=dt.date.fromisoformat, metavar="YYYY-MM-DD", help="assess as on this day; default: today"
    )


def run(args: argparse.Namespace) -> int:
    """Run it."""
    output = args.output or Path(args.plan.with_suffix(".pdf").name)
    check_suffix(output)
    may_write(output, args.force)
    found = opened(args.plan, args.date, args.units)
    if found is None:
        return 2
    paper = SIZES[args.paper]
    options = Options(args.units or ("US" if found.plan.us else "SI"), paper, found.examples)
    bundle = sheets_of(found.plan, found.assessment, found.record, found.digest, options, args.item)
    if args.brief or not (args.working or args.item):
        bundle = without_working(bundle)
    write_bundle(bundle, output, paper, args.force)
    print(f"{output}: {len(bundle.sheets)} {'sheet' if len(bundle.sheets) == 1 else 'sheets'} written")
    return 0
