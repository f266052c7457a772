"""splitline pin FOLDER NAME: give a person who signs a PIN, or take it away."""

from __future__ import annotations

import argparse
import getpass
import sys
from pathlib import Path
from typing import Any

from splitline.errors import RecordError
from splitline.record.pins import FILE, check_pin, set_pin


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "pin",
        help="a PIN for a name that signs",
        description="Give a name a PIN: hold points, acceptances and releases signed with that name then ask for it. The PIN is "
        "kept as a salted hash in people.toml beside the plans. Names without one sign as before.",
        epilog="example:\n  splitline pin plans Ines\n  splitline pin plans Ines --remove",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="folder of the plans")
    parser.add_argument("name", metavar="NAME", help="the name as it stands in the plan's crew")
    parser.add_argument("--remove", action="store_true", help="take the PIN away")


def run(args: argparse.Namespace) -> int:
    """Run it."""
    if not args.folder.is_dir():
        raise RecordError(f"{args.folder} is not a folder: name the one the plans stand in")
    if args.remove:
        set_pin(args.folder, args.name, None)
        print(f"{args.name}: signs without a PIN from now on")
        return 0
    try:
        pin = getpass.getpass(f"New PIN of {args.name} (4 to 12 digits): ")
        wrong = check_pin(pin)
        if not wrong and getpass.getpass("The same again: ") != pin:
            wrong = "the two were not the same"
    except EOFError:
        wrong = "no PIN was typed"
    if wrong:
        print(f"{wrong}; nothing was changed", file=sys.stderr)
        return 2
    set_pin(args.folder, args.name, pin)
    print(f"{args.folder / FILE}: {args.name} signs with a PIN from now on")
    return 0
