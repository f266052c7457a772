"""The acts a record holds, one frozen class a kind.

Every entry says who did it and when (``done_*``), and who wrote it down and when (``entered_*``): the same person
at the screen, another one when a paper sheet is entered afterwards. Numbers are SI. A field left at its default is
not written. Order is the number; time is information.

The classes have no slots on purpose: an entry read from the file takes its checked fields as its ``__dict__`` at
once, which opens a long record in two thirds of the time.
"""

from __future__ import annotations

from dataclasses import MISSING, dataclass, fields
from datetime import date, datetime
from typing import Any, ClassVar

from splitline.errors import RecordError
from splitline.record.judged import Verdict, judged
from splitline.record.lines import Value


@dataclass(frozen=True, kw_only=True)
class Entry:
    """What all entries have. ``number``, ``entered_at``, ``boot``, ``tick`` and ``hash`` are given by the journal."""

    kind: ClassVar[str] = ""

    number: int = 0
    uid: str  # from the client: a second tap or a retry carries the same one
    done_at: datetime | None = None  # None when appending: now
    done_by: str
    entered_at: datetime | None = None
    entered_by: str = ""  # "": who did it
    boot: str = ""  # which start of the machine ``tick`` counts from
    tick: float | None = None  # s the machine has counted since: the time nobody sets
    device: str = ""  # machine, and tablet on it, the entry was made at
    hash: str = ""


LATE = 900.0  # s after which an entry counts as written down afterwards


def is_late(entry: Entry) -> bool:
    """Whether it was written down afterwards."""
    if entry.done_at is None or entry.entered_at is None:
        return False
    return (entry.entered_at - entry.done_at).total_seconds() > LATE


@dataclass(frozen=True, kw_only=True)
class Planned(Entry):
    """The plan as it stands from here on, whole, whenever its digest is new."""

    kind: ClassVar[str] = "plan"

    text: str
    digest: str
    items: tuple[tuple[str, str], ...] = ()  # "joint discharge-head", digest
    title: str = ""
    revision: str = ""
    prepared_by: str = ""  # as the plan says; ``done_by`` is only at whose screen it was noticed
    file_of: str = ""  # account of the machine that owns the file: who saved it last
    saved_at: datetime | None = None  # when the file was last saved


@dataclass(frozen=True, kw_only=True)
class Tightened(Entry):
    """Bolts of one step of one pass pulled to what was instructed."""

    kind: ClassVar[str] = "tightened"

    joint: str
    pass_: str  # "snug", "1", "2", ..., "round 1"
    step: int = 0  # place in the order of the pass, from 1
    bolts: tuple[int, ...]
    share: float | None = None  # of the target
    torque: float | None = None  # N·m, instructed
    pressure: float | None = None  # Pa, tool's set pressure, instructed
    tool: str = ""
    serial: str = ""
    lubricant: str = ""
    batch: str = ""
    library: str = ""  # version of the tables behind the numbers
    read: float | None = None  # what the gauge showed, SI
    read_kind: str = ""  # "torque" or "pressure"
    moved: bool = False  # a check round: did a nut move
    shown: str = ""  # the set value as it stood on the screen, with its unit; by tool where the tools differ
    crew: str = ""
    pulled_with: tuple[str, ...] = ()  # serial (or name) of the tool on each of ``bolts``, where several pull at once
    pressures: tuple[float, ...] = ()  # Pa, set for each of ``bolts``, where their tools differ

    def pressure_of(self, bolt: int) -> float | None:
        """What the tool on this bolt was set to."""
        return self.pressures[self.bolts.index(bolt)] if self.pressures else self.pressure


WITNESS = "witness"  # act of a signature: the witness was there
ABSENT = "witness-absent"  # ... was called and did not come
NO_WITNESS = "witness called and not present"  # how older records say so, in the statement of the step's end

PRESSURE_LOST = "pressure lost"  # topic of a note: a hold under pressure did not last
PRESSURE_LOST_BEFORE = ("hold broken",)  # as records of 0.1 say it
PLAN_ACCEPTED = "plan accepted"  # topic of the note under a plan whose checks fail
OPEN_POINT = "open point"  # topic of a note: something left to do, with who and by when
POINT_CLOSED = "open point closed"  # ... and that it is done: the note ``closes`` the other
JOINED = " + "  # between two tools of one crew

