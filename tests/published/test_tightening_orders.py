"""Tightening orders that are published or handed down."""

from __future__ import annotations

from itertools import pairwise

import pytest

from splitline.tightening.order import circle_steps, clumped, coverage_steps, cross_groups, flat, line_steps
from splitline.tightening.passes import planned_passes

# ASME PCC-1 legacy cross pattern, from memory; the 12-bolt order is also printed on a public how-to page.
LEGACY = {
    8: (1, 5, 3, 7, 2, 6, 4, 8),
    12: (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12),
    16: (1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16),
    32: (
        *(1, 17, 9, 25, 5, 21, 13, 29, 3, 19, 11, 27, 7, 23, 15, 31),
        *(2, 18, 10, 26, 6, 22, 14, 30, 4, 20, 12, 28, 8, 24, 16, 32),
    ),
}
# Starts of the groups, same pattern, from memory.
STARTS = {20: (1, 3, 5, 2, 4), 24: (1, 4, 2, 5, 3, 6), 28: (1, 4, 6, 2, 5, 7, 3)}


@pytest.mark.parametrize("bolts", LEGACY)
def test_legacy_cross(bolts: int) -> None:
    assert flat(circle_steps("cross", bolts)) == LEGACY[bolts]


@pytest.mark.parametrize("bolts", STARTS)
def test_starts_of_groups(bolts: int) -> None:
    assert tuple(group[0] for group in cross_groups(bolts)) == STARTS[bolts]


def test_forty_eight_bolts_in_groups_of_four() -> None:
    """Grouping practice of ASME PCC-1-2019 as reproduced: group 1 is bolts 1 to 4, group 7 of 12 follows."""
    order = clumped(48, 4)
    assert order[:4] == (1, 2, 3, 4)
    assert order[4:8] == (25, 26, 27, 28)


def test_passes_at_30_60_100_percent_then_a_round() -> None:
    """Flange bolting guidance: 30, 60, 100 %, then 100 % again until no nut turns (common practice)."""
    passes = planned_passes(circle_steps("cross", 8), [100.0] * 8, (0.3, 0.6, 1.0), 0.0, 1)
    assert [float(one.loads[0]) for one in passes] == pytest.approx([30.0, 60.0, 100.0, 100.0])


def test_passes_in_thirds() -> None:
    """Moss, Pressure Vessel Design Manual, p. 62: one third, two thirds, full."""
    passes = planned_passes(circle_steps("cross", 8), [90.0] * 8, (1 / 3, 2 / 3, 1.0))
    assert [float(one.loads[0]) for one in passes] == pytest.approx([30.0, 60.0, 90.0])


def test_split_line_goes_from_mid_length_to_both_ends() -> None:
    """General practice for horizontal joints, from memory: five bolts a side, both sides alternately, outward."""
    places = [0.0, 0.2, 0.4, 0.6, 0.8]
    order = flat(line_steps("centre-out", places, places))
    away = [abs(places[(bolt - 1) % 5] - 0.4) for bolt in order]
    assert away == pytest.approx(sorted(away))
    assert all((one > 5) != (other > 5) for one, other in pairwise(order))


def test_alternate_studs_a_and_b() -> None:
    """Installation manual practice for an axially split pump: the joint is pulled down on alternate studs A, then B.

    The manual then loosens A and repeats it; loosening is not modelled here, since a wrench never slackens a nut.
    """
    first, second = coverage_steps(24, 0.5)
    assert first == tuple(range(1, 25, 2))
    assert second == tuple(range(2, 25, 2))
