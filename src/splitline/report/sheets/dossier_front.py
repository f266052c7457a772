"""The first sheets of the dossier: a front page that an engineer signs in a minute, and the order of work as it was done."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from splitline.assess.assessment import Assessment
from splitline.plan.model import Plan
from splitline.record import closing
from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt
from splitline.record.facts import who_and_when, witness_said
from splitline.record.order import StepState
from splitline.report.blocks import (
    Beside,
    Block,
    Cautions,
    Cell,
    Heading,
    Para,
    Picture,
    Points,
    Sheet,
    Signs,
    Strong,
    Table,
)
from splitline.report.pictures.time_bars import TimedStep, time_bars
from splitline.report.sheets import common
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.common import Options
from splitline.report.sheets.names import Names

EVIDENCE = (
    "Every entry is sealed by the one before it, and count and record code stand on the sheets printed during the work: evidence "
    "against mistakes and quiet edits. It is not proof against somebody who forges the record, its head file and the printed "
    "sheets together."
)
NAMED = 12  # steps not done that the front page names one by one
LISTED = 24  # things missing before handover that it lists; the order of work has them all
LINE, FEW = 62, 6  # letters of one line in half the page; what is missing that needs no cutting
MOST = 12  # items named in one cell
CHANGES = 3  # of a plan that it tells; the deviations have them all
BARS = 50  # steps in one picture of the time line
_KINDS = {"joint": "Joints", "lift": "Lifts", "fit": "Fits", "insertion": "Insertions", "clearance": "Clearances"}


def front_sheet(plan: Plan, built: AsBuilt, names: Names) -> Sheet:
    """The front page: the record's state, what is missing, closed, to be looked at, the plans; places to sign."""
    blocks: list[Block] = []
    if built.problems:
        blocks.append(Cautions(("The record does NOT stand as it was written:", *built.problems)))
    else:
        blocks.append(Para("Every entry stands as it was written.", "strong"))
    if built.beside:
        blocks.append(Cautions(built.beside))
    blocks += [*_counts(plan, built), *_missing(built, names), *_closed(built), *_looked(built)]
    blocks.append(Signs((("Dossier read and found complete", "reviewer"), ("Handed over to", "owner"))))
    blocks += [*_plans(built), Para(EVIDENCE, "small")]
    return Sheet("dossier", "", "As built", tuple(blocks), words.WHAT)


def _counts(plan: Plan, built: AsBuilt) -> list[Block]:
    done = sum(state.state == "done" for state in built.steps)
    stops = [stop for stop in built.deviations if stop.stops]
    accepted = sum(stop.accepted is not None for stop in stops)
    other = len(built.deviations) - len(stops)
    aside = sum(len(entry.bolts) for entry in built.set_aside)
    info = plan.info
    people = (("prepared", info.prepared_by), ("checked", info.checked_by), ("approved", info.approved_by))
    left: list[tuple[str, Cell | None]] = [
        ("Steps done", f"{done} of {len(built.steps)}"),
        ("Entries", str(built.count)),
        ("Greatest count seen", str(built.seen) if built.seen else "not kept"),
        ("Written on", f"{built.made_at:%Y-%m-%d %H:%M %z}"),
    ]
    right: list[tuple[str, Cell | None]] = [
        (
            "Deviations",
            f"{len(stops)}, {accepted} accepted by name" + (f"; {other} that stop nothing" if other else ""),
        ),
        ("Deferred bolts", str(aside)),
        ("Corrections", str(len(built.wrong_entries))),
        ("Plan", ", ".join(f"{word} by {name}" for word, name in people if name) or "not said by whom"),
    ]
    code = common.facts([("Record code", built.head)])
    copy = common.facts([("Copy number, of this machine and folder", built.copy or "not kept")])
    return [Beside((common.facts(left),), (common.facts(right),), 0.46), code, copy]


def lacking(built: AsBuilt, names: Names) -> list[str]:
    """What is missing before handover; steps not done by their number."""
    numbers = {state.plan.id: place for place, state in enumerate(built.steps, 1)}
    undone = closing.not_done(built)
    found = [f"{numbers[state.plan.id]}, not done: {state.plan.text or state.plan.id}" for state in undone]
    return found + [names.said(text) for text in closing.missing_else(built)]


