"""Files that commands and screens write: whole or not at all, never over a plan, record or library, else only when told to."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from splitline.errors import SplitlineError
from splitline.whole_file import write_whole

# Endings of what stands beside a plan; nothing exported is ever called so.
_KEPT = (".toml", ".toml.bak", ".record.head", ".record.lock", ".record.seen", ".record.claims", ".recovery")


class OutputFileError(SplitlineError):
    """A file that is not written."""


def may_write(path: Path, force: bool = False) -> None:
    """OutputFileError where this file may not be written over; call it before the work, and :func:`write_file` after it."""
    name = path.name.casefold()
    if name.endswith(_KEPT) or ".record.toml" in name:
        raise OutputFileError(
            f"{path}: nothing is written to a name of plans, records or libraries. Choose another ending"
        )
    if force or not os.path.lexists(path) or (path.exists() and not path.is_file() and not path.is_dir()):
        return
    if path.is_dir():
        raise OutputFileError(f"{path} is a folder: name a file in it")
    raise OutputFileError(f"{path} is already there: nothing was written. Choose another name, or add --force")


def write_file(path: Path, data: bytes, force: bool = False) -> None:
    """Write beside, then put in place. OutputFileError: it may not be, or cannot be written; then nothing has changed."""
    may_write(path, force)
    try:
        if path.exists() and not path.is_file():  # a device or a pipe
            with open(path, "wb") as file:
                file.write(data)
            return
        write_whole(path, data, before=None if force else lambda: may_write(path))  # somebody may have been quicker
    except OSError as error:
        full = error.errno in (errno.ENOSPC, errno.EDQUOT)
        said = "no room left on the disk" if full else error.strerror or str(error)
        raise OutputFileError(f"{path} cannot be written: {said}") from None
