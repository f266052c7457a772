"""Thread areas and diameters against published tables."""

from __future__ import annotations

from math import pi

import pytest

from splitline.bolting.thread import Thread, metric, stress_area_iso_form, unified

MM, INCH = 1e-3, 0.0254
MM2, INCH2 = 1e-6, 0.0254**2

BICKFORD = (
    "Bickford, Introduction to the Design and Behavior of Bolted Joints, 4th ed. (2008), metric M stress-area table"
)
PCC1 = "ASME PCC-1, Table H-1 Bolt Root and Tensile Stress Areas"
SHIGLEY_82 = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Table 8-2, p. 413"
MOSS = "Moss, Pressure Vessel Design Manual, p. 59 Procedure 2-10 bolt table"
BS = "BS 1507 / BS 3643 stress-area tables as quoted in bolt-tensioning notes (2006)"
METRIC_MINOR = "metric thread table built from ASME B1.13M sizes with Shigley / Machinery's Handbook formulas"


# BICKFORD
@pytest.mark.parametrize(
    ("d", "pitch", "area"),
    [
        (10, 1.5, 57.99),
        (12, 1.75, 84.267),
        (16, 2, 156.67),
        (20, 2.5, 244.79),
        (36, 4, 816.72),
        (48, 5, 1473.2),
        (56, 5.5, 2030.0),
        (72, 6, 3459.8),
        (90, 6, 5590.8),
    ],
)
def test_metric_stress_area_bickford(d: float, pitch: float, area: float) -> None:
    assert metric(d * MM, pitch * MM).stress_area == pytest.approx(area * MM2, rel=2e-4), BICKFORD


# PCC1, metric rows: root at d − 1.3 P
@pytest.mark.parametrize(
    ("d", "pitch", "area", "root"),
    [(30, 3, 580.4, 535.0), (64, 3, 2940, 2837), (90, 3, 5970, 5822), (100, 3, 7418, 7253)],
)
def test_metric_areas_pcc1(d: float, pitch: float, area: float, root: float) -> None:
    thread = metric(d * MM, pitch * MM)
    assert thread.stress_area == pytest.approx(area * MM2, rel=5e-4), PCC1
    assert thread.root_area_flat == pytest.approx(root * MM2, rel=5e-4), PCC1


# METRIC_MINOR
@pytest.mark.parametrize(
    ("d", "pitch", "area", "root"), [(24, 2, 384.4, 364.6), (36, 2, 914.5, 883.8), (36, 4, 816.7, 759.3)]
)
def test_metric_minor_area(d: float, pitch: float, area: float, root: float) -> None:
    thread = metric(d * MM, pitch * MM)
    assert thread.stress_area == pytest.approx(area * MM2, rel=5e-4), METRIC_MINOR
    assert thread.root_area == pytest.approx(root * MM2, rel=5e-4), METRIC_MINOR


# PCC1, inch rows: root at D − 1.3/n
@pytest.mark.parametrize(
    ("d", "tpi", "area", "root"),
    [
        (1.125, 8, 0.7905, 0.7276),
        (1.25, 8, 0.9997, 0.9289),
        (1.5, 8, 1.492, 1.405),
        (1.75, 8, 2.082, 1.979),
        (2.25, 8, 3.557, 3.422),
        (2.5, 8, 4.442, 4.291),
        (3, 8, 6.506, 6.324),
        (4, 8, 11.81, 11.57),
    ],
)
def test_inch_areas_pcc1(d: float, tpi: float, area: float, root: float) -> None:
    thread = unified(d * INCH, tpi)
    assert thread.stress_area == pytest.approx(area * INCH2, rel=5e-4), PCC1
    assert thread.root_area_flat == pytest.approx(root * INCH2, rel=5e-4), PCC1


# SHIGLEY_82: minor-diameter area with the flat root (1.299 P, within its rounding of 1.3 P)
@pytest.mark.parametrize(
    ("d", "tpi", "area", "root"), [(1, 8, 0.606, 0.551), (0.75, 16, 0.373, 0.351), (1.25, 12, 1.073, 1.024)]
)
def test_inch_areas_shigley(d: float, tpi: float, area: float, root: float) -> None:
    thread = unified(d * INCH, tpi)
    assert thread.stress_area == pytest.approx(area * INCH2, rel=2e-3), SHIGLEY_82
    assert thread.root_area_flat == pytest.approx(root * INCH2, rel=2e-3), SHIGLEY_82


# MOSS
@pytest.mark.parametrize(("d", "tpi", "root", "mean"), [(1, 8, 0.8466, 0.9188), (1.5, 8, 1.3466, 1.4188)])
def test_inch_diameters_moss(d: float, tpi: float, root: float, mean: float) -> None:
    thread = unified(d * INCH, tpi)
    assert thread.minor_diameter == pytest.approx(root * INCH, rel=1e-4), MOSS
    assert thread.pitch_diameter == pytest.approx(mean * INCH, rel=1e-4), MOSS


# BS: the ISO form on inch threads, kept apart from ASME B1.1
@pytest.mark.parametrize(("d", "area"), [(1, 0.612), (3, 6.53)])
def test_inch_area_iso_form(d: float, area: float) -> None:
    thread = unified(d * INCH, 8)
    assert stress_area_iso_form(thread) == pytest.approx(area * INCH2, rel=2e-3), BS
    assert thread.stress_area < stress_area_iso_form(thread)


def test_stress_area_is_the_mean_of_pitch_and_root_diameter() -> None:
    """ISO 898-1, 9.1: A_s = π/4·((d₂ + d₃)/2)²."""
    thread: Thread = metric(64 * MM, 4 * MM)
    mean = 0.5 * (thread.pitch_diameter + thread.minor_diameter)
    assert thread.stress_area == pytest.approx(pi / 4 * mean**2, rel=1e-5)
