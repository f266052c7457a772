"""Unsaved work kept beside the plan as ``NAME.recovery``: for a crash, a power cut, a closed browser."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import re
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from splitline.errors import PlanError
from splitline.plan.draft import Draft
from splitline.plan.migrate import migrated
from splitline.plan.read import decoded, parsed, read_bytes

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


def keep(draft: Draft) -> bool:
    """Keep the unsaved work of a draft; False when there is none, no file, or the folder cannot be written."""
    plan = draft.origin.path
    if plan is None or not draft.changed:
        return False
    now = dt.datetime.now().astimezone().isoformat(timespec="seconds")
    text = f"# unsaved work, kept {now}, on a file with digest {_digest(draft.origin.raw)}\n{draft.new_text}"
    beside = recovery_path(plan).with_suffix(f".recovery.{os.getpid()}")
    try:
        with open(beside, "wb") as file:
            file.write(text.encode())
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, recovery_path(plan))
    except OSError:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        return False
    return True


def found(plan: Path) -> Recovery | None:
    """Unsaved work beside a plan, or None when there is none that can be read."""
    try:
        text = decoded(read_bytes(recovery_path(plan)), plan)
    except PlanError:
        return None
    head = _HEAD.match(text)
    if head is None:
        return None
    return Recovery(recovery_path(plan), text[head.end() :], head.group(1), head.group(2))


def drop(plan: Path) -> None:
    """Forget the unsaved work: it was saved or is not wanted."""
    with suppress(OSError):
        recovery_path(plan).unlink(missing_ok=True)


def _digest(raw: bytes | None) -> str:
    return hashlib.sha256(raw).hexdigest() if raw is not None else "none"
