"""Thread designations to pick from: metric coarse and fine pitches, inch series, 8UN on large studs."""

from __future__ import annotations

from splitline.errors import LibraryError
from splitline.library.store import Library, Row
from splitline.library.threads import parse_designation
from splitline.ui.screens.picker import Option

_EIGHT_FROM = 0.0254  # m; 8UN is the usual thread of studs above 1 in


def thread_options(library: Library) -> list[Option]:
    """Options whose value is a designation the plan takes."""
    out: list[Option] = []
    for row in library.rows("threads"):
        if row.get("coarse") or row.get("fine"):
            out += _metric(row)
        elif row.get("tpi") and row.get("diameter"):
            out += _inch(row)
    return out


def _metric(row: Row) -> list[Option]:
    coarse = row.get("coarse")
    found = [Option(row.name, row.name, f"coarse, pitch {coarse * 1e3:g} mm  [{row.source}]")] if coarse else []
    for pitch in row.get("fine", ()):
        name = f"{row.name}x{pitch * 1e3:g}"
        found.append(Option(name, name, f"fine, pitch {pitch * 1e3:g} mm  [{row.source}]"))
    return found


def _inch(row: Row) -> list[Option]:
    found = [Option(row.name, row.name, f"{row['tpi']:g} threads per inch, {row.get('series', '')}  [{row.source}]")]
    if row.get("series") == "UNC" and row["diameter"] > _EIGHT_FROM:
        name = f"{row.name.partition('-')[0]}-8UN" if row.name.count("-") == 1 else f"{row.name.rpartition('-')[0]}-8UN"
        try:
            parse_designation(name)
        except LibraryError:
            return found
        found.append(Option(name, name, f"8 threads per inch, 8UN  [{row.source}]"))
    return found
