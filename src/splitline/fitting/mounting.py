"""Mounting and removal on an oil film or by plain force: push force, pressures on the way, stored energy."""

from __future__ import annotations

import math

from splitline.fitting.guard import not_negative, positive
from splitline.fitting.interference import Pair, contact_pressure
from splitline.fitting.taper import Taper

# Oil pressure over contact pressure that opens the bore: the middle of the hub needs about 1.0; with seals 2.5 to 7.5 %
# in from the ends the seal lines need 1.3 to 1.6 (own axisymmetric finite-element study of a D/d = 1.8 steel hub). Other
# shapes need more: ``oil_study``. A published text gives 1.2 where no end seals are fitted.
EXPANSION_LOW = 1.0
EXPANSION_HIGH = 1.6

INJECTION_DANGER = 7e5  # Pa; oil under the skin is possible from 7 bar (HSE bulletin FOD 4-2014)


def push_force(pair: Pair, pressure: float, friction: float, taper: Taper) -> float:
    """Axial force (N) that pushes the hub up at a contact pressure (Pa): p π d L (tan half-taper + μ).

    μ of the oil film 0.005 to 0.02 (published texts); a dry press uses the grip friction. Small half-angles (≤ 1:8).
    """
    return (
        not_negative(pressure, "contact pressure") * pair.area * (taper.tan_half + not_negative(friction, "friction"))
    )


def push_off_force(pair: Pair, pressure: float, friction: float, taper: Taper) -> float:
    """Axial force (N) with which a floated hub drives itself off: p π d L (tan half-taper − μ); negative: it stays."""
    return (
        not_negative(pressure, "contact pressure") * pair.area * (taper.tan_half - not_negative(friction, "friction"))
    )


def stored_energy(pair: Pair, interference: float) -> float:
    """Elastic energy (J) of hub and shaft at a diametral interference (m): ½ p π d L · δ/2 (linear elasticity).

    What a hub that floats on oil can turn into motion: 0.15 mm on a 100 mm hub of 180 × 120 mm holds about 150 J.
    """
    return 0.5 * contact_pressure(pair, interference) * pair.area * max(0.0, interference) / 2


def ejection_speed(energy: float, mass: float) -> float:
    """Upper bound (m/s) of the speed of a hub that comes off with all its stored energy: √(2U/m)."""
    return math.sqrt(2 * not_negative(energy, "energy") / positive(mass, "hub mass"))


def ram_pressure(force: float, area: float) -> float:
    """Pressure (Pa) in the axial ram for a push force (N) on its piston area (m²): F/A."""
    return not_negative(force, "push force") / positive(area, "ram area")
