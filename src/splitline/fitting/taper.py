"""Tapers said in every customary way, and the advance up a taper.

A taper 1:30 is 1 mm of **diameter** in 30 mm of length. The half-angle belongs to one side: tan(half) = 1/(2·30).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import finite, positive

CONTACT_LEAST = 0.80  # share of a blued taper in contact, ANSI/AGMA 9003-B08 clause 9.1
DROP_MOST = 0.25  # most distance of no contact, share of the taper's length, same clause
SELF_HOLDING_LIMIT = 0.5  # a taper on diameter of 1:2 and steeper is a mistake in this trade


@dataclass(frozen=True, slots=True)
class Taper:
    """A taper by its change of diameter per length, ``on_diameter`` (1:30 is 1/30); 0 is a cylinder."""

    on_diameter: float = 0.0

    def __post_init__(self) -> None:
        finite(self.on_diameter, "taper")
        if not 0.0 <= self.on_diameter < SELF_HOLDING_LIMIT:
            raise InputError(
                f"a taper of {self.on_diameter:g} on diameter is out of range (0 to 1:2); give it as 1:n on diameter"
            )

    @property
    def one_in(self) -> float | None:
        """n of 1:n on diameter; None for a cylinder."""
        return 1 / self.on_diameter if self.on_diameter else None

    @property
    def tan_half(self) -> float:
        """Tangent of the half-angle: half the taper on diameter."""
        return self.on_diameter / 2

    @property
    def half_angle(self) -> float:
        """Angle between surface and axis, rad."""
        return math.atan(self.tan_half)

    @property
    def included_angle(self) -> float:
        """Angle between opposite sides, rad; twice the half-angle."""
        return 2 * self.half_angle

    @property
    def inches_per_foot(self) -> float:
        """Change of diameter in inches per foot of length: 12 × taper (3/4 in per ft is 1:16)."""
        return 12 * self.on_diameter

    @property
    def advance_per_interference(self) -> float | None:
        """Advance per diametral interference, n of 1:n: mm per mm, so 0.01 mm of interference takes n × 0.01 mm."""
        return self.one_in


def from_half_angle(half_angle: float) -> Taper:
    """Taper of a half-angle in rad (the angle to the axis, not the included one): 2 tan(half-angle) on diameter."""
    return Taper(2 * math.tan(half_angle))


def from_inches_per_foot(inches: float) -> Taper:
    """Taper of so many inches of diameter per foot of length."""
    return Taper(inches / 12)


def advance_for(interference: float, taper: Taper) -> float:
    """Advance (m) from zero, where hub and shaft just touch, that makes a diametral interference (m): δ/taper."""
    if taper.on_diameter == 0.0:
        raise InputError("a cylindrical fit has no advance; give the taper, or the interference instead of the advance")
    return finite(interference, "interference") / taper.on_diameter


def interference_of(advance: float, taper: Taper) -> float:
    """Diametral interference (m) made by an advance (m) from zero: advance × taper."""
    if taper.on_diameter == 0.0:
        raise InputError("a cylindrical fit has no advance; give the taper, or the interference instead of the advance")
    return positive(advance, "advance") * taper.on_diameter
