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
from splitline.fitting.customary import historic_press_force, oil_seal_clearance, sleeve_clearance
from splitline.fitting.jacks import circle, jack_force
from splitline.fitting.probes import runout_allowance, vibration_limit

INCH = 0.0254


def test_vibration_acceptance() -> None:
    # API 617 / API 684 SP6.8.2.11 (from memory), 6000 rpm
    assert vibration_limit(6000) == pytest.approx(35.921e-6, rel=1e-4)
    assert vibration_limit(6000) / INCH * 1e3 == pytest.approx(1.41421, rel=1e-4)


def test_probe_area_runout() -> None:
    # API 617/687 (from memory)
    assert runout_allowance(25.4e-6) == pytest.approx(6.35e-6, rel=1e-4)


@pytest.mark.parametrize(("rule", "mils"), [("1 mil + 1 mil/in", 5.0), ("2 mil + 1 mil/in", 6.0), ("1.5 mil/in", 6.0)])
def test_sleeve_bearing_rules(rule: str, mils: float) -> None:
    # EASA technical article, "Sleeve bearing clearance depends on many factors" (2016), 4 in journal
    assert sleeve_clearance(4.0 * INCH, rule) == pytest.approx(mils * 1e-3 * INCH, rel=1e-6)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("inches", "fast", "slow"),
    [
        (3.0, 9, 12),
        (3.5, 10, 14),
        (4.0, 12, 16),
        (4.5, 14, 18),
        (5.0, 15, 20),
        (5.5, 17, 22),
        (6.0, 18, 24),
        (6.5, 20, 26),
        (7.0, 21, 28),
    ],
)
def test_bearing_oil_seal_table(inches: float, fast: float, slow: float) -> None:
    # ANSI/EASA AR100-2020 Table 2-7, clearance in 0.001 in for shafts from this bound up to the next
    middle = (inches + 0.25) * INCH
    assert oil_seal_clearance(middle, 3600) == pytest.approx(fast * 1e-3 * INCH, rel=1e-12)
    assert oil_seal_clearance(middle, 1800) == pytest.approx(slow * 1e-3 * INCH, rel=1e-12)


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


def test_historic_press_rule() -> None:
    # Applied Science for Metal Workers (public domain): 15 D + 15 tons, 9 in pin
    assert historic_press_force(9 * INCH) / (2000 * 4.4482216152605) == pytest.approx(150, rel=1e-6)


def test_published_thrust_clearance_is_wider_than_the_usual_band() -> None:
    # Bloch & Geitner, vol. 3, fig. 2-16, p. 55: 0.015 to 0.022 in
    assert pytest.approx((0.015 * INCH, 0.022 * INCH), rel=0.002) == THRUST_FLOAT_WIDE
    assert THRUST_FLOAT[0] < THRUST_FLOAT_WIDE[0] < THRUST_FLOAT[1] < THRUST_FLOAT_WIDE[1]


def test_joint_compound_setback() -> None:
    # Bloch & Geitner, Major Process Equipment, pp. 370, 376: 3/16 in, string 1.6 and 3.0 mm
    assert pytest.approx(0.1875 * INCH, rel=0.06) == COMPOUND_SETBACK
    assert pytest.approx((1.6e-3, 3.0e-3), rel=0.06) == COMPOUND_STRING
    assert math.isclose(COMPOUND_SETBACK, 5e-3)
