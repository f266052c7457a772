"""Pressure gauges by the pressure they are read at."""

from __future__ import annotations

from splitline.assess.gauge import gauge_said
from splitline.plan.model import Joint
from splitline.report.kit_lines.line import Line
from splitline.units import System

_BAR = (0.6, 1, 1.6, 2.5, 4, 6, 10, 16, 25, 40, 60, 100, 160, 250, 400, 600, 1000, 1600, 2500, 4000)
RANGES = tuple(bar * 1e5 for bar in _BAR)  # EN 837-1, from memory
SHARE = 0.75  # of the range under a steady pressure: EN 837-2, from memory


def gauge_range(pressure: float) -> float | None:
    """The smallest usual range (Pa) that is used to three quarters at most; None above the highest."""
    return next((top for top in RANGES if pressure <= SHARE * top * (1 + 1e-9)), None)


def gauge_line(
    what: str,
    pressure: float | None,
    used_in: str,
    system: System,
    section: str = "Pumps and gauges",
    joint: Joint | None = None,
) -> Line:
    """A gauge for the highest pressure it is read at, and one spare."""
    if pressure is None or pressure <= 0:
        return Line(section, what, None, 1, 1, (), (used_in,), "highest set pressure not known")
    top = gauge_range(pressure)
    size = (
        f"0 to {gauge_said(top, joint, system)}"
        if top is not None
        else f"above {gauge_said(RANGES[-1], joint, system)}"
    )
    return Line(section, what, size, 1, 1, (), (used_in,), f"read up to {gauge_said(pressure, joint, system)}")