def _missing(built: AsBuilt, names: Names) -> list[Block]:
    every = lacking(built, names)
    numbers = {state.plan.id: place for place, state in enumerate(built.steps, 1)}
    undone = [numbers[state.plan.id] for state in closing.not_done(built)]
    if len(undone) > NAMED:
        which = closing.ranges(undone)
        every = [f"{len(undone)} steps not done: {which}; the order of work names them", *every[len(undone) :]]
    if len(every) > LISTED:
        every = [*every[: LISTED - 1], f"and {len(every) - LISTED + 1} more: the order of work has them all"]
    if not every:
        return [Heading("Missing before handover"), Para("Nothing.", "strong")]
    whole = len(every) <= FEW
    rows = tuple((text if whole or place >= len(undone) else _short(text, LINE),) for place, text in enumerate(every))
    return [Table((f"Missing before handover: {len(every)}",), rows, beside=1 if len(rows) < 4 else 2, small=True)]


def _short(text: str, most: int) -> str:
    """Cut at a word: the order of work has it whole."""
    return text if len(text) <= most else f"{text[:most].rpartition(' ')[0].rstrip(',;:')} …"


def _named(names: Sequence[str]) -> str:
    """Names, of very many the first."""
    more = f"; and {len(names) - MOST} more" if len(names) > MOST else ""
    return f"{'; '.join(names[:MOST])}{more}"


def _closed(built: AsBuilt) -> list[Block]:
    items = closing.closed_items(built)
    rows: list[tuple[Cell, ...]] = []
    for kind, word in _KINDS.items():
        own = [each for each in items if each.kind == kind]
        if not own:
            continue
        closed = [each for each in own if each.closed]
        short = [f"▲ {each.title or each.id}: {each.state}" for each in own if each.begun and not each.good]
        fresh = [each.title or each.id for each in own if not each.begun]
        short += [f"not begun: {_named(fresh)}"] if fresh else []
        good = "all" if not short and len(own) > 1 else _named([each.title or each.id for each in own if each.good])
        rows.append(
            (word, Strong(f"{len(closed)} of {len(own)}"), good, Strong("\n".join(short[:MOST])) if short else "")
        )
    if not rows:
        return []
    head = ("Item", "Closed", "Closed and good", "Short, open, not begun")
    return [Table(head, tuple(rows), (0.85, 0.6, 3.1, 4.6), small=True)]


def _looked(built: AsBuilt) -> list[Block]:
    looked = closing.to_look_at(built)
    below = "; ".join(
        f"{joint.title or joint.id}: {words.bolts(joint.progress.short)}"
        for joint in built.joints
        if joint.progress.short
    )
    rows = tuple(
        (name, Strong(str(count)), closing.ranges(entries) or below) for name, count, entries in looked if count
    )
    none = [name for name, count, _ in looked if not count]
    found: list[Block] = []
    if rows:
        columns = 1 if len(rows) < 4 else 2
        found.append(Table(("Needs attention", "Count", "Entries"), rows, (2.8, 0.5, 1.8), beside=columns, small=True))
    return [*found, Para(f"None: {', '.join(none)}.", "small")] if none else found


def _plans(built: AsBuilt) -> list[Block]:
    plans = [fact for fact in built.facts if isinstance(fact, kinds.PlanStands)]
    if not plans:
        return [Para("No plan stands in the record.", "strong")]
    rows = tuple(
        (str(f.entry), f.revision or "not given", who_and_when(replace(f, device="")), _changed(f)) for f in plans
    )
    return [Table(("Entry", "Plan revision", "From, by", "What it changed"), rows, (0.5, 1.1, 2, 4.8), small=True)]


def _changed(fact: kinds.PlanStands) -> str:
    told = "; ".join(fact.changes[:CHANGES])
    more = len(fact.changes) - CHANGES
    return f"{told}; and {more} more, see Plans worked by" if more > 0 else told


def work_as_done(built: AsBuilt, assessment: Assessment, names: Names, options: Options) -> Sheet:
    """Every step as it was done, by whom; the same over time; time limits; stretches of work."""
    facts = {fact.step: fact for fact in built.facts if isinstance(fact, kinds.StepStands)}
    signed = {
        (f.act, f.step): f for f in built.facts if isinstance(f, kinds.Signature) and f.act in _ENDS and not f.struck_by
    }
    timed = [_timed(place, state, assessment) for place, state in enumerate(built.steps, 1)]
    rows = tuple(
        _step(state, timed[place], facts.get(state.plan.id), signed) for place, state in enumerate(built.steps)
    )
    head = ("No.", "Step", "State", "Started", "Done", "Planned, took", "Rev.", "Hold", "Witness")
    widths = (0.4, 3.3, 0.7, 1.15, 1.15, 0.9, 0.4, 1.6, 1.6)
    blocks: list[Block] = [Table(head, rows, widths, ("right",), small=True)] if rows else []
    blocks += _time_line(timed, built, options)
    if built.windows:
        lines = tuple(
            (window.plan.title, names.said(window.said.removeprefix(f"{window.plan.title}: ")))
            for window in built.windows
        )
        blocks.append(Table(("Time limit", "Result"), lines, (2, 4), title="Time limits", small=True))
    blocks += _shifts(built)
    other = [names.said(text) for text in closing.missing_else(built)]
    if len(other) > LISTED - NAMED:  # steps not done stand in the table above
        blocks += [Heading("Missing before handover, besides steps not done"), Points(tuple(other))]
    return Sheet("dossier", "", "Order of work, as done", tuple(blocks), words.WHAT, follows=True)


