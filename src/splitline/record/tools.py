"""In whose hands a tool is: one wrench is in one pair of hands, those of the crew that set up with it last.

A set-up is void as soon as another crew sets up with one of its tools. Tools are the same by serial number, by name
where one of the two has none. What is entered from paper counts by when it was done.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from splitline.errors import RecordError
from splitline.record.entry import JOINED, Entry, Signed


def tools_of(entry: Signed) -> tuple[tuple[str, str], ...]:
    """Name and serial number of each tool of a set-up."""
    names = entry.tool.split(JOINED) if entry.tool else []
    serials = entry.serial.split(JOINED)
    if len(serials) != len(names):
        serials = [""] * len(names)
    return tuple(zip(names, serials, strict=True))


def same_tool(one: tuple[str, str], other: tuple[str, str]) -> bool:
    """By serial number; by name where one has none."""
    return one[1] == other[1] if one[1] and other[1] else one[0] == other[0]


def set_ups(alive: Iterable[Entry]) -> tuple[Signed, ...]:
    """Set-ups with a tool, in the order in which they were done."""
    found = [e for e in alive if isinstance(e, Signed) and e.act == "set-up" and e.tool]
    return tuple(sorted(found, key=_when))


def _when(entry: Signed) -> tuple[datetime, int]:
    assert entry.done_at is not None  # the journal gives every entry a time
    return entry.done_at, entry.number


def taken(alive: Iterable[Entry], entry: Signed) -> Signed | None:
    """The set-up of another crew that took a tool of this one over; None while all of its tools are in its hands."""
    own = tools_of(entry)
    for later in set_ups(alive):
        both = any(same_tool(one, other) for one in own for other in tools_of(later))
        if both and _when(later) > _when(entry) and later.crew != entry.crew:
            return later
    return None


def holder(alive: Iterable[Entry], tool: tuple[str, str]) -> Signed | None:
    """The set-up that holds a tool: the last one with it."""
    own = [e for e in set_ups(alive) if any(same_tool(tool, other) for other in tools_of(e))]
    return own[-1] if own else None


def check_hands(alive: Iterable[Entry], setting: Signed | None) -> None:
    """RecordError where a tool of this set-up is in another crew's hands by now."""
    later = taken(alive, setting) if setting is not None else None
    if later is not None and setting is not None:
        raise RecordError(f"{taken_said(setting, later)}; nothing was stored")


def taken_said(entry: Signed, later: Signed) -> str:
    """``wrench W1 W1-118 is with Tomas since 06:20: set up with the tool in your hands``."""
    both = [t for t in tools_of(entry) if any(same_tool(t, other) for other in tools_of(later))]
    said = JOINED.join(" ".join(filter(None, tool)) for tool in both)
    since = f" since {later.done_at:%H:%M}" if later.done_at else ""
    return f"{said} is with {later.crew}{since}: set up with the tool in your hands"
