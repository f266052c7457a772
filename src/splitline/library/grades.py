"""Bolting and nut grades: strength by diameter range, yield at temperature, modulus and expansion."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import LibraryError
from splitline.library.curves import REFERENCE, Curve, constant, expansion, modulus
from splitline.library.store import Library, Row
from splitline.library.threads import ThreadSize

_FIT = 1e-6  # m: a range "up to 2 1/2 in" holds 2.5 in


@dataclass(frozen=True, slots=True)
class Grade:
    """A bolt grade at one diameter; stresses in Pa. ``proof_strength`` is None where the standard names none.

    ``yield_share`` is yield at temperature over yield at 20 °C, None where no source is known.
    """

    name: str
    up_to: float
    tensile_strength: float
    yield_strength: float
    proof_strength: float | None
    modulus: Curve | None
    expansion: Curve | None
    yield_share: Curve | None
    source: str
    note: str = ""

    def yield_at(self, temperature: float) -> float | None:
        """Yield (Pa) at ``temperature`` (K): the 20 °C value up to there; None where no source says it."""
        if temperature <= REFERENCE:
            return self.yield_strength
        share = self.yield_share.known_at(temperature) if self.yield_share is not None else None
        return None if share is None else self.yield_strength * share


def grade(library: Library, name: str, thread: ThreadSize) -> Grade:
    """The grade at the thread's diameter: metric threads by the MPa edition, inch threads by the ksi edition.

    LibraryError for an unknown name (with the nearest) and for a diameter above the last range.
    """
    row = library.find("grades", name)
    inch = thread.system == "inch" and row.get("up_to_inch") is not None
    limits: tuple[float, ...] = row["up_to_inch" if inch else "up_to"]
    step = next((i for i, limit in enumerate(limits) if thread.d <= limit + _FIT), None)
    if step is None:
        largest = f"{limits[-1] / 0.0254:g} in" if inch else f"{limits[-1] * 1e3:g} mm"
        raise LibraryError(
            f'"{row.name}" has values up to {largest}, {thread.name} is larger: give yield_strength and tensile_strength'
        )

    def stress(column: str) -> float | None:
        values = row.get(column.replace("_strength", "_inch") if inch else column)
        return None if values is None else float(values[step])

    tensile, least_yield = stress("tensile_strength"), stress("yield_strength")
    if tensile is None or least_yield is None:
        raise LibraryError(f'"{row.name}" lacks yield or tensile strength for {thread.name}')
    return Grade(
        row.name,
        limits[step],
        tensile,
        least_yield,
        stress("proof_strength"),
        _curve(library, row, "modulus"),
        _curve(library, row, "expansion"),
        _yield_share(row),
        row.source,
        row.get("note", ""),
    )


def _curve(library: Library, row: Row, what: str) -> Curve | None:
    """The row's own value if it has one, else that of its group."""
    own = row.get(what)
    if own is not None:
        return constant(f"{what} of {row.name}", own, row.source)
    group = row.get("group")
    if group is None:
        return None
    return modulus(library, group) if what == "modulus" else expansion(library, group)


def _yield_share(row: Row) -> Curve | None:
    if row.get("hot_temperature") is None:
        return None
    temperatures, shares = row["hot_temperature"], row["hot_share"]
    if temperatures[0] > REFERENCE:
        temperatures, shares = (REFERENCE, *temperatures), (1.0, *shares)
    return Curve(f"yield of {row.name}", temperatures, shares, row.get("hot_source", row.source))


@dataclass(frozen=True, slots=True)
class NutGrade:
    """A nut grade; stresses in Pa. ``tensile_strength`` is that of the nut's steel, for stripping."""

    name: str
    proof_strength: float | None
    tensile_strength: float
    source: str


# The nut each bolting standard pairs with its bolts (ASTM A193 and A320 notes, ISO 898-2 Table 1), from memory.
_PAIRS = {
    "ASTM A193 B7": "ASTM A194 2H",
    "ASTM A193 B16": "ASTM A194 4",
    "ASTM A193 B7M": "ASTM A194 2HM",
    "ASTM A320 L7M": "ASTM A194 2HM",
    "ASTM A320 L7": "ASTM A194 4",
    "ASTM A320 L43": "ASTM A194 7",
    "ASTM A193 B8": "ASTM A194 8",
    "ASTM A540": "ASTM A194 7",
    "ISO 898-1 8.8": "ISO 898-2 class 8",
    "ISO 898-1 10.9": "ISO 898-2 class 10",
    "ISO 898-1 12.9": "ISO 898-2 class 12",
}


def nut_grade(library: Library, name: str) -> NutGrade:
    """A nut grade by name; LibraryError names the nearest."""
    row = library.find("nut_grades", name)
    return NutGrade(row.name, row.get("proof_strength"), row["tensile_strength"], row.source)


def usual_nut(library: Library, bolt_grade: str) -> NutGrade | None:
    """The nut grade customarily used with a bolt grade, None where no custom is known."""
    row = library.get("grades", bolt_grade)
    if row is None:
        return None
    match = max((key for key in _PAIRS if row.name.startswith(key)), key=len, default=None)
    return None if match is None else nut_grade(library, _PAIRS[match])
