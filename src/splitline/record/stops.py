"""What stops the work until a named person accepts it, in an entry of its own with a reason.

A lubricant other than the plan's or a second one, a lapsed calibration of a tool or instrument, a reading outside its limits, a
broken window, a clock that was set while the work ran, nuts that still move after the last round, a plan that changed under work
that was begun or whose steps changed places, a record that was altered or cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import lru_cache

from splitline.errors import RecordError
from splitline.record.clock import ClockChange, clock_changes
from splitline.record.compare import differences, order_change
from splitline.record.danger import called, check_release, key_of
from splitline.record.entry import (
    ABSENT,
    AS_FOUND,
    WITNESS,
    Accepted,
    Entry,
    Measured,
    Planned,
    SetAside,
    Signed,
    Tightened,
)
from splitline.record.job import Job
from splitline.record.journal import Record
from splitline.record.order import moments, step_states
from splitline.record.people import NOBODY_KNOWN, People
from splitline.record.progress import joint_progress
from splitline.record.register import lapsed, uses
from splitline.record.struck import live
from splitline.record.windows import window_state
from splitline.toml_bounds import bounded

TARGETS = ("joint", "lift", "fit", "insertion", "clearance")
BEFORE_WORK = ("set-up", WITNESS, ABSENT)
COUNTS = ("count-in", "count-out", "part")  # their role is the counted item


@dataclass(frozen=True, slots=True)
class Changed:
    """One item of the work that a new plan changed after it was begun."""

    key: str
    text: str
    item: str  # "": everything stops
    entry: int  # the new plan
    details: tuple[str, ...]  # the values, old and new


@dataclass(frozen=True, slots=True)
class _Shape:
    """What a plan's steps and windows hang on, by id."""

    targets: Mapping[str, str]  # step -> the item it works on
    starts: Mapping[str, str]  # window -> the step or item its time begins at


def plan_changes(alive: tuple[Entry, ...]) -> list[Changed]:
    """Every change of the plan under work that was begun, and every new order of its steps."""
    if sum(isinstance(entry, Planned) for entry in alive) < 2:
        return []
    found: list[Changed] = []
    begun: set[str] = set()
    before: Planned | None = None
    work = False
    for entry in alive:
        if isinstance(entry, Planned):
            if before is not None:
                found += _changed(before, entry, begun)
                found += _reordered(before, entry) if work else []
            before = entry
        else:
            work = work or isinstance(entry, Tightened | Signed)
            begun |= _touched(entry, _shape(before.text) if before is not None else _NO_SHAPE)
    return found


def _touched(entry: Entry, shape: _Shape) -> set[str]:
    """Ids of what an entry begins."""
    ids: set[str] = set()
    if isinstance(entry, Tightened | SetAside):
        ids = {entry.joint}
    elif isinstance(entry, Measured) and entry.what != AS_FOUND:
        ids = {entry.item, entry.step}
    elif isinstance(entry, Signed) and entry.act not in BEFORE_WORK:
        ids = {entry.step, entry.joint, entry.role if entry.act in COUNTS else ""}
    return (ids | {shape.targets.get(ident, "") for ident in ids}) - {""}


def _changed(before: Planned, after: Planned, begun: set[str]) -> list[Changed]:
    shape, new = _shape(before.text), dict(after.items)
    remaining = {name.partition(" ")[2] for name in new}
    parts: dict[tuple[str, bool], list[str]] = {}  # what stops, whether it is gone -> items of the plan behind it
    for name, digest in before.items:
        kind, _, ident = name.partition(" ")
        start = shape.starts.get(ident, "") if kind == "window" else ""
        if new.get(name) == digest or not (ident in begun or start in begun):
            continue
        gone = name not in new
        target = shape.targets.get(ident, "") if kind == "step" else ""
        stops = target if target and target in remaining and not gone else ident
        parts.setdefault((stops, gone), []).append(name)
    said = differences(before.text, after.text)
    found = []
    for (ident, gone), names in parts.items():
        details = tuple(
            each.said if name.partition(" ")[2] == ident else f"{name}: {each.said}"
            for name in names
            for each in said
            if each.item == name
        )
        what = "it is no longer in the plan, though" if gone else "the plan was changed after"
        text = f"{ident}: {what} work on it began (entry {after.number})"
        everything = gone or names[0].startswith("window ")  # no instruction comes that it could be accepted at
        key = f"plan changed, {ident}, entry {after.number}"
        found.append(Changed(key, text, "" if everything else ident, after.number, details))
    return sorted(found, key=lambda each: each.text)


