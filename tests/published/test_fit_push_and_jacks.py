"""Push force of a bundle, friction values, jacks and intensifiers."""

from __future__ import annotations

import math

import pytest

from splitline.fitting.insertion import GRAVITY, push_force
from splitline.fitting.jacks import circle, followed, intensified, jack_force, jack_pressure, multiplied

DEGREE = math.pi / 180


def test_bundle_with_seals_on_a_slope() -> None:
    # F = W(μ cos + sin) + n π D f: 60 kN, μ 0.12, 0.2 deg up, two rings of 900 mm at 1 N/mm
    push = push_force(60e3 / GRAVITY, 0.12, 0.2 * DEGREE, 2, 0.9, 1000.0)
    found = (push.friction, push.slope, push.seals, push.total)
    assert found == pytest.approx((7.19996e3, 0.209439e3, 5.65487e3, 13.0643e3), rel=1e-4)


@pytest.mark.parametrize(("slope", "kilonewtons"), [(2, 13.483857940441055), (-2, 6.503958599940862)])
def test_bundle_up_and_down_a_slope(slope: float, kilonewtons: float) -> None:
    # F = W (μ cos ± sin): 100 kN, μ 0.1
    assert push_force(100e3 / GRAVITY, 0.1, slope * DEGREE).total == pytest.approx(kilonewtons * 1e3, rel=1e-6)


@pytest.mark.parametrize(("friction", "pounds"), [(0.6, 6000), (0.45, 4500)])
def test_skidding_a_load(friction: float, pounds: float) -> None:
    # rigging reference (common practice): 10 000 lb, metal or wood on concrete
    push = push_force(10000 * 0.45359237, friction, 0.0)
    assert push.total / 4.4482216152605 == pytest.approx(pounds, rel=1e-6)


def test_esposito_example_3_4() -> None:
    # Esposito, Fluid Power with Applications, ex. 3.4, p. 85 (lbf, in)
    assert multiplied(100, 2, 20) == pytest.approx(1000, rel=1e-6)
    assert followed(1.0, 2, 20) == pytest.approx(0.1, rel=1e-6)


def test_esposito_example_3_5() -> None:
    # same book, ex. 3.5, p. 88: 25 lb on a 4:1 lever, 1 in pump, 3.25 in ram, 10 in up in 2 in strokes
    pressure = jack_pressure(25 * 4, circle(1.0))
    assert pressure == pytest.approx(127, rel=0.005)
    assert jack_force(pressure, circle(3.25)) == pytest.approx(1053, rel=0.005)
    assert 10 / followed(2.0, circle(1.0), circle(3.25)) == pytest.approx(52.8, rel=0.005)


def test_wentzell_example_10_2() -> None:
    # Wentzell, Machine Design, ex. 10.2, p. 198: 100 psi air on 4 in drives a 1 in pump into a 3 in ram
    oil = intensified(100, circle(4.0), circle(1.0))
    assert oil == pytest.approx(1600, rel=0.015)
    assert jack_force(oil, circle(3.0)) == pytest.approx(11309.73, rel=0.015)
    assert followed(4.0, circle(1.0), circle(3.0)) == pytest.approx(0.44, rel=0.015)


def test_four_jacks_at_700_bar() -> None:
    # F = p A: 60 mm pistons
    assert jack_force(70e6, circle(0.06)) == pytest.approx(197.92033717615695e3, rel=1e-6)
    assert jack_force(70e6, circle(0.06), 4) == pytest.approx(791.6813487046278e3, rel=1e-6)
