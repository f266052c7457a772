"""The table of a paper sheet: its rows, what was filled in so far, and how that is judged. No screens in here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal

from splitline.errors import UnitsError
from splitline.ui.work.asks import far_off, limits_said, units_of, value_of
from splitline.ui.work.task import UNKNOWN, Limits, Pairing, Task
from splitline.units import System

Kind = Literal["pass", "readings", "item"]
DONE, MOVED = "done", "moved"
COUNT = "count out "  # begins the words of a row that takes a whole number
TRAVEL = "travel"  # where a force was read; no reading of its own


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One line of the sheet: a stud, a place, a step of mounting, a signature."""

    key: str
    label: str
    act: str = ""  # what a tick stores: "tighten", or the act of a signature; "": there is nothing to tick
    locked: str = ""  # why it cannot be ticked
    bolt: int | None = None
    place: int = 0  # step of the pass; rows of one step pulled alike are one entry
    at: str = ""
    limits: Mapping[str, Limits] = field(default_factory=dict)  # by what is read
    words: str = ""  # what is written instead of a figure
    part: str = ""  # number of a mounting step, or id of a step of the order of work
    sign: str = ""  # hold or witness: the name is that of who signed, and not filled down
    reads: bool = False  # its readings belong to the step its part names, and are judged as they stand then
    needs: tuple[str, ...] = ()  # readings without which it cannot be done

    @property
    def open(self) -> bool:
        """Whether it can be ticked."""
        return bool(self.act) and not self.locked


@dataclass(frozen=True, slots=True)
class PaperSheet:
    """One table: a pass of a joint, its gaps, or the readings of another item."""

    key: str
    kind: Kind
    title: str
    middle: str
    columns: tuple[str, ...]  # what can be read, the likeliest first
    rows: tuple[PaperRow, ...]
    task: Task  # that what is entered belongs to
    facts: tuple[tuple[str, str], ...] = ()
    finish: bool = False  # a check round: a nut moved or did not
    set_up: bool = False  # lubricant and tool are to be entered first
    pairing: Pairing = UNKNOWN  # how two tools sat on the fasteners of a step, as far as somebody knows

    def row(self, key: str) -> PaperRow | None:
        """The row of this key."""
        return next((row for row in self.rows if row.key == key), None)


@dataclass(slots=True)
class Filled:
    """What stands in the table. ``at`` and ``by`` hold where a row, and those above it, say nothing else."""

    at: datetime
    by: str
    ticks: dict[str, str] = field(default_factory=dict)
    values: dict[tuple[str, str], str] = field(default_factory=dict)  # (row, what) -> as typed
    times: dict[str, datetime] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)

    def who_when(self, sheet: PaperSheet) -> dict[str, tuple[datetime, str]]:
        """When and by whom each row was done: its own, or the last above it that has one, as a ditto on paper."""
        at, by, found = self.at, self.by, {}
        for row in sheet.rows:
            at = self.times.get(row.key, at)
            if row.sign:
                found[row.key] = at, self.names.get(row.key, "")
                continue
            by = self.names.get(row.key, by)
            found[row.key] = at, by
        return found

    def put(self, row: PaperRow, what: str, text: str) -> None:
        """A value; with it a stud counts as pulled, as on the sheet, until the tick is taken away."""
        if not text:
            self.values.pop((row.key, what), None)
            return
        self.values[row.key, what] = text
        if row.act == "tighten" and row.open:
            self.ticks.setdefault(row.key, DONE)

    def tick(self, sheet: PaperSheet, row: PaperRow) -> bool:
        """Tick, or take the tick away; in a check round a second tick says that the nut moved. True: was empty."""
        had = self.ticks.pop(row.key, "")
        if not had:
            self.ticks[row.key] = DONE
        elif had == DONE and sheet.finish:
            self.ticks[row.key] = MOVED
        return not had

    def tick_to(self, sheet: PaperSheet, key: str) -> None:
        """All open studs down to this row: half a pass in one go."""
        for row in sheet.rows:
            if row.open and row.act == "tighten":
                self.ticks.setdefault(row.key, DONE)
            if row.key == key:
                return

    def clear(self, row: PaperRow, what: str, column: str) -> None:
        """Empty one cell."""
        if column == "value":
            self.values.pop((row.key, what), None)
        elif column == "done":
            self.ticks.pop(row.key, None)
        elif column == "time":
            self.times.pop(row.key, None)
        else:
            self.names.pop(row.key, None)

    def anything(self) -> bool:
        """Whether there is something to store."""
        return bool(self.ticks or any(self.values.values()))