_ENDS = ("start", "done")


def _timed(place: int, state: StepState, assessment: Assessment) -> TimedStep:
    result = assessment.find("step", state.plan.id)
    results = result.results if result is not None else {}
    start, end = results.get("starts_after"), results.get("ends_after")
    planned = (float(start), float(end)) if start is not None and end is not None else None
    signed = state.hold.done_at if state.hold is not None else None
    title = state.plan.text or state.plan.id
    return TimedStep(place, title, planned, state.started, state.done, signed, bool(state.plan.hold))


def _step(
    state: StepState, timed: TimedStep, fact: kinds.StepStands | None, signed: dict[tuple[str, str], kinds.Signature]
) -> tuple[Cell, ...]:
    plan = state.plan

    def moment(at: dt.datetime | None, act: str) -> str:
        by = signed.get((act, plan.id))
        who = f" {by.done_by}, entry {by.entry}" if by is not None and at == by.done_at else ""
        return f"{at:%Y-%m-%d %H:%M}{who}" if at else ""

    hold: Cell = plan.hold
    if plan.hold and state.hold is not None:
        hold = f"{plan.hold}: {words.who(state.hold)}, entry {state.hold.number}"
    elif plan.hold and state.done is not None:
        hold = Strong(f"{plan.hold}: NOT SIGNED")
    witness: Cell = plan.witness
    if plan.witness and (state.witness is not None or state.done is not None):
        at = f", entry {state.witness.number}" if state.witness else ""
        said = f"{plan.witness}: {witness_said(state)}{at}"
        witness = Strong(said) if state.absent or state.asks_witness else said
    shown: Cell = state.state if state.state in ("done", "waits") else Strong(state.state)
    revision = fact.revision if fact is not None else ""
    return (
        str(timed.number), plan.text or plan.id, shown, moment(state.started, "start"), moment(state.done, "done"),
        _took(timed), revision, hold, witness,
    )  # fmt: skip


def _took(step: TimedStep) -> str:
    planned = f"{(step.planned[1] - step.planned[0]) / 60:.0f} min" if step.planned is not None else ""
    took = f"{_hours(step.done - step.started)}" if step.done is not None and step.started is not None else ""
    return ", ".join(part for part in (planned, took) if part)


def _hours(span: dt.timedelta) -> str:
    minutes = round(span.total_seconds() / 60)
    return f"{minutes // 60}:{minutes % 60:02d} h"


def _time_line(timed: Sequence[TimedStep], built: AsBuilt, options: Options) -> list[Block]:
    shifts = closing.shifts(built)
    begun = min((t for step in timed for t in (step.started, step.done) if t is not None), default=None)
    if begun is None or not shifts:
        return []
    gaps = [(before.last, after.first) for before, after in pairwise(shifts)]
    last = max([shift.last for shift in shifts])
    found: list[Block] = []
    for first in range(0, len(timed), BARS):
        drawing = time_bars(timed[first : first + BARS], begun, last, gaps, options.room)
        caption = (
            "Hollow: as planned, from when the work began. Black: from start to end; a diamond: its start was not written "
            "down; grey: begun, not done. H: hold signed. Grey bands: no entries."
        )
        found += [Heading("Planned and actual time"), Picture(drawing, caption)]
    return found


def _shifts(built: AsBuilt) -> list[Block]:
    rows = tuple(
        (
            f"{each.first:%Y-%m-%d %H:%M}",
            f"{each.last:%Y-%m-%d %H:%M}",
            Strong(_hours(each.gap)) if each.gap is not None else "",
            closing.ranges(each.entries),
            ", ".join(each.people),
        )
        for each in closing.shifts(built)
    )
    if not rows:
        return []
    head = ("From", "To", "Gap before", "Entries", "People, most entries first")
    title = f"Stretches of work: no entry for {closing.GAP.total_seconds() / 3600:.0f} h or more ends one"
    return [Table(head, rows, (1.3, 1.3, 0.9, 2.6, 3), title=title, small=True)]
