"""Does the record still stand as it was written?

The chain of hashes names an altered entry, the head file shows an end cut off, printed counts and hashes (sheets,
sign-offs) show a record replaced as a whole. This is evidence against mistakes and quiet edits, not proof against
somebody who forges the record, its head file and the printed sheets together.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from splitline.errors import RecordError
from splitline.record.chain import Problem
from splitline.record.entry import Accepted, Entry, Signed
from splitline.record.head import copy_number, read_head
from splitline.record.journal import Journal


@dataclass(frozen=True, slots=True)
class Evidence:
    """Result of a verification."""

    count: int
    head: str  # hash of the last entry
    problems: tuple[Problem, ...]
    remarks: tuple[str, ...]  # nothing wrong, but worth knowing
    seen: int = 0  # the greatest count this folder has seen; 0: it keeps none
    copy: str = ""  # copy number, of this machine and folder

    @property
    def ok(self) -> bool:
        """No entry altered, none missing."""
        return not self.problems


def verify(plan: Path) -> Evidence:
    """Read the record beside ``plan`` anew and hold it against its own chain. RecordError: there is none."""
    journal = Journal(plan)
    seen = read_head(journal.paths.seen)  # first: somebody may be writing
    record = journal.refresh()
    if not record.problems and not journal.paths.record.exists():
        raise RecordError(f"{journal.paths.record}: there is no record yet")
    problems = record.problems + _signed_otherwise(record.entries)
    accepted = {each.stop: each for each in record.entries if isinstance(each, Accepted)}
    remarks = [
        f"{problem.key}: accepted by {accepted[problem.key].done_by} in entry {accepted[problem.key].number}"
        for problem in problems
        if problem.key in accepted
    ]
    head = read_head(journal.paths.head)
    if head is None:
        remarks.append("no readable head file: compare count and head with the printed ones")
    elif head.count < record.count:
        remarks.append(f"the head file knows {head.count} of {record.count} entries: the last writer was interrupted")
    if journal.trimmed:
        remarks.append(f"the last line end is trimmed (an editor does that): entry {record.count + 1} stands whole")
    elif record.torn and not record.problems:
        remarks.append(f"{record.torn} bytes of an unfinished entry at the end; the next entry keeps them aside")
    copy = copy_number(journal.paths.record.parent)
    return Evidence(record.count, record.head, problems, tuple(remarks), seen.count if seen is not None else 0, copy)


def _signed_otherwise(entries: tuple[Entry, ...]) -> tuple[Problem, ...]:
    """Sign-offs carry the count and hash they were given on; both must still stand there."""
    hashes = {entry.number: entry.hash for entry in entries}
    return tuple(
        Problem(
            entry.number,
            f"signed on another record: entry {entry.number}",
            f"entry {entry.number}: {entry.done_by} signed when entry {entry.count} was another one than now",
        )
        for entry in entries
        if isinstance(entry, Signed) and entry.head and hashes.get(entry.count, entry.head) != entry.head
    )
