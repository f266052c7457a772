"""Range checks shared by the formulas of bolted joints: each says what is wrong and what would be right."""

from __future__ import annotations

import math

from splitline.errors import InputError

FRICTION_LOW, FRICTION_HIGH = 0.01, 1.0


def finite(name: str, value: float) -> float:
    """Return value, or raise InputError when it is not a finite number."""
    if not math.isfinite(value):
        raise InputError(f"{name} must be a number, not {value}")
    return value


def positive(name: str, value: float) -> float:
    """Return value, or raise InputError unless it is finite and above 0."""
    if not (math.isfinite(value) and value > 0.0):
        raise InputError(f"{name} must be above 0, got {value:g} (SI units)")
    return value


def not_negative(name: str, value: float) -> float:
    """Return value, or raise InputError unless it is finite and 0 or more."""
    if not (math.isfinite(value) and value >= 0.0):
        raise InputError(f"{name} must be 0 or more, got {value:g} (SI units)")
    return value


def between(name: str, value: float, low: float, high: float) -> float:
    """Return value, or raise InputError unless low <= value <= high."""
    if not (math.isfinite(value) and low <= value <= high):
        raise InputError(f"{name} must be from {low:g} to {high:g}, got {value:g}")
    return value


def friction(name: str, value: float) -> float:
    """Return a friction coefficient, or raise InputError outside 0.01 to 1 (dry steel scarcely passes 0.8)."""
    return between(name, value, FRICTION_LOW, FRICTION_HIGH)


def larger(name: str, value: float, other_name: str, other: float) -> float:
    """Return value, or raise InputError unless it is finite and above other."""
    if not (math.isfinite(value) and value > other):
        raise InputError(f"{name} ({value:g} m) must be larger than {other_name} ({other:g} m)")
    return value
