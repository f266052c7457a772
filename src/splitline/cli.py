"""The command line: a folder or plan opens the screens, a word runs a command."""

from __future__ import annotations

import argparse
import difflib
import gc
import os
import sys
from importlib import import_module
from pathlib import Path

from splitline import __version__
from splitline.commands import COMMANDS
from splitline.errors import SplitlineError
from splitline.outlet import OutputError, complain, printing, silence

UNREADABLE = 2
_EPILOG = """examples:
  splitline                                the plans of this folder, on screen
  splitline plans/k410-closeup.toml        one plan, on screen
  splitline check plans/k410-closeup.toml  its checks, printed

A folder named like a command is opened as ./check."""


def main(argv: list[str] | None = None) -> int:
    """Entry point of the console command; returns the exit code."""
    arguments = sys.argv[1:] if argv is None else argv
    try:
        if arguments and arguments[0] in COMMANDS:
            with printing():
                return _command(arguments)
        return _screen(arguments)
    except OutputError as error:
        silence(sys.stdout)
        complain(f"splitline: {error}")
        return UNREADABLE
    except SplitlineError as error:
        complain(f"splitline: {error}")
        return UNREADABLE
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        complain(f"splitline: {where}{error.strerror or error}")
        return UNREADABLE
    except Exception as error:
        # A crash must not look like a verdict (1): it says so, and what it was.
        complain(f"splitline: a fault of this program, not of the plan: {type(error).__name__}: {error}")
        complain("Nothing was assessed or written. Tell whoever looks after the program what you did.")
        if os.environ.get("SPLITLINE_TRACEBACK"):
            raise
        return UNREADABLE


def _command(arguments: list[str]) -> int:
    gc.disable()  # the collector would only walk through what is being imported
    try:
        module = import_module(f"splitline.commands.{arguments[0]}")
    finally:
        gc.enable()
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
    words = [word for word in arguments if not word.startswith("-")]
    if len(words) > 1 and not Path(words[0]).exists():
        raise SplitlineError(f'"{words[0]}" is not a command{_nearest(words[0])}; commands: {", ".join(COMMANDS)}')
    with printing():
        args = parser.parse_args(arguments)
    target = Path(args.target)
    if not target.exists():
        near = _nearest(args.target)
        raise SplitlineError(f'"{args.target}" is neither a command nor an existing plan or folder{near}')
    from splitline.ui.app import SplitlineApp

    _demand_terminal()
    app = SplitlineApp(target, work_only=args.work, terminal=True)
    app.run()
    return app.return_code or 0


def _demand_terminal() -> None:
    """The screens need a terminal to read from and to draw on. SplitlineError: there is none, or one that cannot."""
    for stream, what in ((sys.stdin, "keys to read"), (sys.stdout, "place to draw")):
        if stream is None or not stream.isatty():
            raise SplitlineError(
                f"no {what}: the screens need a terminal. Without one: splitline check PLAN, or splitline serve PLAN"
            )
    if os.environ.get("TERM") == "dumb":
        raise SplitlineError(
            "this terminal (TERM=dumb) cannot draw screens: use another, or splitline check PLAN, or splitline serve PLAN"
        )
    if sys.stderr is None or not sys.stderr.isatty():
        sys.__dict__["__stderr__"] = sys.__stdout__  # the screens are drawn on it: a redirected one would show nothing


def _nearest(word: str) -> str:
    near = difflib.get_close_matches(word, COMMANDS, 1)
    return f'; did you mean "splitline {near[0]}"?' if near else ""
