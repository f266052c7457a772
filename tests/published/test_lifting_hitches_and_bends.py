"""Choke angle, bending round pins, side loads, rope ratings."""

from __future__ import annotations

import math

import pytest

from splitline.lifting.rigging import (
    SHACKLE_SIDE,
    SHACKLE_SPREAD,
    angled_factor,
    bend_efficiency,
    bending_factor,
    choke_factor,
    rope_capacity,
    sling_capacity,
)


@pytest.mark.parametrize(("low", "high", "share"), [(90, 119.99, 0.87), (60, 89, 0.74), (30, 59, 0.62), (0, 29, 0.49)])
def test_choke_angle(low: float, high: float, share: float) -> None:
    # ASME B30.9 factors as reproduced in a sling instruction; on the choker rating
    assert choke_factor(math.radians(low)) == pytest.approx(share, rel=1e-9)
    assert choke_factor(math.radians(high)) == pytest.approx(share, rel=1e-9)
    assert sling_capacity(10.0, "choker", 0.75, math.radians(low)) == pytest.approx(7.5 * share)


@pytest.mark.parametrize(
    ("ratio", "percent"), [(40, 95), (30, 93), (20, 91), (15, 89), (6, 79), (4, 75), (2, 65), (1, 50)]
)
def test_bending_efficiency(ratio: float, percent: float) -> None:
    # wire rope bending (D/d) efficiency curve as reproduced in a rigging reference
    assert 100 * bend_efficiency(ratio) == pytest.approx(percent, rel=0.001)


@pytest.mark.parametrize(("ratio", "factor"), [(1, 2.0), (1.5, 1.69), (2, 1.55), (3, 1.41), (6, 1.26), (7, 1.23)])
def test_bending_factor(ratio: float, factor: float) -> None:
    # 0027/ND Rev 11.2 Guidelines for Marine Lifting, 7.8.1 and Table 7-1 (after IMCA M 179)
    assert bending_factor(ratio) == pytest.approx(factor, rel=0.004)


def test_shackle_side_load_and_spread() -> None:
    # rigging reference card (common practice)
    assert angled_factor(SHACKLE_SIDE, 0.0) == pytest.approx(1.0)
    assert angled_factor(SHACKLE_SIDE, math.radians(45)) == pytest.approx(0.70)
    assert math.degrees(SHACKLE_SPREAD) == pytest.approx(120)


def test_eyebolt_by_its_table() -> None:
    # eyebolt angled-pull table (ASME B18.15 form) as reproduced: 3/8 in, 1,550 lb
    table = [(math.radians(a), f) for a, f in ((0, 1.0), (15, 0.8), (30, 0.65), (45, 0.3), (90, 0.25))]
    assert 1550 * (angled_factor(table, math.radians(15)) or 0) == pytest.approx(1240, rel=0.002)
    assert 1550 * (angled_factor(table, math.radians(90)) or 0) == pytest.approx(388, rel=0.002)


def test_rope_rating_by_breaking_force() -> None:
    # EN 13414-1 form WLL = F_min K_T K_L/(Z_p g), 20 mm grade 1770, table 4.6 t; 0.356 from memory (EN 12385-4)
    breaking = 0.356 * 20**2 * 1770 / 1000 / 9.80665
    assert rope_capacity(breaking, 0.9, 5.0) == pytest.approx(4.6, rel=0.02)


@pytest.mark.parametrize(("breaking", "rated"), [(10.35, 2.2), (23.04, 4.9), (40.41, 8.5)])
def test_navy_rope_rating(breaking: float, rated: float) -> None:
    # MIL-DTL-3903 Table IV, type II uncoated, 1/2, 3/4, 1 in: least tested strength is 0.95 of nominal, design factor 5
    assert rope_capacity(breaking / 0.95, 1.0, 5.0) == pytest.approx(rated, rel=0.012)
