"""splitline schema: the JSON Schema of the plan file, for editors that complete and check as one types."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

from splitline.outlet import print_json
from splitline.output_file import write_file
from splitline.plan.schema import SCHEMA_FILE, plan_schema
from splitline.record.export import record_schema


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "schema",
        help="print the JSON Schema of the plan file",
        description="Print the JSON Schema of the plan file. Beside a plan it lets an editor complete its keys.",
        epilog=f"example:\n  splitline schema -o {SCHEMA_FILE}\n"
        f"and in the first line of the plan:\n  #:schema {SCHEMA_FILE}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--record", action="store_true", help="that of an exported record (JSON) instead")
    parser.add_argument("-o", "--output", type=Path, metavar="FILE", help="write it to a file instead")
    parser.add_argument("--force", action="store_true", help="write over a file that is there (never a plan or record)")


def _schema(record: bool) -> dict[str, Any]:
    if record:
        return record_schema()

    return plan_schema()


def run(args: argparse.Namespace) -> int:
    """Run it."""
    text = json.dumps(_schema(args.record), indent=2, ensure_ascii=False) + "\n"
    if args.output is None:
        print_json(text.rstrip("\n"))
        return 0
    write_file(args.output, text.encode(), args.force)
    if args.record:
        print(f"{args.output}: written")
        return 0
    print(f"{args.output}: written. First line of a plan beside it: #:schema {args.output.name}")
    return 0
