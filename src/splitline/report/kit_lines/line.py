"""One line of the kit list, and how its sizes are written and lines of one thing made one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import reduce
from typing import Any

from splitline.units import STANDARD_GRAVITY, System, show

INCH = 0.0254


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list. ``needed`` None: not known, or the site's to say where ``as_needed``; ``size`` None: not known."""

    section: str
    what: str
    size: str | None = ""
    needed: int | None = 1
    spare: int = 0
    serials: tuple[str, ...] = ()
    used_in: tuple[str, ...] = ()
    note: str = ""
    count_out: bool = False
    as_needed: bool = False  # counted by the site, not by the plan

    @property
    def total(self) -> int | None:
        """Needed and spare together; None where the need is not known."""
        return None if self.needed is None else self.needed + self.spare

    def counted(self, count: int | None) -> str:
        """Its need or total as it is told: ``missing`` where the plan owes a count, ``as needed`` where the site says it."""
        return str(count) if count is not None else "as needed" if self.as_needed else "missing"

    def as_json(self) -> dict[str, Any]:
        """Plain data; what is not known is null."""
        return {
            "what": self.what,
            "size": self.size,
            "needed": self.needed,
            "spare": self.spare,
            "total": self.total,
            "serials": list(self.serials),
            "used_in": list(self.used_in),
            "note": self.note,
            "count_out": self.count_out,
        }


def rated(capacity: float, system: System) -> str:
    """A rated capacity as a force and, as it stands on the tag, as a mass."""
    mass = show(capacity / STANDARD_GRAVITY, "mass", system, "t" if system == "SI" else "lb")
    return f"{show(capacity, 'capacity', system)} ({mass})"


def flats_said(flats: float | None, thread: str | None, system: System) -> str | None:
    """Across flats as it is stamped on the socket: mm for metric threads, inches in sixteenths for inch threads."""
    if flats is None:
        return None
    metric = (thread or "").strip().upper().startswith("M") if thread else system == "SI"
    if metric:
        return show(flats, "length", "SI")
    sixteenths = flats / INCH * 16
    if abs(sixteenths - round(sixteenths)) > 0.05:
        return show(flats, "length", "US")
    whole, part = divmod(round(sixteenths), 16)
    fraction = Fraction(part, 16)
    return " ".join(text for text in (str(whole) if whole else "", str(fraction) if part else "", "in") if text)


def merged(lines: Iterable[Line]) -> list[Line]:
    """Lines of one thing made one: the most any use needs at once, serials and uses joined, notes kept."""
    found: dict[tuple[Any, ...], list[Line]] = {}
    for line in lines:
        found.setdefault((line.section, line.what, line.size, line.size is None and line.used_in), []).append(line)
    return [_one(own) for own in found.values()]


def _one(own: Sequence[Line]) -> Line:
    """One line of several of one thing; each note once."""
    notes = dict.fromkeys(line.note for line in own if line.note)
    return replace(reduce(_both, own), note="; ".join(notes))


def _both(a: Line, b: Line) -> Line:
    needed = None if a.needed is None or b.needed is None else max(a.needed, b.needed)
    return replace(
        a,
        needed=needed,
        spare=max(a.spare, b.spare),
        serials=_union(a.serials, b.serials),
        used_in=_union(a.used_in, b.used_in),
        count_out=a.count_out or b.count_out,
        as_needed=a.as_needed and b.as_needed,
    )


def _union(a: Sequence[str], b: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*a, *b)))
