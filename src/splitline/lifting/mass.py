"""Mass and centre of gravity of a load put together from parts, and of the plain shapes parts are estimated by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.errors import InputError

Point = tuple[float, float, float]

# how the mass is known -> factor on it; marine-lift guideline style (weighed 1.03, else 1.10)
MASS_FACTOR = {"weighed": 1.03, "calculated": 1.10, "drawing": 1.10}


@dataclass(frozen=True, slots=True)
class Mass:
    """A whole load."""

    mass: float  # kg
    centre: Point  # m


def composite(masses: Sequence[float], places: Sequence[Sequence[float]]) -> Mass:
    """Sum of masses and sum(m r)/sum(m). Masses (n,) kg, negative for holes; places (n, 3) m. Total must be above 0."""
    if not masses:
        raise InputError("a load needs at least one part with its mass")
    total = math.fsum(masses)
    if not (math.isfinite(total) and total > 0.0):
        raise InputError("the parts' masses must add up to more than 0 kg")
    x, y, z = (math.fsum(m * place[axis] for m, place in zip(masses, places, strict=True)) / total for axis in range(3))
    return Mass(total, (x, y, z))


def mass_factor(basis: str) -> float:
    """Factor for how the mass is known; InputError names the choices."""
    if basis not in MASS_FACTOR:
        raise InputError(f'mass basis "{basis}": use one of {", ".join(MASS_FACTOR)}, or give mass_margin')
    return MASS_FACTOR[basis]


def dynamic_onshore(mass: float) -> float:
    """Customary dynamic factor of a single-crane lift on land by gross mass, kg: 1.10 up to 100 t, 1.05 to 1,000 t,
    1.03 above. Source: 0027/ND Rev 11.2, Table 5-1 (1.10 and 1.03 checked; the middle step from memory)."""
    if mass <= 100e3:
        return 1.10
    return 1.05 if mass <= 1000e3 else 1.03


def ring(outer: float, inner: float, length: float, density: float) -> float:
    """Mass of a hollow cylinder, pi/4 (D^2 - d^2) l rho; m, kg/m3."""
    if not 0.0 <= inner < outer or length <= 0.0 or density <= 0.0:
        raise InputError("a ring needs inner below outer diameter, and length and density above 0")
    return math.pi / 4.0 * (outer * outer - inner * inner) * length * density


def cup_centre(diameter: float, height: float) -> float:
    """Centre of a thin shell with one closed end, from that end: 2 h^2/(4 h + d), m (Machinery's Handbook 31, p. 231)."""
    if diameter <= 0.0 or height <= 0.0:
        raise InputError("a cup needs diameter and height above 0")
    return 2.0 * height * height / (4.0 * height + diameter)


def level_shares(weight: float, centre: Sequence[float], supports: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Vertical shares of two or three supports in plan (x, y), N; two: along their line. InputError if in one line."""
    if len(supports) == 2:
        (ax, ay), (bx, by) = (support[:2] for support in supports)
        span = math.hypot(bx - ax, by - ay)
        if span <= 0.0:
            raise InputError("the two supports coincide in plan")
        part = ((centre[0] - ax) * (bx - ax) + (centre[1] - ay) * (by - ay)) / span**2
        return (weight * (1.0 - part), weight * part)
    if len(supports) != 3:
        raise InputError("vertical shares are statically determined for two or three supports only")
    a, b, c = supports
    twice = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
    if abs(twice) < 1e-12:
        raise InputError("the three supports lie in one line: their shares are not determined")
    second = ((centre[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (centre[1] - a[1])) / twice
    third = ((b[0] - a[0]) * (centre[1] - a[1]) - (centre[0] - a[0]) * (b[1] - a[1])) / twice
    return (weight * (1.0 - second - third), weight * second, weight * third)
