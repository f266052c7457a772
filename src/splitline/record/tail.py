"""The end of the file: whole, torn by a killed writer, or cut and altered by hand."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from pathlib import Path

from splitline.record.chain import OPENING, Problem, Scan, scan
from splitline.record.entry import Recovered
from splitline.record.head import Head
from splitline.record.lines import LineReader
from splitline.whole_file import write_whole

_STARTS = re.compile(rb"^\[\[entry\]\]", re.MULTILINE)  # a string cannot start a line
_EDITED = OPENING.replace(b"\n", b"\r\n")  # a torn entry begins as it was written


def whole_tail(tail: bytes, reader: LineReader, count: int, head: str) -> Scan | None:
    """The tail as an entry, if only the line end after its hash is missing (an editor trims it)."""
    if not tail.startswith(OPENING):
        return None
    found = scan(tail.rstrip(b"\n") + b"\n\n", reader, count, head)
    return found if found.blocks == count + 1 and not found.problems else None


def end_problem(count: int, tail: bytes, head: Head | None, hash_of: Callable[[int], str | None]) -> Problem | None:
    """What shows that the end is not merely torn: ``count`` whole entries, then ``tail``, but ``head`` was stored.

    ``hash_of``: hash as written of an entry of the file, None where that entry is named as altered already.
    """
    broken = "; what follows no longer reads (line ends changed by an editor?)" if tail else ""
    if head and head.count > count:
        first = count + 1
        which = f"entry {first}" if first == head.count else f"entries {first} to {head.count}"
        text = f"{which}: missing. {head.count} entries were stored, the file now holds {count}{broken}"
        return Problem(first, f"missing {which}", text)
    if len(_STARTS.findall(tail)) > 1 or tail.startswith(_EDITED):
        return Problem(count + 1, f"broken end after entry {count}", f"after entry {count} the file is altered{broken}")
    if head is None and count > 1:  # the first is stored a moment before there is a head
        text = f"the head file is gone or does not read: whether entries after {count} were cut off cannot be seen"
        return Problem(count, f"no head file after entry {count}", text)
    if head and head.count and hash_of(head.count) not in (None, head.hash):
        text = f"record and head file do not belong together at entry {head.count}: one was replaced or altered"
        return Problem(head.count, f"another head file after entry {count}", text)
    return None


def seen_problem(count: int, seen: Head | None, hash_of: Callable[[int], str | None]) -> Problem | None:
    """An older record and head put back together, or those of another copy, agree with each other: the folder has seen more.

    ``count`` and ``hash_of`` as for :func:`end_problem`; ``seen``: the greatest count this folder has seen.
    """
    if seen is None or not seen.count:
        return None
    if seen.count > count:
        text = f"this folder has seen {seen.count} entries, the record holds {count}: an older copy was put back"
        return Problem(count + 1, f"seen {seen.count} entries, {seen.hash[:8]}", text)
    if hash_of(seen.count) not in (None, seen.hash):
        text = f"entry {seen.count} is another one than this folder has seen: another copy was put here"
        return Problem(seen.count, f"seen another entry {seen.count}, {seen.hash[:8]}", text)
    return None


def keep_aside(path: Path, tail: bytes) -> None:
    """Copy the bytes to be cut. OSError passes through."""
    write_whole(path, tail)


def recovered(kept_in: str, tail: bytes, number: int, problems: list[str]) -> Recovered:
    """The entry that tells of it."""
    digest = hashlib.sha256(tail).hexdigest()
    said = "; ".join(problems) or "an unfinished entry stood at the end of the file; it had not been acknowledged"
    return Recovered(
        uid=f"recovered-{number}-{digest[:16]}",
        done_by="splitline",
        kept_in=kept_in,
        size=len(tail),
        sha256=digest,
        text=said,
    )
