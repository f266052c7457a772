"""Saving a plan: whole or not at all, never over somebody else's edit, the file before it kept as ``NAME.toml.bak``."""

from __future__ import annotations

import difflib
import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from splitline.errors import PlanError
from splitline.plan import NOT_PLANS
from splitline.plan.draft import Draft, Origin
from splitline.plan.read import decoded, parsed
from splitline.plan.splice import parses_to
from splitline.whole_file import write_whole

BOM = b"\xef\xbb\xbf"
PATIENCE = 10.0  # s to wait for another writer of the same plan


class PlanChangedError(PlanError):
    """The file is not as it was when the plan was opened: nothing was written.

    ``mine`` is the text that was to be saved, ``theirs`` the text on disk (None: deleted or not readable), ``seen``
    its bytes, which ``save(draft, over=seen)`` takes to say that they have been looked at.
    """

    def __init__(self, said: str, mine: str, theirs: str | None, seen: bytes | None) -> None:
        super().__init__(said)
        self.mine = mine
        self.theirs = theirs
        self.seen = seen

    @property
    def difference(self) -> str:
        """Unified difference from the text on disk to the one that was to be saved."""
        rows = difflib.unified_diff(
            (self.theirs or "").splitlines(), self.mine.splitlines(), "on disk", "here", lineterm=""
        )
        return "\n".join(rows)


def save(draft: Draft, over: bytes | None = None) -> Draft:
    """Write the draft to its file and give it back with the file as its new origin.

    PlanChangedError: the file changed since it was read (``over``: bytes on disk that may be replaced all the same).
    PlanError: it cannot be written; then the file stands as it was.
    """
    path = draft.origin.path
    if path is None:
        raise PlanError("this plan has no file yet: save it under a name")
    free_for_a_plan(path)
    if not draft.changed and draft.origin.raw is not None:
        return draft
    text = checked_text(draft)
    raw = (BOM if (draft.origin.raw or b"").startswith(BOM) else b"") + text.encode()
    target = Path(os.path.realpath(path))
    with _locked(target), _told(path):
        _unchanged(target, path, draft, text, over)
        write_whole(target, raw, clear=True, before=lambda: _keep(target))
    return draft.saved_as(Origin(path, raw, text, draft.tree))


def save_as(draft: Draft, path: Path) -> Draft:
    """Write the draft to a new file. PlanError: there is one of that name already."""
    path = Path(path)
    free_for_a_new_plan(path)
    text = checked_text(draft)
    with _told(path):
        if os.path.lexists(path):
            raise PlanError(f"{path} is already there: nothing was written. Choose another name")
        with _locked(path):
            write_whole(path, text.encode(), clear=True)
    return draft.saved_as(Origin(path, text.encode(), text, draft.tree))


def free_for_a_plan(path: Path) -> None:
    """PlanError for a name that stands for something else in a folder of plans: the site's own tables, or a record."""
    name = path.name.casefold()
    if name in NOT_PLANS:
        raise PlanError(f"{path}: {name} is {NOT_PLANS[name]}: choose another name for the plan")
    if name.endswith(".record.toml"):
        raise PlanError(f"{path}: a name ending in .record is a plan's record: choose another name for the plan")
    if not name.endswith(".toml") or name == ".toml":
        raise PlanError(f"{path}: the name of a plan ends in .toml, as in {path.name or 'plan'}.toml")


def free_for_a_new_plan(path: Path) -> None:
    """PlanError as :func:`free_for_a_plan`, and where the record of an earlier plan of this name was left."""
    free_for_a_plan(path)
    record = path.with_name(f"{path.name[: -len('.toml')]}.record.toml")
    if os.path.lexists(record) and not os.path.lexists(path):
        raise PlanError(
            f"{path}: the record of another plan of this name is still there ({record.name}): a new plan would take its work "
            "as its own. Choose another name"
        )


def checked_text(draft: Draft) -> str:
    """The text to be saved, read back and held against the draft before anybody writes it."""
    text = draft.new_text
    if not parses_to(text, draft.tree):
        raise PlanError("the text to be saved does not read back as the plan on the screen: nothing was written")
    return text


def _unchanged(target: Path, path: Path, draft: Draft, mine: str, over: bytes | None) -> None:
    """Compare the file with what was read; another text, or none, stops the save."""
    try:
        there: bytes | None = target.read_bytes()
    except FileNotFoundError:
        there = None
    if there is not None and not target.stat().st_mode & 0o222:
        raise PlanError(f"{path} is marked read-only: nothing was written. Save it under another name")
    if there == draft.origin.raw:
        return
    if there is None:
        if over == b"":
            return
        raise PlanChangedError(
            f"{path} has been deleted or moved since it was opened: nothing was written", mine, None, b""
        )
    try:
        theirs = decoded(there, path)
        parsed(theirs, path)
    except PlanError as error:
        said = f"{path} has changed since it was opened and can no longer be read: nothing was written over it"
        raise PlanChangedError(said, mine, None, None) from error
    if there != over:
        said = f"{path} was changed by somebody else since it was opened: nothing was written"
        raise PlanChangedError(said, mine, theirs, there)


def _keep(target: Path) -> None:
    """The file as it stands, if there is one, becomes NAME.toml.bak, without a moment in which there is none."""
    if not target.exists():
        return
    spare = target.with_name(f".{target.name}.{os.getpid()}.bak.tmp")
    spare.unlink(missing_ok=True)
    try:
        try:
            os.link(target, spare)
        except OSError:  # no hard links on this file system
            spare.write_bytes(target.read_bytes())
        os.replace(spare, target.with_name(f"{target.name}.bak"))
    finally:
        spare.unlink(missing_ok=True)


@contextmanager
def _locked(target: Path) -> Iterator[None]:
    """One writer at a time. The lock file stays: deleting it would let two writers in."""
    from filelock import FileLock, Timeout

    if not target.parent.is_dir():
        raise PlanError(f"{target.parent}: there is no such folder: nothing was written")
    lock = FileLock(target.with_name(f".{target.name}.lock"), mode=0o666)
    try:
        lock.acquire(timeout=PATIENCE, poll_interval=0.01)
    except Timeout:
        raise PlanError(f"{target.name} is being saved by somebody else: nothing was written. Try again") from None
    except (OSError, NotImplementedError) as error:
        raise PlanError(f"{target.parent}: {_reason(error)}: nothing was written") from error
    try:
        yield
    finally:
        lock.release()


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise PlanError(f"{path} cannot be written: {_reason(error)}. The file stands as it was") from error


def _reason(error: BaseException) -> str:
    code = getattr(error, "errno", None)
    if code in (errno.ENOSPC, errno.EDQUOT):
        return "no room left on the disk"
    if code in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "no permission to write in this folder"
    if code == errno.ENOENT:
        return "there is no such folder"
    return getattr(error, "strerror", None) or str(error) or type(error).__name__
