"""Two copies of one record: how far they agree, and which entries each has that the other has not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from splitline.record.facts import facts_of, lines
from splitline.record.journal import Record


@dataclass(frozen=True, slots=True)
class Diverged:
    """What two copies have apart. ``only``: a line an entry."""

    agree: int  # entries from the first on that stand alike in both
    only_first: tuple[str, ...]
    only_second: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Neither has an entry the other has not."""
        return not self.only_first and not self.only_second


def diverged(first: Record, second: Record) -> Diverged:
    """Hold two records against each other, entry by entry, by their hashes."""
    agree = 0
    for one, other in zip(first.entries, second.entries, strict=False):
        if one.hash != other.hash:
            break
        agree = one.number
    return Diverged(agree, tuple(_only(first, second)), tuple(_only(second, first)))


def _only(record: Record, other: Record) -> Iterator[str]:
    known = {entry.hash for entry in other.entries}
    numbers = {entry.number for entry in record.entries if entry.hash not in known}
    for entry, _, what, who in lines(facts_of(record, (), (), (), {}), "SI"):
        if entry in numbers:
            yield f"entry {entry}: {what} ({who})"
