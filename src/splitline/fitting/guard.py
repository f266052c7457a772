"""Range checks shared by the fitting room: each refuses with where, what and what to do."""

from __future__ import annotations

import math

from splitline.errors import InputError


def positive(value: float, name: str) -> float:
    """The value back if it is finite and above 0; InputError otherwise."""
    if not math.isfinite(value) or value <= 0.0:
        raise InputError(f"{name} must be above 0 and finite, is {value:g}")
    return value


def not_negative(value: float, name: str) -> float:
    """The value back if it is finite and not below 0; InputError otherwise."""
    if not math.isfinite(value) or value < 0.0:
        raise InputError(f"{name} must not be below 0 and must be finite, is {value:g}")
    return value


def finite(value: float, name: str) -> float:
    """The value back if it is a finite number; InputError otherwise."""
    if not math.isfinite(value):
        raise InputError(f"{name} must be a finite number, is {value}")
    return value


def ordered(low: float, high: float, name: str) -> tuple[float, float]:
    """The pair back if low ≤ high; InputError otherwise."""
    finite(low, name)
    finite(high, name)
    if low > high:
        raise InputError(f"{name}: the low value {low:g} is above the high value {high:g}; swap them")
    return low, high
