"""Joint-gap map: feeler readings round a joint face against the feeler that must not enter, and how even they are."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import not_negative


@dataclass(frozen=True, slots=True)
class GapMap:
    """A judged gap map: greatest and least gap (m), where (index), the places above the limit, the spread (m)."""

    greatest: float
    least: float
    widest_at: int
    open_places: tuple[int, ...]
    limit: float

    @property
    def spread(self) -> float:
        """Greatest less least gap, m: a cover pulled down evenly keeps it under 0.05 to 0.1 mm (common practice)."""
        return self.greatest - self.least

    @property
    def closed(self) -> bool:
        """True when no place is above the limit."""
        return not self.open_places


def gap_map(readings: tuple[float, ...], limit: float) -> GapMap:
    """Judge gap readings (m, in order round the joint) against ``limit`` (m)."""
    if not readings:
        raise InputError("a gap map needs at least one reading")
    for i, gap in enumerate(readings):
        not_negative(gap, f"gap reading {i + 1}")
    not_negative(limit, "gap limit")
    greatest = max(readings)
    over = tuple(i for i, gap in enumerate(readings) if gap > limit)
    return GapMap(greatest, min(readings), readings.index(greatest), over, limit)


def tilt_of(readings: tuple[float, ...]) -> tuple[float, float]:
    """Tilt of a cover from gaps at equal steps round a circle: (amplitude in m, place as a share of the turn).

    First harmonic of the readings, 2/n Σ g e^(−iθ): amplitude is half the difference between the widest and the
    narrowest side of the tilted plane, the place is its widest point from the first reading. Needs three or more.
    """
    import cmath
    import math

    count = len(readings)
    if count < 3:
        raise InputError("tilt needs gap readings at three or more equal steps round the circle")
    turn = 2 / count * sum(gap * cmath.exp(2j * math.pi * i / count) for i, gap in enumerate(readings))
    return abs(turn), (cmath.phase(turn) / (2 * math.pi)) % 1.0 if abs(turn) > 0.0 else 0.0
