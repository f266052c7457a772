"""Rows of a library table, and thread designations, as options: the name, and beside it what one chooses by."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping

from splitline.errors import LibraryError
from splitline.library.columns import FACTORS, Column
from splitline.library.grades import grade
from splitline.library.store import Library, Row
from splitline.library.threads import parse_designation
from splitline.ui.screens.picker import Option
from splitline.units import KINDS, System, figure, show

_EIGHT_FROM = 0.0254  # m; 8UN is the usual thread of studs above 1 in


def thread_options(library: Library) -> list[Option]:
    """Options whose value is a designation the plan takes."""
    out: list[Option] = []
    for row in library.rows("threads"):
        if row.get("coarse") or row.get("fine"):
            out += _metric(row)
        elif row.get("tpi") and row.get("diameter"):
            out += _inch_size(row)
    return out


def _metric(row: Row) -> list[Option]:
    coarse = row.get("coarse")
    found = [Option(row.name, row.name, f"coarse, pitch {coarse * 1e3:g} mm  [{row.source}]")] if coarse else []
    for pitch in row.get("fine", ()):
        name = f"{row.name}x{pitch * 1e3:g}"
        found.append(Option(name, name, f"fine, pitch {pitch * 1e3:g} mm  [{row.source}]"))
    return found


def _inch_size(row: Row) -> list[Option]:
    found = [Option(row.name, row.name, f"{row['tpi']:g} threads per inch, {row.get('series', '')}  [{row.source}]")]
    if row.get("series") == "UNC" and row["diameter"] > _EIGHT_FROM:
        name = f"{row.name.partition('-')[0]}-8UN" if row.name.count("-") == 1 else f"{row.name.rpartition('-')[0]}-8UN"
        try:
            parse_designation(name)
        except LibraryError:
            return found
        found.append(Option(name, name, f"8 threads per inch, 8UN  [{row.source}]"))
    return found


_INCH = re.compile(r"\d in\b|\d\"|-\d+UN")


def options_of(library: Library, table: str, system: System, thread: str = "") -> list[Option]:
    """Options of a table: a site's own rows first, marked, then those of the plan's units, then the others.

    ``thread``: the designation in the joint, by which grades show the values of their own diameter range.
    """
    if table == "threads":
        return sorted(thread_options(library), key=lambda o: str(o.value).startswith("M") == (system == "US"))
    try:
        rows, columns = library.rows(table), library.table(table).columns
    except LibraryError:
        return []
    ordered = sorted(rows, key=lambda r: (not r.site, _inch(r) != (system == "US")))
    if table == "grades":
        noted = [(r, *_grade_note(library, r, thread, system)) for r in ordered]
        return [_option(r, note) for r, note, fits in sorted(noted, key=lambda entry: not entry[2])]
    if table == "lubricants":
        return [_option(r, _friction_note(r)) for r in ordered]
    return [_option(r, _note(r, columns, system)) for r in ordered]


def _inch(row: Row) -> bool:
    return bool(_INCH.search(row.name))


def _option(row: Row, note: str) -> Option:
    return Option(row.name, row.name, f"{note}  [{row.source}]", "⌂" if row.site else "", "accent")


def _grade_note(library: Library, row: Row, thread: str, system: System) -> tuple[str, bool]:
    """Strength at this thread, or over all diameters where there is none yet; whether the grade goes that far."""
    try:
        size = parse_designation(thread) if thread else None
    except LibraryError:
        size = None
    if size is not None:
        try:
            found = grade(library, row.name, size)
        except LibraryError:
            return f"not at {size.name}: its values end below", False
        strengths = (show(each, "stress", system) for each in (found.yield_strength, found.tensile_strength))
        return "yield {}, tensile {} at {}".format(*strengths, size.name), True
    parts = []
    for name, values in (("yield", row.get("yield_strength")), ("tensile", row.get("tensile_strength"))):
        if values:
            low, high = show(min(values), "stress", system), show(max(values), "stress", system)
            parts.append(f"{name} {high}" if low == high else f"{name} {low.partition(' ')[0]} to {high}")
    return ", ".join(parts) + (" by diameter" if any(" to " in part for part in parts) else ""), True


def _friction_note(row: Row) -> str:
    parts = [
        f"{key} {row[key]:g} ({row.get(f'{key}_low', row[key]):g} to {row.get(f'{key}_high', row[key]):g})"
        for key in ("thread", "bearing")
        if row.get(key) is not None
    ]
    factor = row.get("nut_factor")
    return ", ".join([*parts, *([f"nut factor {factor:g}"] if factor is not None else [])])


def _note(row: Row, columns: Mapping[str, Column], system: System) -> str:
    parts: list[str] = []
    own: System = "US" if _inch(row) else "SI"  # figures as the row's own table writes them
    for key, column in columns.items():
        value = row.get(key)
        if isinstance(value, tuple):
            value = value[-1] if value and isinstance(value[-1], int | float) else None
        if value is None or len(parts) > 3:
            continue
        if isinstance(value, dt.date):
            parts.append(f"{key.replace('_', ' ')} {value}")
        elif isinstance(value, str):
            parts.append(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            parts.append(f"{key.replace('_', ' ')} {_said(value, column.kind, own)}")
    return " · ".join(parts)


def _said(value: float, kind: str, own: System) -> str:
    if kind == "capacity":  # as a tag is stamped
        unit = "lb" if own == "US" else "t"
        return f"{figure(value / FACTORS[unit], unit)} {unit}"
    if kind == "expansion":
        return f"{value * 1e6:.3g}e-6 1/K"
    return show(value, kind, own) if kind in KINDS else f"{value:g}"