AS_FOUND = "as found"  # a reading from before the work: outside its limits it is a deviation to note, and stops nothing


@dataclass(frozen=True, kw_only=True)
class Measured(Entry):
    """One reading, with the limits it was judged by."""

    kind: ClassVar[str] = "measured"

    item: str  # id of a joint, lift, fit, insertion, clearance
    what: str  # "stretch", "gap", "as found", "as left", "push force", ...
    at: str = ""  # where: "2/7" of a stroke, "3 o'clock"
    step: str = ""  # id in the order of work
    pass_: str = ""
    bolt: int | None = None
    value: float  # SI
    quantity: str  # kind of quantity in units.KINDS
    typed: str = ""  # as the person typed it, with its unit
    low: float | None = None
    high: float | None = None
    instrument: str = ""
    serial: str = ""  # of the instrument
    calibration_due: date | None = None  # of the instrument

    @property
    def verdict(self) -> Verdict:
        """Against the limits."""
        return judged(self.value, self.low, self.high, self.quantity)


@dataclass(frozen=True, kw_only=True)
class Signed(Entry):
    """A name under a moment of the work.

    ``act``: "start" or "done" of a step of the order of work, "hold" or "witness" with its role,
    "witness-absent" (called, and not there), "set-up" (lubricant
    and tool of a pass), "count-in", "count-out", "part" (a part or consumable that was used) and the like; ``role`` is
    then the item. ``count`` and ``head`` are the record as signed, or how many were counted.
    """

    kind: ClassVar[str] = "signed"

    act: str
    step: str = ""  # id in the order of work
    role: str = ""
    statement: str = ""
    joint: str = ""
    pass_: str = ""
    lubricant: str = ""
    batch: str = ""
    tool: str = ""
    serial: str = ""
    calibration_due: date | None = None
    crew: str = ""
    count: int = 0
    head: str = ""
    seen: str = ""  # what a hold was signed on: the statement that stood large on the screen
    batch_before: str = ""  # of a set-up: the batch that was on this joint until now
    reason: str = ""  # ... and why it is another one
    dues: tuple[str, ...] = ()  # of a set-up of several tools whose calibrations differ: each one's day, ISO 8601
    cure_date: date | None = None  # of a seal that was fitted
    checks: tuple[str, ...] = ()  # keys of the plan's checks that a part failed as it was used; ``statement`` says how


@dataclass(frozen=True, kw_only=True)
class SetAside(Entry):
    """Bolts that could not be tightened in this pass: galled, out of reach."""

    kind: ClassVar[str] = "set-aside"

    joint: str
    pass_: str
    bolts: tuple[int, ...]
    reason: str


@dataclass(frozen=True, kw_only=True)
class WrongEntry(Entry):
    """Strikes an earlier entry; the earlier one stays readable."""

    kind: ClassVar[str] = "wrong-entry"

    entry: int
    reason: str


@dataclass(frozen=True, kw_only=True)
class Accepted(Entry):
    """A named person takes the responsibility for a stop (see ``stops``) and lets the work go on."""

    kind: ClassVar[str] = "accepted"

    stop: str  # key of the stop: "entry 12", "window bead-open", ...
    reason: str
    role: str = ""  # as whom, where the stop asks for one
    own: bool = False  # by the person whose entry it is, warned of that


@dataclass(frozen=True, kw_only=True)
class Note(Entry):
    """Words: a remark, a shift handover, why the work stopped."""

    kind: ClassVar[str] = "note"

    topic: str = "note"  # note | handover | stop work | go on | danger
    item: str = ""
    part: str = ""  # number of the mounting step it was said in
    checks: tuple[str, ...] = ()  # keys of the plan's checks that are accepted, under "plan accepted"
    text: str
    role: str = ""  # as whom, where something is accepted
    owner: str = ""  # of an open point: who sees to it
    due: date | None = None  # ... and by when
    closes: int = 0  # entry of the open point this one closes


@dataclass(frozen=True, kw_only=True)
class Recovered(Entry):
    """An unfinished entry found at the end of the file, cut off and kept aside."""

    kind: ClassVar[str] = "recovered"

    kept_in: str
    size: int  # bytes
    sha256: str
    text: str = ""


