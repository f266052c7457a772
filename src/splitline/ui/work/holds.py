"""The hold of a fit under pressure: since when the ram holds, what broke the hold, when it began again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from splitline.errors import RecordError
from splitline.record.clock import ClockChange, passed
from splitline.record.entry import PRESSURE_LOST, PRESSURE_LOST_BEFORE, Entry, Note, Signed

BROKEN = PRESSURE_LOST
AGAIN = "pressure restored"
AGAIN_BEFORE = ("hold begins anew",)  # as records of 0.1 say it


@dataclass(frozen=True, slots=True)
class Hold:
    """A hold as it stands."""

    since: datetime | None = None
    number: int = 0  # of the entry it began with
    broken: Note | None = None  # not begun again yet

    def left(self, wait: float, now: datetime, clock: Sequence[ClockChange] = ()) -> float:
        """Seconds still to be held; all of them while the hold is broken. A clock that was set holds nothing."""
        if self.broken is not None or self.since is None:
            return wait
        return max(wait - passed(self.since, self.number, now, clock), 0.0)


def hold_of(alive: Iterable[Entry], fit: str, before: Signed | None) -> Hold:
    """The hold that began with the mounting step ``before``: time held before a break does not count."""
    since, number, broken = (before.done_at, before.number, None) if before is not None else (None, 0, None)
    for entry in alive:
        if isinstance(entry, Note) and entry.item == fit and before is not None and entry.number > before.number:
            if entry.topic in (BROKEN, *PRESSURE_LOST_BEFORE):
                broken = entry
            elif entry.topic in (AGAIN, *AGAIN_BEFORE):
                since, number, broken = entry.done_at, entry.number, None
    return Hold(since, number, broken)


def hold_lines(hold: Hold, wait: float, now: datetime, clock: Sequence[ClockChange] = ()) -> list[tuple[str, str]]:
    """What the screen says of it."""
    if hold.broken is not None:
        at = f"{hold.broken.done_at:%H:%M}" if hold.broken.done_at else ""
        return [
            (
                f"PRESSURE LOST {at}: {hold.broken.text} ({hold.broken.done_by}). The time held so far does not count.",
                "fails",
            ),
            (
                "Measure the advance first: it may have moved. Bring the ram back to its pressure: the full hold time restarts.",
                "strong",
            ),
        ]
    left = hold.left(wait, now, clock)
    if left <= 0 or hold.since is None:
        return []
    hours, rest = divmod(round(left), 3600)
    minutes, seconds = divmod(rest, 60)
    said = f"{hours}:{minutes:02d} h" if hours else f"{minutes}:{seconds:02d} min"
    end = now + timedelta(seconds=left)
    return [
        (f"since {hold.since:%H:%M}, over at {end:%H:%M}; it counts on while this screen is off", ""),
        (f"Done opens in {said}, when the time is over.", "dim"),
    ]


def check_mounting(
    alive: tuple[Entry, ...],
    steps: frozenset[str],
    fit: str,
    part: str,
    wait: float,
    now: datetime,
    clock: Sequence[ClockChange] = (),
) -> None:
    """RecordError unless this mounting step is the next one and its hold is over; asked under the lock."""
    done = {e.pass_: e for e in alive if isinstance(e, Signed) and e.act == "mounting" and e.step in steps}
    if part in done:
        by = done[part]
        raise RecordError(f"mounting step {part} is done already: entry {by.number}, {by.done_by}; nothing was stored")
    held = hold_of(alive, fit, done.get(str(int(part) - 1))) if wait and part.isdecimal() else None
    left = held.left(wait, now, clock) if held is not None else 0.0
    if left > 0:
        raise RecordError(f"mounting step {part}: another {left / 60:.1f} min to wait; nothing was stored")
