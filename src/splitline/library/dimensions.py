"""Nuts, heads, clearance holes and washers by thread size. Lengths in m."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from splitline.errors import LibraryError
from splitline.library.store import Library, Row
from splitline.library.threads import ThreadSize

_FIT = 2e-6  # m
NO_STANDARD = ("sleeve", "cap", "twelve-point")  # forms that every maker sizes his own way
Series = Literal["fine", "medium", "coarse"]


@dataclass(frozen=True, slots=True)
class Nut:
    """A nut: greatest across flats and height, least height and bearing diameter."""

    name: str
    across_flats: float
    height: float
    height_min: float
    bearing_diameter: float
    source: str


@dataclass(frozen=True, slots=True)
class Head:
    """A bolt or screw head: across flats (key size of a socket head), nominal height, least bearing diameter."""

    name: str
    across_flats: float
    height: float
    bearing_diameter: float
    source: str


@dataclass(frozen=True, slots=True)
class Hole:
    """A clearance hole of one series."""

    name: str
    diameter: float
    source: str


@dataclass(frozen=True, slots=True)
class Washer:
    """A washer."""

    name: str
    inner_diameter: float
    outer_diameter: float
    thickness: float
    source: str


def _of_size(library: Library, table: str, thread: ThreadSize, style: str | None, missing: str) -> Row:
    rows = [row for row in library.rows(table) if style is None or row.get("style") == style]
    for row in rows:
        if abs(row["diameter"] - thread.d) < _FIT:
            return row
    alike = [row for row in rows if row.name.startswith("M") == (thread.system == "metric")]
    near = sorted(alike, key=lambda row: abs(row["diameter"] - thread.d))[:2]
    named = ", ".join(row.name for row in near)
    raise LibraryError(
        f"no {style + ' ' if style else ''}{missing} in the library for {thread.name}"
        + (f" (nearest: {named})" if named else "")
    )


def nut(library: Library, thread: ThreadSize, form: str = "heavy-hex") -> Nut:
    """The nut of a form (hex, heavy-hex) for a thread.

    Sleeve, cap and twelve-point nuts follow no standard: LibraryError asks for across_flats, as it does for a size the
    form's standard does not list.
    """
    if form in NO_STANDARD and not any(row.get("style") == form for row in library.rows("nuts")):
        raise LibraryError(f"a {form} nut follows no standard: give across_flats, nut_height and bearing_diameter")
    row = _of_size(library, "nuts", thread, form, "nut")
    return Nut(
        row.name,
        row["across_flats"],
        row["height"],
        row.get("height_min", row["height"]),
        row["bearing_diameter"],
        row.source,
    )


def head(library: Library, thread: ThreadSize, form: str = "hex") -> Head:
    """The head (hex, heavy-hex, socket) of a bolt or cap screw of a thread; LibraryError names the nearest sizes."""
    row = _of_size(library, "heads", thread, form, "head")
    return Head(row.name, row["across_flats"], row["height"], row["bearing_diameter"], row.source)


def clearance_hole(library: Library, thread: ThreadSize, series: Series = "medium") -> Hole:
    """Clearance hole of ISO 273 or ASME B18.2.8, fine, medium or coarse series."""
    row = _of_size(library, "holes", thread, None, "clearance hole")
    diameter = row.get(series)
    if diameter is None:
        raise LibraryError(f"no {series} clearance hole in the library for {thread.name}: give hole_diameter")
    return Hole(f"{row.name} {series}", diameter, row.source)


def washer(library: Library, thread: ThreadSize, style: str = "hardened") -> Washer:
    """Washer of a thread: hardened (ASTM F436) or plain (ISO 7089)."""
    row = _of_size(library, "washers", thread, style, "washer")
    return Washer(row.name, row["inner_diameter"], row["outer_diameter"], row["thickness"], row.source)
