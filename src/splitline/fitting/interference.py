"""Pressure between hub and shaft from their interference, at rest, at speed and at temperature."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from splitline.fitting.cylinder import Elastic, RingStress, pressed, ring_sizes
from splitline.fitting.guard import finite, not_negative, positive
from splitline.fitting.rotating import spin_growth, spinning

REFERENCE_TEMPERATURE = 293.15  # K; sizes are stated at 20 °C, ISO 1


@dataclass(frozen=True, slots=True)
class Pair:
    """A hub on a shaft. Diameters and length in m; ``diameter`` is the mean over the length for a taper."""

    diameter: float
    shaft_bore: float
    hub_outer: float
    length: float
    shaft: Elastic
    hub: Elastic

    def __post_init__(self) -> None:
        ring_sizes(self.shaft_bore, self.diameter)
        ring_sizes(self.diameter, self.hub_outer)
        positive(self.length, "length of the fit")

    @property
    def area(self) -> float:
        """Contact area π d L, m² (a taper's 1/cos of the half-angle is left out: under 0.1 % for 1:12 and slimmer)."""
        return math.pi * self.diameter * self.length

    @property
    def hub_mass(self) -> float:
        """Mass of the hub as a plain ring, ρ π/4 (D² − d²) L, kg."""
        return self.hub.density * math.pi / 4 * (self.hub_outer**2 - self.diameter**2) * self.length


def compliance(pair: Pair) -> float:
    """Diametral interference taken up per unit of contact pressure, m/Pa.

    δ/p = d [ (1/E_h)((D² + d²)/(D² − d²) + ν_h) + (1/E_s)((d² + b²)/(d² − b²) − ν_s) ], b = shaft bore, D = hub outer.
    Plane stress, equal lengths; about 1.8 % low in pressure for a hub on a longer shaft; silent about edges.
    Source: Shigley §3-16 (press and shrink fits), eq. 3-56 with diametral instead of radial interference.
    """
    d2, outer2, bore2 = pair.diameter**2, pair.hub_outer**2, pair.shaft_bore**2
    hub = ((outer2 + d2) / (outer2 - d2) + pair.hub.poisson) / pair.hub.modulus
    shaft = ((d2 + bore2) / (d2 - bore2) - pair.shaft.poisson) / pair.shaft.modulus
    return pair.diameter * (hub + shaft)


def contact_pressure(pair: Pair, interference: float) -> float:
    """Contact pressure (Pa) of a diametral interference (m); 0 for a clearance. Formula: ``compliance``."""
    finite(interference, "interference")
    return max(0.0, interference) / compliance(pair)


def interference_for(pair: Pair, pressure: float) -> float:
    """Diametral interference (m) that gives a contact pressure (Pa)."""
    return not_negative(pressure, "contact pressure") * compliance(pair)


def smoothing_loss(roughness_hub: float, roughness_shaft: float) -> float:
    """Diametral interference lost to flattened peaks, 0.8 (Rz_hub + Rz_shaft), m.

    For parts joined dry by force or heat; little or none is lost when an oil film parts the surfaces.
    Source: DIN 7190-1 (from memory).
    """
    return 0.8 * (not_negative(roughness_hub, "hub roughness") + not_negative(roughness_shaft, "shaft roughness"))


def speed_loss(pair: Pair, speed: float) -> float:
    """Diametral interference (m) lost at ``speed`` (rad/s): free growth of the hub bore less that of the shaft.

    Negative when a heavy or soft shaft grows more than its hub. Source: superposed rotating discs (``spinning``).
    """
    hub = spin_growth(pair.diameter, pair.diameter, pair.hub_outer, pair.hub, speed)
    shaft = spin_growth(pair.diameter, pair.shaft_bore, pair.diameter, pair.shaft, speed)
    return hub - shaft


def temperature_loss(pair: Pair, hub_rise: float, shaft_rise: float) -> float:
    """Diametral interference (m) lost when hub and shaft warm by so many K from 20 °C: d (α_h ΔT_h − α_s ΔT_s).

    Each part at one even temperature, with the coefficients of ``pair``. Linear expansion.
    """
    finite(hub_rise, "hub temperature rise")
    finite(shaft_rise, "shaft temperature rise")
    return pair.diameter * (pair.hub.expansion * hub_rise - pair.shaft.expansion * shaft_rise)


def letting_go_speed(pair: Pair, interference: float) -> float | None:
    """Speed (rad/s) at which the contact pressure reaches 0; None if speed never takes this fit's grip.

    ω = √(δ / (loss per ω²)); ``interference`` is what smoothing and temperature leave (m); 0 if they leave nothing.
    """
    finite(interference, "interference")
    if interference <= 0.0:
        return 0.0
    per_square = speed_loss(pair, 1.0)
    return math.sqrt(interference / per_square) if per_square > 0.0 else None


@dataclass(frozen=True, slots=True)
class Running:
    """What takes or adds grip in service: speed in rad/s, temperature rises over 20 °C in K."""

    speed: float = 0.0
    hub_rise: float = 0.0
    shaft_rise: float = 0.0
    hub_softened: float = 1.0  # E at temperature over E at 20 °C
    shaft_softened: float = 1.0
    hub_expansion: float | None = None  # 1/K, mean up to the running temperature; None: the part's own
    shaft_expansion: float | None = None

    def __post_init__(self) -> None:
        not_negative(self.speed, "speed")
        positive(self.hub_softened, "hub modulus share")
        positive(self.shaft_softened, "shaft modulus share")


def at_temperature(pair: Pair, running: Running) -> Pair:
    """The pair with moduli and expansions of its running temperature."""
    hub, shaft = (
        replace(part, modulus=part.modulus * share, expansion=part.expansion if own is None else own)
        for part, share, own in (
            (pair.hub, running.hub_softened, running.hub_expansion),
            (pair.shaft, running.shaft_softened, running.shaft_expansion),
        )
    )
    return replace(pair, hub=hub, shaft=shaft)


def interference_running(pair: Pair, interference: float, running: Running) -> float:
    """Interference (m, negative = clearance) left of ``interference`` in service."""
    pair = at_temperature(pair, running)
    lost = speed_loss(pair, running.speed) + temperature_loss(pair, running.hub_rise, running.shaft_rise)
    return interference - lost


def pressure_running(pair: Pair, interference: float, running: Running) -> float:
    """Contact pressure (Pa) in service; 0 where the fit has let go."""
    return contact_pressure(at_temperature(pair, running), interference_running(pair, interference, running))


def hub_stress(pair: Pair, pressure: float, speed: float = 0.0, at: float | None = None) -> RingStress:
    """Stress of the hub under contact pressure (Pa) and speed (rad/s) at a diameter (m); default its bore."""
    place = pair.diameter if at is None else at
    return pressed(place, pair.diameter, pair.hub_outer, inside=pressure) + spinning(
        place, pair.diameter, pair.hub_outer, pair.hub, speed
    )


def shaft_stress(pair: Pair, pressure: float, speed: float = 0.0, at: float | None = None) -> RingStress:
    """Stress of the shaft under contact pressure (Pa) and speed (rad/s) at a diameter (m); default the fit diameter."""
    place = pair.diameter if at is None else at
    return pressed(place, pair.shaft_bore, pair.diameter, outside=pressure) + spinning(
        place, pair.shaft_bore, pair.diameter, pair.shaft, speed
    )


_PLACES = 16  # intervals over the wall in the search for the worst place


def worst_hub(pair: Pair, pressure: float, speed: float = 0.0) -> float:
    """Greatest combined (von Mises) stress anywhere in the hub wall, Pa; nearly always at its bore."""
    step = (pair.hub_outer - pair.diameter) / _PLACES
    places = [pair.diameter + i * step for i in range(_PLACES)] + [pair.hub_outer]
    return max(hub_stress(pair, pressure, speed, at).combined for at in places)


def worst_shaft(pair: Pair, pressure: float, speed: float = 0.0) -> float:
    """Greatest combined (von Mises) stress anywhere in the shaft, Pa; of a hollow shaft usually at its own bore.

    At rest there it is the hoop stress −2 p d²/(d² − b²): even a pinhole doubles the solid shaft's p.
    """
    step = (pair.diameter - pair.shaft_bore) / _PLACES
    places = [pair.shaft_bore + i * step for i in range(_PLACES)] + [pair.diameter]
    return max(shaft_stress(pair, pressure, speed, at).combined for at in places)
