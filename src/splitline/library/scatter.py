"""Preload scatter by tightening method: which published figure stands for the default, and gasket factors."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import LibraryError
from splitline.library.store import Library


@dataclass(frozen=True, slots=True)
class Scatter:
    """Preload within ± ``value`` of its mean at two standard deviations."""

    method: str
    value: float
    source: str
    note: str = ""


def scatter(library: Library, method: str, dry: bool = False) -> Scatter:
    """Default scatter of a tightening method; ``dry`` takes the row for bolts without lubricant where there is one."""
    row = library.find("scatter", method)
    note = row.get("note", "")
    if row.get("scatter") is not None:
        return Scatter(row.name, row["scatter"], row.source, note)
    taken = (row.get("taken_dry") if dry else None) or row.get("taken")
    if taken is None:
        raise LibraryError(f'scatter "{row.name}" gives neither scatter nor a published row')
    published = library.find("scatter_published", taken)
    return Scatter(row.name, published["scatter"], f"{published.name} ({published.source})", note)


@dataclass(frozen=True, slots=True)
class Gasket:
    """Gasket factor m, seating stress y (Pa), customary crush limit (Pa) and modulus (Pa) where one is known."""

    name: str
    m: float
    y: float
    crush: float | None
    source: str
    note: str = ""


def gasket(library: Library, name: str) -> Gasket:
    """A gasket by type (ASME VIII-1 Table 2-5.1); LibraryError names the nearest."""
    row = library.find("gaskets", name)
    return Gasket(row.name, row["m"], row["y"], row.get("crush"), row.source, row.get("note", ""))


def gasket_modulus(library: Library, name: str) -> float:
    """Modulus in compression (Pa) of a gasket material (Moss, p. 61)."""
    return float(library.find("gasket_modulus", name)["modulus"])
