"""Limits of size of a fit from its tolerance grades (hole basis), in any one unit of length."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.fitting.guard import not_negative, positive
from splitline.fitting.interference import interference_band


@dataclass(frozen=True, slots=True)
class LimitsOfSize:
    """Least and greatest diameter of hole and shaft."""

    hole_low: float
    hole_high: float
    shaft_low: float
    shaft_high: float

    @property
    def interference(self) -> tuple[float, float]:
        """Least and greatest diametral interference; negative is a clearance."""
        return interference_band(self.shaft_low, self.shaft_high, self.hole_low, self.hole_high)


def hole_basis(basic: float, hole_grade: float, shaft_grade: float, deviation: float) -> LimitsOfSize:
    """Limits of an H hole and a shaft; fundamental ``deviation`` positive: lower limit (s6), negative: upper (c11).

    Hole: basic to basic + IT. Shaft above the zero line: basic + deviation and up by IT; below: from it down by IT.
    Source: ISO 286-1; Shigley 9th ed., §7-8, examples 7-7 and 7-8.
    """
    positive(basic, "basic size")
    not_negative(hole_grade, "hole tolerance")
    not_negative(shaft_grade, "shaft tolerance")
    if deviation >= 0.0:
        low = basic + deviation
        return LimitsOfSize(basic, basic + hole_grade, low, low + shaft_grade)
    high = basic + deviation
    return LimitsOfSize(basic, basic + hole_grade, high - shaft_grade, high)
