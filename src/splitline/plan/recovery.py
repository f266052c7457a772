"""Unsaved work kept beside the plan as ``NAME.recovery``: for a crash, a power cut, a closed browser.

Each session keeps its own: ``NAME.recovery-2`` and so on where a file of another session is there.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import re
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock

from splitline.errors import PlanError
from splitline.plan.draft import Draft
from splitline.plan.migrate import migrated
from splitline.plan.read import decoded, parsed, read_bytes
from splitline.whole_file import write_whole

_HEAD = re.compile(r"# unsaved work, kept (\S+), on a file with digest ([0-9a-f]{64}|none)\n")


_NOT_READ = b"\0"  # no plan ends like this: what is on disk never compares equal


@dataclass(frozen=True, slots=True)
class Recovery:
    """Unsaved text found beside a plan."""

    path: Path
    text: str
    kept: str  # when, ISO time
    base: str  # digest of the file it was typed on

    def same_base(self, draft: Draft) -> bool:
        """Whether the file is still the one this work was done on."""
        return self.base == _digest(draft.origin.raw)

    def onto(self, draft: Draft) -> Draft:
        """The draft of the file with the unsaved work in it, not saved yet. PlanError: it does not read.

        Where the file was changed by somebody else since, the draft does not count as read from it: saving shows the
        difference and asks.
        """
        taken = replace(draft, tree=migrated(parsed(self.text, self.path)))
        if self.same_base(draft):
            return taken
        return replace(taken, origin=replace(draft.origin, raw=(draft.origin.raw or b"") + _NOT_READ))


def recovery_path(plan: Path) -> Path:
    """Where unsaved work on a plan is kept."""
    return plan.with_name(f"{plan.name.removesuffix('.toml')}.recovery")


class Keeper:
    """The place where one session keeps its unsaved work; taken when there is some for the first time."""

    def __init__(self) -> None:
        self.path: Path | None = None
        self.trouble = ""  # why the work is not kept, "" where it is or there is none
        self._lock = Lock()  # the screen and its worker may both keep

    def keep(self, draft: Draft) -> bool:
        """Keep the unsaved work; False when there is none, no file, or the folder cannot be written."""
        plan = draft.origin.path
        with self._lock:
            self.trouble = ""
            if plan is None or not draft.changed:
                self._drop()  # taken back again
                return False
            try:
                if self.path is None:
                    self.path = _taken(plan)
                _write(self.path, draft)
            except OSError as error:
                self.trouble = error.strerror or str(error)
                return False
            return True

    def drop(self) -> None:
        """Forget it: it was saved or is not wanted."""
        with self._lock:
            self.trouble = ""
            self._drop()

    def _drop(self) -> None:
        if self.path is not None:
            drop(self.path)
            self.path = None


def _taken(plan: Path) -> Path:
    """A name no other session has, taken at once. OSError: the folder cannot be written."""
    first = recovery_path(plan)
    for number in range(1, 1000):
        path = first if number == 1 else first.with_name(f"{first.name}-{number}")
        with suppress(FileExistsError):
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
            return path
    raise OSError("a thousand sessions left unsaved work here")


def _write(path: Path, draft: Draft) -> None:
    now = dt.datetime.now().astimezone().isoformat(timespec="seconds")
    text = f"# unsaved work, kept {now}, on a file with digest {_digest(draft.origin.raw)}\n{draft.new_text}"
    write_whole(path, text.encode(), clear=True)


def found(plan: Path, own: Path | None = None) -> Recovery | None:
    """The latest unsaved work beside a plan, that of ``own`` left aside; None when there is none that can be read."""
    first = recovery_path(plan)
    try:
        others = [path for path in plan.parent.iterdir() if path.name.startswith(f"{first.name}-")]
    except OSError:
        others = []
    numbered = [path for path in others if path.name[len(first.name) + 1 :].isdecimal()]
    known = [_read(path, plan) for path in (first, *numbered) if path != own]
    return max((each for each in known if each is not None), key=lambda each: each.kept, default=None)


def _read(path: Path, plan: Path) -> Recovery | None:
    try:
        text = decoded(read_bytes(path), plan)
    except PlanError:
        return None
    head = _HEAD.match(text)
    return Recovery(path, text[head.end() :], head.group(1), head.group(2)) if head is not None else None


def drop(path: Path) -> None:
    """Forget unsaved work kept in this file."""
    with suppress(OSError):
        path.unlink(missing_ok=True)


def _digest(raw: bytes | None) -> str:
    return hashlib.sha256(raw).hexdigest() if raw is not None else "none"
