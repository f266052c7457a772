"""Limits of size of mating threads, from the standards' own formulas: ISO 965-1 6H/6g and ASME B1.1 2A/2B.

Lengths in m unless a name says otherwise. Used for stripping, where the loosest pair counts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from splitline.bolting.thread import INCH, Thread
from splitline.bolting.tolerance_tables import BY_PITCH, PITCH_DIAMETER, R40, RANGES
from splitline.errors import InputError


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits of one thread and its mate, m."""

    tolerance_class: str  # "6H/6g" or "2B/2A"
    major_max: float  # external thread
    major_min: float
    pitch_max: float
    pitch_min: float
    internal_pitch_min: float  # internal thread
    internal_pitch_max: float
    internal_minor_min: float
    internal_minor_max: float


@lru_cache(maxsize=512)
def limits(thread: Thread) -> Limits:
    """Limits for 6H/6g (metric) or 2B/2A (unified)."""
    return iso_6h_6g(thread) if thread.form == "metric" else asme_2b_2a(thread)


def iso_6h_6g(thread: Thread) -> Limits:
    """ISO 965-1 tolerance class 6H/6g, rounded as tabulated. Valid for d 0.99 to 355 mm; InputError outside.

    Formulas where a pitch is not tabulated: es = −(15 + 11 P), T_d = 180 P^(2/3) − 3.15/√P, T_d2 = 90 P^0.4 d^0.1,
    T_D2 = 1.32 T_d2, T_D1 = 230 P^0.7 (433 P − 190 P^1.22 under 1 mm); P, d in mm (d the geometric mean of the
    standard's diameter range), results in µm rounded to R40.
    """
    d, pitch = thread.d * 1e3, round(thread.pitch * 1e3, 6)
    span = next((r for r in RANGES if r[0] < d <= r[1] * (1.0 + 1e-12)), None)
    if span is None:
        raise InputError(f"ISO 965-1 gives tolerances from 1 to 355 mm; the thread has {d:g} mm")
    es, td, td1 = BY_PITCH.get(pitch) or _iso_by_pitch(pitch)
    td2, tdd2 = PITCH_DIAMETER.get((span[1], pitch)) or _iso_pitch_diameter(pitch, span)
    micro = 1e-6
    d2 = thread.pitch_diameter
    d1 = thread.internal_minor_diameter
    return Limits(
        "6H/6g",
        major_max=thread.d - es * micro,
        major_min=thread.d - (es + td) * micro,
        pitch_max=d2 - es * micro,
        pitch_min=d2 - (es + td2) * micro,
        internal_pitch_min=d2,
        internal_pitch_max=d2 + tdd2 * micro,
        internal_minor_min=d1,
        internal_minor_max=d1 + td1 * micro,
    )


def r40(value: float) -> int:
    """Nearest of the preferred numbers R40 as ISO 965-1 writes them; value in µm, 10 to 1250."""
    if not 9.5 <= value <= 1280.0:
        raise InputError(f"a tolerance of {value:g} µm is outside the series of ISO 965-1")
    return min(R40, key=lambda number: abs(number - value))


def _iso_by_pitch(pitch: float) -> tuple[int, int, int]:
    minor = 230.0 * pitch**0.7 if pitch >= 1.0 else 433.0 * pitch - 190.0 * pitch**1.22
    return r40(15.0 + 11.0 * pitch), r40(180.0 * pitch ** (2.0 / 3.0) - 3.15 / math.sqrt(pitch)), r40(minor)


def _iso_pitch_diameter(pitch: float, span: tuple[float, float]) -> tuple[int, int]:
    td2 = 90.0 * pitch**0.4 * math.sqrt(span[0] * span[1]) ** 0.1
    return r40(td2), r40(1.32 * td2)


# Sizes of the UNC and UNF series whose threads per inch also occur in the constant-pitch series (inch, tpi)
_COARSE_FINE = frozenset(
    {(0.25, 20), (0.25, 28), (0.3125, 18), (0.3125, 24), (0.375, 16), (0.375, 24), (0.4375, 20), (0.5, 20)}
    | {(0.5625, 12), (0.5625, 18), (0.625, 18), (0.75, 16), (1.0, 12), (1.125, 12), (1.25, 12), (1.375, 12), (1.5, 12)}
)
_CONSTANT_PITCH = frozenset({12, 16, 20, 28, 32, 18, 24, 27, 36, 40})


def engagement_for_tolerance(d_inch: float, tpi: float) -> float:
    """Engagement B1.1 bases the pitch diameter tolerance on, inch: D for UNC, UNF, 4UN, 6UN, 8UN, else 9 P."""
    rounded = round(tpi, 6)
    if rounded in _CONSTANT_PITCH and (round(d_inch, 6), rounded) not in _COARSE_FINE and d_inch >= 0.25:
        return 9.0 / tpi
    return d_inch


def asme_2b_2a(thread: Thread) -> Limits:
    """ASME B1.1 classes 2A and 2B, limits rounded to 0.0001 in (internal minor 0.001 in), as tabulated there.

    Inch formulas: T_d2 = 0.0015 D^(1/3) + 0.0015 Le^(1/2) + 0.015 P^(2/3) (2A), 1.3 times that (2B), allowance
    0.3 T_d2, major 0.060 P^(2/3), internal minor 0.25 P − 0.40 P² (0.15 P coarser than 4 per inch; under
    1/4 in 0.05 P^(2/3) + 0.03 P/D − 0.002, within 0.25 P − 0.40 P² and 0.394 P).
    """
    d, pitch = thread.d / INCH, thread.pitch / INCH
    engagement = engagement_for_tolerance(d, 1.0 / pitch)
    td2 = 0.0015 * d ** (1.0 / 3.0) + 0.0015 * math.sqrt(engagement) + 0.015 * pitch ** (2.0 / 3.0)
    allowance = round(0.3 * td2, 4)
    d2 = round(thread.pitch_diameter / INCH, 4)
    minor_places = 3 if d >= 0.138 else 4
    d1 = thread.internal_minor_diameter / INCH
    minor = _minor_tolerance(d, pitch)
    return Limits(
        "2B/2A",
        major_max=(d - allowance) * INCH,
        major_min=(d - allowance - round(0.060 * pitch ** (2.0 / 3.0), 4)) * INCH,
        pitch_max=(d2 - allowance) * INCH,
        pitch_min=(d2 - allowance - round(td2, 4)) * INCH,
        internal_pitch_min=d2 * INCH,
        internal_pitch_max=(d2 + round(1.3 * td2, 4)) * INCH,
        internal_minor_min=round(d1, minor_places) * INCH,
        internal_minor_max=round(d1 + minor, minor_places) * INCH,
    )


def _minor_tolerance(d: float, pitch: float) -> float:
    usual = 0.25 * pitch - 0.40 * pitch * pitch
    if d < 0.25:
        return min(max(0.05 * math.pow(pitch, 2.0 / 3.0) + 0.03 * pitch / d - 0.002, usual), 0.394 * pitch)
    return usual if pitch <= 0.25 + 1e-12 else 0.15 * pitch
