"""Slings: rated capacity of one straight leg, stiffness, choker hitch and bending round a pin. Forces in N."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from splitline.errors import LibraryError
from splitline.library.store import Library

_FLOAT = 1e-9


@dataclass(frozen=True, slots=True)
class Sling:
    """A sling; ``elongation`` is its strain at capacity, ``choker`` the choker rating over the vertical one."""

    name: str
    kind: str
    size: float | None
    capacity: float
    elongation: float
    choker: float
    source: str

    @property
    def stiffness(self) -> float:
        """Axial stiffness EA in N: capacity / elongation."""
        return self.capacity / self.elongation


def sling(library: Library, name: str) -> Sling:
    """A sling by type and size, as ``"wire rope 28 mm 6x36 IWRC"``, ``"alloy chain grade 80 16 mm"``, ``"web sling 5 t"``."""
    row = library.find("slings", name)
    return Sling(row.name, row["kind"], row.get("size"), row["capacity"], row["elongation"], row["choker"], row.source)


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor out of a table, with where it comes from."""

    value: float
    source: str


def choke_share(library: Library, kind: str, angle: float) -> Factor:
    """Share of the choker rating left at an angle of choke (rad), by steps (ASME B30.9).

    ``kind`` is the sling's kind. Below the first step of the table nothing is allowed (0).
    """
    if not angle >= 0:
        raise LibraryError("an angle of choke is from 0 to 180 degrees")
    row = library.get("choke_angle", kind) or library.find("choke_angle", "wire rope")
    step = bisect_right(row["angle_from"], angle + _FLOAT) - 1
    return Factor(row["share"][step] if step >= 0 else 0.0, row.source)


def bend_share(library: Library, ratio: float, table: str = "curve") -> Factor:
    """Share of strength a wire rope keeps round a bend of ``ratio`` = D/d; straight lines between the table's points.

    Below the first point nothing is allowed (0); beyond the last its value stays.
    """
    row = library.find("bend", table)
    ratios, shares = row["ratio"], row["share"]
    if ratio < ratios[0] - _FLOAT:
        return Factor(0.0, row.source)
    return Factor(_between(ratios, shares, ratio), row.source)


def leg_factor(library: Library, name: str, from_vertical: float) -> Factor:
    """Customary rating of several legs over one leg's rating at an angle from the vertical (rad); 0 beyond 60 degrees."""
    row = library.find("leg_factors", name)
    degrees = from_vertical * 180 / 3.141592653589793
    value = row["to_45"] if degrees <= 45 + 1e-9 else row.get("to_60", 0.0) if degrees <= 60 + 1e-9 else 0.0
    return Factor(value, row.source)


def _between(xs: tuple[float, ...], ys: tuple[float, ...], x: float) -> float:
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    i = bisect_right(xs, x)
    return ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1])
