"""Materials of casings, covers, shafts and hubs: elasticity, strength, limiting pressure under nuts."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.library.curves import Curve, constant, expansion, modulus
from splitline.library.store import Library


@dataclass(frozen=True, slots=True)
class Material:
    """A material at 20 °C in SI; strengths are None where the library names none.

    ``limiting_pressure`` is that of VDI 2230:2003, ``limiting_pressure_1986`` of the edition before; they disagree.
    """

    name: str
    modulus: float
    poisson: float
    density: float
    expansion: float
    yield_strength: float | None
    tensile_strength: float | None
    limiting_pressure: float | None
    limiting_pressure_1986: float | None
    modulus_curve: Curve
    expansion_curve: Curve
    brittle: bool
    source: str
    pressure_source: str
    note: str = ""


def material(library: Library, name: str) -> Material:
    """A material by name or alias; LibraryError names the nearest."""
    row = library.find("materials", name)
    group = row.get("group")
    if group is not None:
        by_temperature = modulus(library, group), expansion(library, group)
    else:
        by_temperature = (
            constant(f"modulus of {row.name}", row["modulus"], row.source),
            constant(f"expansion of {row.name}", row["expansion"], row.source),
        )
    return Material(
        row.name,
        row["modulus"],
        row["poisson"],
        row["density"],
        row["expansion"],
        row.get("yield_strength"),
        row.get("tensile_strength"),
        row.get("limiting_pressure"),
        row.get("limiting_pressure_1986"),
        *by_temperature,
        bool(row.get("brittle", False)),
        row.source,
        row.get("pressure_source", row.source),
        row.get("note", ""),
    )
