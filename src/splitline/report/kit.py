"""What has to be in the tool crib before the job starts: a pure function of plan and assessment.

Sizes and ranges come from the assessment; what it does not know is None and printed as ``missing``. Work is one joint,
lift or fit after another, so tools are counted for the one that needs most of them at once, slings by their tags.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.plan.model import Plan
from splitline.units import STANDARD_GRAVITY, System, show

INCH = 0.0254
SPARE_BASIS = "one spare of each tool and gauge: common practice, no published source"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list. ``needed`` None: not known; ``size`` None: not known; "" where there is nothing to say."""

    section: str
    what: str
    size: str | None = ""
    needed: int | None = 1
    spare: int = 0
    serials: tuple[str, ...] = ()
    used_in: tuple[str, ...] = ()
    note: str = ""
    count_out: bool = False

    @property
    def total(self) -> int | None:
        """Needed and spare together; None where the need is not known."""
        return None if self.needed is None else self.needed + self.spare

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


@dataclass(frozen=True, slots=True)
class Kit:
    """The kit list, in sections."""

    title: str
    lines: tuple[Line, ...] = field(default=())

    @property
    def sections(self) -> tuple[str, ...]:
        """Sections that have lines, in their order."""
        return tuple(dict.fromkeys(line.section for line in self.lines))

    def of(self, section: str) -> tuple[Line, ...]:
        """Lines of one section."""
        return tuple(line for line in self.lines if line.section == section)

    def total(self, section: str) -> int | None:
        """Pieces of a section, spares included; None where one of its lines is not known."""
        totals = [line.total for line in self.of(section)]
        known = [total for total in totals if total is not None]
        return sum(known) if len(known) == len(totals) else None

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "format": 1,
            "plan": self.title,
            "spares": SPARE_BASIS,
            "sections": [
                {"section": name, "total": self.total(name), "lines": [line.as_json() for line in self.of(name)]}
                for name in self.sections
            ],
        }


def kit(plan: Plan, assessment: Assessment, system: System | None = None) -> Kit:
    """The kit list of a whole plan, sizes written in ``system`` (the plan's own if left out)."""
    from splitline.report.kit_lines.bolting import bolting_lines
    from splitline.report.kit_lines.fitting import fitting_lines
    from splitline.report.kit_lines.lifting import lifting_lines
    from splitline.report.kit_lines.measuring import measuring_lines
    from splitline.report.kit_lines.parts import part_lines

    units: System = system or ("US" if plan.us else "SI")
    found: list[Line] = []
    for lines in (bolting_lines, fitting_lines, lifting_lines, measuring_lines, part_lines):
        found += lines(plan, assessment, units)
    order = tuple(dict.fromkeys(line.section for line in found))
    return Kit(plan.info.title, tuple(sorted(found, key=lambda line: order.index(line.section))))


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
    found: dict[tuple[Any, ...], Line] = {}
    for line in lines:
        key = (line.section, line.what, line.size, line.size is None and line.used_in)
        before = found.get(key)
        found[key] = line if before is None else _both(before, line)
    return list(found.values())


def _both(a: Line, b: Line) -> Line:
    needed = None if a.needed is None or b.needed is None else max(a.needed, b.needed)
    return replace(
        a,
        needed=needed,
        spare=max(a.spare, b.spare),
        serials=_union(a.serials, b.serials),
        used_in=_union(a.used_in, b.used_in),
        note="; ".join(_union([a.note] if a.note else [], [b.note] if b.note else [])),
        count_out=a.count_out or b.count_out,
    )


def _union(a: Sequence[str], b: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*a, *b)))