def _reordered(before: Planned, after: Planned) -> list[Changed]:
    """Steps in another order than when work began: what comes first is no longer what was agreed."""
    said = order_change((name for name, _ in before.items), (name for name, _ in after.items), "step")
    if not said:
        return []
    text = f"the plan was changed after work began (entry {after.number}): {said}"
    return [Changed(f"plan changed, order of steps, entry {after.number}", text, "", after.number, ())]


_NO_SHAPE = _Shape({}, {})


@lru_cache(maxsize=32)
def _shape(text: str) -> _Shape:
    try:
        plan = bounded(text)
    except ValueError:
        return _NO_SHAPE
    targets = {str(step["id"]): str(step[kind]) for step in _rows(plan.get("step")) for kind in TARGETS if kind in step}
    starts = {str(each["id"]): str(each.get("from", "")).partition(".")[0] for each in _rows(plan.get("window"))}
    return _Shape(targets, starts)


def _rows(value: object) -> Iterable[dict[str, object]]:
    return [each for each in value if isinstance(each, dict) and "id" in each] if isinstance(value, list) else []


@dataclass(frozen=True, slots=True)
class Stop:
    """One reason to stop."""

    key: str  # what an ``accepted`` entry names
    text: str
    item: str = ""  # "" stops everything
    entry: int = 0  # that made it; 0: none
    accepted: Accepted | None = None
    details: tuple[str, ...] = ()  # what it is about, a line each: of a changed plan the values, old and new
    kind: str = ""  # what sort of reason, for whoever counts them


def all_stops(
    job: Job, record: Record, now: datetime, clock: tuple[ClockChange, ...] | None = None
) -> tuple[Stop, ...]:
    """Every stop there was and is; those with ``accepted`` no longer hold the work up.

    ``clock``: where the wall clock was set, up to this moment; None: as the entries tell.
    """
    alive = live(record.entries)
    found = [Stop(problem.key, problem.text, "", problem.number, kind="record altered") for problem in record.problems]
    found += [Stop(key_of(note), f"DANGER: {note.text}", "", note.number, kind="danger") for note in called(alive)]
    found += _readings(job, alive)
    found += _set_ups(job, alive)
    found += _instruments(alive)
    found += _moving(job, alive)
    found += [
        Stop(each.key, each.text, each.item, each.entry, details=each.details, kind="plan changed")
        for each in plan_changes(alive)
    ]
    changes = clock_changes(record.entries) if clock is None else clock
    found += [Stop(change.key, change.text, "", change.upto, kind="clock") for change in changes]
    reached = moments(step_states(job, alive))
    for window in job.windows:
        state = window_state(window, reached, now, record.entries, changes)
        if state.phase == "broken":
            found.append(Stop(f"window {window.id}", state.said, kind="time limit"))
        elif state.phase == "clock changed":
            found.append(Stop(f"window {window.id}, clock changed", state.said, kind="clock"))
    by = {entry.stop: entry for entry in alive if isinstance(entry, Accepted)}
    return tuple(replace(stop, accepted=by.get(stop.key)) for stop in found)


def open_stops(
    job: Job, record: Record, now: datetime, item: str = "", clock: tuple[ClockChange, ...] | None = None
) -> tuple[Stop, ...]:
    """Stops nobody accepted yet: of this item and of the whole work, or all of them."""
    return tuple(
        stop
        for stop in all_stops(job, record, now, clock)
        if stop.accepted is None and (not item or stop.item in ("", item))
    )


def check_open(
    job: Job, record: Record, now: datetime, item: str, clock: tuple[ClockChange, ...] | None = None
) -> None:
    """RecordError while a stop holds this item up."""
    found = open_stops(job, record, now, item, clock)
    if found:
        raise RecordError(f"work is stopped: {found[0].text}. A named person has to accept it first")


