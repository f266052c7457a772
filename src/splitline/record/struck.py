"""Which entries still count: a wrong entry is struck, never removed."""

from __future__ import annotations

from collections.abc import Iterable

from splitline.errors import RecordError
from splitline.record.danger import DANGER
from splitline.record.entry import Entry, Note, Planned, Recovered, WrongEntry
from splitline.record.journal import Record

_STAY = (WrongEntry, Planned, Recovered)


def strikes(entries: Iterable[Entry]) -> dict[int, WrongEntry]:
    """Number of each struck entry, and what strikes it."""
    found: dict[int, WrongEntry] = {}
    for entry in entries:
        if isinstance(entry, WrongEntry):
            found.setdefault(entry.entry, entry)
    return found


def live(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries that are not struck. Strikes themselves, plans and recoveries cannot be struck."""
    entries = tuple(entries)
    for known, result in _last:
        if known is entries:
            return result
    gone = strikes(entries)
    result = entries
    if gone:
        result = tuple(entry for entry in entries if entry.number not in gone or isinstance(entry, _STAY))
    _last.extend([(entries, result), (result, result)] if result is not entries else [(entries, result)])
    del _last[:-4]
    return result


# One look at the screen asks this a dozen times of the same entries.
_last: list[tuple[tuple[Entry, ...], tuple[Entry, ...]]] = []


def check_strike(record: Record, entry: WrongEntry) -> None:
    """RecordError unless the entry to strike is there, is an act that can be struck, and is not struck yet."""
    target = next((each for each in record.entries if each.number == entry.entry), None)
    if target is None:
        raise RecordError(f"there is no entry {entry.entry} to strike; nothing was stored")
    if isinstance(target, _STAY):
        raise RecordError(f"entry {entry.entry} is a {target.kind} entry and stays; enter the act again instead")
    if isinstance(target, Note) and target.topic == DANGER:
        raise RecordError(f"entry {entry.entry} calls DANGER: it is released, never struck; nothing was stored")
    before = strikes(record.entries).get(entry.entry)
    if before is not None:
        raise RecordError(f"entry {entry.entry} is struck already: entry {before.number} by {before.done_by}")