@dataclass(frozen=True, slots=True)
class Judged:
    """A value as it would be stored, and what is said of it."""

    said: str
    style: str
    value: float | None = None  # None: it cannot be read
    typed: str = ""
    outside: bool = False
    far: bool = False


def unit_of(limits: Limits, system: System) -> str:
    """The unit of a bare number in this column."""
    return limits.unit or units_of(limits.quantity, system)[0]


def judge(text: str, limits: Limits, system: System) -> Judged:
    """A value as typed, judged as on the fitter's screen; a bare number is in the column's unit."""
    typed = " ".join(text.replace("−", "-").split())
    if "," in typed and "." not in typed:
        typed = typed.replace(",", ".")
    if typed and typed[-1].isdigit():
        typed = f"{typed} {unit_of(limits, system)}".strip()
    try:
        value = value_of(typed, limits.quantity)
    except UnitsError as error:
        return Judged(f"✗ {error}", "problem")
    verdict = limits.judge(value)
    if verdict == "not judged":
        return Judged("· no limits", "dim", value, typed)
    far = far_off(value, limits)
    said = limits_said(limits, system).removeprefix("accepted ")
    if verdict == "inside":
        return Judged("● inside", "ok", value, typed)
    hint = "; a slip?" if far else ""
    return Judged(f"▲ OUTSIDE {said}{hint}", "fails", value, typed, True, far)


def clock_of(text: str, near: datetime) -> datetime | None:
    """The time of day ``0310`` or ``3:10`` that is nearest to ``near``: a shift goes over midnight."""
    figures = text.replace(".", ":").strip()
    hour, colon, minute = figures.partition(":")
    if not colon:
        hour, minute = figures[:-2], figures[-2:]
    if not (hour.isdecimal() and minute.isdecimal() and len(minute) == 2 and int(hour) < 24 and int(minute) < 60):
        return None
    same = near.replace(hour=int(hour), minute=int(minute), second=0, microsecond=0)
    return min((same + timedelta(days=days) for days in (-1, 0, 1)), key=lambda at: abs(at - near))


def flaws(sheet: PaperSheet, filled: Filled, now: datetime, system: System) -> dict[str, str]:
    """Rows that keep the table from being entered, and why."""
    found: dict[str, str] = {}
    for key, (at, by) in filled.who_when(sheet).items():
        row = sheet.row(key)
        own = {what: text for (name, what), text in filled.values.items() if name == key and text}
        if row is None or not (own or key in filled.ticks):
            continue
        if at > now:
            found[key] = f"{at:%H:%M %d %b} has not come yet"
        elif not by:
            found[key] = "who signed?" if row.sign else "by whom?"
        for what, text in own.items():
            limits = row.limits.get(what)
            if limits is not None and judge(text, limits, system).value is None:
                found[key] = f"{what} {text}: {judge(text, limits, system).said[2:]}"
        if TRAVEL in row.limits and own and set(own) != {TRAVEL} and TRAVEL not in own:
            found[key] = "travel is missing"
        if row.words.startswith(COUNT) and not all(text.isdecimal() for text in own.values()):
            found[key] = "a whole number"
        signs = next((other for other in sheet.rows if other.part == row.part and other.act == "witness"), None)
        if row.act == "done" and signs is not None and signs.key not in filled.ticks:
            found[key] = "its witness did not sign: close the step in Work"
        lacking = [what for what in row.needs if not _given(sheet, filled, row, what)]
        if key in filled.ticks and lacking:
            found[key] = f"{', '.join(lacking)} not read"
    return found


def _given(sheet: PaperSheet, filled: Filled, row: PaperRow, what: str) -> bool:
    """Whether a reading stands in a row of the same part."""
    return any(filled.values.get((other.key, what)) for other in sheet.rows if other.part == row.part)
