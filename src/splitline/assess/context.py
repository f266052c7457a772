"""What an assessment may look at besides the item: the library, today's date, and what was entered on the job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from splitline.library.store import Library
from splitline.units import System


@dataclass(frozen=True)
class Observed:
    """What only the job knows, taken from the record: never part of the plan.

    ``entered`` maps (item id, name) to a value: a tool serial, a lubricant batch, a crane radius in m, a sling tag.
    ``preloads`` maps a joint id to measured preloads by pass: {pass label: {bolt: N}}.
    """

    entered: Mapping[tuple[str, str], Any] = field(default_factory=dict)
    preloads: Mapping[str, Mapping[str, Mapping[int, float]]] = field(default_factory=dict)

    def get(self, item: str, name: str) -> Any:
        return self.entered.get((item, name))

    def about(self, item: str) -> tuple[Any, ...]:
        """A hashable extract for one item, for the cache of assessments."""
        entered = tuple(sorted((name, repr(value)) for (owner, name), value in self.entered.items() if owner == item))
        loads = tuple((label, tuple(sorted(bolts.items()))) for label, bolts in self.preloads.get(item, {}).items())
        return entered, loads


NOTHING = Observed()


@dataclass(frozen=True)
class Context:
    """Library, date and observations of one assessment, and the units its texts speak in (numbers are always SI)."""

    library: Library
    today: dt.date
    observed: Observed = NOTHING
    system: System = "SI"
