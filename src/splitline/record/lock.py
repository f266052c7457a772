"""One writer at a time: a lock file beside the record, held by the operating system.

The lock goes with the process that holds it, so a killed writer leaves nothing behind. The file itself is never
deleted: two processes could otherwise lock two files of one name. Where the file system has no such lock (some
network shares) the record refuses to be written; it never falls back to a mere marker file.
"""

from __future__ import annotations

import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from splitline.errors import RecordError

POLL = 0.0007  # s between attempts; finer than an fsync, which is what is waited for
GIVE_WAY = 0.004  # s a writer that had to wait leaves to the others before it comes back
PATIENCE = 30.0  # s before a writer says that another one holds the record


@contextmanager
def locked(path: Path, patience: float = PATIENCE) -> Iterator[None]:
    """Hold the lock at ``path``. RecordError: held too long by another, folder not writable, no lock here."""
    from filelock import FileLock, SoftFileLock, Timeout

    lock = FileLock(path, mode=0o666)  # as the plan's own lock: whoever may write in the folder may take it
    _give_way(path)
    began = time.monotonic()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # filelock's word on a soft fallback; refused below
            lock.acquire(timeout=patience, poll_interval=POLL)
    except Timeout:
        raise RecordError(
            f"{path.name}: another program holds the record and has not given it back; nothing was stored. This screen "
            "waits for it and goes on by itself; if it lasts, look which program has the plan open"
        ) from None
    except (OSError, NotImplementedError) as error:
        raise RecordError(
            f"{path}: the record cannot be locked ({_reason(error)}); nothing was stored. "
            "Make the folder writable, or work through `splitline serve` on the machine that holds the file"
        ) from error
    try:
        waited = False
        if isinstance(lock, SoftFileLock):
            raise RecordError(
                f"{path.parent}: this file system has no locks, so two writers could not be kept apart. "
                "Move the plan to a local disk and work through `splitline serve`"
            )
        waited = time.monotonic() - began > POLL
        yield
    finally:
        lock.release()
        _released[path] = time.monotonic(), waited


# When this process last gave a lock back, and whether it had had to wait for it.
_released: dict[Path, tuple[float, bool]] = {}


def _give_way(path: Path) -> None:
    """Where others wait too, a writer that comes straight back lets them look at the lock first."""
    at, waited = _released.get(path, (0.0, False))
    left = at + GIVE_WAY - time.monotonic()
    if waited and left > 0:
        time.sleep(left)


def _reason(error: BaseException) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error) or type(error).__name__
