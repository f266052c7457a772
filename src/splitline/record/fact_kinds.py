"""What a record tells, one frozen class a kind of fact; every face (PDF, Markdown, text, CSV, JSON) is made from these.

A field says its quantity, so that a face can write it with its unit: SI here. A field at its default says nothing and is
left out. ``NAMES`` are the words of a column or label.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import date, datetime
from typing import Any, ClassVar

OWN = "quantity"  # the field that names the quantity of a reading


def _of(quantity: str) -> Any:
    return field(default=None, metadata={"quantity": quantity})


@dataclass(frozen=True, kw_only=True)
class Fact:
    """What all facts have. ``entry`` 0: of no single entry."""

    kind: ClassVar[str] = ""

    entry: int = 0
    item: str = ""
    done_at: datetime | None = None
    done_by: str = ""
    entered_at: datetime | None = None
    entered_by: str = ""
    device: str = ""  # it was entered at
    late: bool = False  # written down afterwards, or by somebody else
    revision: str = ""  # of the plan that stood in the record
    plan_entry: int = 0  # ... and the entry it stands in
    struck_by: int = 0  # entry that strikes it
    struck_why: str = ""


@dataclass(frozen=True, kw_only=True)
class StudValue(Fact):
    """One bolt pulled in one pass."""

    kind: ClassVar[str] = "tightened"

    pass_: str = ""
    place: int = 0
    bolt: int = 0
    share: float | None = _of("share")
    set_torque: float | None = _of("torque")
    set_pressure: float | None = _of("pressure")
    shown: str = ""
    told: str = ""  # what its own plan, size, pass and tool tell
    otherwise: bool = False  # set otherwise than told
    moved: bool = False
    what: str = ""  # what was read beside it
    value: float | None = _of(OWN)
    quantity: str = ""
    tool: str = ""
    serial: str = ""
    pulled_with: str = ""  # serial of the one that pulled this bolt, where several pulled at once
    lubricant: str = ""
    batch: str = ""
    library: str = ""
    crew: str = ""


@dataclass(frozen=True, kw_only=True)
class Reading(Fact):
    """One reading with its limits and its judgement."""

    kind: ClassVar[str] = "measured"

    pass_: str = ""
    bolt: int = 0
    what: str = ""
    where: str = ""
    value: float | None = _of(OWN)
    quantity: str = ""
    at_least: float | None = _of(OWN)
    at_most: float | None = _of(OWN)
    verdict: str = ""
    typed: str = ""
    step: str = ""
    instrument: str = ""
    serial: str = ""
    calibration_due: date | None = None


@dataclass(frozen=True, kw_only=True)
class Signature(Fact):
    """A name under a moment: start, done, hold, witness, mounting, trial lift; with the record it was given on."""

    kind: ClassVar[str] = "signed"

    act: str = ""
    step: str = ""
    pass_: str = ""
    role: str = ""
    statement: str = ""
    seen: str = ""  # what a hold was signed on
    own_work: bool = False  # signed by a person who did the work
    on_entries: int = 0
    on_head: str = ""
    crew: str = ""


@dataclass(frozen=True, kw_only=True)
class SetUp(Fact):
    """Lubricant and tool of a pass."""

    kind: ClassVar[str] = "set-up"

    pass_: str = ""
    step: str = ""
    lubricant: str = ""
    batch: str = ""
    batch_before: str = ""  # on this joint until now
    reason: str = ""  # why it is another one
    tool: str = ""
    serial: str = ""
    calibration_due: date | None = None  # of several tools the first to run out
    dues: tuple[str, ...] = ()  # of each of them, where they differ
    crew: str = ""


@dataclass(frozen=True, kw_only=True)
class CountIn(Fact):
    """Parts counted in before they are used; the item is what was counted."""

    kind: ClassVar[str] = "counted in"

    count: int | None = None
    step: str = ""


@dataclass(frozen=True, kw_only=True)
class PartUsed(Fact):
    """A part or consumable that was used or fitted; the item is its id, or what it was called."""

    kind: ClassVar[str] = "part used"

    count: int | None = None
    batch: str = ""
    cure_date: date | None = None
    serial: str = ""
    step: str = ""
    checks: tuple[str, ...] = ()  # it failed as it was used
    text: str = ""


@dataclass(frozen=True, kw_only=True)
class Count(Fact):
    """Parts counted out; the item is what was counted."""

    kind: ClassVar[str] = "counted out"

    count: int | None = None
    step: str = ""


@dataclass(frozen=True, kw_only=True)
class Tag(Fact):
    """A tag or number only the job knows."""

    kind: ClassVar[str] = "tag"

    role: str = ""
    text: str = ""
    step: str = ""


@dataclass(frozen=True, kw_only=True)
class Aside(Fact):
    """Bolts set aside in a pass, and what became of them."""

    kind: ClassVar[str] = "set aside"

    pass_: str = ""
    bolts: tuple[int, ...] = ()
    reason: str = ""
    outcome: str = ""
    left: tuple[int, ...] = ()  # neither tightened since, nor accepted, nor brought back


@dataclass(frozen=True, kw_only=True)
class Acceptance(Fact):
    """A named person's word: for a stop, for bolts that stay set aside (concession), or that bring them back."""

    kind: ClassVar[str] = "accepted"

    act: str = ""  # "stop", "concession" or "brought back"
    stop: str = ""
    bolts: tuple[int, ...] = ()
    reason: str = ""
    role: str = ""
    own_work: bool = False