def check_accept(
    job: Job,
    record: Record,
    now: datetime,
    entry: Accepted,
    people: People = NOBODY_KNOWN,
    clock: tuple[ClockChange, ...] | None = None,
) -> None:
    """RecordError unless the stop is there, is open, and a reason is given. Concessions of studs go by their entry."""
    if not entry.reason.strip() or not entry.done_by.strip():
        raise RecordError("an acceptance needs a name and a reason; nothing was stored")
    known = {stop.key: stop for stop in all_stops(job, record, now, clock)}
    stop = known.get(entry.stop)
    if stop is None:
        raise RecordError(f"there is no stop {entry.stop!r} to accept; nothing was stored")
    if stop.accepted is not None:
        raise RecordError(f"{entry.stop}: accepted already by {stop.accepted.done_by}; nothing was stored")
    check_release(record.entries, entry, people)


def _readings(job: Job, alive: tuple[Entry, ...]) -> list[Stop]:
    found = []
    nouns = {joint.id: joint.noun for joint in job.joints}
    for entry in alive:
        if isinstance(entry, Measured) and entry.verdict == "outside" and entry.what != AS_FOUND:
            where = (
                f" of {nouns.get(entry.item, 'stud')} {entry.bolt}"
                if entry.bolt
                else f" at {entry.at}"
                if entry.at
                else ""
            )
            text = f"{entry.item}: {entry.what}{where} reads {entry.typed or entry.value}, outside its limits"
            found.append(Stop(f"reading, entry {entry.number}", text, entry.item, entry.number, kind="reading"))
    return found


def _set_ups(job: Job, alive: tuple[Entry, ...]) -> list[Stop]:
    found = []
    planned = {joint.id: joint.lubricant for joint in job.joints if joint.lubricant}
    accepted = {entry.stop for entry in alive if isinstance(entry, Accepted)}
    lubricants: dict[str, set[str]] = {}
    for entry in alive:
        if not (isinstance(entry, Signed) and entry.act == "set-up"):
            continue
        known = lubricants.setdefault(entry.joint, {planned[entry.joint]} if entry.joint in planned else set())
        key = f"second lubricant, entry {entry.number}"
        if known and entry.lubricant not in known:
            before = ", ".join(sorted(known))
            said = f"the torque is for {before}" if known == {planned.get(entry.joint)} else f"{before} before"
            text = f"{entry.joint}: {entry.lubricant} in pass {entry.pass_}, but {said}"
            found.append(Stop(key, text, entry.joint, entry.number, kind="lubricant"))
        if not known or key in accepted:
            known.add(entry.lubricant)
        due, done = entry.calibration_due, entry.done_at
        if due is not None and done is not None and done.date() > due:
            text = f"{entry.joint}: calibration of {entry.tool} {entry.serial} lapsed on {due}"
            found.append(
                Stop(f"calibration, entry {entry.number}", text, entry.joint, entry.number, kind="calibration")
            )
    return found


def _instruments(alive: tuple[Entry, ...]) -> list[Stop]:
    """The first reading of an item with an instrument whose calibration had run out; further ones go by its acceptance."""
    found: dict[tuple[str, str, str, date | None], Stop] = {}
    for use in uses(alive):
        if use.act != "reading" or not lapsed(use.due, use.day):
            continue
        text = f"{use.on}: calibration of {' '.join(filter(None, (use.tool, use.serial)))} lapsed on {use.due}"
        stop = Stop(f"calibration, entry {use.entry}", text, use.on, use.entry, kind="calibration")
        found.setdefault((use.on, use.tool, use.serial, use.due), stop)
    return list(found.values())


def _moving(job: Job, alive: tuple[Entry, ...]) -> list[Stop]:
    found = []
    for joint in job.joints:
        state = joint_progress(joint, alive)
        if state.still_moving:
            last = state.passes[-1].plan.name
            bolts = ", ".join(str(bolt) for bolt in sorted(state.still_moving))
            text = f"{joint.id}: nuts {bolts} moved in {last}"
            found.append(Stop(f"moving nuts, {joint.id} {last}", text, joint.id, kind="moving nuts"))
    return found
