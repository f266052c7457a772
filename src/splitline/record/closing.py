"""The close-up in a minute: what is closed and what is short, what is to be looked at, what is missing before handover."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.deviations import EARLIER, SECOND_BATCH
from splitline.record.entry import AS_FOUND, Measured
from splitline.record.facts import witness_said
from splitline.record.order import StepState

GAP = timedelta(hours=4)  # without an entry: told as a gap between shifts; own choice


@dataclass(frozen=True, slots=True)
class ItemClosed:
    """One item. ``closed``: all its work is done, be it short; ``good``: and nothing is short or outside."""

    kind: str
    id: str
    title: str
    state: str
    good: bool
    closed: bool = False
    begun: bool = True


@dataclass(frozen=True, slots=True)
class Shift:
    """A stretch of work without a gap of :data:`GAP`: first and last act, entries, who was at it, the gap before."""

    first: datetime
    last: datetime
    entries: tuple[int, ...]
    people: tuple[str, ...]
    gap: timedelta | None  # before it; None: the first


def closed_items(built: AsBuilt) -> tuple[ItemClosed, ...]:
    """Every joint, lift, fit, insertion and clearance."""
    found = [_joint(joint, built) for joint in built.joints]
    for kind, items in (
        ("lift", built.lifts), ("fit", built.fits), ("insertion", built.insertions), ("clearance", built.clearances),
    ):  # fmt: skip
        found += [_item(kind, item, built) for item in items]
    return tuple(found)


def _joint(joint: JointAsBuilt, built: AsBuilt) -> ItemClosed:
    progress = joint.progress
    name = ("joint", joint.id, joint.title)
    if not joint.planned:
        return ItemClosed(*name, "worked on, but no longer in the plan", False)
    if not joint.passes:
        return ItemClosed(*name, "nothing is known of its bolts", False, begun=bool(joint.set_ups))
    every = [*joint.readings, *(reading for line in joint.bolts for reading in line.readings)]
    outside = _outside(every)
    if not progress.closed:
        current = progress.current
        left = len(current.open) if current is not None else 0
        open_in = current.plan.name if current is not None else ""
        pulled = any(each.done or each.aside for each in progress.passes)
        begun = pulled or bool(joint.set_ups or every)
        parts = [f"{'OPEN' if pulled else 'not begun'}: {open_in if open_in[:1].isalpha() else f'pass {open_in}'}, "
                 f"{left} bolts to go", *([f"OUTSIDE: {outside}"] if outside else [])]  # fmt: skip
        return ItemClosed(*name, "; ".join(parts), False, begun=begun)
    short = [f"SHORT: without {', '.join(map(str, progress.short))}, below target"] if progress.short else []
    short += [f"OUTSIDE: {outside}"] if outside else []
    moved = ranges(progress.still_moving)
    short += [f"NUTS STILL MOVED in the last round: {moved}"] if moved else []
    earlier = [
        bolt for each in built.deviations if each.kind == EARLIER and each.item == joint.id for bolt in each.bolts
    ]
    short += [f"SET BY AN EARLIER PLAN: {ranges(earlier)}"] if earlier else []
    return ItemClosed(*name, f"closed {'; '.join(short)}".strip(), not short, True)


def _outside(readings: Sequence[Measured]) -> str:
    """What still reads outside its limits: of each kind at each place the last reading counts."""
    last = {
        (each.what, each.at, each.bolt, each.pass_ if each.bolt is None else ""): each
        for each in readings
        if each.what != AS_FOUND
    }
    found: dict[str, list[str]] = {}
    for each in last.values():
        if each.verdict == "outside":
            found.setdefault(each.what, []).append(each.at or (str(each.bolt) if each.bolt else ""))
    return ", ".join(f"{what} {', '.join(part for part in places if part)}".strip() for what, places in found.items())


def _item(kind: str, item: ItemAsBuilt, built: AsBuilt) -> ItemClosed:
    name = (kind, item.id, item.title)
    own = [state for state in built.steps if (state.plan.kind, state.plan.item) == (kind, item.id)]
    outside = _outside(item.readings)
    if not own or any(state.state != "done" for state in own):
        begun = bool(item.readings or item.signed or item.notes)
        state = f"OPEN; OUTSIDE: {outside}" if outside else "OPEN" if begun else "not begun"
        return ItemClosed(*name, state, False, begun=begun)
    if kind == "clearance" and not item.readings:
        return ItemClosed(*name, "closed, NO reading", False, True)
    if outside:
        return ItemClosed(*name, f"closed, OUTSIDE: {outside}", False, True)
    if kind == "clearance" and all(each.what == AS_FOUND for each in item.readings):
        if item.readings[-1].verdict == "outside":
            return ItemClosed(*name, "closed, as found OUTSIDE, NO reading as left", False, True)
        return ItemClosed(*name, "closed, as found, not changed", True, True)
    return ItemClosed(*name, "closed", True, True)


def to_look_at(built: AsBuilt) -> tuple[tuple[str, int, tuple[int, ...]], ...]:
    """What a reviewer looks at: what it is, how many, in which entries. All kinds, those with none too."""
    facts = [fact for fact in built.facts if not fact.struck_by]
    by_kind: dict[str, list[int]] = {}
    for each in built.deviations:
        by_kind.setdefault(each.kind, []).append(each.entry)
    concessions = [f.entry for f in facts if isinstance(f, kinds.Acceptance) and f.act == "concession"]
    own = [f.entry for f in facts if isinstance(f, kinds.Acceptance) and f.own_work]
    below = [bolt for joint in built.joints for bolt in joint.progress.short]
    late = list(dict.fromkeys(f.entry for f in facts if f.late))  # one of a pull is the whole entry
    rows: list[tuple[str, list[int]]] = [
        ("holds signed on own work", by_kind.pop("hold signed on own work", [])),
        ("pressure lost in a hold", by_kind.pop("pressure lost", [])),
        ("witnesses absent", by_kind.pop("witness absent", [])),
        ("second batches of lubricant", by_kind.pop(SECOND_BATCH, [])),
        ("second lubricants", by_kind.pop("lubricant", [])),
        ("tools out of calibration", by_kind.pop("calibration", [])),
        ("readings as found outside their limits", by_kind.pop("as found outside", [])),
        ("readings outside their limits", by_kind.pop("reading", [])),
        ("set otherwise than told", by_kind.pop("set otherwise than told", [])),
        ("concessions of deferred studs", concessions),
        ("acceptances of own entries", own),
        *by_kind.items(),
        (
            "readings without an instrument",
            [f.entry for f in facts if isinstance(f, kinds.Reading) and not f.instrument],
        ),
        ("open points", [f.entry for f in facts if isinstance(f, kinds.OpenPoint) and f.state == "open"]),
        ("entries written down afterwards", late),
    ]
    found = [(name, len(entries), tuple(sorted({each for each in entries if each}))) for name, entries in rows]
    return (("studs below target", len(below), ()), *found)


def second_batches(built: AsBuilt) -> list[int]:
    """Set-ups that brought another batch of a lubricant onto a joint."""
    return [each.entry for each in built.deviations if each.kind == SECOND_BATCH]


def missing(built: AsBuilt) -> tuple[str, ...]:
    """What stands between this record and a handover."""
    undone = (f"{state.plan.text or state.plan.id}: not done" for state in not_done(built))
    return (*undone, *missing_else(built))


def not_done(built: AsBuilt) -> tuple[StepState, ...]:
    """Steps whose work is not done."""
    return tuple(state for state in built.steps if state.done is None)


def missing_else(built: AsBuilt) -> tuple[str, ...]:
    """What is missing besides steps that are not done."""
    return tuple(_missing(built))


def _missing(built: AsBuilt) -> Iterator[str]:
    yield from (f"the record: {problem}" for problem in built.problems)
    for state in built.steps:
        name = state.plan.text or state.plan.id
        if state.done is not None and state.plan.hold and state.hold is None:
            yield f"{name}: hold not signed by {state.plan.hold}"
        if state.done is not None and state.asks_witness:
            yield f"{name}: witness ({state.plan.witness}) {witness_said(state)}"
    gone = {joint.id for joint in built.joints if not joint.planned}
    for item in closed_items(built):
        if item.id in gone or (item.closed and not item.good):
            yield f"{item.title or item.id}: {item.state}"
    yield from (f"not accepted: {each.text}" for each in built.deviations if each.open)
    for fact in built.facts:
        if isinstance(fact, kinds.Aside) and fact.left and not fact.struck_by:
            yield f"{fact.item}: bolts {', '.join(map(str, fact.left))} deferred in {fact.pass_}, not accepted"
        elif isinstance(fact, kinds.SetUp) and fact.tool and fact.calibration_due is None and not fact.struck_by:
            yield f"{fact.item}: calibration of {fact.tool} {fact.serial} in {fact.pass_} not given (entry {fact.entry})"
        elif isinstance(fact, kinds.OpenPoint) and fact.state == "open" and not fact.struck_by:
            yield f"open point, entry {fact.entry}: {fact.text}{_who_by_when(fact, built)}"
    yield from (f"{seal.title or seal.id}: batch and cure date of what was fitted not entered" for seal in built.seals)
    yield from built.beside[:1]


def _who_by_when(point: kinds.OpenPoint, built: AsBuilt) -> str:
    """Who sees to an open point and by when; a day that has passed stands out."""
    over = point.due is not None and built.made_at.date() > point.due
    due = f"{'OVERDUE, was due' if over else 'by'} {point.due.isoformat()}" if point.due is not None else "no day given"
    return f" ({point.owner or 'nobody named'}, {due})"


def shifts(built: AsBuilt) -> tuple[Shift, ...]:
    """The stretches of work, by when acts were done."""
    acts = [
        (fact.done_at, fact)
        for fact in built.facts
        if fact.entry and fact.done_at is not None and not isinstance(fact, kinds.Deviated)
    ]
    found: list[Shift] = []
    run: list[tuple[datetime, kinds.Fact]] = []
    before: datetime | None = None
    for at, fact in [*sorted(acts, key=lambda act: (act[0], act[1].entry)), (None, None)]:
        if run and (at is None or at - run[-1][0] >= GAP):
            people = Counter(each.done_by for _, each in run)
            entries = tuple(sorted({each.entry for _, each in run}))
            names = tuple(name for name, _ in people.most_common())
            found.append(Shift(run[0][0], run[-1][0], entries, names, run[0][0] - before if before else None))
            before, run = run[-1][0], []
        if at is not None and fact is not None:
            run.append((at, fact))
    return tuple(found)


def ranges(numbers: Iterable[int]) -> str:
    """Numbers in few words: ``"3, 5 to 9, 12"``."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}, {b}" if b == a + 1 else f"{a} to {b}" for a, b in runs)
