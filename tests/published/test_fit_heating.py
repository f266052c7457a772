"""Heating, cooling and growth: handbook problems and linear expansion."""

from __future__ import annotations

import pytest

from splitline.fitting.heating import axial_growth, cooling_drop, default_gap, heating_band, heating_rise


def test_hub_heating_temperature() -> None:
    # ΔT = (interference + clearance)/(α d): 100 mm, 0.15 + 0.1 mm, α of ANSI/AGMA 9103-C17
    rise = heating_rise(0.15e-3, 0.1e-3, 0.1, 1.14e-5)
    assert rise == pytest.approx(219.298, rel=1e-4)
    assert 20 + rise == pytest.approx(239.298, rel=1e-4)
    assert default_gap(0.1) == pytest.approx(0.1e-3)
    # 5 % of spread in α moves such a heating by about 11 °C
    assert heating_band(rise)[1] - rise == pytest.approx(11.5, abs=0.1)


def test_cooling_a_pin() -> None:
    # Groover, Fundamentals of Modern Manufacturing, Prob. M4.17 with Table 4.1
    drop = cooling_drop(15.0e-3 - 14.98e-3, 15.0e-3, 1.2e-5)
    assert 20 - drop == pytest.approx(-91.1, rel=0.002)


def test_float_error_of_a_warm_rotor() -> None:
    # linear expansion: 1500 mm of rotor 10 K warmer than its casing
    assert axial_growth(1.5, 1.14e-5, 10.0) == pytest.approx(0.171e-3, rel=1e-4)
