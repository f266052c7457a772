"""The site's rigging register and what takes a piece of rigging out of use. Forces in N, lengths in m."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from splitline.library.store import Library, Row

SLING, SHACKLE, ADJUSTER, BEAM = "sling", "shackle", "adjuster", "beam"
EYEBOLT = "eyebolt"


@dataclass(frozen=True, slots=True)
class Tagged:
    """A piece of rigging as the register has it; ``capacity`` of one leg, straight pull."""

    tag: str
    kind: str
    capacity: float
    sling: str | None
    length: float | None
    legs: int
    certificate: str | None
    inspection_due: dt.date | None
    withdrawn: str | None
    source: str

    def said(self) -> str:
        """Its papers in a few words: certificate and the day it is due."""
        due = f"inspection due {self.inspection_due}" if self.inspection_due else "inspection day not entered"
        return f"certificate {self.certificate}, {due}" if self.certificate else due

    def lapsed(self, today: dt.date) -> bool:
        """Whether its inspection was due before ``today``."""
        return self.inspection_due is not None and self.inspection_due < today


def registered(library: Library) -> tuple[Tagged, ...]:
    """Every piece of the site's register; empty where the site keeps none here."""
    return tuple(map(_tagged, library.rows("rigging")))


def tagged(library: Library, tag: str) -> Tagged | None:
    """The piece under a tag (case and blanks do not matter), or None."""
    row = library.get("rigging", tag)
    return _tagged(row) if row is not None else None


def _tagged(row: Row) -> Tagged:
    return Tagged(
        row.name,
        row["kind"],
        row["capacity"],
        row.get("sling"),
        row.get("length"),
        row.get("legs", 1),
        row.get("certificate"),
        row.get("inspection_due"),
        row.get("withdrawn"),
        row.source,
    )


def reject_signs(library: Library, kind: str) -> tuple[tuple[str, ...], str]:
    """What takes a piece of a kind out of use, and the source; nothing where no row knows the kind.

    ``kind`` as the tables of slings and fittings have it; every kind of eyebolt counts as one.
    """
    row = library.get("reject", EYEBOLT if kind.startswith(EYEBOLT) else kind)
    return (tuple(row["signs"]), row.source) if row is not None else ((), "")
