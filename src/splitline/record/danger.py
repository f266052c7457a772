"""DANGER called by anybody: nothing more is stored on any screen of the plan until another named person releases it."""

from __future__ import annotations

from collections.abc import Iterable

from splitline.errors import RecordError
from splitline.record.entry import Accepted, Entry, Note
from splitline.record.people import NOBODY_KNOWN, People

DANGER = "danger"  # topic of the note that calls it
_KEY = "danger, entry "


def key_of(note: Note) -> str:
    """Key of its stop, which the release names."""
    return f"{_KEY}{note.number}"


def is_danger(key: str) -> bool:
    """Whether a stop's key is that of a DANGER."""
    return key.startswith(_KEY)


def called(entries: Iterable[Entry]) -> tuple[Note, ...]:
    """Every DANGER called, released or not."""
    return tuple(entry for entry in entries if isinstance(entry, Note) and entry.topic == DANGER)


def open_dangers(entries: Iterable[Entry]) -> tuple[Note, ...]:
    """Those nobody released yet."""
    entries = tuple(entries)
    released = {entry.stop for entry in entries if isinstance(entry, Accepted)}
    return tuple(note for note in called(entries) if key_of(note) not in released)


def check_free(entries: Iterable[Entry], entry: Entry) -> None:
    """RecordError while a DANGER is open, for everything but words and its release; asked under the lock."""
    if isinstance(entry, (Note, Accepted)):
        return
    found = open_dangers(entries)
    if found:
        at = f" at {found[0].done_at:%H:%M}" if found[0].done_at else ""
        raise RecordError(f"DANGER was called by {found[0].done_by}{at}: nothing is stored before it is released")


def check_release(entries: Iterable[Entry], entry: Accepted, people: People = NOBODY_KNOWN) -> None:
    """RecordError unless another person than the one who called it releases it, in a role and with words."""
    note = next((each for each in called(entries) if key_of(each) == entry.stop), None)
    if note is None:
        return
    if not entry.role.strip():
        raise RecordError("a DANGER is released by somebody in a role: name the role; nothing was stored")
    if people.among(entry.done_by, (note.done_by, note.entered_by)):
        raise RecordError(f"{entry.done_by} called this DANGER; another person releases it. Nothing was stored")
