"""Strip areas and pressure under nuts against published values."""

from __future__ import annotations

import pytest

from splitline.bolting.bearing import bearing_area, bearing_pressure
from splitline.bolting.limits import limits
from splitline.bolting.stripping import (
    minimum_engagement,
    strip_areas,
    strip_external_per_length,
    strip_internal_per_length,
)
from splitline.bolting.thread import metric, unified

MM, INCH = 1e-3, 0.0254


# Bickford, Introduction to the Design and Behavior of Bolted Joints, 4th ed. (2008), metric strip-area table, 6H/6g, Le = d
@pytest.mark.parametrize(
    ("d", "pitch", "d2_min", "d1_max", "d_min", "dd2_max", "bolt", "nut"),
    [
        (16, 2, 14.503, 14.21, 15.682, 14.913, 417.55, 569.12),
        (24, 3, 21.803, 21.252, 23.577, 22.316, 971.1, 1320.2),
        (42, 4.5, 38.778, 37.799, 41.437, 39.392, 3120.2, 4168.3),
        (48, 5, 44.431, 43.297, 47.399, 45.087, 4119.5, 5482.0),
        (80, 6, 75.743, 74.305, 79.32, 76.478, 11922, 15419),
    ],
)
def test_strip_areas(
    d: float, pitch: float, d2_min: float, d1_max: float, d_min: float, dd2_max: float, bolt: float, nut: float
) -> None:
    assert d * strip_external_per_length(pitch, d1_max, d2_min) == pytest.approx(bolt, rel=5e-4)
    assert d * strip_internal_per_length(pitch, d_min, dd2_max) == pytest.approx(nut, rel=5e-4)
    thread = metric(d * MM, pitch * MM)
    ours = strip_areas(thread, limits(thread), d * MM)
    assert ours.external == pytest.approx(bolt * 1e-6, rel=5e-4)
    assert ours.internal == pytest.approx(nut * 1e-6, rel=5e-4)


def test_bearing_pressure() -> None:
    """Preload of VDI 2230:2001 M20x1.5 class 8.8, μ 0.12; bearing face and hole of ISO 4014 and ISO 273 from memory."""
    assert bearing_area(28.2 * MM, 22 * MM) == pytest.approx(244.4e-6, rel=1e-3)
    assert bearing_pressure(148e3, 28.2 * MM, 22 * MM) == pytest.approx(605.4e6, rel=1e-3)


def test_inch_strip_areas_per_inch() -> None:
    """ASME B1.1 / FED-STD-H28/2 form for 1-8 UNC 2A/2B, limits of B1.1 Table 2 from memory, worked by hand.

    External: π·n·0.890·(1/16 + 0.57735·(0.9100 − 0.890)) = 1.656; internal: π·n·0.9830·(1/16 + 0.57735·(0.9830 − 0.9276)).
    """
    thread = unified(1.0 * INCH, 8)
    ours = strip_areas(thread, limits(thread), 1.0 * INCH)
    external = 25.13274 * 0.890 * (0.0625 + 0.57735 * 0.0200)
    internal = 25.13274 * 0.9830 * (0.0625 + 0.57735 * 0.0554)
    assert ours.external == pytest.approx(external * INCH**2, rel=4e-3)
    assert ours.internal == pytest.approx(internal * INCH**2, rel=4e-3)


def test_minimum_engagement_balances_breaking_and_stripping() -> None:
    """FED-STD-H28/2: at Le the strip load of the weaker thread (half its tensile strength) is the bolt's breaking load."""
    thread = metric(48 * MM, 5 * MM)
    size = limits(thread)
    for bolt, hole in ((860e6, 860e6), (860e6, 485e6), (860e6, 250e6)):
        length = minimum_engagement(thread, size, bolt, hole)
        area = strip_areas(thread, size, length)
        breaking = thread.stress_area * bolt
        assert min(0.5 * bolt * area.external, 0.5 * hole * area.internal) == pytest.approx(breaking, rel=1e-9)
