"""Mounting by heat: how hot the hub, how cold the shaft, how long it may be carried."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import finite, not_negative, positive
from splitline.fitting.interference import REFERENCE_TEMPERATURE

HANDLING_GAP_SHARE = 0.001  # of the diameter, common practice
EXPANSION_SPREAD = 0.05  # customary scatter of a tabulated expansion coefficient
HUB_LIMIT_LOW_ALLOY = 503.15  # K (230 °C): top of the 200 to 230 °C stop for low-alloy hubs, common practice
HUB_LIMIT_NEAR_SEALS = 393.15  # K (120 °C): near seals or rolling bearings, common practice
STEFAN_BOLTZMANN = 5.670374e-8  # W/(m² K⁴), CODATA
BIOT_LIMIT = 0.1  # above it the hub is not at one temperature (heat-transfer texts)


def default_gap(diameter: float) -> float:
    """Handling gap (m, diametral) when none is given: 0.001 d, common practice."""
    return HANDLING_GAP_SHARE * positive(diameter, "fit diameter")


def heating_rise(
    interference: float, gap: float, diameter: float, expansion: float, shaft_shrink: float = 0.0
) -> float:
    """Rise (K) of the hub over its temperature at measuring: (δ + gap − shaft_shrink)/(α d); not below 0.

    Diametral interference, gap and shrinkage of a cooled shaft in m. One α over the range: see ``heating_band``.
    Source: linear expansion; Boresi & Schmidt, Advanced Mechanics of Materials, ch. 11 (assembly temperature).
    """
    positive(diameter, "fit diameter")
    positive(expansion, "hub expansion")
    open_by = finite(interference, "interference") + not_negative(gap, "handling gap")
    return max(0.0, open_by - not_negative(shaft_shrink, "shaft shrinkage")) / (expansion * diameter)


def heating_band(rise: float, spread: float = EXPANSION_SPREAD) -> tuple[float, float]:
    """The rise for an expansion coefficient ``spread`` higher and lower than tabulated: ΔT/(1 ± spread), K."""
    if not 0.0 <= spread < 1.0:
        raise InputError(f"spread of the expansion coefficient must be 0 to below 1, is {spread:g}")
    return rise / (1 + spread), rise / (1 - spread)


def opening(diameter: float, expansion: float, rise: float) -> float:
    """Growth (m) of a diameter warmed by ``rise`` K, negative when cooled: α d ΔT."""
    return expansion * diameter * finite(rise, "temperature rise")


def cooling_drop(shrink: float, diameter: float, expansion: float) -> float:
    """How far (K) a shaft must be cooled to shrink by ``shrink`` (m, diametral): shrink/(α d).

    Steel's α falls by about a fifth down to liquid nitrogen: allow for it below −70 °C (common practice).
    """
    drop = not_negative(shrink, "shrinkage") / (positive(expansion, "expansion") * positive(diameter, "diameter"))
    if drop > REFERENCE_TEMPERATURE:
        raise InputError(f"cooling by {drop:.0f} K goes below absolute zero: shrink less, heat the hub as well")
    return drop


def axial_growth(length: float, expansion: float, rise: float) -> float:
    """Growth (m) of a length warmed by ``rise`` K: α L ΔT. A rotor 10 K warmer than its casing falsifies a float."""
    return expansion * positive(length, "length") * finite(rise, "temperature rise")


@dataclass(frozen=True, slots=True)
class Cooling:
    """A hot ring in still air. Sizes in m, temperatures in K, ρc in kg/m³ and J/(kg K), k in W/(m K)."""

    bore: float
    outer: float
    length: float
    density: float = 7830.0
    specific_heat: float = 480.0
    conductivity: float = 42.0
    convection: float = 8.0
    emissivity: float = 0.8
    ambient: float = REFERENCE_TEMPERATURE

    def __post_init__(self) -> None:
        if not 0.0 < self.bore < self.outer:
            raise InputError("the hub's bore must be above 0 and below its outer diameter")
        for name in ("length", "density", "specific_heat", "conductivity", "convection", "ambient"):
            positive(getattr(self, name), name.replace("_", " "))
        if not 0.0 <= self.emissivity <= 1.0:
            raise InputError(f"emissivity must be 0 to 1, is {self.emissivity:g}")

    @property
    def volume(self) -> float:
        """Volume of the ring, m³."""
        return math.pi / 4 * (self.outer**2 - self.bore**2) * self.length

    @property
    def surface(self) -> float:
        """Surface that loses heat, m²: outside and both faces; the bore sees itself and counts by convection only."""
        faces = math.pi / 2 * (self.outer**2 - self.bore**2)
        return math.pi * self.outer * self.length + faces

    def film(self, temperature: float) -> float:
        """Loss coefficient (W/(m² K)): convection plus radiation ε σ (T² + T_a²)(T + T_a)."""
        warm, cold = temperature, self.ambient
        return self.convection + self.emissivity * STEFAN_BOLTZMANN * (warm**2 + cold**2) * (warm + cold)

    def biot(self, temperature: float) -> float:
        """h (V/A)/k: below 0.1 the hub cools as one lump and the times below hold."""
        return self.film(temperature) * self.volume / self.surface / self.conductivity


def carrying_time(cooling: Cooling, hot: float, closed: float) -> float:
    """Time (s) in still air from ``hot`` to ``closed`` (K), the temperature at which the handling gap is used up.

    Lumped: m c dT/dt = −h(T) A (T − T_a) with convection on all of A, bore included, and radiation from the outside;
    integrated by Simpson's rule in 64 strips. Draughts, tongs and the first touch on a cold shaft shorten it; once the
    bore touches the shaft it closes within seconds. Source: lumped-capacity cooling (heat-transfer texts).
    """
    if not cooling.ambient < closed <= hot:
        raise InputError("temperatures must run ambient < closed ≤ hot: the gap must close above ambient")
    bore_area = math.pi * cooling.bore * cooling.length
    capacity = cooling.density * cooling.specific_heat * cooling.volume

    def seconds_per_kelvin(temperature: float) -> float:
        lost = cooling.film(temperature) * cooling.surface + cooling.convection * bore_area
        return capacity / (lost * (temperature - cooling.ambient))

    strips = 64
    width = (hot - closed) / strips
    total = seconds_per_kelvin(hot) + seconds_per_kelvin(closed)
    for i in range(1, strips):
        total += (4 if i % 2 else 2) * seconds_per_kelvin(closed + i * width)
    return total * width / 3


def drop_over(cooling: Cooling, hot: float, seconds: float) -> float:
    """How far (K) the ring cools from ``hot`` (K) within so many seconds: ``carrying_time`` turned round by halving."""
    low, high = cooling.ambient, hot
    if high <= low:
        return 0.0
    for _ in range(50):
        middle = (low + high) / 2
        if middle <= cooling.ambient or carrying_time(cooling, hot, middle) > seconds:
            low = middle
        else:
            high = middle
    return hot - high
