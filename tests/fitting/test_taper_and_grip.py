"""Tapers in every customary way; slip of cylinders and cones."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.cylinder import Elastic
from splitline.fitting.grip import (
    Duty,
    capacity_over_duty,
    friction_capacity,
    grip_factor,
    needed_normal,
    pull_off_capacity,
    torque_capacity,
)
from splitline.fitting.interference import Pair
from splitline.fitting.taper import Taper, advance_for, from_half_angle, from_inches_per_foot, interference_of

STEEL = Elastic(207e9, 0.3, 7830.0)
PAIR = Pair(0.1, 0.0, 0.18, 0.12, STEEL, STEEL)
forces = st.floats(0, 1e6)


@given(st.floats(1 / 100, 1 / 5))
def test_every_way_of_saying_a_taper_gives_it_back(ratio: float) -> None:
    taper = Taper(ratio)
    assert from_half_angle(taper.half_angle).on_diameter == pytest.approx(ratio, rel=1e-12)
    assert from_inches_per_foot(taper.inches_per_foot).on_diameter == pytest.approx(ratio, rel=1e-12)
    assert interference_of(advance_for(1e-4, taper), taper) == pytest.approx(1e-4, rel=1e-12)
    assert taper.included_angle == 2 * taper.half_angle


def test_half_and_full_angle_are_a_factor_of_two_apart() -> None:
    """1:30 on diameter is 0.955 deg to the axis and 1.910 deg between the sides; taking one for the other halves the fit."""
    taper = Taper(1 / 30)
    assert math.degrees(taper.half_angle) == pytest.approx(0.9548, abs=1e-4)
    assert math.degrees(taper.included_angle) == pytest.approx(1.9096, abs=1e-4)
    assert taper.advance_per_interference == pytest.approx(30)


def test_cylinders_have_no_advance_and_steep_tapers_are_refused() -> None:
    with pytest.raises(InputError, match="cylindrical"):
        advance_for(1e-4, Taper())
    with pytest.raises(InputError, match="cylindrical"):
        interference_of(1e-3, Taper())
    assert Taper().one_in is None
    for bad in (0.6, -0.1, math.nan):
        with pytest.raises(InputError):
            Taper(bad)


@given(forces, forces, st.floats(0.05, 0.4), st.floats(0, 0.08), st.floats(1, 3))
def test_needed_normal_force_closes_the_friction_circle(
    tangential: float, axial: float, friction: float, ratio: float, factor: float
) -> None:
    duty, taper = Duty(tangential, axial), Taper(ratio)
    if factor * taper.tan_half >= 0.98 * friction or tangential + axial < 1:
        return
    normal = needed_normal(duty, friction, taper, factor)
    left = (friction * normal / factor) ** 2
    right = tangential**2 + (axial + normal * taper.tan_half) ** 2
    assert left == pytest.approx(right, rel=1e-6)
    assert grip_factor(duty, normal, friction, taper) == pytest.approx(factor, rel=1e-6)


def test_on_a_cylinder_torque_and_axial_force_share_one_friction_force() -> None:
    p, mu = 80e6, 0.12
    whole = friction_capacity(PAIR, p, mu)
    assert whole == pytest.approx(mu * p * math.pi * 0.1 * 0.12, rel=1e-12)
    torque = 0.6 * torque_capacity(PAIR, p, mu)
    duty = Duty(2 * torque / 0.1, 0.8 * whole)
    assert grip_factor(duty, p * PAIR.area, mu, Taper()) == pytest.approx(1.0, rel=1e-12)


def test_taper_takes_from_the_pull_off_force() -> None:
    p, mu = 80e6, 0.12
    assert pull_off_capacity(PAIR, p, mu, Taper()) == pytest.approx(friction_capacity(PAIR, p, mu))
    assert pull_off_capacity(PAIR, p, mu, Taper(1 / 30)) == pytest.approx(p * PAIR.area * (0.12 - 1 / 60), rel=1e-12)
    assert pull_off_capacity(PAIR, p, 0.01, Taper(1 / 30)) == 0.0


def test_taper_that_does_not_hold_itself_is_refused() -> None:
    with pytest.raises(InputError, match="self-holding"):
        needed_normal(Duty(1e5), 0.12, Taper(1 / 10), 3.0)


def test_no_duty_has_no_factor() -> None:
    with pytest.raises(InputError, match="no duty"):
        grip_factor(Duty(0.0), 1e6, 0.12, Taper())


@given(forces, st.floats(-1e6, 1e6), st.floats(0.05, 0.4), st.floats(0, 0.08), st.floats(1e5, 1e7))
def test_scaled_duty_lies_on_the_friction_circle(
    tangential: float, axial: float, friction: float, ratio: float, normal: float
) -> None:
    duty, taper = Duty(tangential, axial), Taper(ratio)
    if taper.tan_half >= friction or tangential + abs(axial) < 1:
        return
    k = capacity_over_duty(duty, normal, friction, taper)
    right = (k * tangential) ** 2 + (k * axial + normal * taper.tan_half) ** 2
    assert right == pytest.approx((friction * normal) ** 2, rel=1e-6)
    assert k >= 0


def test_capacity_over_duty_at_its_limits() -> None:
    p, mu, taper = 80e6, 0.12, Taper(1 / 30)
    normal = p * PAIR.area
    pull = pull_off_capacity(PAIR, p, mu, taper)
    assert capacity_over_duty(Duty(0.0, pull), normal, mu, taper) == pytest.approx(1.0, rel=1e-12)
    turn = torque_capacity(PAIR, p, mu)
    assert capacity_over_duty(Duty(2 * turn / 0.1), normal, mu, Taper()) == pytest.approx(1.0, rel=1e-12)
    assert capacity_over_duty(Duty(1e5), normal, 0.01, taper) == 0.0
    assert capacity_over_duty(Duty(1e5), 0.0, mu, taper) == 0.0
    with pytest.raises(InputError, match="no duty"):
        capacity_over_duty(Duty(0.0), normal, mu, taper)