@dataclass(frozen=True, kw_only=True)
class Remark(Fact):
    """Words: a note, a handover, a broken hold, checks of the plan that were accepted."""

    kind: ClassVar[str] = "note"

    topic: str = ""
    part: str = ""
    checks: tuple[str, ...] = ()
    text: str = ""
    role: str = ""
    closes: int = 0  # entry of the open point that is done


@dataclass(frozen=True, kw_only=True)
class OpenPoint(Fact):
    """Something left to do, who sees to it and by when; and whether it is done."""

    kind: ClassVar[str] = "open point"

    text: str = ""
    owner: str = ""
    due: date | None = None
    state: str = ""  # "open" or "closed"
    closed_in: int = 0
    closed_by: str = ""
    closed_at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Struck(Fact):
    """A wrong entry struck, and what it said."""

    kind: ClassVar[str] = "wrong entry"

    strikes: int = 0
    said: str = ""
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class PlanStands(Fact):
    """A plan the work went by from here on, and what it changed."""

    kind: ClassVar[str] = "plan"

    title: str = ""
    digest: str = ""
    prepared_by: str = ""
    file_of: str = ""
    saved_at: datetime | None = None
    changes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Unfinished(Fact):
    """An unfinished entry that was found and kept aside."""

    kind: ClassVar[str] = "recovered"

    kept_in: str = ""
    size: int = 0
    sha256: str = ""
    text: str = ""


@dataclass(frozen=True, kw_only=True)
class Deviated(Fact):
    """A deviation from the plan, and who answers for it."""

    kind: ClassVar[str] = "deviation"

    act: str = ""  # what sort of deviation
    text: str = ""
    stops: bool = False  # stopped the work
    accepted_in: int = 0
    accepted_by: str = ""
    accepted_at: datetime | None = None
    reason: str = ""
    role: str = ""
    own_work: bool = False


@dataclass(frozen=True, kw_only=True)
class StepStands(Fact):
    """A step of the order of work as it stands."""

    kind: ClassVar[str] = "step"

    step: str = ""
    text: str = ""
    state: str = ""
    started_at: datetime | None = None
    ended_at: datetime | None = None
    hold: str = ""  # role
    hold_by: str = ""
    hold_entry: int = 0
    witness: str = ""  # role
    witness_said: str = ""
    witness_entry: int = 0


@dataclass(frozen=True, kw_only=True)
class TimeLimit(Fact):
    """A time limit as it stands."""

    kind: ClassVar[str] = "time limit"

    text: str = ""
    state: str = ""
    elapsed: float | None = _of("time")


@dataclass(frozen=True, kw_only=True)
class ToolUsed(Fact):
    """A tool or measuring instrument, by its serial, with how its calibration stood on each day it was used."""

    kind: ClassVar[str] = "tool register"

    act: str = ""  # "set-up" of a tool, "reading" of an instrument
    tool: str = ""
    serial: str = ""
    calibration_due: date | None = None
    on_the_day: str = ""
    first_day: date | None = None
    last_day: date | None = None
    used_on: tuple[str, ...] = ()
    entries: tuple[int, ...] = ()


KINDS: tuple[type[Fact], ...] = (
    StudValue, Reading, Signature, SetUp, CountIn, Count, PartUsed, Tag, Aside, Acceptance, Remark, OpenPoint, Struck,
    PlanStands, Unfinished, Deviated, StepStands, TimeLimit, ToolUsed,
)  # fmt: skip

NAMES = {
    "on_head": "on record code",
    "left": "bolts left open",
    "pass_": "pass", "moved": "nut moved", "what": "measured", "typed": "as typed", "set_torque": "set torque",
    "set_pressure": "set pressure", "otherwise": "set otherwise than told", "own_work": "of own work",
    "place": "step of pass",
    "seen": "signed on", "closes": "closes entry", "due": "by",
    "dues": "calibration due of each",
    "struck_by": "struck by entry", "late": "entered late", "on_entries": "on entries",
}  # fmt: skip


def name_of(field_name: str) -> str:
    """The words of a field."""
    return NAMES.get(field_name, field_name.replace("_", " "))


BASE = tuple(each.name for each in fields(Fact))


def own_fields(fact: Fact) -> tuple[str, ...]:
    """Names of the fields of its kind."""
    return tuple(each.name for each in fields(fact) if each.name not in BASE)


def quantity_of(fact: Fact, name: str) -> str:
    """The kind of quantity of a field; "" for a plain one."""
    declared = next((str(each.metadata.get("quantity", "")) for each in fields(fact) if each.name == name), "")
    return str(getattr(fact, OWN, "")) if declared == OWN else declared
