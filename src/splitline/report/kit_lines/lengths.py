"""Sling lengths as they are bought: in steps of a catalogue, never to the millimetre."""

from __future__ import annotations

import math

from splitline.units import System

# Slings are ordered in tenths of a metre or half feet, other lengths are made up by shackles and adjusters: common practice, no
# published source.
STEP = {"SI": 0.1, "US": 0.5 * 0.3048}
_SLACK = 1e-6  # m: a length that is a step but for rounding is that step


def bought(length: float, adjuster: bool, system: System) -> float:
    """Length (m) to order for a leg that hangs at ``length`` (m) from hook to pick point.

    Without an adjuster the next step above: a longer leg stands steeper. With one at least a whole step shorter, so that the
    adjuster has something to make up; a leg too short for that gets the first step.
    """
    step = STEP[system]
    if adjuster:
        return max(math.floor((length - step) / step + _SLACK), 1) * step
    return max(math.ceil(length / step - _SLACK), 1) * step


def length_said(length: float, system: System) -> str:
    """``length 2.6 m`` or ``length 8.5 ft``, a length of the series."""
    return f"length {length / 0.3048:.1f} ft" if system == "US" else f"length {length:.1f} m"
