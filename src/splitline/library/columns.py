"""One column of a data table: what it measures, in which unit it is written, and the SI value of a cell.

Shipped tables hold bare numbers in the column's unit and are converted by the exact factors below, so that a lookup
does not pay for the unit registry; a site's rows hold texts such as ``"720 MPa"`` and go through :func:`splitline.units.read`.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from splitline.errors import LibraryError, UnitsError
from splitline.units import KINDS, read

_INCH = 0.0254
_POUND = 0.45359237
_GRAVITY = 9.80665
_PSI = _POUND * _GRAVITY / _INCH**2
# Exact factors to SI of every unit a shipped table is written in (the tests hold them against the unit registry).
FACTORS: Mapping[str, float] = {
    "mm": 1e-3,
    "m": 1.0,
    "in": _INCH,
    "MPa": 1e6,
    "GPa": 1e9,
    "ksi": 1000 * _PSI,
    "psi": _PSI,
    "kN": 1e3,
    "N": 1.0,
    "lbf": _POUND * _GRAVITY,
    "N/mm": 1e3,
    "t": 1000 * _GRAVITY,  # as a capacity: the mass times standard gravity
    "lb": _POUND * _GRAVITY,
    "short ton": 2000 * _POUND * _GRAVITY,
    "kg/m^3": 1.0,
    "1/K": 1.0,
    "deg": math.pi / 180,
    "s": 1.0,
    "min": 60.0,
}
_TEMPERATURES: Mapping[str, tuple[float, float]] = {"degC": (1.0, 273.15), "degF": (5 / 9, 459.67 * 5 / 9)}
_PLAIN = ("number", "share", "count")


@dataclass(frozen=True, slots=True)
class Column:
    """``kind`` is one of the quantities, or number, share, count, text, flag, date.

    ``steps`` names what a list column is listed by (diameter, temperature, angle ...): columns of one name go together
    and have one length. A ``needed`` column must stand in every row. ``words`` are those a text may be, where it is one of a few.
    """

    kind: str
    unit: str = ""
    steps: str = ""
    needed: bool = False
    what: str = ""
    words: tuple[str, ...] = ()

    def shipped(self, cell: Any) -> Any:
        """SI value of a cell of a shipped table."""
        if self.steps:
            return tuple(self._number(part) for part in cell)
        return self._number(cell)

    def _number(self, cell: Any) -> Any:
        if not self.unit:
            return cell
        if self.unit in _TEMPERATURES:
            scale, offset = _TEMPERATURES[self.unit]
            return cell * scale + offset
        return cell * FACTORS[self.unit]

    def typed(self, cell: Any) -> Any:
        """SI value of what a site wrote; LibraryError says what is wrong with it. A list of one may stand without [ ]."""
        if not self.steps:
            return self._typed(cell)
        cells = cell if isinstance(cell, list) else [cell]  # one value alone is a list of one
        if not cells:
            raise LibraryError(f"a list is wanted, as in [{self._example()}, ...]")
        return tuple(self._typed(part) for part in cells)

    def _typed(self, cell: Any) -> Any:
        if self.kind == "flag":
            if not isinstance(cell, bool):
                raise LibraryError("true or false is wanted")
            return cell
        if self.kind == "text":
            if not isinstance(cell, str):
                raise LibraryError("a text is wanted")
            if self.words and cell not in self.words:
                raise LibraryError(f'"{cell}" is not one of {", ".join(self.words)}')
            return cell
        if self.kind == "date":
            if isinstance(cell, dt.datetime) or not isinstance(cell, dt.date):
                raise LibraryError("a date without quotes is wanted, as in 2027-03-01")
            return cell
        if self.kind in _PLAIN:
            return _bare_number(cell, self.kind)
        try:
            value = read(cell, self.kind)
        except UnitsError as error:
            raise LibraryError(str(error)) from None
        if value <= 0 and self.kind not in ("temperature", "angle"):
            raise LibraryError(f'"{cell}" must be above 0')
        return value

    def _example(self) -> str:
        if self.kind == "text":
            return '"..."'
        if self.kind == "date":
            return "2027-03-01"
        if self.kind in _PLAIN:
            return "0.5"
        return f'"{KINDS[self.kind].example}"'


def _bare_number(cell: Any, kind: str) -> float | int:
    if isinstance(cell, bool) or not isinstance(cell, int | float) or not math.isfinite(cell):
        raise LibraryError("a number without a unit is wanted")
    if cell < 0:
        raise LibraryError(f"{cell} must not be below 0")
    if kind == "count" and cell != int(cell):
        raise LibraryError(f"{cell} must be a whole number")
    return cell


def column_of(spec: Mapping[str, Any]) -> Column:
    """A column from its line in the data file: ``{kind = "stress", unit = "MPa", steps = "diameter", what = "..."}``."""
    return Column(
        spec["kind"],
        spec.get("unit", ""),
        spec.get("steps", ""),
        spec.get("needed", False),
        spec.get("what", ""),
        tuple(spec.get("words", ())),
    )
