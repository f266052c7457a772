"""Lubricants by class of product, friction of fits, drag of seals: low, nominal, high with their source."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.library.store import Library, Row


@dataclass(frozen=True, slots=True)
class Band:
    """A coefficient as a band: overload is judged at the low value, lack of preload at the high one."""

    low: float
    nominal: float
    high: float


@dataclass(frozen=True, slots=True)
class Lubricant:
    """A class of lubricant: friction in thread and under the nut, and nut factor K = T / (F d)."""

    name: str
    thread: Band
    bearing: Band
    nut_factor: Band | None
    source: str
    note: str = ""

    @property
    def dry(self) -> bool:
        """Whether nothing is put on: torque then scatters more."""
        return self.name.startswith("dry") or "not lubricated" in self.name


def _band(row: Row, stem: str) -> Band:
    return Band(row[f"{stem}_low"], row[stem], row[f"{stem}_high"])


def lubricant(library: Library, name: str) -> Lubricant:
    """A lubricant by class of product; LibraryError names the nearest."""
    row = library.find("lubricants", name)
    factor = _band(row, "nut_factor") if row.get("nut_factor") is not None else None
    return Lubricant(row.name, _band(row, "thread"), _band(row, "bearing"), factor, row.source, row.get("note", ""))


@dataclass(frozen=True, slots=True)
class Friction:
    """Friction of the two faces of a fit; ``use`` is grip or mounting."""

    name: str
    use: str
    band: Band
    source: str


def fit_friction(library: Library, name: str) -> Friction:
    """Friction of a fit by name, as ``"grip, oil"`` (DIN 7190-1) or ``"oil film while mounting"``."""
    row = library.find("fit_friction", name)
    return Friction(row.name, row["use"], Band(row["low"], row["friction"], row["high"]), row.source)


@dataclass(frozen=True, slots=True)
class SealDrag:
    """Force per length of seal (N/m) while it is pushed into its bore."""

    name: str
    band: Band
    source: str


def seal_drag(library: Library, name: str = "o-ring") -> SealDrag:
    """Drag of a seal by kind; LibraryError names the nearest."""
    row = library.find("seal_drag", name)
    return SealDrag(row.name, Band(row["low"], row["drag"], row["high"]), row.source)
