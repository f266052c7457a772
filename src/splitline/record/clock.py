"""The time, injected so that tests choose it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

Clock = Callable[[], datetime]


def wall() -> datetime:
    """Now, with this machine's offset from UTC, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)
