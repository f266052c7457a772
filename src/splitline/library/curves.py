"""Values against temperature: modulus of elasticity and mean coefficient of expansion by group of steel."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from splitline.errors import LibraryError
from splitline.library.store import Library

_ZERO = 273.15
REFERENCE = 20.0 + _ZERO  # K; strengths and moduli without a temperature are meant at 20 °C
_SLACK = 1.0  # K beyond the last point
_BELOW = 26.0  # K below the first: a table that starts at 70 °F stands for a cold workshop too


@dataclass(frozen=True, slots=True)
class Curve:
    """Points of a table over temperature (K) with straight lines between; ``flat_below`` holds the first value below."""

    what: str
    temperatures: tuple[float, ...]
    values: tuple[float, ...]
    source: str
    flat_below: bool = False

    def at(self, temperature: float) -> float:
        """Value at ``temperature`` (K); LibraryError beyond the table's ends."""
        known, values = self.temperatures, self.values
        if (temperature < known[0] - _BELOW and not self.flat_below) or temperature > known[-1] + _SLACK:
            raise LibraryError(
                f"{self.what}: {temperature - _ZERO:.0f} °C is beyond the table "
                f"({known[0] - _ZERO:.0f} to {known[-1] - _ZERO:.0f} °C)"
            )
        if temperature <= known[0]:
            return values[0]
        if temperature >= known[-1]:
            return values[-1]
        i = bisect_right(known, temperature)
        share = (temperature - known[i - 1]) / (known[i] - known[i - 1])
        return values[i - 1] + share * (values[i] - values[i - 1])

    def known_at(self, temperature: float) -> float | None:
        """Value at ``temperature`` (K), None beyond the table's ends."""
        try:
            return self.at(temperature)
        except LibraryError:
            return None


def modulus(library: Library, group: str) -> Curve:
    """Modulus of elasticity (Pa) of a group of steel against temperature (ASME B31.3 Table C-6, II-D Table TM-1)."""
    row = library.find("modulus", group)
    return Curve(f"modulus of {row.name}", row["temperature"], row["modulus"], row.source)


def moduli(library: Library) -> tuple[Curve, ...]:
    """Modulus of elasticity (Pa) against temperature of every group of the library."""
    if "moduli" not in library.kept:
        library.kept["moduli"] = tuple(modulus(library, row.name) for row in library.rows("modulus"))
    found: tuple[Curve, ...] = library.kept["moduli"]
    return found


def expansion(library: Library, group: str) -> Curve:
    """Mean coefficient of expansion (1/K) from 20 °C to temperature; below 20 °C the first value stands."""
    row = library.find("expansion", group)
    return Curve(f"expansion of {row.name}", row["temperature"], row["expansion"], row.source, flat_below=True)


def constant(what: str, value: float, source: str) -> Curve:
    """One value at every temperature, where no table against temperature is known."""
    return Curve(f"{what} (taken as constant)", (0.0, 2000.0), (value, value), source)
