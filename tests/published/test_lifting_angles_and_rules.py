"""Angle factors and customary sharing rules."""

from __future__ import annotations

import math

import pytest

from splitline.lifting.bridle import angle_factor, sharing_tension
from splitline.lifting.hang import hang
from splitline.lifting.rigging import mode_capacity, set_capacity


@pytest.mark.parametrize(
    ("degrees", "tension", "reduction"),
    [  # ASME B30.9 factors as reproduced in a sling instruction; angles from the horizontal
        (90, 1.0, 1.0), (85, 1.004, 0.996), (80, 1.015, 0.985), (70, 1.064, 0.940), (60, 1.155, 0.866),
        (50, 1.305, 0.766), (45, 1.414, 0.707), (40, 1.555, 0.643), (35, 1.742, 0.574), (30, 2.0, 0.5),
    ],
)  # fmt: skip
def test_angle_factors(degrees: float, tension: float, reduction: float) -> None:
    assert angle_factor(math.radians(degrees)) == pytest.approx(tension, rel=0.001)
    assert set_capacity(1.0, 1, math.radians(degrees)) == pytest.approx(reduction, rel=0.001)


@pytest.mark.parametrize(("degrees", "tension"), [(45, 1414), (30, 2000), (15, 3864)])
def test_two_legs_at_an_angle(degrees: float, tension: float) -> None:
    # Spellman, Mathematics and Statistics for the Environment, Example 11.3: 2,000 lb on two legs
    half = 2.0 * math.cos(math.radians(degrees))
    state = hang([(-half, 0, 0), (half, 0, 0)], [2.0, 2.0], [None, None], (0, 0, -1), 2000.0)
    assert state.tensions == pytest.approx([tension] * 2, rel=0.001)


def test_length_over_height() -> None:
    # ASME B30.9 factors as reproduced: 1,000 lb on two 10 ft slings 5 ft high need 1,000 lb each
    state = hang([(-math.sqrt(75), 0, 0), (math.sqrt(75), 0, 0)], [10.0, 10.0], [None, None], (0, 0, -1), 1000.0)
    assert state.tensions == pytest.approx([1000.0] * 2, rel=1e-5)
    assert 500.0 * angle_factor(math.asin(5 / 10)) == pytest.approx(1000.0, rel=1e-6)


def test_navy_bridle_counts_two_legs_of_four() -> None:
    # NAVEDTRA 14251 Steelworker 2, Sling Safe Working Loads: 10,000 lb legs at H/L = 0.866
    assert set_capacity(10_000, 2, math.asin(0.866)) == pytest.approx(17_320, rel=1e-6)


def test_two_leg_rule() -> None:
    # derived; the rule of NAVEDTRA 14251 for a rigid load: 120 kN on four legs at 53.144 degrees
    assert sharing_tension(120.0, 4, "two legs", math.radians(53.144)) == pytest.approx(74.985, rel=1e-4)
    assert sharing_tension(120.0, 4, "three legs", math.radians(53.144)) == pytest.approx(74.985 * 2 / 3, rel=1e-4)


def test_sets_by_mode_factor() -> None:
    # EN 1492-1 mode factors as reproduced: 5 t straight: two legs 7.0 and 5.0 t, three or four 10.5 and 7.5 t
    for legs, low, high in ((2, 7.0, 5.0), (3, 10.5, 7.5), (4, 10.5, 7.5)):
        assert mode_capacity(5.0, legs, math.radians(45)) == pytest.approx(low, rel=1e-6)
        assert mode_capacity(5.0, legs, math.radians(60)) == pytest.approx(high, rel=1e-6)


@pytest.mark.parametrize(
    ("single", "two", "four"),
    [  # EN 13414-1:2003 Table 4, 10 to 32 mm, t (rounded there, 3.5 %)
        (1.15, (1.6, 1.15), (2.4, 1.7)), (3.0, (4.2, 3.0), (6.3, 4.5)), (4.6, (6.5, 4.6), (9.8, 6.9)),
        (11.8, (16.5, 11.8), (25.0, 17.5)),
    ],
)  # fmt: skip
def test_wire_rope_sets(single: float, two: tuple[float, float], four: tuple[float, float]) -> None:
    for limit, pair, quad in zip((45, 60), two, four, strict=True):
        assert mode_capacity(single, 2, math.radians(limit)) == pytest.approx(pair, rel=0.035)
        assert mode_capacity(single, 4, math.radians(limit)) == pytest.approx(quad, rel=0.035)
