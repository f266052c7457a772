"""Pressure under a nut, head or washer."""

from __future__ import annotations

import math

from splitline.bolting.ranges import larger, not_negative, positive


def bearing_area(bearing_diameter: float, hole_diameter: float) -> float:
    """π/4·(D_w² − D_h²), m²: ring from the hole to the edge of the bearing face (VDI 2230). Diameters in m."""
    positive("hole diameter", hole_diameter)
    larger("the bearing diameter", bearing_diameter, "its hole", hole_diameter)
    return 0.25 * math.pi * (bearing_diameter**2 - hole_diameter**2)


def bearing_pressure(load: float, bearing_diameter: float, hole_diameter: float) -> float:
    """Mean pressure load/area, Pa, for a load in N."""
    return not_negative("bolt load", load) / bearing_area(bearing_diameter, hole_diameter)


def washer_spread_diameter(bearing_diameter: float, washer_diameter: float, thickness: float) -> float:
    """Diameter loaded under a hard washer, m: the nut's face grown by twice the thickness (45°), not past the washer.

    Source: VDI 2230 (bearing face under a thick washer grows by 1.6 to 2 times its thickness; from memory).
    """
    positive("nut bearing diameter", bearing_diameter)
    not_negative("washer thickness", thickness)
    return min(max(washer_diameter, bearing_diameter), bearing_diameter + 2.0 * thickness)
