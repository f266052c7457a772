"""How a reading is judged by its limits: one rule for the fitter's screen, the paper table, the record and ``check``."""

from __future__ import annotations

from typing import Literal

Verdict = Literal["inside", "outside", "not judged"]

SIGNED = frozenset(("temperature", "voltage"))  # below zero they mean something else than above
ROUNDING = 1e-9  # of the limit: a figure typed as the limit counts as the limit


def is_magnitude(low: float | None, high: float | None, quantity: str) -> bool:
    """Whether the limits bound a magnitude: an upper one alone, of what has no own meaning below zero.

    A tilt, a gap, a runout or a difference of two readings may come with either sign off the dial; what may be 3.6 mrad
    may not be −5 mrad. A signed quantity (a position) has a limit at each end.
    """
    return low is None and high is not None and high >= 0 and quantity not in SIGNED


def counted(value: float, low: float | None, high: float | None, quantity: str) -> float:
    """What the limits are held against, SI: the reading, or its magnitude.

    A voltage whose limits lie at or below zero is a probe's: a meter with its leads the other way round, or a fitter who
    leaves the minus off, means the same gap.
    """
    if quantity == "voltage" and high is not None and high <= 0:
        return -abs(value)
    return abs(value) if is_magnitude(low, high, quantity) else value


def judged(value: float, low: float | None, high: float | None, quantity: str) -> Verdict:
    """A reading against its limits, SI; a limit counts as inside."""
    if low is None and high is None:
        return "not judged"
    figure = counted(value, low, high, quantity)
    under = low is not None and figure < low - ROUNDING * abs(low)
    over = high is not None and figure > high + ROUNDING * abs(high)
    return "outside" if under or over else "inside"
