"""Unit factors against NIST Special Publication 811 (2008), Appendix B.8 (from memory; exact ones marked there in bold)."""

from __future__ import annotations

import pytest

from splitline.units import read

# unit, kind, factor to SI as printed (seven figures)
FACTORS = [
    ("in", "length", 2.54e-2),
    ("ft", "length", 3.048e-1),
    ("mil", "length", 2.54e-5),
    ("in^2", "area", 6.4516e-4),
    ("lb", "mass", 4.535924e-1),
    ("short ton", "mass", 9.071847e2),
    ("lbf", "force", 4.448222),
    ("kip", "force", 4.448222e3),
    ("kgf", "force", 9.80665),
    ("psi", "pressure", 6.894757e3),
    ("ksi", "stress", 6.894757e6),
    ("bar", "pressure", 1e5),
    ("ft*lbf", "torque", 1.355818),
    ("in*lbf", "torque", 1.129848e-1),
    ("lbf*in", "torque", 1.129848e-1),
    ("kgf*m", "torque", 9.80665),
    ("lb/in^3", "density", 2.767990e4),
    ("lb/ft^3", "density", 1.601846e1),
    ("kgf/mm^2", "stress", 9.80665e6),
    ("kgf/cm^2", "pressure", 9.80665e4),
    ("rpm", "speed", 1.047198e-1),
    ("deg", "angle", 1.745329e-2),
    ("min", "time", 60.0),
    ("h", "time", 3600.0),
    ("lbf/in", "line_load", 1.751268e2),
    ("lbf/ft", "line_load", 1.459390e1),
]


@pytest.mark.parametrize(("unit", "kind", "factor"), FACTORS)
def test_factor(unit: str, kind: str, factor: float) -> None:
    assert read(f"1 {unit}", kind) == pytest.approx(factor, rel=5e-7)


# Appendix B.8, degree Fahrenheit: T/K = (t + 459.67)/1.8; degree Celsius: T/K = t + 273.15
@pytest.mark.parametrize(
    ("text", "kelvin"), [("32 degF", 273.15), ("212 degF", 373.15), ("-40 degF", 233.15), ("100 degC", 373.15)]
)
def test_temperature(text: str, kelvin: float) -> None:
    assert read(text, "temperature") == pytest.approx(kelvin, abs=1e-9)
