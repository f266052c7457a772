"""Which instrument a reading was taken with: once a person and kind of reading in a sitting; anew once it has lapsed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from splitline.plan.model import Item
from splitline.record.entry import Entry, Measured
from splitline.ui.work.task import Limits

if TYPE_CHECKING:
    from splitline.ui.work.desk import Desk

MOST = 8  # instruments of the record that are offered


@dataclass(frozen=True, slots=True)
class Instrument:
    """One of them; all empty where nobody noted which."""

    name: str = ""
    serial: str = ""
    due: date | None = None

    @property
    def said(self) -> str:
        """Name and serial."""
        return " ".join(part for part in (self.name, self.serial) if part) or "no instrument noted"

    def lapsed(self, day: date) -> bool:
        """Whether its calibration had run out on that day."""
        return self.due is not None and day > self.due


NOT_NOTED = Instrument()


def kind_of(limits: Limits) -> str:
    """Readings that go with one instrument: several places of one diameter are one kind."""
    return f"{limits.what.partition(',')[0]} {limits.quantity}"


def carried(desk: Desk, limits: Limits) -> Instrument | None:
    """The one this person took for such readings in this sitting, if its calibration still runs; None: to be asked."""
    found = desk.instruments.get((desk.hand, kind_of(limits)))
    return None if found is None or found.lapsed(desk.moment().date()) else found


def offered(items: Iterable[Item], alive: Iterable[Entry], quantity: str) -> tuple[Instrument, ...]:
    """Those last used for this quantity, then those of the plan that read it."""
    used = [
        Instrument(e.instrument, e.serial, e.calibration_due)
        for e in alive
        if isinstance(e, Measured) and e.quantity == quantity and e.instrument and e.serial
    ]
    planned = [
        Instrument(each.title, each.serial or "", each.calibration_due)
        for each in items
        if each.kind == "instrument" and each.reads in (None, quantity)
    ]
    last = {each.serial: each for each in used}  # the latest date of each
    recent = list(dict.fromkeys(each.serial for each in reversed(used)))[:MOST]
    found = [last[serial] for serial in recent]
    return (*found, *(each for each in planned if each.serial not in last or not each.serial))
