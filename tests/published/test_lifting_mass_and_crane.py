"""Composite centres, weights, dynamic factors, wind."""

from __future__ import annotations

import math

import pytest

from splitline.lifting.crane import line_angle, wind_force
from splitline.lifting.mass import composite, cup_centre, dynamic_onshore, ring


def test_composite_centre() -> None:
    # Hibbeler & Gupta, ch. 9, Ex 9.10 p. 353: parts with a hole taken off
    found = composite([4.5, 9.0, -2.0], [(1, 1, 0), (-1.5, 1.5, 0), (-2.5, 2, 0)])
    assert found.centre[:2] == pytest.approx((-0.348, 1.22), rel=0.003)


def test_cup() -> None:
    # Machinery's Handbook 31e p. 231: a = 2 h^2/(4 h + d)
    assert cup_centre(1.0, 1.0) == pytest.approx(0.4, rel=1e-9)
    # the same from its wall (pi d h at h/2) and its end (pi d^2/4 at 0)
    assert cup_centre(0.7, 1.3) == pytest.approx(
        composite([0.7 * 1.3, 0.7**2 / 4], [(0.65, 0, 0), (0, 0, 0)]).centre[0]
    )


def test_weight_by_section() -> None:
    # Builder-Mechanic, weight of any casting: 3.156 lb per square inch and foot of cast iron, 3.312 of wrought iron
    for per_foot, density in ((3.156, 454.5), (3.312, 476.9)):
        side = math.sqrt(4 / math.pi) / 12  # a bar of one square inch, ft
        assert ring(side, 0.0, 1.0, density) == pytest.approx(per_foot, rel=0.001)


def test_dynamic_factor_on_land() -> None:
    # 0027/ND Rev 11.2, Table 5-1, single crane
    assert dynamic_onshore(100e3) == pytest.approx(1.10, rel=0.001)
    assert dynamic_onshore(2000e3) == pytest.approx(1.03, rel=0.001)


def test_wind() -> None:
    # q = 0.5 rho v^2, rho = 1.25 kg/m3 (ISO 4302 / FEM form, from memory): 14.3 m/s on 12 m2, c = 1.2
    assert wind_force(14.3, 1.0, 1.0) == pytest.approx(127.80625, rel=1e-6)
    assert wind_force(14.3, 12.0, 1.2) == pytest.approx(1840.41, rel=1e-6)
    # derived: 3.6 kN beside 120 kN
    assert math.degrees(line_angle(3600, 120_000)) == pytest.approx(1.7183580016554572, rel=1e-6)
