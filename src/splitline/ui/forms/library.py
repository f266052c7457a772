"""Rows of a library table as options: the name, and beside it what one chooses by."""

from __future__ import annotations

from collections.abc import Mapping

from splitline.errors import LibraryError
from splitline.library.columns import Column
from splitline.library.store import Library, Row
from splitline.ui.screens.picker import Option
from splitline.units import KINDS, show


def options_of(library: Library, table: str, system: str) -> list[Option]:
    """Options of a table; a site's own rows first, marked."""
    if table == "threads":
        from splitline.ui.forms.threads import thread_options

        return thread_options(library)
    try:
        rows, columns = library.rows(table), library.table(table).columns
    except LibraryError:
        return []
    return [Option(r.name, r.name, _note(r, columns, system), "⌂" if r.site else "", "accent") for r in rows]


def _note(row: Row, columns: Mapping[str, Column], system: str) -> str:
    parts: list[str] = []
    for key, column in columns.items():
        value = row.get(key)
        if isinstance(value, tuple):
            value = value[-1] if value and isinstance(value[-1], int | float) else None
        if value is None or len(parts) > 3:
            continue
        if isinstance(value, str):
            parts.append(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            said = show(value, column.kind, system) if column.kind in KINDS else f"{value:g}"  # type: ignore[arg-type]
            parts.append(f"{key.replace('_', ' ')} {said}")
    return " · ".join(parts) + f"  [{row.source}]"
