"""Commands run in this process, with the output a terminal of some encoding, a full device, or a closed pipe."""

from __future__ import annotations

import io
import os
import sys
from dataclasses import dataclass

from splitline.cli import main

ENCODINGS = ("cp1252", "latin-1", "ascii", "utf-8")


@dataclass(frozen=True)
class Ran:
    """Exit code, and what was printed."""

    code: int
    out: str
    err: str


def ran(arguments: list[str], encoding: str = "utf-8", handle: int | None = None) -> Ran:
    """Run a command; with ``handle`` its output goes to that file descriptor, which is closed afterwards."""
    kept = io.BytesIO()
    plain = io.TextIOWrapper(kept, encoding=encoding, write_through=True)
    stream = plain if handle is None else os.fdopen(handle, "w", encoding=encoding)
    complaints = io.BytesIO()
    before = sys.stdout, sys.stderr
    sys.stdout = stream
    sys.stderr = errors = io.TextIOWrapper(complaints, encoding=encoding, write_through=True)
    try:
        code = main(arguments)
    except SystemExit as left:  # help
        code = left.code if isinstance(left.code, int) else 2
    finally:
        errors.flush()
        sys.stdout, sys.stderr = before
        if handle is not None:
            stream.close()
    return Ran(code, kept.getvalue().decode(encoding), complaints.getvalue().decode(encoding))


def full() -> int:
    """A device without room."""
    return os.open("/dev/full", os.O_WRONLY)


def closed_pipe() -> int:
    """A pipe nobody reads any more."""
    end, start = os.pipe()
    os.close(end)
    return start
