"""Limits of size of 6H/6g and 2A/2B threads against published ones."""

from __future__ import annotations

from itertools import pairwise

import pytest

from splitline.bolting.limits import BY_PITCH, PITCH_DIAMETER, engagement_for_tolerance, limits, r40
from splitline.bolting.thread import metric, unified

MM, INCH = 1e-3, 0.0254


# Limits printed beside the strip areas of Bickford, Design and Behavior of Bolted Joints, 4th ed. (2008), metric table
@pytest.mark.parametrize(
    ("d", "pitch", "d2_min", "d1_max", "d_min", "dd2_max"),
    [
        (16, 2, 14.503, 14.21, 15.682, 14.913),
        (24, 3, 21.803, 21.252, 23.577, 22.316),
        (42, 4.5, 38.778, 37.799, 41.437, 39.392),
        (48, 5, 44.431, 43.297, 47.399, 45.087),
        (80, 6, 75.743, 74.305, 79.32, 76.478),
    ],
)
def test_metric_limits(d: float, pitch: float, d2_min: float, d1_max: float, d_min: float, dd2_max: float) -> None:
    size = limits(metric(d * MM, pitch * MM))
    got = (size.pitch_min, size.internal_minor_max, size.major_min, size.internal_pitch_max)
    assert got == pytest.approx([v * MM for v in (d2_min, d1_max, d_min, dd2_max)], abs=0.6e-6)


# ISO 965-2 (limits of 6g and 6H in mm), from memory: d2 min, D1 max, d min, D2 max
@pytest.mark.parametrize(
    ("d", "pitch", "d2_min", "d1_max", "d_min", "dd2_max"),
    [(10, 1.5, 8.862, 8.676, 9.732, 9.206), (30, 3.5, 27.462, 26.771, 29.522, 28.007)],
)
def test_metric_limits_iso_965_2(
    d: float, pitch: float, d2_min: float, d1_max: float, d_min: float, dd2_max: float
) -> None:
    size = limits(metric(d * MM, pitch * MM))
    got = (size.pitch_min, size.internal_minor_max, size.major_min, size.internal_pitch_max)
    assert got == pytest.approx([v * MM for v in (d2_min, d1_max, d_min, dd2_max)], abs=0.6e-6)


# ASME B1.1 Table 2 (UNC, UNF, 8UN), from memory: major 2A, pitch 2A max/min, minor 2B max, pitch 2B max, inch
@pytest.mark.parametrize(
    ("d", "tpi", "major", "pitch", "minor_max", "internal_pitch_max"),
    [
        (1.0, 8, (0.9980, 0.9830), (0.9168, 0.9100), 0.890, 0.9276),
        (0.5, 13, (0.4985, 0.4876), (0.4485, 0.4435), 0.434, 0.4565),
        (0.75, 10, (0.7482, 0.7353), (0.6832, 0.6773), 0.663, 0.6927),
        (1.5, 8, (1.4978, 1.4828), (1.4166, 1.4093), 1.390, 1.4283),
        (0.25, 20, (0.2489, 0.2408), (0.2164, 0.2127), 0.207, 0.2224),
    ],
)
def test_unified_limits(
    d: float,
    tpi: float,
    major: tuple[float, float],
    pitch: tuple[float, float],
    minor_max: float,
    internal_pitch_max: float,
) -> None:
    size = limits(unified(d * INCH, tpi))
    got = (size.major_max, size.major_min, size.pitch_max, size.pitch_min)
    assert got == pytest.approx([v * INCH for v in (*major, *pitch)], abs=1.1e-4 * INCH)
    assert size.internal_minor_max == pytest.approx(minor_max * INCH, abs=1e-9)
    assert size.internal_pitch_max == pytest.approx(internal_pitch_max * INCH, abs=1.1e-4 * INCH)


