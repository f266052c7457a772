"""Blocks and their chain of hashes.

A block is ``[[entry]]``, its lines, a last line ``hash = "..."`` and an empty line. The hash is SHA-256 over the
previous block's hash (64 hexadecimal characters; 64 zeros before the first) and the exact bytes of this block before
its ``hash`` line. The chain goes on from the hash as written, so one altered block is named and not all that follow.
"""

from __future__ import annotations

import gc
import hashlib
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from splitline.errors import RecordError
from splitline.record.entry import Entry, from_table, to_pairs
from splitline.record.lines import LineReader, write_lines

START = "0" * 64  # hash before the first entry
OPENING = b"[[entry]]\n"
_END = b"\n\n"
MOST_PROBLEMS = 1000  # told one by one
_HASH_LINE = re.compile(rb'hash = "([0-9a-f]{64})"\Z')


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in the file that does not stand as it was written."""

    number: int  # of the entry; where it would stand, if it is missing
    key: str  # of the stop it makes: "altered entry 5, 3fa9c1d2"; another alteration makes another key
    text: str


@dataclass(frozen=True, slots=True)
class Scan:
    """What some bytes of a record hold."""

    entries: tuple[Entry, ...]
    problems: tuple[Problem, ...]
    blocks: int  # entries, the unreadable ones counted
    head: str  # hash as written in the last block
    last: bytes  # the last block
    end: int  # bytes up to the end of the last block
    tail: bytes  # what follows it


def seal(entry: Entry, previous: str) -> tuple[Entry, bytes]:
    """The entry with its hash, and its block."""
    content = OPENING + write_lines(to_pairs(entry)).encode()
    digest = hashlib.sha256(previous.encode() + content).hexdigest()
    return replace(entry, hash=digest), content + b'hash = "' + digest.encode() + b'"' + _END


def scan(data: bytes, reader: LineReader, before: int = 0, previous: str = START, last: bytes = b"") -> Scan:
    """Read blocks that follow entry ``before``, whose hash is ``previous`` and whose bytes are ``last``.

    Never raises for what is in the file. Empty lines in a row count as one broken block, however many there are.
    """
    parts = data.split(_END)
    tail = parts.pop()
    entries: list[Entry] = []
    problems: list[Problem] = []
    number = before
    more, first = hashlib.sha256(), 0  # what is broken beyond MOST_PROBLEMS: one stop for all of it
    empty = last == _END
    with _no_collector(len(parts)):
        for part in parts:
            if not part and empty:  # a run of empty lines is one thing somebody put in, not millions of entries
                continue
            empty = not part
            number += 1
            entry, written, wrong = _block(part, number, previous, reader)
            if entry is not None:
                entries.append(entry)
            if wrong:
                if len(problems) >= MOST_PROBLEMS:
                    more.update(part)
                    first = first or number
                    previous = written or previous
                    continue
                stands = hashlib.sha256(part).hexdigest()[:8]  # one person's word is not for what is altered after it
                problems.append(Problem(number, f"altered entry {number}, {stands}", f"entry {number} {wrong}"))
            previous = written or previous
    if first:
        key = f"altered entry {first}, {more.hexdigest()[:8]}"
        problems.append(Problem(first, key, f"entry {first} and more after it are no whole entries or were altered"))
    last = parts[-1] + _END if parts else b""
    return Scan(tuple(entries), tuple(problems), number, previous, last, len(data) - len(tail), tail)


@contextmanager
def _no_collector(count: int) -> Iterator[None]:
    """Entries hold no cycles: looking for some among many new objects only costs time."""
    pause = count > 1000 and gc.isenabled()
    if pause:
        gc.disable()
    try:
        yield
    finally:
        if pause:
            gc.enable()


def _block(part: bytes, number: int, previous: str, reader: LineReader) -> tuple[Entry | None, str, str]:
    """Entry if it reads, hash as written ("" if none), what is wrong with it ("" if nothing)."""
    cut = part.rfind(b"\n") + 1
    found = _HASH_LINE.match(part, cut)
    written = found.group(1).decode() if found else ""
    if not found or not part.startswith(OPENING):
        return None, written, "is not a whole entry: lines were added, removed or broken by hand"
    content = part[:cut]
    actual = hashlib.sha256(previous.encode() + content).hexdigest()
    try:
        table = reader.table(content[len(OPENING) :].decode())
        table["hash"] = written
        entry = from_table(table)
    except (UnicodeDecodeError, RecordError) as error:
        return None, written, f"was altered and cannot be read ({error})"
    if actual != written:
        said = f"(it says: number {entry.number}, {entry.kind}, by {entry.done_by})"
        return entry, written, f"was altered, or the one before it: text and hash do not agree {said}"
    if entry.number != number:
        return entry, written, f"is numbered {entry.number}: entries were removed, added or moved"
    return entry, written, ""
