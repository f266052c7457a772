"""The close-up in a minute: what is closed and what is short, what is to be looked at, what is missing before handover."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.deviations import SECOND_BATCH
from splitline.record.entry import AS_FOUND
from splitline.record.facts import witness_said

GAP = timedelta(hours=4)  # without an entry: told as a gap between shifts; own choice


@dataclass(frozen=True, slots=True)
class ItemClosed:
    """One item: closed, or what it lacks."""

    kind: str
    id: str
    title: str
    state: str
    good: bool


@dataclass(frozen=True, slots=True)
class Day:
    """One day of work: first and last act, entries, who was at it, and the longest gap within it."""

    day: date
    first: datetime
    last: datetime
    entries: int
    people: tuple[str, ...]
    gap: timedelta


def closed_items(built: AsBuilt) -> tuple[ItemClosed, ...]:
    """Every joint, lift, fit, insertion and clearance."""
    found = [_joint(joint) for joint in built.joints]
    for kind, items in (
        ("lift", built.lifts), ("fit", built.fits), ("insertion", built.insertions), ("clearance", built.clearances),
    ):  # fmt: skip
        found += [_item(kind, item, built) for item in items]
    return tuple(found)


def _joint(joint: JointAsBuilt) -> ItemClosed:
    progress = joint.progress
    short = ", ".join(map(str, progress.short))
    if not joint.passes:
        return ItemClosed("joint", joint.id, joint.title, "nothing is known of its bolts", False)
    if not progress.closed:
        current = progress.current
        left = len(current.open) if current is not None else 0
        name = current.plan.name if current is not None else ""
        word = "not begun" if not any(each.done for each in progress.passes) else "OPEN"
        return ItemClosed("joint", joint.id, joint.title, f"{word}: pass {name}, {left} bolts to go", False)
    if short:
        return ItemClosed("joint", joint.id, joint.title, f"closed SHORT: without {short}, below target", False)
    return ItemClosed("joint", joint.id, joint.title, "closed", True)


def _item(kind: str, item: ItemAsBuilt, built: AsBuilt) -> ItemClosed:
    own = [state for state in built.steps if (state.plan.kind, state.plan.item) == (kind, item.id)]
    outside = [entry.what for entry in item.readings if entry.verdict == "outside" and entry.what != AS_FOUND]
    if not own or any(state.state != "done" for state in own):
        word = "OPEN" if item.readings or item.signed else "not begun"
        return ItemClosed(kind, item.id, item.title, word, False)
    if kind == "clearance" and not item.readings:
        return ItemClosed(kind, item.id, item.title, "closed, NO reading", False)
    if outside:
        return ItemClosed(kind, item.id, item.title, f"closed, OUTSIDE: {', '.join(dict.fromkeys(outside))}", False)
    return ItemClosed(kind, item.id, item.title, "closed", True)


def to_look_at(built: AsBuilt) -> tuple[tuple[str, int, tuple[int, ...]], ...]:
    """What a reviewer looks at: what it is, how many, in which entries. All kinds, those with none too."""
    facts = [fact for fact in built.facts if not fact.struck_by]
    by_kind: dict[str, list[int]] = {}
    for each in built.deviations:
        by_kind.setdefault(each.kind, []).append(each.entry)
    concessions = [f.entry for f in facts if isinstance(f, kinds.Acceptance) and f.act == "concession"]
    own = [f.entry for f in facts if isinstance(f, kinds.Acceptance) and f.own_work]
    below = [bolt for joint in built.joints for bolt in joint.progress.short]
    late = [f.entry for f in facts if f.late]
    rows: list[tuple[str, list[int]]] = [
        ("holds signed on own work", by_kind.pop("hold signed on own work", [])),
        ("holds broken", by_kind.pop("hold broken", [])),
        ("witnesses absent", by_kind.pop("witness absent", [])),
        ("second batches of lubricant", by_kind.pop(SECOND_BATCH, [])),
        ("second lubricants", by_kind.pop("lubricant", [])),
        ("tools out of calibration", by_kind.pop("calibration", [])),
        ("readings as found outside their limits", by_kind.pop("as found outside", [])),
        ("readings outside their limits", by_kind.pop("reading", [])),
        ("set otherwise than told", by_kind.pop("set otherwise than told", [])),
        ("concessions of studs set aside", concessions),
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
    return tuple(_missing(built))


def _missing(built: AsBuilt) -> Iterator[str]:
    yield from (f"the record: {problem}" for problem in built.problems)
    for state in built.steps:
        name = state.plan.text or state.plan.id
        if state.state == "to sign" and state.plan.hold and state.hold is None:
            yield f"{name}: hold not signed by {state.plan.hold}"
        elif state.state not in ("done", "to sign"):
            yield f"{name}: not done"
        if state.state == "to sign" and state.asks_witness:
            yield f"{name}: witness ({state.plan.witness}) {witness_said(state)}"
    for item in closed_items(built):
        if not item.good and item.state.startswith("closed"):
            yield f"{item.title or item.id}: {item.state}"
    yield from (f"not accepted: {each.text}" for each in built.deviations if each.open)
    for fact in built.facts:
        if isinstance(fact, kinds.Aside) and fact.outcome == "not accepted" and not fact.struck_by:
            yield f"{fact.item}: bolts {', '.join(map(str, fact.bolts))} set aside in {fact.pass_}, not accepted"
        elif isinstance(fact, kinds.SetUp) and fact.tool and fact.calibration_due is None and not fact.struck_by:
            yield f"{fact.item}: calibration of {fact.tool} {fact.serial} in {fact.pass_} not given (entry {fact.entry})"
        elif isinstance(fact, kinds.OpenPoint) and fact.state == "open" and not fact.struck_by:
            yield f"open point, entry {fact.entry}: {fact.text}{_who_by_when(fact, built)}"
    yield from built.beside[:1]


def _who_by_when(point: kinds.OpenPoint, built: AsBuilt) -> str:
    """Who sees to an open point and by when; a day that has passed stands out."""
    over = point.due is not None and built.made_at.date() > point.due
    due = f"{'OVERDUE, was due' if over else 'by'} {point.due.isoformat()}" if point.due is not None else "no day given"
    return f" ({point.owner or 'nobody named'}, {due})"


def days(built: AsBuilt) -> tuple[Day, ...]:
    """The days of work, by when acts were done."""
    by: dict[date, list[kinds.Fact]] = {}
    for fact in built.facts:
        if fact.entry and fact.done_at is not None and not isinstance(fact, kinds.Deviated):
            by.setdefault(fact.done_at.date(), []).append(fact)
    found = []
    for day, facts in sorted(by.items()):
        times = sorted(fact.done_at for fact in facts if fact.done_at is not None)
        gap = max((b - a for a, b in pairwise(times)), default=timedelta())
        people = Counter(fact.done_by for fact in facts)
        count = len({fact.entry for fact in facts})
        found.append(Day(day, times[0], times[-1], count, tuple(name for name, _ in people.most_common()), gap))
    return tuple(found)
