"""The append-only file of what was done.

Reading never changes anything. Writing happens under one lock: read what others added, check the act against the
record as it now stands, append, flush, fsync; only then is it stored. A torn end (a writer killed, the power lost) is
copied aside and cut off by the next writer. One host writes; over network shares work goes through ``serve``.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC
from functools import partial
from pathlib import Path
from typing import BinaryIO

from splitline.errors import RecordError
from splitline.record import paths
from splitline.record.chain import OPENING, START, Problem, Scan, scan, seal
from splitline.record.clock import Clock, Machine, machine, unknown, wall
from splitline.record.entry import Accepted, Entry, Recovered
from splitline.record.head import Head, note_seen, read_head, write_head
from splitline.record.lines import LineReader
from splitline.record.lock import PATIENCE, locked
from splitline.whole_file import sync_folder, write_whole

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


_LOOKS = 5  # at record and head together before what does not fit is said


@dataclass(frozen=True, slots=True)
class Record:
    """The record as read at one moment."""

    entries: tuple[Entry, ...] = ()
    count: int = 0  # entries in the file, unreadable ones counted
    head: str = START
    problems: tuple[Problem, ...] = ()
    torn: int = 0  # bytes after the last whole entry


Check = Callable[[Record], None]


class Journal:
    """One record file. Not for several threads at once: each takes its own."""

    def __init__(
        self,
        plan: Path,
        clock: Clock = wall,
        sync: Callable[[int], None] = os.fsync,
        patience: float = PATIENCE,
        tick: Machine | None = None,
        device: str = "",
    ) -> None:
        """``tick``: the machine's own count; by default its real one beside the real clock, none beside another.

        ``device``: what its entries are made at.
        """
        self.paths = paths.beside(plan)
        self._patience = patience
        self._device = device
        self._clock = clock
        self.tick: Machine = tick or (machine if clock is wall else unknown)
        self._sync = sync
        self._known: Head | None = None  # the end as this process last saw it
        self._seen: Head | None = None  # the end as this folder has seen it before this process
        self._began = False
        self._forget()

    def _forget(self) -> None:
        self._reader = LineReader()
        self._record = Record()
        self._uids: dict[str, Entry] = {}
        self._end = 0  # bytes of whole entries
        self._last = b""  # the last of them
        self._tail = b""
        self._stat: tuple[int, int, int] | None = None
        self._end_trouble: Problem | None = None

    @property
    def trimmed(self) -> bool:
        """Whether only the last line end is missing, as an editor trims it: the last entry stands whole."""
        return (
            bool(self._tail) and whole_tail(self._tail, self._reader, self._record.count, self._record.head) is not None
        )

    @property
    def record(self) -> Record:
        """As last read."""
        return self._record

    def refresh(self) -> Record:
        """Read what was added since. RecordError: the file is there and cannot be read."""
        if not self._began:  # before the record: who writes meanwhile makes both longer
            self._seen, self._began = read_head(self.paths.seen), True
        for _ in range(_LOOKS):  # the head is read first, so that a writer at work never looks like a cut end
            head = read_head(self.paths.head)
            self._read()
            self._compare_with(head)
            if self._end_trouble is None or read_head(self.paths.head) == head:
                break
        return self._record

    def _read(self) -> None:
        path = self.paths.record
        try:
            with path.open("rb") as file:
                found = os.fstat(file.fileno())
                stamp = (found.st_ino, found.st_size, found.st_mtime_ns)
                if stamp != self._stat:
                    self._take(file, stamp)
        except FileNotFoundError:
            if self._stat is not None:
                self._forget()
        except OSError as error:
            raise RecordError(f"{path}: the record cannot be read: {error.strerror}") from error

    def _take(self, file: BinaryIO, stamp: tuple[int, int, int]) -> None:
        """Read on from the last block known, or everything where that block no longer stands there."""
        anchor = self._end - len(self._last)
        file.seek(anchor)
        data = file.read()
        # A writer makes the file longer. Of the same size and yet written to: somebody changed it in place.
        same_file = self._stat is not None and self._stat[0] == stamp[0] and self._stat[1] != stamp[1]
        if self._end and not (same_file and data.startswith(self._last)):
            self._forget()
            file.seek(0)
            data = file.read()
        else:
            data = data[len(self._last) :]
        self._add(scan(data, self._reader, self._record.count, self._record.head, self._last))
        self._stat = stamp

    def _add(self, more: Scan) -> None:
        for entry in more.entries:
            self._uids.setdefault(entry.uid, entry)
        if more.last:
            self._last = more.last
        self._end += more.end
        self._tail = more.tail
        self._record = Record(
            entries=self._record.entries + more.entries,
            count=more.blocks,
            head=more.head,
            problems=self._own_problems() + more.problems,
            torn=len(more.tail),
        )

    def _own_problems(self) -> tuple[Problem, ...]:
        return tuple(problem for problem in self._record.problems if problem.key.startswith("altered"))

    def _compare_with(self, head: Head | None) -> None:
        """Whether the file ends before what was last acknowledged, or is another one than that was stored in."""
        record = self._record
        whole = whole_tail(self._tail, self._reader, record.count, record.head)
        if self._known is not None and self._known.count > max(record.count, head.count if head is not None else 0):
            head = self._known  # the head file went, or was put back older, with the record: this process still knows
        count, tail = (record.count, self._tail) if whole is None else (whole.blocks, b"")
        hash_of = partial(self._hash_of, whole)
        self._end_trouble = end_problem(count, tail, head, hash_of) or self._older(count, hash_of)
        if self._end_trouble is None and record.count:
            self._known = Head(record.count, record.head)
        problems = self._own_problems() + ((self._end_trouble,) if self._end_trouble else ())
        if problems != record.problems:
            self._record = replace(record, problems=problems)

    def _older(self, count: int, hash_of: Callable[[int], str | None]) -> Problem | None:
        """What the folder had seen before this process and the record has not; told until a named person has accepted it."""
        found = seen_problem(count, self._seen, hash_of)
        if found is not None:  # another process may have stored meanwhile that somebody accepted it
            self._seen = read_head(self.paths.seen)
            found = seen_problem(count, self._seen, hash_of)
        if found is not None and any(isinstance(e, Accepted) and e.stop == found.key for e in self._record.entries):
            self._seen = None
            return None
        return found

    def _hash_of(self, whole: Scan | None, number: int) -> str | None:
        if whole is not None and number == whole.blocks:
            return whole.head
        if any(problem.number == number for problem in self._own_problems()):
            return None
        if number == self._record.count:
            return self._record.head
        return next((entry.hash for entry in reversed(self._record.entries) if entry.number == number), None)

    def append(self, entry: Entry, check: Check | None = None) -> Entry:
        """Store one act and give it back numbered and sealed; when this returns it is on the disk.

        ``check`` sees the record as it stands under the lock and raises RecordError when the act no longer fits. An
        entry whose uid is stored already is given back as stored. RecordError: nothing was stored.
        """
        with locked(self.paths.lock, self._patience):
            self.refresh()
            stored = self._uids.get(entry.uid)
            if stored is not None:
                self._store(self._end, b"")  # whoever wrote it may have died before its fsync
                return _same(stored, entry)
            self._refuse_broken(entry)
            if self._tail:
                self._mend_tail()
            if check is not None:
                check(self._record)
            return self._write(entry)

    def _refuse_broken(self, entry: Entry) -> None:
        """A record that was altered or cut takes nothing but a named person's word for it."""
        accepted = {each.stop for each in self._record.entries if isinstance(each, Accepted)}
        open_ones = [problem for problem in self._record.problems if problem.key not in accepted]
        if not open_ones:
            return
        if self._end_trouble in open_ones:  # first, and alone: the entry that accepts another one would end it unseen
            open_ones = [self._end_trouble]
        if isinstance(entry, Accepted) and entry.stop in {problem.key for problem in open_ones}:
            return
        raise RecordError(
            f"{self.paths.record.name}: {open_ones[0].text}. Nothing was stored. Find out who changed the file, keep a "
            f"copy of it, and let a named person accept {open_ones[0].key!r} before work goes on"
        )

    def _write(self, entry: Entry) -> Entry:
        now, tick = self._clock(), self.tick()
        answered = isinstance(entry, Recovered) or (isinstance(entry, Accepted) and self._end_trouble is not None)
        entry = replace(
            entry,
            number=self._record.count + 1,
            done_at=entry.done_at or now,
            entered_at=now,
            entered_by=entry.entered_by or entry.done_by,
            device=entry.device or self._device,
            boot=tick.boot if tick is not None else "",
            tick=tick.seconds if tick is not None else None,
        )
        entry, block = seal(entry, self._record.head)
        self._store(self._end, block)
        self._add(Scan((entry,), (), entry.number, entry.hash, block, len(block), b""))
        self._known = Head(entry.number, entry.hash)
        with suppress(OSError):  # the entry is stored; the head only lags behind, which verification says
            write_head(self.paths.head, self._known)
        with suppress(OSError):
            if answered:  # a named person, or the recovery, says in the record what became of the end that was seen
                self._seen = None
                write_head(self.paths.seen, self._known)
            else:
                note_seen(self.paths.seen, self._known)
        return entry

    def _store(self, at: int, block: bytes, cut: bool = False) -> None:
        """Write bytes at the end and bring them to the disk, or leave the file as it was and raise."""
        path = self.paths.record
        try:
            new = not path.exists()
            fd = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
        except OSError as error:
            raise self._not_stored(error) from error
        try:
            if cut:
                os.ftruncate(fd, at)
            os.lseek(fd, at, os.SEEK_SET)
            try:
                left = memoryview(block)
                while left:
                    left = left[os.write(fd, left) :]
                self._sync(fd)
                if new:
                    sync_folder(path.parent)
            except OSError as error:
                self._stat = None
                os.ftruncate(fd, at)
                with suppress(OSError):  # already being reported; the next writer mends whatever is left
                    self._sync(fd)
                raise self._not_stored(error) from error
            found = os.fstat(fd)
            self._stat = (found.st_ino, found.st_size, found.st_mtime_ns)
        except OSError as error:
            raise self._not_stored(error) from error
        finally:
            os.close(fd)

    def _not_stored(self, error: OSError) -> RecordError:
        return RecordError(
            f"NOT stored: {error.strerror or error} ({self.paths.record.name}). Write it on paper, make room or make the "
            "folder writable, then enter it again"
        )

    def _mend_tail(self) -> None:
        """Under the lock, bytes after the last whole entry are nobody's work in progress: keep them aside, cut."""
        tail, count = self._tail, self._record.count
        whole = whole_tail(tail, self._reader, count, self._record.head)
        if whole is not None:  # only its last line end is missing
            self._store(self._end, whole.last)
            self._add(whole)
            return
        aside = self.paths.torn(f"{count + 1}-{self._clock().astimezone(UTC):%Y%m%dT%H%M%SZ}")
        try:
            keep_aside(aside, tail)
        except OSError as error:
            raise self._not_stored(error) from error
        entry = recovered(aside.name, tail, count + 1, [problem.text for problem in self._record.problems])
        self._store(self._end, b"", cut=True)
        self._tail = b""
        self._write(entry)


def _same(stored: Entry, entry: Entry) -> Entry:
    """The stored entry, unless the uid was used for another act."""
    given: Entry | None = None
    if type(entry) is type(stored):
        given = replace(
            entry,
            number=stored.number,
            hash=stored.hash,
            done_at=entry.done_at or stored.done_at,
            device=entry.device or stored.device,
            boot=stored.boot,
            tick=stored.tick,
            entered_at=stored.entered_at,
            entered_by=entry.entered_by or entry.done_by,
        )
    if given != stored:
        raise RecordError(f"uid {entry.uid} is that of entry {stored.number}, which is another act: nothing was stored")
    return stored
