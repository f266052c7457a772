"""``NAME.record.head``: count and hash of the last stored entry, so that a record cut short shows."""

from __future__ import annotations

import hashlib
import os
import platform
import re
from dataclasses import dataclass
from pathlib import Path

_FORM = re.compile(r'count = (\d+)\nhash = "([0-9a-f]{64})"\n\Z')


@dataclass(frozen=True, slots=True)
class Head:
    """The end of the record as last acknowledged."""

    count: int
    hash: str


def read_head(path: Path) -> Head | None:
    """The head, or None where there is none or it does not read."""
    try:
        text = path.read_text("ascii")
        while (again := path.read_text("ascii")) != text:  # a writer was just at it
            text = again
        found = _FORM.match(text)
    except (OSError, UnicodeDecodeError):
        return None
    return Head(int(found.group(1)), found.group(2)) if found else None


def copy_number(folder: Path) -> str:
    """Which copy of a record is read: six signs that tell this machine and folder from others, as in ``3F0-A9C``.

    Two copies of one record may each stand as they were written; that they are two is told by nothing in them.
    """
    place = folder.resolve()
    try:
        inode = place.stat().st_ino
    except OSError:
        inode = 0
    signs = (
        hashlib.sha256(f"{platform.node()}\n{place}\n{inode}".encode("utf-8", "surrogateescape"))
        .hexdigest()[:6]
        .upper()
    )
    return f"{signs[:3]}-{signs[3:]}"


def note_seen(path: Path, head: Head) -> None:
    """Keep the greatest count a folder has seen, which a record put back together with its head does not know."""
    before = read_head(path)
    if before is None or head.count > before.count:
        write_head(path, head)


def write_head(path: Path, head: Head) -> None:
    """Write the head over the one before; called under the record's lock. OSError passes through.

    In one write, in place: moving a new file there costs a flush of the disk, while every other writer waits. Only
    the first is flushed: a file whose power fails while it is new may come back empty, one written over does not.
    """
    block = f'count = {head.count}\nhash = "{head.hash}"\n'.encode("ascii")
    fd = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
    try:
        size = os.fstat(fd).st_size
        os.write(fd, block)
        if size > len(block):
            os.ftruncate(fd, len(block))
        if not size:
            os.fsync(fd)
    finally:
        os.close(fd)
