"""Hydraulic jacks and intensifiers: pressure, force, strokes (Pascal's law, no losses)."""

from __future__ import annotations

import math

from splitline.errors import InputError
from splitline.fitting.guard import not_negative, positive


def jack_pressure(force: float, area: float, jacks: int = 1) -> float:
    """Pressure (Pa) of ``jacks`` equal jacks of piston ``area`` (m²) sharing a force (N): F/(n A)."""
    if jacks < 1:
        raise InputError(f"number of jacks must be 1 or more, is {jacks}")
    return not_negative(force, "force") / (jacks * positive(area, "piston area"))


def jack_force(pressure: float, area: float, jacks: int = 1) -> float:
    """Force (N) of ``jacks`` equal jacks at a pressure (Pa): n p A. Seals and guides take a few per cent."""
    if jacks < 1:
        raise InputError(f"number of jacks must be 1 or more, is {jacks}")
    return jacks * not_negative(pressure, "pressure") * positive(area, "piston area")


def strokes(distance: float, stroke: float) -> int:
    """Whole strokes to cover a distance (m); a rest below 1e-9 of a stroke is rounding, not a stroke."""
    return math.ceil(positive(distance, "distance") / positive(stroke, "stroke") - 1e-9)


def multiplied(force: float, small_area: float, large_area: float) -> float:
    """Force (N) on the large piston when ``force`` acts on the small one: F A₂/A₁ (Pascal)."""
    return not_negative(force, "force") * positive(large_area, "large area") / positive(small_area, "small area")


def followed(stroke: float, small_area: float, large_area: float) -> float:
    """Stroke (m) of the large piston while the small one moves ``stroke``: s A₁/A₂ (same oil volume)."""
    return not_negative(stroke, "stroke") * positive(small_area, "small area") / positive(large_area, "large area")


def intensified(pressure: float, drive_area: float, pump_area: float) -> float:
    """Outlet pressure (Pa) of an intensifier: p A_drive/A_pump."""
    return not_negative(pressure, "pressure") * positive(drive_area, "drive area") / positive(pump_area, "pump area")


def circle(diameter: float) -> float:
    """Area (m²) of a piston of that diameter."""
    return math.pi / 4 * positive(diameter, "piston diameter") ** 2
