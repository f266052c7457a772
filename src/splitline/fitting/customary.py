"""Rules of thumb as published: compared with, never designed by. Each says its source and unit system."""

from __future__ import annotations

from bisect import bisect_right
from typing import Literal

from splitline.errors import InputError
from splitline.fitting.guard import positive

INCH = 0.0254
SHORT_TON_FORCE = 2000 * 4.4482216152605  # N

BearingRule = Literal["1 mil + 1 mil/in", "2 mil + 1 mil/in", "1.5 mil/in"]

# Bearing oil seal, diametral clearance in 0.001 in by shaft diameter up to the next bound in inches; +0.002/−0 in.
# ANSI/EASA AR100-2020, Table 2-7.
_SEAL_BOUNDS = (3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 7.5)
_SEAL_FAST = (9, 10, 12, 14, 15, 17, 18, 20, 21)
_SEAL_SLOW = (12, 14, 16, 18, 20, 22, 24, 26, 28)
SEAL_TOLERANCE = 0.002 * INCH


def sleeve_clearance(journal: float, rule: BearingRule) -> float:
    """Diametral clearance (m) of a plain sleeve bearing for a journal diameter (m) by one of three rules of thumb.

    Source: EASA, "Sleeve bearing clearance depends on many factors" (2016). The maker's figure governs.
    """
    inches = positive(journal, "journal diameter") / INCH
    mils = {"1 mil + 1 mil/in": 1 + inches, "2 mil + 1 mil/in": 2 + inches, "1.5 mil/in": 1.5 * inches}
    if rule not in mils:
        raise InputError(f"no such rule: {rule!r}; one of {', '.join(mils)}")
    return mils[rule] * 1e-3 * INCH


def oil_seal_clearance(shaft: float, speed_rpm: float) -> float:
    """Diametral clearance (m, +0.05 mm/−0) of a bearing oil seal (labyrinth) for a shaft diameter (m) and speed.

    Columns: up to 1800 rpm and 3000 to 3600 rpm; between them the tighter is not known, so 1800 to 3000 and above
    3600 rpm are refused. Shafts of 3.0 to 7.5 in. Source: ANSI/EASA AR100-2020, Table 2-7.
    """
    inches = positive(shaft, "shaft diameter") / INCH
    if not _SEAL_BOUNDS[0] <= inches <= _SEAL_BOUNDS[-1]:
        raise InputError(f"the guide covers shafts of 76.2 to 190.5 mm, not {shaft * 1e3:.1f} mm")
    if 0 < speed_rpm <= 1800:
        column = _SEAL_SLOW
    elif 3000 <= speed_rpm <= 3600:
        column = _SEAL_FAST
    else:
        raise InputError(f"the guide covers up to 1800 and 3000 to 3600 rpm, not {speed_rpm:g} rpm")
    row = min(bisect_right(_SEAL_BOUNDS, inches * (1 + 1e-12)) - 1, len(column) - 1)
    return column[row] * 1e-3 * INCH


def tyre_allowance(diameter: float) -> float:
    """Shrink allowance (m, diametral) of a locomotive tyre for its wheel-centre diameter (m): 1.06 thousandths of it.

    Source: F. D. Jones, Turning and Boring (c. 1914), master mechanics' table 38 to 66 in. Historic; a thin ring of
    steel then stands at E × 0.00106, about 220 MPa of hoop stress.
    """
    return 1.06e-3 * positive(diameter, "wheel-centre diameter")


def historic_press_force(pin: float) -> float:
    """Force (N) to press a steel pin (diameter m) into a cast-steel centre: 15 D + 15 short tons, D in inches.

    Source: Applied Science for Metal Workers (public domain), historic shop rule.
    """
    return (15 * positive(pin, "pin diameter") / INCH + 15) * SHORT_TON_FORCE