KINDS: dict[str, type[Entry]] = {
    cls.kind: cls for cls in (Planned, Tightened, Measured, Signed, SetAside, WrongEntry, Accepted, Note, Recovered)
}

_TYPES: dict[str, tuple[type, ...]] = {
    "str": (str,),
    "int": (int,),
    "int | None": (int,),
    "bool": (bool,),
    "float": (float, int),
    "float | None": (float, int),
    "datetime | None": (datetime,),
    "date | None": (date,),
    "tuple[int, ...]": (tuple,),
    "tuple[float, ...]": (tuple,),
    "tuple[str, ...]": (tuple,),
    "tuple[tuple[str, str], ...]": (tuple,),
}


def _specs(cls: type[Entry]) -> dict[str, tuple[str, tuple[type, ...]]]:
    """File key -> (field, accepted types). A key is the field's name without a trailing underscore."""
    return {f.name.rstrip("_"): (f.name, _TYPES[str(f.type)]) for f in fields(cls)}


_SPECS = {kind: _specs(cls) for kind, cls in KINDS.items()}
_DEFAULTS = {kind: {f.name: f.default for f in fields(cls)} for kind, cls in KINDS.items()}


def to_pairs(entry: Entry) -> list[tuple[str, Value]]:
    """Lines of an entry in the order of its fields, the hash left out."""
    pairs: list[tuple[str, Value]] = [("number", entry.number), ("kind", entry.kind)]
    defaults = _DEFAULTS[entry.kind]
    for key, (name, _) in _SPECS[entry.kind].items():
        value = getattr(entry, name)
        if name not in ("number", "hash") and value is not None and value != defaults[name]:
            pairs.append((key, value))
    return pairs


def from_table(table: dict[str, Value]) -> Entry:
    """An entry from its table. Keys of a later version are passed over: the hash keeps them all the same."""
    kind = table.get("kind")
    cls = KINDS.get(kind) if isinstance(kind, str) else None
    if cls is None or not isinstance(kind, str):
        raise RecordError(f"kind {kind!r} is none of {', '.join(KINDS)}")
    form = (kind, tuple(table), tuple(map(type, table.values())))
    names = _FORMS.get(form)
    if names is None:
        names = _FORMS[form] = _checked(kind, table)
    found = dict(zip(names, table.values(), strict=True))
    found.pop("", None)
    bolts: Any = found.get("bolts")  # checked above to be a tuple where there are any
    if bolts is not None and set(map(type, bolts)) != {int}:
        raise RecordError(f"bolts = {bolts!r} is not a list of bolt numbers")
    for name, own in _PER_BOLT.items():
        if name in found:
            _check_each(name, found[name], own, bolts)
    entry = cls.__new__(cls)
    entry.__dict__.update(found)
    return entry


_PER_BOLT: dict[str, tuple[type, ...]] = {"pulled_with": (str,), "pressures": (float, int)}


def _check_each(name: str, values: Value, own: tuple[type, ...], bolts: object) -> None:
    """RecordError: not one value of its type for each bolt."""
    right = isinstance(values, tuple) and all(type(value) in own for value in values)
    if not right or not isinstance(values, tuple) or not isinstance(bolts, tuple) or len(values) != len(bolts):
        raise RecordError(f"{name} = {values!r} is not one for each of bolts")


# Keys and types that were found right before: the many entries of a record have few forms.
_FORMS: dict[tuple[str, tuple[str, ...], tuple[type, ...]], tuple[str, ...]] = {}


def _checked(kind: str, table: dict[str, Value]) -> tuple[str, ...]:
    """The field for each key, "" for one to be passed over. RecordError: a wrong type, a key that must be there."""
    specs = _SPECS[kind]
    for key, value in table.items():
        if key in specs and type(value) not in specs[key][1]:
            raise RecordError(f"{key} = {value!r} is not {' or '.join(each.__name__ for each in specs[key][1])}")
    lacking = [key for key, (name, _) in specs.items() if _DEFAULTS[kind][name] is MISSING and key not in table]
    if lacking:
        raise RecordError(f"a {kind} entry without {', '.join(lacking)}")
    return tuple(specs[key][0] if key in specs else "" for key in table)
