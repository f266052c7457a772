"""Stress and growth of one thick ring or shaft under pressure: Lamé, plane stress."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import finite, not_negative, positive


@dataclass(frozen=True, slots=True)
class Elastic:
    """One material: modulus E in Pa, Poisson's ratio ν, density ρ in kg/m³, expansion α in 1/K."""

    modulus: float
    poisson: float
    density: float = 0.0
    expansion: float = 0.0

    def __post_init__(self) -> None:
        positive(self.modulus, "modulus")
        if not -1.0 < self.poisson <= 0.5:
            raise InputError(f"Poisson's ratio must be above -1 and at most 0.5, is {self.poisson:g}")
        not_negative(self.density, "density")
        finite(self.expansion, "expansion")


@dataclass(frozen=True, slots=True)
class RingStress:
    """Radial and hoop stress (Pa, tension positive) at one diameter; axial stress is 0 (plane stress)."""

    radial: float
    hoop: float

    @property
    def combined(self) -> float:
        """Von Mises stress of the plane state: √(σ_r² − σ_r σ_t + σ_t²)."""
        return math.sqrt(max(0.0, self.radial**2 - self.radial * self.hoop + self.hoop**2))

    @property
    def shear_twice(self) -> float:
        """Tresca stress: greatest difference of the principal stresses (σ_r, σ_t, 0)."""
        return max(self.radial, self.hoop, 0.0) - min(self.radial, self.hoop, 0.0)

    def __add__(self, other: RingStress) -> RingStress:
        return RingStress(self.radial + other.radial, self.hoop + other.hoop)


def ring_sizes(bore: float, outer: float) -> tuple[float, float]:
    """Bore and outer diameter back if 0 ≤ bore < outer; InputError otherwise."""
    not_negative(bore, "bore diameter")
    positive(outer, "outer diameter")
    if bore >= outer:
        raise InputError(f"the bore {bore:g} m must be smaller than the outer diameter {outer:g} m")
    return bore, outer


def pressed(at: float, bore: float, outer: float, inside: float = 0.0, outside: float = 0.0) -> RingStress:
    """Stress at diameter ``at`` of a ring with pressure ``inside`` its bore and ``outside`` (Pa).

    σ = (p_i d_i² − p_o d_o²)/(d_o² − d_i²) ∓ (p_i − p_o) d_i² d_o²/(d² (d_o² − d_i²)), minus for radial, plus for hoop.
    A solid disc (bore 0) has σ_r = σ_t = −p_o and takes no inside pressure. Elastic, any 0 ≤ bore < outer.
    Source: Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, §3-14 (thick-walled cylinders).
    """
    ring_sizes(bore, outer)
    if not bore * (1 - 1e-12) <= at <= outer * (1 + 1e-12):
        raise InputError(f"diameter {at:g} m is outside the ring of {bore:g} to {outer:g} m")
    if bore == 0.0:
        return RingStress(-outside, -outside)
    span = outer**2 - bore**2
    level = (inside * bore**2 - outside * outer**2) / span
    swing = (inside - outside) * (bore / at) ** 2 * outer**2 / span  # the ratio first: a pinhole squared underflows
    return RingStress(level - swing, level + swing)


def growth(at: float, stress: RingStress, material: Elastic) -> float:
    """Change of the diameter ``at`` (m) under a plane stress: d (σ_t − ν σ_r)/E (Hooke)."""
    return at * (stress.hoop - material.poisson * stress.radial) / material.modulus
