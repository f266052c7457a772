"""Our units as pint reads them: where their factors come from, and what a unit put together otherwise is in them.

pint lives here only, and is imported when it is first asked.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

# Our units only. pint's default file would read "Nm" as a textile unit and "kn" as knots.
_DEFINITIONS = """
meter = [length] = m
second = [time] = s
kilogram = [mass] = kg
kelvin = [temperature]; offset: 0 = K
volt = [potential] = V
radian = [] = rad
degree_Celsius = kelvin; offset: 273.15 = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF
kelvin_of_fahrenheit = 5 / 9 * kelvin = degF_diff
millimeter = 1e-3 * meter = mm
micrometer = 1e-6 * meter = um
centimeter = 1e-2 * meter = cm
inch = 0.0254 * meter = in
foot = 0.3048 * meter = ft
mil = 2.54e-5 * meter
gram = 1e-3 * kilogram = g
tonne = 1000 * kilogram = t
pound = 0.45359237 * kilogram = lb
short_ton = 2000 * pound
newton = kilogram * meter / second ** 2 = N
kilonewton = 1000 * newton = kN
meganewton = 1e6 * newton = MN
pound_force = 4.4482216152605 * newton = lbf
kip = 1000 * pound_force
kilogram_force = 9.80665 * newton = kgf
pascal = newton / meter ** 2 = Pa
kilopascal = 1e3 * pascal = kPa
megapascal = 1e6 * pascal = MPa
gigapascal = 1e9 * pascal = GPa
bar = 1e5 * pascal
millibar = 100 * pascal = mbar
psi = pound_force / inch ** 2
ksi = 1000 * psi
Mpsi = 1e6 * psi
joule = newton * meter = J
kilojoule = 1000 * joule = kJ
degree = 0.017453292519943295 * radian = deg
milliradian = 1e-3 * radian = mrad
rpm = 0.10471975511965977 * radian / second
minute = 60 * second = min
hour = 3600 * second = h
kph = 1000 / 3600 * meter / second
mph = 0.44704 * meter / second
millivolt = 1e-3 * volt = mV
"""

_PUT_TOGETHER = re.compile(
    r"[A-Za-zµμ]+(?:\^?[23]|[²³])?(?:[*·][A-Za-zµμ]+(?:\^?[23]|[²³])?)*(?:/[A-Za-zµμ]+(?:\^?[23]|[²³])?)?"
)
_ALIKE = str.maketrans({"·": "*", "²": "^2", "³": "^3", "μ": "u", "µ": "u"})


def by_pint(expression: str) -> tuple[float, float]:
    """Scale and offset as pint has them; the one place pint is used. FACTORS holds what it says, to the last digit."""
    registry = _registry()
    if expression in ("degC", "degF"):
        step = "K" if expression == "degC" else "degF_diff"
        return by_pint(step)[0], float(registry.Quantity(0.0, expression).to("K").magnitude)
    return float(registry.Quantity(1.0, expression).to_base_units().magnitude), 0.0


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[float]:
    import pint

    registry: UnitRegistry[float] = pint.UnitRegistry(None)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry


def converted(value: float, unit: str, wanted: str) -> float | None:
    """A value in a product of our units, over one more at most, such as ``kN*cm`` or ``N/cm²``, in the unit ``wanted``.

    None: not put together so, of units that are not ours, or of another dimension. A single unit is not asked about.
    """
    if not _PUT_TOGETHER.fullmatch(unit) or not re.search(r"[*·/²³\d]", unit):
        return None
    text = re.sub(r"\^?([23])", r"**\1", unit.translate(_ALIKE))
    registry = _registry()
    try:
        found = float(registry.Quantity(value, text).to(wanted).magnitude)
    except Exception:  # pint raises its own of many kinds; whatever it is, there is nothing to propose
        return None
    return found if math.isfinite(found) else None
