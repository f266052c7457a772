"""splitline kit PLAN: tools, slings, instruments and consumables a plan needs, with spares."""

from __future__ import annotations

import argparse
import json
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.outlet import print_json, shown
from splitline.output_file import may_write, write_file
from splitline.report.documents import kit_bundle
from splitline.report.kit import SPARE_BASIS, kit
from splitline.report.load import opened
from splitline.report.output import check_suffix, write_bundle
from splitline.report.pdf.paper import PAPERS
from splitline.report.table_csv import kit_csv

if TYPE_CHECKING:
    from splitline.report.kit import Kit
    from splitline.report.kit_lines.line import Line
    from splitline.report.load import Opened
    from splitline.units import System

_EPILOG = """examples:
  splitline kit plans/k410-closeup.toml
  splitline kit plans/k410-closeup.toml -o kit.pdf --paper Letter

Exit 0: told; 2: the plan cannot be read or the file cannot be written."""


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "kit",
        help="tools, slings and consumables a plan needs",
        description="The kit list of a plan: sockets, wrenches, tensioners, pumps and gauges, slings and fittings, "
        "instruments, lubricant, parts. A size the plan does not give is said to be missing.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file")
    parser.add_argument("-o", "--output", type=Path, metavar="FILE", help="write FILE.md, FILE.csv or FILE.pdf")
    parser.add_argument("--force", action="store_true", help="write over a file that is there (never a plan or record)")
    parser.add_argument("--json", action="store_true", help="print as JSON")
    parser.add_argument("--paper", choices=("A4", "A3", "Letter"), default="A4", help="paper of the PDF (default: A4)")
    parser.add_argument("--units", choices=("SI", "US"), help="units of the sizes; default: as the plan says")


def run(args: argparse.Namespace) -> int:
    """Run it."""
    if args.output is not None:
        check_suffix(args.output)
        may_write(args.output, args.force)
    found = opened(args.plan, system=args.units)
    if found is None:
        return 2
    system: System = args.units or ("US" if found.plan.us else "SI")
    made = kit(found.plan, found.assessment, system)
    if args.output is not None:
        _write(args, found, made, system)
    elif args.json:
        print_json(json.dumps(made.as_json(), ensure_ascii=False))
    else:
        print("\n".join(_lines(made)))
    return 0


def _write(args: argparse.Namespace, found: Opened, made: Kit, system: System) -> None:
    if args.output.suffix.lower() == ".csv":
        write_file(args.output, shown(kit_csv(made)).encode("utf-8-sig", "replace"), args.force)
    else:
        paper = PAPERS[args.paper]
        bundle = kit_bundle(found, system, paper)
        write_bundle(bundle, args.output, paper, args.force)
    print(f"{args.output}: {len(made.lines)} lines written")


def _lines(made: Kit) -> Iterator[str]:
    yield made.title
    for section in made.sections:
        total = made.total(section)
        yield ""
        yield f"{section}  ({'missing' if total is None else total} with spares)" if made.adds(section) else section
        for line in made.of(section):
            yield from _line(line)
    yield ""
    yield f"Spares: {SPARE_BASIS}."


def _line(line: Line) -> Iterator[str]:
    count = line.counted(line.needed) + (f" + {line.spare}" if line.spare else "")
    size = "size missing" if line.size is None else line.size
    words = [line.what, size, ", ".join(line.serials), line.note]
    text = "; ".join(word for word in words if word) + (f"  [{', '.join(line.used_in)}]" if line.used_in else "")
    yield from textwrap.wrap(f"  {count:>9}  {text}", 120, subsequent_indent=" " * 13)
