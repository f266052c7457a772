"""The plan inside the record: stored whole whenever its digest is new."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from splitline.record.compare import Changes, compare, digests
from splitline.record.entry import Entry, Planned
from splitline.record.journal import Journal, Record


class _Stands(Exception):
    """Another screen has just stored the same plan."""


def standing(entries: Iterable[Entry]) -> Planned | None:
    """The plan the work goes by now."""
    found = None
    for entry in entries:
        if isinstance(entry, Planned):
            found = entry
    return found


def put_plan(journal: Journal, text: str, person: str, title: str = "", revision: str = "") -> Planned | None:
    """Store the plan if it is not the one that stands; the entry, or None. RecordError as ``Journal.append``."""
    found = digests(text)
    stands = standing(journal.refresh().entries)
    if stands is not None and stands.digest == found.whole:
        return None
    entry = Planned(
        uid=f"plan-{uuid.uuid4().hex}",
        done_by=person,
        text=text,
        digest=found.whole,
        items=found.items,
        title=title,
        revision=revision,
    )

    def still_new(record: Record) -> None:
        now = standing(record.entries)
        if now is not None and now.digest == found.whole:
            raise _Stands

    try:
        stored = journal.append(entry, still_new)
    except _Stands:
        return None
    assert isinstance(stored, Planned)
    return stored


def changed_since(entries: Iterable[Entry], text: str) -> Changes:
    """What the plan on the screen changes against the one that stands in the record."""
    stands = standing(entries)
    return compare(dict(stands.items) if stands else {}, dict(digests(text).items))
