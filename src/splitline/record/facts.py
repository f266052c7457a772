"""The one list of facts of a record, built from the journal and the plans that stand in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, tzinfo
from typing import Any

from splitline.record import fact_kinds as kinds
from splitline.record.compare import differences
from splitline.record.deviations import Deviation, ToldAs, own_work
from splitline.record.entry import (
    OPEN_POINT,
    POINT_CLOSED,
    Accepted,
    Entry,
    Measured,
    Note,
    Planned,
    Recovered,
    SetAside,
    Signed,
    Tightened,
    WrongEntry,
    is_late,
)
from splitline.record.fact_kinds import Fact, own_fields, quantity_of
from splitline.record.journal import Record
from splitline.record.order import StepState
from splitline.record.people import NOBODY_KNOWN, People
from splitline.record.plans import in_force
from splitline.record.progress import brought_back, concession
from splitline.record.register import register
from splitline.record.struck import live, strikes
from splitline.record.windows import WindowState
from splitline.units import KINDS, System, as_read, show

_PLAIN = ("share", "ratio")


def zone_of(record: Record) -> tzinfo | None:
    """The zone its times are told in: that of its first entry."""
    return next((entry.done_at.tzinfo for entry in record.entries if entry.done_at and entry.done_at.tzinfo), None)


def in_one_zone(record: Record) -> Record:
    """The record with every time in the zone of its first entry, so that no face mixes zones."""
    zone = zone_of(record)
    if zone is None:
        return record

    def moved(at: datetime | None) -> datetime | None:
        return at.astimezone(zone) if at is not None and at.tzinfo is not None else at

    return replace(
        record,
        entries=tuple(
            replace(each, done_at=moved(each.done_at), entered_at=moved(each.entered_at)) for each in record.entries
        ),
    )


def facts_of(
    record: Record,
    deviations: Sequence[Deviation],
    steps: Sequence[StepState],
    windows: Sequence[WindowState],
    told: dict[tuple[int, int], ToldAs],
    people: People = NOBODY_KNOWN,
) -> tuple[Fact, ...]:
    """Every fact, by entry; then what follows from them: deviations, steps, time limits."""
    gone = strikes(record.entries)
    alive = live(record.entries)
    before: Planned | None = None
    went_by = in_force(record.entries)
    found: list[Fact] = []
    states = {state.plan.id: state for state in steps}
    for entry in record.entries:
        plan = went_by[entry.number]
        struck = gone.get(entry.number)
        base: dict[str, Any] = {
            "entry": entry.number, "done_at": entry.done_at, "done_by": entry.done_by, "entered_at": entry.entered_at,
            "entered_by": entry.entered_by, "device": entry.device, "late": is_late(entry),
            "revision": plan.revision if plan else "", "plan_entry": plan.number if plan else 0,
            "struck_by": struck.number if struck else 0,
            "struck_why": struck.reason if struck else "",
        }  # fmt: skip
        if isinstance(entry, Tightened):
            found += (
                _stud(entry, place, told.get((entry.number, bolt), ToldAs()), base)
                for place, bolt in enumerate(entry.bolts)
            )
        elif isinstance(entry, Planned):
            said = tuple(each.named for each in differences(before.text, entry.text)) if before else ()
            found.append(
                kinds.PlanStands(title=entry.title, digest=entry.digest, prepared_by=entry.prepared_by,
                                 file_of=entry.file_of, saved_at=entry.saved_at, changes=said, **base)
            )  # fmt: skip
            before = entry
        elif isinstance(entry, Signed):
            found.append(_signed(entry, base, states, alive, people))
        elif isinstance(entry, WrongEntry):
            said_of = "; ".join(sentence(each) for each in found if each.entry == entry.entry)
            found.append(kinds.Struck(strikes=entry.entry, said=said_of, reason=entry.reason, **base))
        else:
            found.append(_other(entry, base, record.entries, alive))
    number = {entry.number: entry for entry in record.entries}
    found += (_deviated(each, number) for each in deviations)
    plans = [entry for entry in record.entries if isinstance(entry, Planned)]
    found += (_step(state, plans) for state in steps)
    found += (
        kinds.TimeLimit(item=each.plan.id, text=each.said, state=each.phase, elapsed=each.elapsed, done_at=each.ended)
        for each in windows
    )
    found += register(alive)
    return tuple(found)


def _stud(entry: Tightened, nth: int, told: ToldAs, base: dict[str, Any]) -> Fact:
    """The ``nth`` bolt of a pull, with the tool and the pressure of its own where several pulled at once."""
    return kinds.StudValue(
        item=entry.joint, pass_=entry.pass_, place=entry.step, bolt=entry.bolts[nth], share=entry.share,
        set_torque=entry.torque, set_pressure=entry.pressures[nth] if entry.pressures else entry.pressure,
        pulled_with=entry.pulled_with[nth] if entry.pulled_with else "", shown=entry.shown, told=told.text,
        otherwise=told.otherwise, moved=entry.moved, what=entry.read_kind, value=entry.read, quantity=entry.read_kind,
        tool=entry.tool, serial=entry.serial, lubricant=entry.lubricant, batch=entry.batch, library=entry.library,
        crew=entry.crew, **base,
    )  # fmt: skip


def _signed(
    entry: Signed, base: dict[str, Any], states: dict[str, StepState], alive: Sequence[Entry], people: People
) -> Fact:
    if entry.act == "set-up":
        return kinds.SetUp(
            item=entry.joint, pass_=entry.pass_, step=entry.step, lubricant=entry.lubricant, batch=entry.batch,
            tool=entry.tool, serial=entry.serial, calibration_due=entry.calibration_due, crew=entry.crew,
            dues=entry.dues, batch_before=entry.batch_before, reason=entry.reason, **base,
        )  # fmt: skip
    if entry.act == "count-in":
        return kinds.CountIn(item=entry.role, count=entry.count, step=entry.step, **base)
    if entry.act == "part":
        return kinds.PartUsed(
            item=entry.role, count=entry.count, batch=entry.batch, cure_date=entry.cure_date, serial=entry.serial,
            step=entry.step, checks=entry.checks, text=entry.statement, **base,
        )  # fmt: skip
    if entry.act == "count-out":
        return kinds.Count(item=entry.role, count=entry.count, step=entry.step, **base)
    if entry.act == "tag":
        return kinds.Tag(role=entry.role, text=entry.statement, step=entry.step, item=entry.joint, **base)
    state = states.get(entry.step)
    own = entry.act == "hold" and state is not None and own_work(entry, state, alive, people)
    item = entry.joint or (state.plan.item if state is not None else "")
    return kinds.Signature(
        item=item, act=entry.act, step=entry.step, pass_=entry.pass_, role=entry.role, statement=entry.statement,
        seen=entry.seen, own_work=own, on_entries=entry.count, on_head=entry.head, crew=entry.crew, **base,
    )  # fmt: skip


_KEY = re.compile(r"(?:set aside|brought back), entry (\d+)")


def _other(entry: Entry, base: dict[str, Any], entries: Sequence[Entry], alive: Sequence[Entry]) -> Fact:
    if isinstance(entry, Measured):
        return kinds.Reading(
            item=entry.item, pass_=entry.pass_, bolt=entry.bolt or 0, what=entry.what, where=entry.at,
            value=entry.value, quantity=entry.quantity, at_least=entry.low, at_most=entry.high,
            verdict=entry.verdict, typed=entry.typed, step=entry.step, instrument=entry.instrument, serial=entry.serial,
            calibration_due=entry.calibration_due, **base,
        )  # fmt: skip
    if isinstance(entry, SetAside):
        said, left = outcome(entry, alive)
        return kinds.Aside(
            item=entry.joint, pass_=entry.pass_, bolts=entry.bolts, reason=entry.reason, outcome=said, left=left, **base
        )
    if isinstance(entry, Accepted):
        of = _KEY.fullmatch(entry.stop)
        aside = next((e for e in entries if isinstance(e, SetAside) and of and e.number == int(of.group(1))), None)
        act = "stop" if aside is None else "concession" if entry.stop == concession(aside.number) else "brought back"
        return kinds.Acceptance(
            item=aside.joint if aside else "", act=act, stop=entry.stop, bolts=aside.bolts if aside else (),
            reason=entry.reason, role=entry.role, own_work=entry.own, **base,
        )  # fmt: skip
    if isinstance(entry, Note) and entry.topic == OPEN_POINT:
        return _point(entry, base, alive)
    if isinstance(entry, Note):
        return kinds.Remark(
            item=entry.item, topic=entry.topic, part=entry.part, checks=entry.checks, text=entry.text, role=entry.role,
            closes=entry.closes, **base,
        )  # fmt: skip
    assert isinstance(entry, Recovered)
    return kinds.Unfinished(kept_in=entry.kept_in, size=entry.size, sha256=entry.sha256, text=entry.text, **base)


def _point(entry: Note, base: dict[str, Any], alive: Sequence[Entry]) -> Fact:
    by = closing_note(entry.number, alive)
    return kinds.OpenPoint(
        item=entry.item, text=entry.text, owner=entry.owner, due=entry.due, state="closed" if by else "open",
        closed_in=by.number if by else 0, closed_by=by.done_by if by else "", closed_at=by.done_at if by else None, **base,
    )  # fmt: skip


def closing_note(number: int, alive: Sequence[Entry]) -> Note | None:
    """The note that closes the open point of this entry; None while it is open."""
    return next((e for e in alive if isinstance(e, Note) and e.topic == POINT_CLOSED and e.closes == number), None)


def outcome(aside: SetAside, alive: Sequence[Entry]) -> tuple[str, tuple[int, ...]]:
    """What became of bolts set aside: tightened after all, accepted as such, brought back; and which are still open."""
    words = []
    left = set(aside.bolts)
    answered = False
    for entry in alive:
        if isinstance(entry, Accepted) and entry.stop == concession(aside.number):
            words.append(f"accepted as such by {entry.done_by}, entry {entry.number}: {entry.reason}")
            answered = True
        elif isinstance(entry, Accepted) and entry.stop == brought_back(aside.number):
            words.append(f"brought back by {entry.done_by}, entry {entry.number}: {entry.reason}")
            answered = True
        elif (
            isinstance(entry, Tightened)
            and (entry.joint, entry.pass_) == (aside.joint, aside.pass_)
            and (entry.number > aside.number and left & set(entry.bolts))
        ):
            own = sorted(left & set(entry.bolts))
            left -= set(own)
            which = "" if len(own) == len(aside.bolts) else f"{', '.join(map(str, own))} "
            words.append(f"{which}tightened later, entry {entry.number}")
    still = () if answered else tuple(bolt for bolt in aside.bolts if bolt in left)
    if still:
        which = "" if len(still) == len(aside.bolts) else f"{', '.join(map(str, still))} "
        words.append(f"{which}not accepted")
    return "; ".join(words), still


def _deviated(each: Deviation, entries: dict[int, Entry]) -> Fact:
    made, by = entries.get(each.entry), each.accepted
    return kinds.Deviated(
        entry=each.entry, item=each.item, act=each.kind, text="; ".join((each.text, *each.details)), stops=each.stops,
        done_at=made.done_at if made else None, done_by=made.done_by if made else "",
        accepted_in=by.number if by else 0, accepted_by=by.done_by if by else "",
        accepted_at=by.done_at if by else None, reason=by.reason if by else "", role=by.role if by else "",
        own_work=by.own if by else False,
    )  # fmt: skip


def _step(state: StepState, plans: Sequence[Planned]) -> Fact:
    hold, plan = state.hold, state.plan
    stood = [each for each in plans if state.done and each.done_at and each.done_at <= state.done]
    begun = state.started or state.done
    over = [each for each in stood if begun is not None and each.done_at is not None and each.done_at > begun]
    before = stood[: len(stood) - len(over)]
    revisions = dict.fromkeys(each.revision for each in (*before[-1:], *over) if each.revision)
    return kinds.StepStands(
        revision=", ".join(revisions), plan_entry=stood[-1].number if stood else 0,
        item=plan.item, step=plan.id, text=plan.text, state=state.state, started_at=state.started,
        ended_at=state.done, hold=plan.hold, hold_by=hold.done_by if hold else "",
        hold_entry=hold.number if hold else 0, witness=plan.witness, witness_said=witness_said(state),
        witness_entry=state.witness.number if state.witness else 0,
    )  # fmt: skip


def witness_said(state: StepState) -> str:
    """How a witness point was answered: the one sentence of every face; "" where there is none."""
    witness = state.witness
    if witness is None:
        return "not asked" if state.plan.witness else ""
    return f"called and not present ({witness.done_by})" if state.absent else f"witnessed by {witness.done_by}"


def sentence(fact: Fact, system: System = "SI") -> str:
    """Everything a fact of its kind says, but when and by whom."""
    parts = [fact.kind]
    for name in own_fields(fact):
        text = said(fact, name, system)
        if text and name != "quantity":
            parts.append(kinds.name_of(name) if text == "yes" else f"{kinds.name_of(name)} {text}")
    return "; ".join(parts)


def said(fact: Fact, name: str, system: System) -> str:
    """One field with its unit; "" where it says nothing."""
    value = getattr(fact, name)
    if value is None or value == "" or value == () or value is False or (value == 0 and isinstance(value, int)):
        return "0" if name == "count" and value == 0 else ""
    if value is True:
        return "yes"
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M}"
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    quantity = quantity_of(fact, name)
    if quantity == "share":
        return f"{value * 100:g} %"
    if quantity in KINDS:
        return show(value, as_read(quantity), system)
    return f"{value:g}" if isinstance(value, float) else str(value)


def who_and_when(fact: Fact) -> str:
    """When it was done and by whom; who wrote it down, and when, where that is another or later."""
    parts = [f"{fact.done_at:%Y-%m-%d %H:%M}" if fact.done_at else "", fact.done_by]
    other = fact.entered_by if fact.entered_by not in ("", fact.done_by) else ""
    late = f"{fact.entered_at:%Y-%m-%d %H:%M}" if fact.late and fact.entered_at else ""
    parts += (
        [f"entered {' '.join(part for part in (late, f'by {other}' if other else '') if part)}"]
        if other or late
        else []
    )
    parts += [f"at {fact.device}"] if fact.device else []
    if fact.struck_by:
        parts.append(f"STRUCK by entry {fact.struck_by}: {fact.struck_why}")
    return ", ".join(part for part in parts if part)


def lines(facts: Sequence[Fact], system: System) -> Iterator[tuple[int, str, str, str]]:
    """Entry, revision, what, who and when: a line a fact; bolts of one entry that say the same are one line."""
    together: list[kinds.StudValue] = []
    for fact in (*facts, None):
        same = isinstance(fact, kinds.StudValue) and together and replace(together[0], bolt=fact.bolt) == fact
        if together and not same:
            bolts = "+".join(str(each.bolt) for each in together)
            text = sentence(replace(together[0], bolt=0), system).replace("tightened;", f"tightened {bolts};", 1)
            text = f"{text}; item {together[0].item}"
            yield together[0].entry, together[0].revision, text, who_and_when(together[0])
            together = []
        if isinstance(fact, kinds.StudValue):
            together.append(fact)
        elif fact is not None:
            text = sentence(fact, system)
            text = f"{text}; item {fact.item}" if fact.item else text
            yield fact.entry, fact.revision, text, who_and_when(fact)
