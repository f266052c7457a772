"""splitline new TEMPLATE FILE: a starting plan whose values are marked as examples to replace."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from splitline.plan.schema import SCHEMA_FILE
from splitline.plan.start import start_plan
from splitline.plan.starting import TEMPLATES


def add(subparsers: Any) -> None:
    """Declare the command."""
    rows = "\n".join(f"  {name:<18} {words}" for name, words in TEMPLATES.items())
    parser = subparsers.add_parser(
        "new",
        help="write a starting plan to replace values in",
        description="Write a new plan file. Every value in it is an example, marked so, to be replaced by your own.",
        epilog=f"templates:\n{rows}\n\nexample:\n  splitline new barrel-head-cover k-201-close-up.toml",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("template", metavar="TEMPLATE", help=", ".join(TEMPLATES))
    parser.add_argument("file", type=Path, metavar="FILE", help="the file to write; never one that is there already")


def run(args: argparse.Namespace) -> int:
    """Run it."""
    start_plan(args.template, args.file)
    schema = args.file.parent / SCHEMA_FILE
    print(f'{args.file}: written. Replace every value marked "example", then: splitline check {args.file}')
    if not schema.exists():
        print(f"For an editor that completes keys as you type: splitline schema -o {schema}")
    return 0
