"""The one way a file is replaced: written beside, brought to the disk, put in place. Nobody ever reads half of one.

Not for what grows or stands under a lock of its own: the record is appended to, its head overwritten in place.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

_LONGEST = 230  # bytes of a name that still leave room for what is put round it: file systems take 255


def write_whole(
    path: Path,
    data: bytes,
    *,
    mode: int | None = None,
    sync: bool = True,
    clear: bool = False,
    before: Callable[[], None] | None = None,
) -> None:
    """Put ``data`` at ``path``, or leave what stands there and raise. OSError passes through.

    ``mode``: permissions; by default those of the file that is replaced, for a new one as the user's umask has it. ``sync``:
    flushed to the disk, file and folder; False for what may be lost with the power. ``clear``: remove what killed writers
    left beside it; only for who is alone at it, by a lock or by its name. ``before``: called when all is written, just
    before it is put in place; if it raises, nothing has changed.
    """
    start = _start(path.name)
    if clear:
        form = re.compile(re.escape(start) + r"[0-9a-f]+(\.bak)?\.tmp")
        for left in path.parent.iterdir():
            if form.fullmatch(left.name):
                left.unlink(missing_ok=True)
    beside = path.with_name(f"{start}{os.urandom(6).hex()}.tmp")
    kept = mode
    if kept is None:
        with suppress(FileNotFoundError):
            kept = stat.S_IMODE(path.stat().st_mode)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)  # never through a link somebody planted
    try:
        with os.fdopen(os.open(beside, flags, 0o666 if mode is None else mode), "wb") as file:
            file.write(data)
            file.flush()
            if kept is not None:
                os.chmod(beside, kept)
            if sync:
                os.fsync(file.fileno())
        if before is not None:
            before()
        os.replace(beside, path)
    except BaseException:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        raise
    if sync:
        with suppress(OSError):  # not every file system lets a folder be flushed, and the file is whole either way
            sync_folder(path.parent)


def _start(name: str) -> str:
    """How the names of files beside this one begin, and of no other's."""
    short = len(os.fsencode(name)) <= _LONGEST
    return f".{name}." if short else f".{hashlib.sha256(os.fsencode(name)).hexdigest()}."


def sync_folder(folder: Path) -> None:
    """Bring names in a folder to the disk. Systems that cannot open a folder do this themselves. OSError passes through."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
