"""A writer in a process of its own: stores entries and says so on a pipe, one line an acknowledged entry.

``python -m tests.record.writer PLAN NAME COUNT [LIMIT]``; LIMIT bytes are the most a file may grow to.
"""

from __future__ import annotations

import sys
from pathlib import Path

from splitline.errors import RecordError
from splitline.record.entry import Note
from splitline.record.journal import Journal


def main(plan: str, name: str, count: str, limit: str = "") -> None:
    if limit:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (int(limit), int(limit)))
    book = Journal(Path(plan))
    for place in range(int(count)):
        try:
            stored = book.append(Note(uid=f"{name}-{place}", done_by=name, text="x" * 300 + f' [{place}] "ü"'))
        except RecordError as error:
            sys.stdout.write(f"refused {name}-{place} {error}\n")
        else:
            sys.stdout.write(f"stored {name}-{place} {stored.number} {stored.hash}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(*sys.argv[1:])
