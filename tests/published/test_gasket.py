"""Gasket and O-ring closures against ASME VIII-1 Appendix 2 examples."""

from __future__ import annotations

from math import pi

import pytest

from splitline.bolting.gasket import (
    contact_load,
    crush_limit,
    design_load,
    effective_width,
    gasket_stress,
    operating_load,
    required_bolt_area,
    seat,
    seat_at,
    seating_load,
)
from splitline.bolting.joint_load import equivalent_pressure, pressure_force

INCH, LBF, PSI = 0.0254, 4.4482216152605, 6894.757293168361


def test_appendix_2_seating() -> None:
    """Geometry of 'Loads on Flanges - the ASME way' (gasket 17.75 x 16.25 in, m = 3, y = 10,000 psi); results derived."""
    gasket = seat(17.75 * INCH, 16.25 * INCH)
    assert gasket.effective_width == pytest.approx(0.30619 * INCH, rel=1e-4)
    assert gasket.diameter == pytest.approx(17.1376 * INCH, rel=1e-4)
    assert seating_load(gasket, 10_000 * PSI) == pytest.approx(164_849 * LBF, rel=1e-4)
    assert pressure_force(PSI, gasket.diameter) == pytest.approx(230.67 * LBF, rel=1e-4)


def test_appendix_2_operating() -> None:
    """The same flange at 150 psi (pressure chosen; derived with Appendix 2 formulas)."""
    gasket = seat_at(17.1376 * INCH, 0.75 * INCH)
    assert pressure_force(150 * PSI, gasket.diameter) == pytest.approx(34_601.0 * LBF, rel=2e-4)
    assert contact_load(gasket, 150 * PSI, 3.0) == pytest.approx(14_836.0 * LBF, rel=2e-4)
    assert operating_load(gasket, 150 * PSI, 3.0) == pytest.approx(49_437.0 * LBF, rel=2e-4)


def test_o_ring() -> None:
    """ASME VIII-1 Table 2-5.1: self-energizing O-rings have m = y = 0; result derived."""
    ring = seat_at(20 * INCH, 0.25 * INCH)
    assert operating_load(ring, 500 * PSI, 0.0) == pytest.approx(157_079.6 * LBF, rel=1e-5)
    assert seating_load(ring, 0.0) == 0.0


def test_equivalent_pressure() -> None:
    """Moss, Pressure Vessel Design Manual, p. 53: 16 M/(π G³) + 4 F/(π G²); number derived."""
    got = equivalent_pressure(100_000 * LBF * INCH, 5_000 * LBF, 17.1376 * INCH)
    assert got == pytest.approx(122.862 * PSI, rel=1e-4)


def test_width_rule_changes_at_a_quarter_inch() -> None:
    """Table 2-5.2: b = b₀ up to 1/4 in, 0.5·√b₀ above (both give 1/4 in at the change)."""
    assert effective_width(0.5 * INCH) == pytest.approx(0.25 * INCH, rel=1e-12)
    assert effective_width(0.500001 * INCH) == pytest.approx(0.25 * INCH, rel=1e-5)
    assert effective_width(2.0 * INCH) == pytest.approx(0.5 * INCH, rel=1e-12)


def test_bolt_area_design_load_and_crushing() -> None:
    """Appendix 2, 2-5(d), 2-5(e) and the least gasket width N = A_b S_a/(2 π y G), turned round."""
    gasket = seat_at(0.45, 0.02)
    area = required_bolt_area(gasket, 2e6, 3.0, 69e6, 160e6, 172e6)
    assert area == pytest.approx(max(operating_load(gasket, 2e6, 3.0) / 160e6, seating_load(gasket, 69e6) / 172e6))
    assert design_load(area, 2 * area, 172e6) == pytest.approx(1.5 * area * 172e6)
    bolts = 2 * pi * 69e6 * gasket.diameter * gasket.width
    assert gasket_stress(gasket, bolts) == pytest.approx(crush_limit(69e6))
