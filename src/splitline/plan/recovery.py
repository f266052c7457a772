"""Unsaved work kept beside the plan as ``NAME.recovery``: for a crash, a power cut, a closed browser.

Each session keeps its own: ``NAME.recovery-2`` and so on where a file of another session is there. What sessions that ended leave
is offered once; what holds nothing that the plan has not is cleared away.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import platform
import re
import time
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock

from splitline.errors import PlanError
from splitline.plan.draft import Draft
from splitline.plan.migrate import migrated
from splitline.plan.read import decoded, parsed, read_bytes
from splitline.whole_file import write_whole

_HEAD = re.compile(
    r"# unsaved work, kept (\S+), on a file with digest ([0-9a-f]{64}|none)(?:, by process (\d+) on (\S+), (\d+) bytes)?\n"
)
_NOT_READ = b"\0"  # no plan ends like this: what is on disk never compares equal
_MOMENT = 60.0  # s: a name is taken, and a file written beside another, in far less
_DAY = 86_400.0  # s: of another machine nobody here knows whether its session still lives


@dataclass(frozen=True, slots=True)
class Recovery:
    """Unsaved text found beside a plan."""

    path: Path
    text: str
    kept: str  # when, ISO time
    base: str  # digest of the file it was typed on
    process: int = 0  # of the session; 0: not told
    machine: str = ""
    size: int = -1  # bytes it was written with; -1: not told

    @property
    def whole(self) -> bool:
        """Whether it was written to its end."""
        return self.size == len(self.text.encode())

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

    @property
    def ended(self) -> bool:
        """Whether the session that kept it is gone; of another machine's only after a day."""
        if self.machine == _machine() and self.process:
            return not _lives(self.process)
        return _age(self.path) > _DAY


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
    head = f"# unsaved work, kept {now}, on a file with digest {_digest(draft.origin.raw)}"
    text = draft.new_text.encode()
    head += f", by process {os.getpid()} on {_machine()}, {len(text)} bytes\n"
    write_whole(path, head.encode() + text, clear=True)


def found(plan: Path, own: Path | None = None, text: str | None = None) -> Recovery | None:
    """The latest unsaved work beside a plan, that of ``own`` and what is no other than ``text`` left aside.

    None when there is none that can be read.
    """
    known = (_read(path, plan) for path in _beside(plan) if path != own)
    return max((r for r in known if r is not None and r.text != text), key=lambda each: each.kept, default=None)


def tidy(plan: Path, text: str, own: Path | None = None) -> None:
    """Clear away what sessions that ended have left and that holds nothing beyond ``text``, the plan as it stands.

    An empty name, a copy of the plan, half a file of a writer that was killed: no work is in them. What a killed writer had
    written whole while its own file was still empty is work, and is put in its place.
    """
    for path in _left_by_writers(plan):
        with suppress(OSError):
            if path != own and _age(path) > _MOMENT:
                _settle(path, plan)
    for path in _beside(plan):
        with suppress(OSError):
            if path == own:
                continue
            kept = _read(path, plan)
            empty = kept is None and path.stat().st_size == 0 and _age(path) > _MOMENT
            if empty or (kept is not None and kept.text == text and kept.ended):
                path.unlink(missing_ok=True)


def _beside(plan: Path) -> list[Path]:
    """Files of unsaved work that sessions keep."""
    first = recovery_path(plan)
    return [path for path in _names(plan) if path == first or _number(path, first) is not None]


def _number(path: Path, first: Path) -> int | None:
    tail = path.name.removeprefix(f"{first.name}-")
    return int(tail) if tail != path.name and tail.isascii() and tail.isdecimal() else None


def _left_by_writers(plan: Path) -> list[Path]:
    """Files that writers killed at their work left beside those of the sessions."""
    form = re.compile(rf"\.?{re.escape(recovery_path(plan).name)}(-\d+)?\.[0-9a-f]+(\.bak)?(\.tmp)?")
    return [path for path in _names(plan) if form.fullmatch(path.name)]


def _names(plan: Path) -> list[Path]:
    try:
        return sorted(path for path in plan.parent.iterdir() if path.is_file() and not path.is_symlink())
    except OSError:
        return []


def _settle(left: Path, plan: Path) -> None:
    """What a killed writer left: work where its session had none whole yet, else nothing that is not kept."""
    match = re.search(r"\.recovery(?:-\d+)?", left.name)
    assert match is not None
    place = left.with_name(left.name[: match.end()].removeprefix("."))
    kept = _read(left, plan)
    if kept is not None and kept.whole:
        stands = _read(place, plan)
        if stands is None or (stands.text != kept.text and stands.kept <= kept.kept):
            same = stands is not None and (stands.process, stands.machine) == (kept.process, kept.machine)
            write_whole(place if same else _taken(plan), left.read_bytes())
    left.unlink(missing_ok=True)


def _read(path: Path, plan: Path) -> Recovery | None:
    try:
        text = decoded(read_bytes(path), plan)
    except PlanError:
        return None
    head = _HEAD.match(text)
    if head is None:
        return None
    kept, base, process, machine, size = head.groups()
    return Recovery(path, text[head.end() :], kept, base, int(process or 0), machine or "", int(size or -1))


def drop(path: Path) -> None:
    """Forget unsaved work kept in this file."""
    with suppress(OSError):
        path.unlink(missing_ok=True)


def _digest(raw: bytes | None) -> str:
    return hashlib.sha256(raw).hexdigest() if raw is not None else "none"


def _machine() -> str:
    """This machine, as one word."""
    return "".join(c if c.isalnum() else "-" for c in platform.node()) or "unnamed"


def _lives(process: int) -> bool:
    """Whether a process of this machine is there; True where the system gives no harmless way to ask."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # somebody else's
        return True
    return True


def _age(path: Path) -> float:
    try:
        return time.time() - path.stat().st_mtime
    except OSError:
        return 0.0