# ASME B1.1, length of engagement the pitch diameter tolerance is based on: 9 pitches for 12UN to 32UN (from memory)
@pytest.mark.parametrize("tpi", [12, 16, 20, 28, 32])
def test_constant_pitch_threads_are_toleranced_over_nine_pitches(tpi: int) -> None:
    assert engagement_for_tolerance(1.75, tpi) == pytest.approx(9.0 / tpi)


# ASME B1.1 Table 2, 1 1/2-16 UN 2A (from memory): major and pitch diameter, inch
def test_limits_of_a_constant_pitch_thread() -> None:
    size = limits(unified(1.5 * INCH, 16))
    got = (size.major_max, size.major_min, size.pitch_max, size.pitch_min)
    assert got == pytest.approx([v * INCH for v in (1.4984, 1.4890, 1.4578, 1.4526)], abs=1.1e-4 * INCH)


def test_tabulated_tolerances_stay_within_a_step_of_the_formulas() -> None:
    """ISO 965-1: T_d2 = 90 P^0.4 d^0.1, T_D2 = 1.32 T_d2, T_d = 180 P^(2/3) − 3.15/√P, R40 steps of 6 %."""
    lows = {2.8: 1.4, 5.6: 2.8, 11.2: 5.6, 22.4: 11.2, 45.0: 22.4, 90.0: 45.0, 180.0: 90.0, 355.0: 180.0}
    for (high, pitch), (external, internal) in PITCH_DIAMETER.items():
        formula = 90.0 * pitch**0.4 * (high * lows[high]) ** 0.05
        assert external == pytest.approx(formula, rel=0.05)
        assert internal == pytest.approx(1.32 * formula, rel=0.055)
    for pitch, (deviation, major, minor) in BY_PITCH.items():
        assert deviation == pytest.approx(15 + 11 * pitch, rel=0.06)
        assert major == pytest.approx(180 * pitch ** (2 / 3) - 3.15 / pitch**0.5, rel=0.06)
        formula = 230 * pitch**0.7 if pitch >= 1 else 433 * pitch - 190 * pitch**1.22
        assert minor == pytest.approx(formula, rel=0.06)


# R40 series of preferred numbers as ISO 965-1 rounds it (from memory): 10^(n/40), 6 % apart
R40 = (
    60, 63, 67, 71, 75, 80, 85, 90, 95, 100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265,
    280, 300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950, 1000,
)  # fmt: skip


def test_every_tabulated_tolerance_is_a_preferred_number_of_a_range_of_the_standard() -> None:
    assert all(value in R40 for pair in PITCH_DIAMETER.values() for value in pair)
    assert all(value in R40 for _, major, minor in BY_PITCH.values() for value in (major, minor))
    for one, next_ in pairwise(R40):
        assert next_ / one == pytest.approx(10 ** (1 / 40), rel=0.012)
    assert {high for high, _ in PITCH_DIAMETER} <= {2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0}
    assert {pitch for _, pitch in PITCH_DIAMETER} <= set(BY_PITCH)


@pytest.mark.parametrize(("value", "preferred"), [(235.1, 236), (61.4, 60), (229.0, 224), (949.0, 950), (103.1, 106)])
def test_r40_rounds_to_the_nearest_preferred_number(value: float, preferred: int) -> None:
    assert r40(value) == preferred


# ISO 965-1 formulas where its table has no pitch: es = 15 + 11 P, T_d = 180 P^(2/3) − 3.15/√P, T_D1 = 230 P^0.7, µm, R40
def test_a_pitch_outside_the_table_goes_by_the_formulas() -> None:
    assert 7.0 not in BY_PITCH
    size = limits(metric(100 * MM, 7.0 * MM))
    assert size.internal_minor_max - size.internal_minor_min == pytest.approx(900e-6)  # 230·7^0.7 = 898
    assert size.major_max - size.major_min == pytest.approx(670e-6)  # 180·7^(2/3) − 3.15/√7 = 657.5
