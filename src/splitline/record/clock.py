"""The time, injected so that tests choose it; and the machine's own count of seconds, which nobody sets.

A wall clock can be set back or forward in the middle of a time limit. Each entry therefore also carries what the machine has
counted since it was started, where the machine tells that: between two entries of one start, both clocks must agree.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Protocol

Clock = Callable[[], datetime]
LEAST = 30.0  # s by which wall clock and machine may part: the entry's second, and a clock that a network trims
BACK = 2.0  # s by which an entry may stand before the one before it


@dataclass(frozen=True, slots=True)
class Tick:
    """The machine's own count: s since it was started, and which start that was."""

    boot: str
    seconds: float


Machine = Callable[[], Tick | None]


def wall() -> datetime:
    """Now, with this machine's offset from UTC, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


def machine() -> Tick | None:
    """What this machine has counted, sleep included; None where it does not tell which start it counts from."""
    boot = _boot()
    if not boot or not hasattr(time, "CLOCK_BOOTTIME"):
        return None
    return Tick(boot, round(time.clock_gettime(time.CLOCK_BOOTTIME), 1))


def unknown() -> Tick | None:
    """A machine that tells nothing."""
    return None


@cache
def _boot() -> str:
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except (OSError, ValueError):
        return ""


class Timed(Protocol):
    """What an entry tells of its time."""

    @property
    def number(self) -> int: ...
    @property
    def entered_at(self) -> datetime | None: ...
    @property
    def boot(self) -> str: ...
    @property
    def tick(self) -> float | None: ...


@dataclass(frozen=True, slots=True)
class ClockChange:
    """The wall clock was set between two entries, or since the last one (``upto`` 0)."""

    after: int  # number of the entry before it
    upto: int  # number of the entry that shows it; 0: none yet
    seconds: float  # forward; below 0 back
    exact: bool  # by the machine's own count; else only that time ran backwards is known

    @property
    def text(self) -> str:
        """In words."""
        way = "forward" if self.seconds > 0 else "back"
        by = _span(abs(self.seconds))
        since = f"between entries {self.after} and {self.upto}" if self.upto else f"after entry {self.after}"
        return f"the clock was set {way} by {'' if self.exact else 'at least '}{by} {since}"

    @property
    def key(self) -> str:
        """What an acceptance names: the same before and after the entry that shows it."""
        return f"clock after entry {self.after}"


def clock_changes(
    entries: Iterable[Timed], now: datetime | None = None, tick: Tick | None = None
) -> tuple[ClockChange, ...]:
    """Where the wall clock was set, by the entries in their order and, where given, by this moment."""
    found: list[ClockChange] = []
    before: Timed | None = None
    for entry in entries:
        if before is not None and before.entered_at is not None and entry.entered_at is not None:
            own = Tick(entry.boot, entry.tick) if entry.tick is not None else None
            found += _between(before, entry.entered_at, own, entry.number)
        before = entry
    if before is not None and now is not None:
        found += _between(before, now, tick, 0)
    return tuple(found)


def passed(since: datetime, number: int, now: datetime, changes: Iterable[ClockChange]) -> float:
    """Seconds from an entry of this number on, done at ``since``: what the clock was set by meanwhile is no time that passed."""
    moved = sum(change.seconds for change in changes if change.exact and change.after >= number)
    return (now - since).total_seconds() - moved


def _between(before: Timed, at: datetime, tick: Tick | None, number: int) -> list[ClockChange]:
    assert before.entered_at is not None
    wall_time = (at - before.entered_at).total_seconds()
    if tick is not None and before.tick is not None and tick.boot == before.boot:
        jump = wall_time - (tick.seconds - before.tick)
        return [ClockChange(before.number, number, jump, True)] if abs(jump) > LEAST else []
    return [ClockChange(before.number, number, wall_time, False)] if wall_time < -BACK else []


def _span(seconds: float) -> str:
    whole = round(seconds)
    if whole >= 3600:
        return f"{whole // 3600}:{whole % 3600 // 60:02d} h"
    return f"{whole // 60}:{whole % 60:02d} min"
