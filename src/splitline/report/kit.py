"""What has to be in the tool crib before the job starts: a pure function of plan and assessment.

Sizes and ranges come from the assessment; what it does not know is None and printed as ``missing``. Work is one joint,
lift or fit after another, so tools are counted for the one that needs most of them at once, slings by their tags.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.plan.model import Plan
from splitline.report.kit_lines.bolting import bolting_lines
from splitline.report.kit_lines.fitting import fitting_lines
from splitline.report.kit_lines.lifting import lifting_lines
from splitline.report.kit_lines.line import Line
from splitline.report.kit_lines.measuring import measuring_lines
from splitline.report.kit_lines.parts import COUNTED, PARTS, part_lines
from splitline.report.kit_lines.reminders import REMINDERS, reminder_lines
from splitline.units import System

SPARE_BASIS = "one spare of each tool and gauge: common practice, no published source"


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

    def adds(self, section: str) -> bool:
        """Whether its pieces may be added: several lines, all of one thing; sockets and keys, or unlike slings, are not."""
        lines = self.of(section)
        one = len({line.what for line in lines}) == 1
        return one and len(lines) > 1 and section not in (PARTS, COUNTED, REMINDERS)

    def total(self, section: str) -> int | None:
        """Pieces of a section, spares included, where they may be added; None where one of its lines is not known."""
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
                {
                    "section": name,
                    "total": self.total(name) if self.adds(name) else None,
                    "lines": [line.as_json() for line in self.of(name)],
                }
                for name in self.sections
            ],
        }


def kit(plan: Plan, assessment: Assessment, system: System | None = None) -> Kit:
    """The kit list of a whole plan, sizes written in ``system`` (the plan's own if left out)."""
    units: System = system or ("US" if plan.us else "SI")
    found: list[Line] = []
    for lines in (bolting_lines, fitting_lines, lifting_lines, measuring_lines, part_lines, reminder_lines):
        found += lines(plan, assessment, units)
    order = tuple(dict.fromkeys(line.section for line in found))
    return Kit(plan.info.title, tuple(sorted(found, key=lambda line: order.index(line.section))))
