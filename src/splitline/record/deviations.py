"""What counts as a deviation: one definition, for every face of the record.

Whatever stopped the work; a pull set otherwise than its own plan told; a broken hold; a reading as found outside its limits;
a witness who did not come; a step ended, or a hold signed, all the same or on own work; checks of the plan that were accepted;
a second batch of a lubricant on one joint; a seal fitted beyond its shelf life.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from splitline.record.entry import (
    AS_FOUND,
    NO_WITNESS,
    PLAN_ACCEPTED,
    PRESSURE_LOST,
    PRESSURE_LOST_BEFORE,
    Accepted,
    Entry,
    Measured,
    Note,
    Signed,
    Tightened,
)
from splitline.record.job import Job
from splitline.record.journal import Record
from splitline.record.order import StepState, step_states
from splitline.record.people import NOBODY_KNOWN, People
from splitline.record.stops import all_stops
from splitline.record.struck import live

SECOND_BATCH = "second batch"
EARLIER = "set by an earlier plan"


@dataclass(frozen=True, slots=True)
class Deviation:
    """One of them. ``entry``: that made it, 0 for none; ``stops``: it stops, or stopped, the work."""

    kind: str
    key: str
    text: str
    item: str = ""
    entry: int = 0
    accepted: Accepted | None = None
    stops: bool = False
    details: tuple[str, ...] = ()
    bolts: tuple[int, ...] = ()

    @property
    def open(self) -> bool:
        """It stops the work, and nobody accepted it."""
        return self.stops and self.accepted is None


@dataclass(frozen=True, slots=True)
class ToldAs:
    """What the plan in force tells for one bolt of one pull, in words; whether the pull was set otherwise."""

    text: str = ""
    otherwise: bool = False
    set_as: str = ""
    now: str = ""  # what the plan that stands tells, where that differs from what was set by an earlier one


def deviations(
    job: Job,
    record: Record,
    now: datetime,
    told: dict[tuple[int, int], ToldAs] | None = None,
    people: People = NOBODY_KNOWN,
) -> tuple[Deviation, ...]:
    """Every deviation there was and is. ``told``: by entry and bolt, see :class:`ToldAs`."""
    alive = live(record.entries)
    found = [
        Deviation(stop.kind, stop.key, stop.text, stop.item, stop.entry, stop.accepted, True, stop.details)
        for stop in all_stops(job, record, now)
    ]
    found += _otherwise(job, alive, told or {})
    found += _earlier(job, alive, told or {})
    for entry in alive:
        found += _of_entry(entry)
    found += _batches(alive)
    for state in step_states(job, alive):
        found += _of_step(state, alive, people)
    return tuple(found)


def _otherwise(job: Job, alive: Sequence[Entry], told: dict[tuple[int, int], ToldAs]) -> Iterator[Deviation]:
    nouns = {joint.id: joint.noun for joint in job.joints}
    for entry in alive:
        if not isinstance(entry, Tightened):
            continue
        for bolt in entry.bolts:
            as_told = told.get((entry.number, bolt))
            if as_told is not None and as_told.otherwise:
                text = (
                    f"{entry.joint}: {nouns.get(entry.joint, 'bolt')} {bolt} in {entry.pass_} set otherwise than told: "
                    f"{as_told.set_as}, its plan told {as_told.text}"
                )
                key = f"set otherwise, entry {entry.number}, bolt {bolt}"
                yield Deviation("set otherwise than told", key, text, entry.joint, entry.number)


def _earlier(job: Job, alive: Sequence[Entry], told: dict[tuple[int, int], ToldAs]) -> Iterator[Deviation]:
    """Bolts last set to the full target by an earlier plan, where the one that stands tells another value."""
    last: dict[tuple[str, int], Tightened] = {}
    for entry in alive:
        if isinstance(entry, Tightened):
            last |= {(entry.joint, bolt): entry for bolt in entry.bolts}
    groups: dict[tuple[str, str, str], list[tuple[int, int]]] = {}
    for (joint, bolt), entry in last.items():
        as_told = told.get((entry.number, bolt))
        if as_told is not None and as_told.now and (entry.share is None or entry.share >= 1.0):
            groups.setdefault((joint, as_told.set_as, as_told.now), []).append((bolt, entry.number))
    nouns = {joint.id: joint.noun for joint in job.joints}
    for (joint, was, now), own in groups.items():
        bolts, number = sorted(bolt for bolt, _ in own), max(entry for _, entry in own)
        text = (
            f"{joint}: {nouns.get(joint, 'bolt')} {', '.join(map(str, bolts))} set by an earlier plan to {was}, the plan that "
            f"stands tells {now}"
        )
        yield Deviation(EARLIER, f"set by an earlier plan, entry {number}", text, joint, number, bolts=tuple(bolts))


def _of_entry(entry: Entry) -> Iterator[Deviation]:
    number = entry.number
    if isinstance(entry, Note) and entry.topic in (PRESSURE_LOST, *PRESSURE_LOST_BEFORE):
        part = f" of mounting step {entry.part}" if entry.part else ""
        text = f"{entry.item}: hold{part} broken: {entry.text}"
        yield Deviation("pressure lost", f"pressure lost, entry {number}", text, entry.item, number)
    elif isinstance(entry, Note) and entry.topic == PLAN_ACCEPTED:
        checks = f"{', '.join(entry.checks)}: " if entry.checks else ""
        role = f" ({entry.role})" if entry.role else ""
        text = f"{entry.item}: checks of the plan accepted by {entry.done_by}{role}: {checks}{entry.text}"
        yield Deviation("plan accepted", f"plan accepted, entry {number}", text, entry.item, number)
    elif isinstance(entry, Measured) and entry.what == AS_FOUND and entry.verdict == "outside":
        where = f" at {entry.at}" if entry.at else ""
        text = f"{entry.item}: as found{where} {entry.typed or entry.value}, outside its limits"
        yield Deviation("as found outside", f"as found, entry {number}", text, entry.item, number)
    elif isinstance(entry, Signed) and entry.act == "part" and entry.checks:
        text = f"{entry.role}: fitted all the same: {entry.statement}"
        yield Deviation("part fitted all the same", f"part, entry {number}", text, entry.role, number)
    elif isinstance(entry, Signed) and entry.act == "done" and entry.statement not in ("", NO_WITNESS):
        text = f"{entry.step}: {entry.statement}"
        yield Deviation("done all the same", f"done all the same, entry {number}", text, entry.step, number)


def _batches(alive: Sequence[Entry]) -> Iterator[Deviation]:
    """Set-ups that brought another batch of a lubricant onto a joint than was on it."""
    known: dict[tuple[str, str], list[str]] = {}
    for entry in alive:
        if not (isinstance(entry, Signed) and entry.act == "set-up" and entry.batch):
            continue
        own = known.setdefault((entry.joint, entry.lubricant), [])
        if own and entry.batch not in own:
            why = entry.reason or "no reason given"
            text = f"{entry.joint}: batch {entry.batch} of {entry.lubricant} in {entry.pass_}, {own[-1]} before: {why}"
            yield Deviation(SECOND_BATCH, f"second batch, entry {entry.number}", text, entry.joint, entry.number)
        own.append(entry.batch)


def _of_step(state: StepState, alive: Sequence[Entry], people: People) -> Iterator[Deviation]:
    step, witness, hold = state.plan, state.witness, state.hold
    if state.absent and witness is not None:
        text = f"{step.id}: witness ({step.witness}) called and not present"
        yield Deviation("witness absent", f"witness absent, {step.id}", text, step.id, witness.number)
    if hold is not None and own_work(hold, state, alive, people):
        text = f"{step.id}: hold signed by {hold.done_by}, who did the work"
        yield Deviation("hold signed on own work", f"own work, {step.id}", text, step.id, hold.number)


def own_work(signed: Signed, state: StepState, alive: Sequence[Entry], people: People = NOBODY_KNOWN) -> bool:
    """Whether a hold was signed by one who did the work of its step, by the record, however the name was written."""
    for entry in alive:
        if entry.number >= signed.number or not people.same(entry.done_by, signed.done_by):
            continue
        if isinstance(entry, Tightened):
            step = state.plan
            of_pass = (
                not step.passes or entry.pass_ in step.passes or ("round" in step.passes and "round" in entry.pass_)
            )
            if step.kind == "joint" and entry.joint == step.item and of_pass:
                return True
        elif (
            isinstance(entry, Signed)
            and entry.step == state.plan.id
            and entry.act in ("start", "done", "mounting", "trial")
        ):
            return True
    return False
