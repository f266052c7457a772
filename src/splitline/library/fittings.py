"""Fittings at the pick point: rating where the library has one, and the table of angled pulls. Forces in N, angles in rad."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from splitline.library.slings import _between
from splitline.library.store import Library, Row

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class AngledPull:
    """Share of the straight rating by angle from the straight pull; straight lines between, nothing beyond the last."""

    points: Points
    source: str
    note: str = ""

    def share(self, angle: float) -> float:
        """Share at ``angle`` (rad) from the direction of the straight pull."""
        if angle > self.points[-1][0] + 1e-9:
            return 0.0
        return _between(tuple(a for a, _ in self.points), tuple(s for _, s in self.points), angle)


@dataclass(frozen=True, slots=True)
class Fitting:
    """A fitting; ``capacity`` is None where only its marking tells, ``angled`` None where no table is known."""

    name: str
    kind: str
    capacity: float | None
    pin_diameter: float | None
    angled: AngledPull | None
    source: str
    note: str = ""


def fitting(library: Library, name: str) -> Fitting:
    """A fitting by kind (``"eyebolt, shouldered"``) or kind and size (``"shackle 8.5 t"``); LibraryError names the nearest."""
    row = library.find("fittings", name)
    return Fitting(
        row.name,
        row["kind"],
        row.get("capacity"),
        row.get("pin_diameter"),
        angled_pull(library, row["kind"]),
        row.source,
        row.get("note", ""),
    )


def angled_pull(library: Library, kind: str) -> AngledPull | None:
    """The table of angled pulls for a kind of fitting: the lowest of the printed tables at every angle.

    A site's own rows for this kind stand alone. None where no table is known.
    """
    rows = [row for row in library.rows("angled_pull") if row["fitting"] == kind]
    chosen = [row for row in rows if row.site] or [row for row in rows if row.get("published")] or rows
    if not chosen:
        return None
    sources = "; ".join(dict.fromkeys(row.source for row in chosen))
    source = f"lowest of: {sources}" if len(chosen) > 1 else sources
    notes = "; ".join(row["note"] for row in rows if row.get("note"))
    return AngledPull(_lowest(chosen), source, notes)


def _points(row: Row) -> Points:
    return tuple(zip(row["angle"], row["share"], strict=True))


def _lowest(rows: list[Row]) -> Points:
    """The lower envelope of several tables of straight lines; a table allows nothing beyond its last angle."""
    tables = [AngledPull(_points(row), row.source) for row in rows]
    end = min(table.points[-1][0] for table in tables)
    angles = {a for table in tables for a, _ in table.points if a <= end}
    for i, one in enumerate(tables):
        for other in tables[i + 1 :]:
            angles |= _crossings(one, other, sorted(angles))
    points = [(angle, min(table.share(angle) for table in tables)) for angle in sorted(angles)]
    return tuple(p for i, p in enumerate(points) if not _straight(points, i))


def _crossings(one: AngledPull, other: AngledPull, angles: list[float]) -> set[float]:
    found = set()
    for a, b in itertools.pairwise(angles):
        da, db = one.share(a) - other.share(a), one.share(b) - other.share(b)
        if da * db < 0:
            found.add(a + (b - a) * da / (da - db))
    return found


def _straight(points: list[tuple[float, float]], i: int) -> bool:
    """Whether a point lies on the line between its neighbours and can be left out."""
    if i in (0, len(points) - 1):
        return False
    (a, u), (b, v), (c, w) = points[i - 1 : i + 2]
    return math.isclose(v, u + (w - u) * (b - a) / (c - a), rel_tol=1e-12, abs_tol=1e-12)
