"""The register of tools and measuring instruments: each by its serial, with its calibration on the days it was used.

A wrench counts as used on the day of each set-up with it, an instrument on the day of each reading. Older set-ups of several
tools say of calibration only which day is the first to run out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from splitline.record.entry import Entry, Measured, Signed
from splitline.record.fact_kinds import ToolUsed
from splitline.record.tools import tools_of

NOT_GIVEN = "calibration not given"
HELD = "in calibration"


@dataclass(frozen=True, slots=True)
class Use:
    """One use of one tool: what for, when, on what, in which entry."""

    act: str  # "set-up" or "reading"
    tool: str
    serial: str
    due: date | None
    day: date | None
    on: str
    entry: int


def lapsed(due: date | None, day: date | None) -> bool:
    """Whether a calibration had run out on a day; one that runs out that day still holds."""
    return due is not None and day is not None and day > due


def uses(alive: Sequence[Entry]) -> Iterator[Use]:
    """Every use, in the order of the record."""
    for entry in alive:
        day = entry.done_at.date() if entry.done_at else None
        if isinstance(entry, Signed) and entry.act == "set-up":
            for nth, (tool, serial) in enumerate(tools_of(entry)):
                place = f"{entry.joint} {entry.pass_}".strip()
                yield Use("set-up", tool, serial, due_of(entry, nth), day, place, entry.number)
        elif isinstance(entry, Measured) and (entry.instrument or entry.serial):
            due = entry.calibration_due
            yield Use("reading", entry.instrument, entry.serial, due, day, entry.item, entry.number)


def due_of(entry: Signed, nth: int) -> date | None:
    """When the calibration of the ``nth`` tool of a set-up runs out: its own day, or the first of them all."""
    try:
        return date.fromisoformat(entry.dues[nth])
    except (IndexError, ValueError):
        return entry.calibration_due


def register(alive: Sequence[Entry]) -> tuple[ToolUsed, ...]:
    """One fact a tool and calibration date; a tool calibrated anew during the job has two."""
    found: dict[tuple[str, str, str, date | None], list[Use]] = {}
    for use in uses(alive):
        found.setdefault((use.act, use.tool, use.serial, use.due), []).append(use)
    return tuple(_one(own) for own in found.values())


def _one(own: list[Use]) -> ToolUsed:
    first = own[0]
    days = sorted({use.day for use in own if use.day is not None})
    late = [day for day in days if lapsed(first.due, day)]
    said = HELD if not late else f"LAPSED on {', '.join(day.isoformat() for day in late)}"
    return ToolUsed(
        act=first.act, tool=first.tool, serial=first.serial, calibration_due=first.due,
        on_the_day=NOT_GIVEN if first.due is None else said,
        first_day=days[0] if days else None, last_day=days[-1] if days else None,
        used_on=tuple(dict.fromkeys(use.on for use in own)), entries=tuple(use.entry for use in own),
    )  # fmt: skip
