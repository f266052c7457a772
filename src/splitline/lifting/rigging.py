"""What slings and fittings may carry: hitches, choke angle, bending, angled pull; the weakest part of a chain named."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from splitline.errors import InputError

Table = Sequence[tuple[float, float]]  # (angle rad, factor) in rising angle

# angle of choke, above 120 and from this many degrees up -> share of the choker rating (ASME B30.9)
CHOKE = ((120.0 + 1e-6, 1.0), (90.0, 0.87), (60.0, 0.74), (30.0, 0.62), (0.0, 0.49))
# D/d -> share of strength left in wire rope bent round a pin; rigging reference; 10 and 8 from memory
BENT = ((1.0, 0.50), (2.0, 0.65), (4.0, 0.75), (6.0, 0.79), (8.0, 0.83), (10.0, 0.86), (15.0, 0.89), (20.0, 0.91),
        (30.0, 0.93), (40.0, 0.95))  # fmt: skip
# side load on a shackle, rad -> share of rated load (rigging reference; 90 degrees from memory)
SHACKLE_SIDE: Table = ((0.0, 1.0), (math.pi / 4.0, 0.70), (math.pi / 2.0, 0.50))
SHACKLE_SPREAD = math.radians(120.0)  # greatest included angle of two legs in one shackle (rigging reference)
# EN mode factors of a set by angle from the vertical, up to 45 and 60 degrees (EN 13414-1, EN 1492)
MODES = {2: (1.4, 1.0), 3: (2.1, 1.5), 4: (2.1, 1.5)}


@dataclass(frozen=True, slots=True)
class Part:
    """One part between hook and load."""

    name: str
    demand: float  # N
    capacity: float | None  # N as used; None = not given
    basis: str = ""

    @property
    def usage(self) -> float | None:
        """Demand over capacity; None when no capacity is given, infinity when nothing may hang on it so."""
        if self.capacity is None:
            return None
        return math.inf if self.capacity <= 0.0 else self.demand / self.capacity


def choke_factor(angle: float) -> float:
    """Share of the choker rating at an angle of choke (rad, 0 to pi). Source: ASME B30.9."""
    if not 0.0 <= angle <= math.pi + 1e-9:
        raise InputError("angle of choke must be between 0 and 180 degrees")
    degrees = math.degrees(angle) + 1e-9
    return next(factor for low, factor in CHOKE if degrees >= low)


def bend_efficiency(ratio: float) -> float:
    """Share of wire rope strength left at bend ratio D/d, straight between the published points.

    Range D/d 1 to 40; above 40 stays 0.95. Source: wire-rope bending efficiency curve as printed in rigging references.
    """
    if not ratio >= 1.0:
        raise InputError(f"D/d = {ratio:.2f}: a rope may not be bent round less than its own diameter")
    if ratio >= BENT[-1][0]:
        return BENT[-1][1]
    return _between(BENT, ratio)


def bending_factor(ratio: float) -> float:
    """Strength over bent strength, 1/(1 - 0.5/sqrt(D/d)), D/d >= 1. Source: 0027/ND Rev 11.2, 7.8.1 (after IMCA M 179)."""
    if not ratio >= 1.0:
        raise InputError(f"D/d = {ratio:.2f}: the bending factor holds from 1 up")
    return 1.0 / (1.0 - 0.5 / math.sqrt(ratio))


def sling_capacity(
    vertical: float,
    hitch: str = "single",
    choker_factor: float = 0.75,
    choke_angle: float | None = None,
    bend_ratio: float | None = None,
    basket_angle: float = math.pi / 2.0,
) -> float:
    """Capacity of one leg along its own line, N, from its single vertical rating, N.

    single: vertical; choker: vertical x choker_factor x choke factor (of the choker rating, full above 120 degrees);
    basket: both parts at their angle from the horizontal, 2 x vertical x sin(basket_angle). bend_ratio D/d takes the
    bending efficiency (wire rope). Source: ASME B30.9.
    """
    if not vertical > 0.0:
        raise InputError("a sling's capacity must be above 0")
    if hitch == "choker":
        factor = choker_factor * (choke_factor(choke_angle) if choke_angle is not None else 1.0)
    elif hitch in ("single", "basket"):
        if not 0.0 < basket_angle <= math.pi / 2.0 + 1e-9:
            raise InputError("the parts of a basket stand above 0 and up to 90 degrees from the horizontal")
        factor = 2.0 * math.sin(basket_angle) if hitch == "basket" else 1.0
    else:
        raise InputError(f'hitch "{hitch}": use single, choker or basket')
    return vertical * factor * (bend_efficiency(bend_ratio) if bend_ratio is not None else 1.0)


def set_capacity(single: float, carrying: float, angle: float) -> float:
    """Load of a symmetric set: single x carrying legs x sin(angle from the horizontal, rad); N.

    OSHA chain tables take two legs as 2, three and four as 3; AS 3775 and Navy practice four as 2.
    """
    if not 0.0 < angle <= math.pi / 2.0 + 1e-12:
        raise InputError("angle from the horizontal must be above 0 and up to 90 degrees")
    return single * carrying * math.sin(angle)


def mode_capacity(single: float, legs: int, from_vertical: float) -> float:
    """Load of an EN rated set, N: single x 1.4/1.0 (two legs) or 2.1/1.5 (three, four), to 45 and to 60 degrees."""
    if legs not in MODES:
        raise InputError("EN mode factors are for sets of two, three or four legs")
    limits = (math.pi / 4.0, math.pi / 3.0)
    for limit, factor in zip(limits, MODES[legs], strict=True):
        if 0.0 <= from_vertical <= limit + 1e-9:
            return single * factor
    raise InputError("EN mode factors end at 60 degrees from the vertical")


def rope_capacity(breaking: float, termination: float = 0.9, coefficient: float = 5.0, legs: float = 1.0) -> float:
    """Working load of wire rope slings, F_min K_T K_L/Z_p, in the unit of F_min. Source: EN 13414-1."""
    if breaking <= 0.0 or not 0.0 < termination <= 1.0 or coefficient < 1.0:
        raise InputError("breaking force above 0, termination factor up to 1, coefficient of utilisation from 1")
    return breaking * termination * legs / coefficient


def angled_factor(table: Table, angle: float) -> float | None:
    """Share of a fitting's rating at a pull ``angle`` (rad) off its axis, straight between the rows; None beyond them."""
    rows = sorted(table)
    if not rows or any(not 0.0 <= factor <= 2.0 for _, factor in rows):
        raise InputError("an angled-pull table needs rows of angle and factor (0 to 2)")
    if angle <= rows[0][0]:
        return rows[0][1]
    if angle > rows[-1][0] + math.radians(0.05):
        return None
    return rows[-1][1] if angle >= rows[-1][0] else _between(rows, angle)


def pull_angle(axis: Sequence[float], direction: Sequence[float]) -> float:
    """Angle between a fitting's axis and the pull (both in the load's frame), rad, 0 to pi."""
    long = math.hypot(*axis) * math.hypot(*direction)
    if long <= 0.0:
        raise InputError("pull_axis needs a direction other than (0, 0, 0)")
    cosine = math.fsum(a * b for a, b in zip(axis, direction, strict=True)) / long
    return math.acos(max(-1.0, min(1.0, cosine)))


def weakest(parts: Sequence[Part]) -> Part | None:
    """The part with the greatest usage; parts without a capacity count first, since nobody can say they hold."""
    unknown = next((part for part in parts if part.capacity is None), None)
    if unknown is not None or not parts:
        return unknown
    return max(parts, key=lambda part: part.usage or 0.0)


def _between(rows: Sequence[tuple[float, float]], x: float) -> float:
    for (low, first), (high, second) in pairwise(rows):
        if low <= x <= high:
            return first + (second - first) * (x - low) / (high - low) if high > low else min(first, second)
    raise InputError(f"{x:.4g} is outside the table")
