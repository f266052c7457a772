"""Limits of size of mating threads, from the standards' own formulas: ISO 965-1 6H/6g and ASME B1.1 2A/2B.

Lengths in m unless a name says otherwise. Used for stripping, where the loosest pair counts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from splitline.bolting.thread import INCH, Thread
from splitline.errors import InputError

# pitch mm: fundamental deviation es of g (−), major tolerance T_d 6, minor tolerance T_D1 6
BY_PITCH: dict[float, tuple[int, int, int]] = {
    0.35: (19, 85, 100), 0.4: (19, 95, 112), 0.45: (20, 100, 125), 0.5: (20, 106, 140), 0.6: (21, 125, 160),
    0.7: (22, 140, 180), 0.75: (22, 140, 190), 0.8: (24, 150, 200), 1.0: (26, 180, 236), 1.25: (28, 212, 265),
    1.5: (32, 236, 300), 1.75: (34, 265, 335), 2.0: (38, 280, 375), 2.5: (42, 335, 450), 3.0: (48, 375, 500),
    3.5: (53, 425, 560), 4.0: (60, 475, 600), 4.5: (63, 500, 670), 5.0: (71, 530, 710), 5.5: (75, 560, 750),
    6.0: (80, 600, 800), 8.0: (100, 710, 950),
}  # fmt: skip

# diameter range mm (over, up to and including)
RANGES: tuple[tuple[float, float], ...] = (
    (0.99, 1.4), (1.4, 2.8), (2.8, 5.6), (5.6, 11.2), (11.2, 22.4), (22.4, 45.0), (45.0, 90.0), (90.0, 180.0),
    (180.0, 355.0),
)  # fmt: skip

# (upper end of the range mm, pitch mm): pitch diameter tolerances T_d2 6 (external), T_D2 6 (internal)
PITCH_DIAMETER: dict[tuple[float, float], tuple[int, int]] = {
    (2.8, 0.35): (63, 85), (2.8, 0.4): (67, 90), (2.8, 0.45): (71, 95),
    (5.6, 0.35): (67, 90), (5.6, 0.5): (75, 100), (5.6, 0.6): (85, 112), (5.6, 0.7): (90, 118),
    (5.6, 0.75): (90, 118), (5.6, 0.8): (95, 125),
    (11.2, 0.75): (100, 132), (11.2, 1.0): (112, 150), (11.2, 1.25): (118, 160), (11.2, 1.5): (132, 180),
    (22.4, 1.0): (118, 160), (22.4, 1.25): (132, 180), (22.4, 1.5): (140, 190), (22.4, 1.75): (150, 200),
    (22.4, 2.0): (160, 212), (22.4, 2.5): (170, 224),
    (45.0, 1.0): (125, 170), (45.0, 1.5): (150, 200), (45.0, 2.0): (170, 224), (45.0, 3.0): (200, 265),
    (45.0, 3.5): (212, 280), (45.0, 4.0): (224, 300), (45.0, 4.5): (236, 315),
    (90.0, 1.5): (160, 212), (90.0, 2.0): (180, 236), (90.0, 3.0): (212, 280), (90.0, 4.0): (236, 315),
    (90.0, 5.0): (250, 335), (90.0, 5.5): (265, 355), (90.0, 6.0): (280, 375),
    (180.0, 2.0): (190, 250), (180.0, 3.0): (224, 300), (180.0, 4.0): (250, 335), (180.0, 6.0): (300, 400),
    (180.0, 8.0): (335, 450),
    (355.0, 3.0): (250, 335), (355.0, 4.0): (280, 375), (355.0, 6.0): (315, 425), (355.0, 8.0): (355, 475),
}  # fmt: skip

# R40 series of preferred numbers, rounded as ISO 965-1 writes them
R40: tuple[int, ...] = (
    10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 24, 25, 26, 28, 30, 32, 34, 36, 38, 40, 42, 45, 48, 50, 53, 56,
    60, 63, 67, 71, 75, 80, 85, 90, 95, 100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236,
    250, 265, 280, 300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900,
    950, 1000, 1060, 1120, 1180, 1250,
)  # fmt: skip


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
