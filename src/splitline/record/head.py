"""``NAME.record.head``: count and hash of the last stored entry, so that a record cut short shows."""

from __future__ import annotations

import os
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
        found = _FORM.match(path.read_text("ascii"))
    except (OSError, UnicodeDecodeError):
        return None
    return Head(int(found.group(1)), found.group(2)) if found else None


def write_head(path: Path, head: Head) -> None:
    """Replace the head file in one move; called under the record's lock. OSError passes through."""
    beside = path.with_name(path.name + ".new")
    beside.write_text(f'count = {head.count}\nhash = "{head.hash}"\n', "ascii")
    os.replace(beside, path)
