"""Clearances, floats, probes and seals of a close-up: published tables, rules of thumb and plain geometry."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.clearance import (
    COMPOUND_SETBACK,
    COMPOUND_STRING,
    SQUEEZE_DYNAMIC,
    SQUEEZE_STATIC,
    THRUST_FLOAT,
    THRUST_FLOAT_WIDE,
    clearance_from_lift,
    lift_factor,
    o_ring_squeeze,
    shim_for_float,
    split_by_offset,
    thrust_faces,
)
from splitline.fitting.jacks import circle, jack_force

INCH = 0.0254


@pytest.mark.parametrize(
    ("pads", "between", "factor", "lift"),
    [(3, False, 1.5, 0.3), (4, False, 1.0, 0.2), (5, False, 1.11803, 0.223607), (5, True, 1.11803, 0.223607)],
)
def test_tilting_pad_lift(pads: int, between: bool, factor: float, lift: float) -> None:
    # geometry, true diametral clearance 0.2 mm
    assert lift_factor(pads, between) == pytest.approx(factor, rel=1e-4)
    assert clearance_from_lift(lift * 1e-3, pads, between) == pytest.approx(0.2e-3, rel=1e-4)


def test_thrust_shim_correction() -> None:
    # arithmetic: float 0.52 mm, wanted 0.25 to 0.40 mm
    shim = shim_for_float(0.52e-3, *THRUST_FLOAT)
    assert (shim.least, shim.most) == pytest.approx((0.12e-3, 0.27e-3), rel=1e-6)
    assert shim.action == "add"


def test_rotor_position_by_splitting_the_float() -> None:
    # arithmetic: total float 6.4, offset 0.2 from the middle, thrust float 0.3 mm
    target = split_by_offset(6.4e-3, 0.2e-3)
    position = thrust_faces(target, 0.3e-3, 6.4e-3)
    found = (position.target, position.active, position.inactive)
    assert found == pytest.approx((3.4e-3, 3.25e-3, 3.55e-3), rel=1e-6)


def test_end_thrust_on_a_head_cover() -> None:
    # F = p π/4 G²; 1.5 times for the test (API 617, from memory): 800 mm, 10 MPa, 24 studs
    thrust = jack_force(10e6, circle(0.8))
    assert thrust == pytest.approx(5026.55e3, rel=1e-5)
    assert 1.5 * thrust == pytest.approx(7539.82e3, rel=1e-5)
    assert thrust / 24 == pytest.approx(209.44e3, rel=1e-5)


def test_o_ring_squeeze() -> None:
    # geometry; limits 30 % static, 16 % dynamic (Mechanical Engineers' Handbook)
    squeeze = o_ring_squeeze(0.139 * INCH, 0.111 * INCH)
    assert squeeze == pytest.approx(0.2014, rel=0.001)
    assert SQUEEZE_DYNAMIC < squeeze < SQUEEZE_STATIC


def test_published_thrust_clearance_is_wider_than_the_usual_band() -> None:
    # Bloch & Geitner, vol. 3, fig. 2-16, p. 55: 0.015 to 0.022 in
    assert pytest.approx((0.015 * INCH, 0.022 * INCH), rel=0.002) == THRUST_FLOAT_WIDE
    assert THRUST_FLOAT[0] < THRUST_FLOAT_WIDE[0] < THRUST_FLOAT[1] < THRUST_FLOAT_WIDE[1]


def test_joint_compound_setback() -> None:
    # Bloch & Geitner, Major Process Equipment, pp. 370, 376: 3/16 in, string 1.6 and 3.0 mm
    assert pytest.approx(0.1875 * INCH, rel=0.06) == COMPOUND_SETBACK
    assert pytest.approx((1.6e-3, 3.0e-3), rel=0.06) == COMPOUND_STRING
    assert math.isclose(COMPOUND_SETBACK, 5e-3)
