"""As built: what stands in the record against the plan, as one frozen object that screens, sheets and exports read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from splitline.record.clock import clock_changes
from splitline.record.deviations import Deviation, ToldAs, deviations
from splitline.record.entry import Accepted, Entry, Measured, Note, Planned, Recovered, SetAside, Signed, Tightened
from splitline.record.entry import WrongEntry as Strike
from splitline.record.fact_kinds import Fact
from splitline.record.facts import facts_of
from splitline.record.job import Job, JointPlan, PassPlan, SealPlan
from splitline.record.journal import Record
from splitline.record.order import StepState, moments, step_states
from splitline.record.people import NOBODY_KNOWN, People
from splitline.record.progress import JointProgress, PassProgress, joint_progress
from splitline.record.struck import live, strikes
from splitline.record.windows import WindowState, window_state


@dataclass(frozen=True, slots=True)
class BoltLine:
    """One bolt of a joint: its entry in each pass (None: not done there), readings, when it was set aside."""

    bolt: int
    pulls: tuple[Tightened | None, ...]  # by pass, as in ``JointAsBuilt.passes``
    readings: tuple[Measured, ...]
    aside: tuple[SetAside, ...]


@dataclass(frozen=True, slots=True)
class JointAsBuilt:
    """One joint."""

    id: str
    title: str
    passes: tuple[str, ...]
    closed: tuple[bool, ...]
    bolts: tuple[BoltLine, ...]
    set_ups: tuple[Signed, ...]
    readings: tuple[Measured, ...]  # those of no single bolt
    progress: JointProgress
    planned: bool = True  # False: the plan that stands no longer has it
    counted: tuple[Tightened | Measured, ...] = ()  # every pull and reading that counts, in the order of the record
    gone: tuple[str, ...] = ()  # passes that hold pulls which no pass of the plan counts any more


@dataclass(frozen=True, slots=True)
class ItemAsBuilt:
    """One lift, fit, insertion or clearance."""

    kind: str
    id: str
    title: str
    readings: tuple[Measured, ...]
    signed: tuple[Signed, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Struck:
    """A wrong entry and what strikes it."""

    entry: Entry | None
    by: Strike


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """Everything the record tells."""

    title: str
    revision: str
    count: int
    head: str
    made_at: datetime
    joints: tuple[JointAsBuilt, ...]
    lifts: tuple[ItemAsBuilt, ...]
    fits: tuple[ItemAsBuilt, ...]
    insertions: tuple[ItemAsBuilt, ...]
    clearances: tuple[ItemAsBuilt, ...]
    others: tuple[ItemAsBuilt, ...]  # readings of plain steps, and of what the plan no longer has
    steps: tuple[StepState, ...]
    windows: tuple[WindowState, ...]
    signed: tuple[Signed, ...]
    deviations: tuple[Deviation, ...]  # accepted or not
    set_aside: tuple[SetAside, ...]
    wrong_entries: tuple[Struck, ...]
    notes: tuple[Note, ...]
    plans: tuple[Planned, ...]
    recovered: tuple[Recovered, ...]
    accepted: tuple[Accepted, ...]
    problems: tuple[str, ...]
    facts: tuple[Fact, ...] = ()  # every one, struck ones too
    seen: int = 0  # the greatest count the folder has seen; 0: it keeps none
    seals: tuple[SealPlan, ...] = ()  # those of the plan that stand in the record without what was fitted
    copy: str = ""  # which copy was read, by its machine and folder
    beside: tuple[str, ...] = ()  # how the plan file beside differs from the plan that stands in the record


def build(
    job: Job,
    record: Record,
    now: datetime,
    told: dict[tuple[int, int], ToldAs] | None = None,
    beside: Sequence[str] = (),
    seen: int = 0,
    copy: str = "",
    people: People = NOBODY_KNOWN,
) -> AsBuilt:
    """Fold the record into tables; ``now`` judges windows that still run. ``told``: see :mod:`splitline.record.deviations`."""
    alive = live(record.entries)
    steps = step_states(job, alive)
    reached = moments(steps)
    changes = clock_changes(record.entries)
    of = {kind: _items(job, kind, alive) for kind in ("lift", "fit", "insertion", "clearance")}
    windows = tuple(window_state(window, reached, now, record.entries, changes) for window in job.windows)
    deviated = deviations(job, record, now, told, people)
    fitted = {entry.role for entry in alive if isinstance(entry, Signed) and entry.act == "part"}
    by_number = {entry.number: entry for entry in record.entries}
    return AsBuilt(
        title=job.title,
        revision=job.revision,
        count=record.count,
        head=record.head,
        made_at=now,
        joints=(
            *(_joint(joint, alive) for joint in job.joints),
            *(replace(_joint(joint, alive), planned=False) for joint in _gone(job, alive)),
        ),
        lifts=of["lift"],
        fits=of["fit"],
        insertions=of["insertion"],
        clearances=of["clearance"],
        others=_others(job, alive),
        steps=steps,
        windows=windows,
        signed=tuple(entry for entry in alive if isinstance(entry, Signed)),
        deviations=deviated,
        set_aside=tuple(entry for entry in alive if isinstance(entry, SetAside)),
        wrong_entries=tuple(
            Struck(by_number.get(number), strike) for number, strike in sorted(strikes(record.entries).items())
        ),
        notes=tuple(entry for entry in alive if isinstance(entry, Note)),
        plans=tuple(entry for entry in alive if isinstance(entry, Planned)),
        recovered=tuple(entry for entry in alive if isinstance(entry, Recovered)),
        accepted=tuple(entry for entry in alive if isinstance(entry, Accepted)),
        problems=tuple(problem.text for problem in record.problems),
        facts=facts_of(record, deviated, steps, windows, told or {}, people),
        seen=seen,
        copy=copy,
        seals=tuple(each for each in job.seals if each.id not in fitted),
        beside=tuple(beside),
    )


def _joint(joint: JointPlan, alive: tuple[Entry, ...]) -> JointAsBuilt:
    progress = joint_progress(joint, alive)
    gone = _uncounted(progress, alive)
    progress = replace(progress, passes=(*gone, *progress.passes))
    readings = [entry for entry in alive if isinstance(entry, Measured) and entry.item == joint.id]
    aside = [entry for entry in alive if isinstance(entry, SetAside) and entry.joint == joint.id]
    numbers = sorted({bolt for each in progress.passes for bolt in each.plan.bolts})
    lines = tuple(
        BoltLine(
            bolt,
            tuple(each.done.get(bolt) for each in progress.passes),
            tuple(entry for entry in readings if entry.bolt == bolt),
            tuple(entry for entry in aside if bolt in entry.bolts),
        )
        for bolt in numbers
    )
    return JointAsBuilt(
        id=joint.id,
        title=joint.title,
        passes=tuple(each.plan.name for each in progress.passes),
        closed=tuple(each.closed for each in progress.passes),
        bolts=lines,
        set_ups=tuple(e for e in alive if isinstance(e, Signed) and e.act == "set-up" and e.joint == joint.id),
        readings=tuple(entry for entry in readings if entry.bolt is None),
        progress=progress,
        counted=tuple(
            entry
            for entry in alive
            if (isinstance(entry, Tightened) and entry.joint == joint.id)
            or (isinstance(entry, Measured) and entry.item == joint.id)
        ),
        gone=tuple(each.plan.name for each in gone),
    )


def _uncounted(progress: JointProgress, alive: tuple[Entry, ...]) -> tuple[PassProgress, ...]:
    """Pulls of a joint that count for no pass: of passes a later plan dropped, or asks at a higher share."""
    counted = {(bolt, entry.number) for each in progress.passes for bolt, entry in each.done.items()}
    found: dict[str, dict[int, Tightened]] = {}
    for entry in alive:
        if isinstance(entry, Tightened) and entry.joint == progress.joint:
            name = entry.pass_ if entry.share is None else f"{entry.pass_} at {entry.share * 100:g} %"
            own = {bolt: entry for bolt in entry.bolts if (bolt, entry.number) not in counted}
            if own:
                found.setdefault(name, {}).update(own)
    return tuple(PassProgress(PassPlan(name, (tuple(own),)), own, {}, frozenset()) for name, own in found.items())


def _items(job: Job, kind: str, alive: tuple[Entry, ...]) -> tuple[ItemAsBuilt, ...]:
    found = []
    for item in job.items:
        if item.kind != kind:
            continue
        own = {step.id for step in job.steps if (step.kind, step.item) == (kind, item.id)} | {item.id}
        found.append(
            ItemAsBuilt(
                kind,
                item.id,
                item.title,
                tuple(entry for entry in alive if isinstance(entry, Measured) and entry.item == item.id),
                tuple(entry for entry in alive if isinstance(entry, Signed) and entry.step in own),
                tuple(entry for entry in alive if isinstance(entry, Note) and entry.item == item.id),
            )
        )
    return tuple(found)


def _gone(job: Job, alive: tuple[Entry, ...]) -> list[JointPlan]:
    """Joints worked on that the plan no longer has, with the passes and bolts their entries name."""
    known = {joint.id for joint in job.joints}
    found: dict[str, dict[str, dict[tuple[int, ...], None]]] = {}
    for entry in alive:
        if isinstance(entry, (Tightened, SetAside)) and entry.joint not in known:
            found.setdefault(entry.joint, {}).setdefault(entry.pass_, {})[entry.bolts] = None
    return [
        JointPlan(
            joint, f"{joint} (no longer in the plan)", tuple(PassPlan(n, tuple(bolts)) for n, bolts in passes.items())
        )
        for joint, passes in found.items()
    ]


def _others(job: Job, alive: tuple[Entry, ...]) -> tuple[ItemAsBuilt, ...]:
    known = {joint.id for joint in job.joints} | {item.id for item in job.items}
    titles = {step.id: step.text for step in job.steps}
    read = [entry for entry in alive if isinstance(entry, Measured) and entry.item not in known]
    return tuple(
        ItemAsBuilt("step", item, titles.get(item) or item, tuple(e for e in read if e.item == item), (), ())
        for item in dict.fromkeys(entry.item for entry in read)
    )
