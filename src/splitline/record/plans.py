"""The plan inside the record: stored whole whenever its digest is new."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from splitline.record.compare import Changes, compare, digests
from splitline.record.entry import Entry, Planned, is_late
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


def in_force(entries: Iterable[Entry]) -> dict[int, Planned | None]:
    """The plan each entry went by, by its number: the one that stood in the record before it.

    What was written down afterwards went by the plan that stood when it was done, not when it was entered.
    """
    found: dict[int, Planned | None] = {}
    plans: list[Planned] = []
    for entry in entries:
        if isinstance(entry, Planned):
            plans.append(entry)
        own = plans
        done = entry.done_at
        if is_late(entry) and done is not None:
            own = [each for each in plans if each.done_at is not None and each.done_at <= done] or plans[:1]
        found[entry.number] = own[-1] if own else None
    return found


@dataclass(frozen=True, slots=True)
class Saved:
    """Who wrote a plan file, as far as plan and machine tell; whose screen noticed it says nothing of that."""

    prepared_by: str = ""
    account: str = ""
    at: datetime | None = None


def saved(path: Path, prepared_by: str) -> Saved:
    """Of a file: the plan's own word, the account that owns it, when it was written."""
    account, at = "", None
    with suppress(OSError, KeyError, NotImplementedError):  # an account without a name, a system without accounts
        at = datetime.fromtimestamp(int(path.stat().st_mtime)).astimezone()
        account = path.owner()
    return Saved(prepared_by, account, at)


def put_plan(
    journal: Journal, text: str, person: str, title: str = "", revision: str = "", by: Saved | None = None
) -> Planned | None:
    """Store the plan if it is not the one that stands; the entry, or None. RecordError as ``Journal.append``."""
    by = by or Saved()
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
        prepared_by=by.prepared_by,
        file_of=by.account,
        saved_at=by.at,
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
