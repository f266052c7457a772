"""The command line: a folder or plan opens the screens, a word runs a command."""

from __future__ import annotations

import argparse
import sys
from importlib import import_module
from pathlib import Path

from splitline import __version__
from splitline.commands import COMMANDS
from splitline.errors import SplitlineError

UNREADABLE = 2
_EPILOG = """examples:
  splitline                        the plans of this folder, on screen
  splitline plans/demo.toml        one plan, on screen
  splitline check plans/demo.toml  its checks, printed

A folder named like a command is opened as ./check."""


def main(argv: list[str] | None = None) -> int:
    """Entry point of the console command; returns the exit code."""
    arguments = sys.argv[1:] if argv is None else argv
    try:
        if arguments and arguments[0] in COMMANDS:
            return _command(arguments)
        return _screen(arguments)
    except SplitlineError as error:
        print(f"splitline: {error}", file=sys.stderr)
        return UNREADABLE
    except BrokenPipeError:
        # The reader (head, less) has gone; nothing is left to say, and closing stdout again would only complain.
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        return 130


def _command(arguments: list[str]) -> int:
    module = import_module(f"splitline.commands.{arguments[0]}")
    parser = argparse.ArgumentParser(prog="splitline")
    module.add(parser.add_subparsers(dest="command", required=True))
    code: int = module.run(parser.parse_args(arguments))
    return code


def _screen(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(
        prog="splitline",
        description="Torque, bolt and lifting plans on split casings.",
        epilog="commands:\n" + "\n".join(f"  {name:<8} {words}" for name, words in COMMANDS.items()) + "\n\n" + _EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "target", nargs="?", default=".", metavar="PLAN|FOLDER", help="a plan file, or a folder of plans"
    )
    parser.add_argument("--work", action="store_true", help="open on the fitter's screen")
    parser.add_argument("--version", action="version", version=f"splitline {__version__}")
    args = parser.parse_args(arguments)
    target = Path(args.target)
    if not target.exists():
        near = _nearest(args.target)
        raise SplitlineError(f'"{args.target}" is neither a command nor an existing plan or folder{near}')
    from splitline.ui.app import SplitlineApp

    app = SplitlineApp(target, work_only=args.work)
    app.run()
    return app.return_code or 0


def _nearest(word: str) -> str:
    import difflib

    near = difflib.get_close_matches(word, COMMANDS, 1)
    return f'; did you mean "splitline {near[0]}"?' if near else ""
