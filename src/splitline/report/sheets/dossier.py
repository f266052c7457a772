"""Sheets of the as-built dossier."""

from __future__ import annotations

import datetime as dt

from splitline.assess.assessment import Assessment
from splitline.plan.model import Clearance, Fit, Insertion, Lift, Plan
from splitline.record import closing
from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, ItemAsBuilt
from splitline.record.deviations import Deviation
from splitline.record.entry import Measured
from splitline.record.facts import lines, who_and_when, witness_said
from splitline.record.order import StepState
from splitline.report.blocks import (
    Beside,
    Blank,
    Block,
    Cautions,
    Cell,
    Heading,
    Para,
    Points,
    Sheet,
    Signs,
    Strong,
    Table,
)
from splitline.report.sheets import common
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.common import Options
from splitline.report.sheets.dossier_joint import joint_as_built
from splitline.report.sheets.dossier_trace import trace_sheet
from splitline.report.sheets.names import Names, names_of
from splitline.units import System

WHAT = "As-built dossier"
EVIDENCE = (
    "This record is evidence against mistakes and quiet edits: every entry is sealed by the one before it, and the count and "
    "head hash above stand on the sheets and sign-offs printed during the work. It is not proof against somebody who forges "
    "the record, its head file and the printed sheets together."
)


def dossier_sheets(plan: Plan, assessment: Assessment, built: AsBuilt, options: Options) -> tuple[Sheet, ...]:
    """All sheets."""
    names = names_of(plan)
    sheets = [_front(plan, built, names), _work(built, names)]
    studs = {(f.entry, f.bolt): f for f in built.facts if isinstance(f, kinds.StudValue)}
    for joint in built.joints:
        own = next((each for each in plan.joints if each.id == joint.id), None)
        result = assessment.find("joint", joint.id)
        sheets.append(joint_as_built(joint, own, result, options, studs))
    for title, items in (
        ("Lifts", built.lifts), ("Fits", built.fits), ("Insertions", built.insertions), ("Clearances", built.clearances),
    ):  # fmt: skip
        if items:
            sheets.append(_items(title, items, plan, assessment, options))
    sheets += [trace_sheet(built, names), _deviations(built, options.system, names)]
    sheets += [_signatures(built, names), _register(built, options.system)]
    return tuple(sheets)


def _front(plan: Plan, built: AsBuilt, names: Names) -> Sheet:
    done = sum(state.state == "done" for state in built.steps)
    stops = [stop for stop in built.deviations if stop.stops]
    accepted = sum(stop.accepted is not None for stop in stops)
    other = len(built.deviations) - len(stops)
    rows: list[tuple[str, Cell | None]] = [
        ("Steps done", f"{done} of {len(built.steps)}"),
        ("Joints closed", _joints(built)),
        (
            "Deviations",
            f"{len(stops)}, {accepted} accepted by name" + (f"; {other} that stop nothing" if other else ""),
        ),
        ("Studs set aside", str(sum(len(entry.bolts) for entry in built.set_aside))),
        ("Wrong entries", str(len(built.wrong_entries))),
        ("Entries", str(built.count)),
        ("Head hash", built.head),
        ("Copy number, of this machine and folder", built.copy or "not kept"),
        ("Greatest count this folder has seen", str(built.seen) if built.seen else "not kept"),
        ("Written on", f"{built.made_at:%Y-%m-%d %H:%M %z}"),
    ]
    blocks: list[Block] = []
    if built.problems:
        blocks.append(Cautions(("The record does NOT stand as it was written:", *built.problems)))
    else:
        blocks.append(Para("Every entry stands as it was written.", "strong"))
    if built.beside:
        blocks.append(Cautions(built.beside))
    lacking = tuple(names.said(text) for text in closing.missing(built))
    blocks += [common.facts(rows), Heading("Missing before handover")]
    blocks.append(Points(lacking) if lacking else Para("Nothing."))
    state = tuple((each.kind, each.title or each.id, _state(each)) for each in closing.closed_items(built))
    if state:
        blocks.append(Table(("What", "Item", "State"), state, (0.8, 3, 3), title="Closed or short", small=True))
    looked = [row for row in closing.to_look_at(built) if row[1]]
    none = [name for name, count, _ in closing.to_look_at(built) if not count]
    counted = tuple((name, Strong(str(count)), ", ".join(map(str, entries))) for name, count, entries in looked)
    if counted:
        blocks.append(Table(("To be looked at", "How many", "Entries"), counted, (3, 0.8, 3), small=True))
    blocks.append(Para(f"None: {', '.join(none)}.", "small"))
    blocks += [Para(EVIDENCE, "small"), *_plans(built)]
    info = plan.info
    people = [("Prepared", info.prepared_by), ("Checked", info.checked_by), ("Approved", info.approved_by)]
    blocks.append(common.facts([(label, name) for label, name in people if name]))
    blocks.append(Signs((("Dossier read and found complete", "reviewer"), ("Handed over to", "owner"))))
    return Sheet("dossier", "", "As built", tuple(blocks), WHAT)


def _joints(built: AsBuilt) -> str:
    closed = [joint for joint in built.joints if joint.progress.closed]
    short = sum(bool(joint.progress.short) for joint in closed)
    return f"{len(closed)} of {len(built.joints)}" + (f", {short} of them SHORT" if short else "")


def _state(each: closing.ItemClosed) -> Cell:
    return each.state if each.good else Strong(f"▲ {each.state}")


def _plans(built: AsBuilt) -> list[Block]:
    plans = [fact for fact in built.facts if isinstance(fact, kinds.PlanStands)]
    if not plans:
        return [Para("No plan stands in the record.", "strong")]
    rows = tuple(
        (
            str(fact.entry), fact.revision or "not given", who_and_when(fact), fact.prepared_by or "not given",
            ", ".join(part for part in (fact.file_of, f"{fact.saved_at:%Y-%m-%d %H:%M}" if fact.saved_at else "") if part),
            fact.digest,
        )
        for fact in plans
    )  # fmt: skip
    head = ("Entry", "Revision", "From, by", "Prepared by", "File saved by, at", "Plan digest")
    found: list[Block] = [Table(head, rows, (0.6, 0.8, 1.6, 1.1, 1.3, 3.4), title="Plans worked by", small=True)]
    for fact in plans:
        if fact.changes:
            found += [Heading(f"What entry {fact.entry} changed in the plan"), Points(fact.changes)]
    return found


def _work(built: AsBuilt, names: Names) -> Sheet:
    revisions = {fact.step: fact.revision for fact in built.facts if isinstance(fact, kinds.StepStands)}
    rows = tuple(_step(place, state, revisions.get(state.plan.id, "")) for place, state in enumerate(built.steps, 1))
    head = ("No.", "Step", "State", "Started", "Done", "Rev.", "Hold", "Witness")
    widths = (0.5, 3.1, 0.9, 1.2, 1.2, 0.5, 1.8, 1.8)
    blocks: list[Block] = [Table(head, rows, widths, ("right",), small=True)]
    if built.windows:
        lines = tuple(
            (window.plan.title, names.said(window.said.removeprefix(f"{window.plan.title}: ")))
            for window in built.windows
        )
        blocks.append(Table(("Window", "Says"), lines, (2, 4), title="Time limits"))
    days = tuple(
        (f"{d.day:%Y-%m-%d}", f"{d.first:%H:%M}", f"{d.last:%H:%M}", _hours(d.gap), str(d.entries), ", ".join(d.people))
        for d in closing.days(built)
    )
    of_days = ("Day", "First act", "Last act", "Longest gap", "Entries", "People")
    blocks.append(Table(of_days, days, (1, 0.8, 0.8, 0.9, 0.7, 5), title="Days of work", small=True))
    return Sheet("dossier", "", "Order of work, as done", tuple(blocks), WHAT)


def _step(place: int, state: StepState, revision: str) -> tuple[Cell, ...]:
    plan = state.plan
    started = f"{state.started:%Y-%m-%d %H:%M}" if state.started else ""
    done = f"{state.done:%Y-%m-%d %H:%M}" if state.done else ""
    hold: Cell = ""
    if plan.hold:
        who = state.hold
        hold = f"{plan.hold}: {words.who(who)}, {words.when(who)}" if who else Strong(f"{plan.hold}: NOT SIGNED")
    witness: Cell = ""
    if plan.witness:
        said = f"{plan.witness}: {witness_said(state)}"
        at = f", {words.when(state.witness)}" if state.witness else ""
        witness = f"{said}{at}" if state.witness and not state.absent else Strong(f"{said}{at}")
    shown: Cell = state.state if state.state == "done" else Strong(state.state)
    return str(place), plan.text or plan.id, shown, started, done, revision, hold, witness


def _hours(gap: dt.timedelta) -> Cell:
    minutes = round(gap.total_seconds() / 60)
    text = f"{minutes // 60}:{minutes % 60:02d} h"
    return Strong(text) if gap >= closing.GAP else text


def _planned(kind: str, ident: str, plan: Plan, assessment: Assessment, options: Options) -> list[Block]:
    """What the plan wanted, beside what was read."""
    item, result = plan.find(kind, ident), assessment.find(kind, ident)
    if result is None:
        return []
    if isinstance(item, Lift):
        from splitline.report.sheets.lift import hook_facts, load_facts

        return [Beside((load_facts(item, result, options),), (hook_facts(item, result, options),), 0.5)]
    if isinstance(item, Fit):
        from splitline.report.sheets.fit import about

        return [about(item, result, options)]
    if isinstance(item, Insertion):
        from splitline.report.sheets.insertion import about as push

        return [push(item, result.results, options)]
    if isinstance(item, Clearance):
        return [common.facts([("Limits", common.band(item.low, item.high, "length", options.system))])]
    return []


def _items(title: str, items: tuple[ItemAsBuilt, ...], plan: Plan, assessment: Assessment, options: Options) -> Sheet:
    system = options.system
    blocks: list[Block] = []
    empty = [item.title or item.id for item in items if not (item.readings or item.signed or item.notes)]
    if empty:
        blocks += [Para("Nothing recorded of:", "strong"), Points(tuple(empty))]
    for item in items:
        if not (item.readings or item.signed or item.notes):
            continue
        blocks.append(Heading(item.title or item.id))
        blocks += _planned(item.kind, item.id, plan, assessment, options)
        if item.readings:
            blocks.append(readings(item.readings, system))
        if item.signed:
            numbers = ", ".join(str(entry.number) for entry in item.signed)
            blocks.append(Para(f"Signed in entries {numbers}: see Signatures.", "small"))
        blocks += [Para(f"{words.act(note, system)} ({words.who(note)}, {words.when(note)})") for note in item.notes]
    return Sheet("dossier", "", f"{title}, as done", tuple(blocks), WHAT)


def readings(entries: tuple[Measured, ...], system: System, title: str = "", of: str = "step") -> Table:
    """Readings with the limits they were judged by. ``of``: what they were taken in, a step of mounting or a pass."""
    rows = []
    for entry in entries:
        place = entry.at or (f"bolt {entry.bolt}" if entry.bolt is not None else "")
        what = f"{entry.what} ({of} {entry.pass_})" if entry.pass_ and entry.bolt is None else entry.what
        rows.append(
            (
                str(entry.number), what, place, Strong(words.value(entry, system)), words.limits(entry, system),
                words.verdict(entry), entry.instrument, words.who(entry), words.when(entry),
            )
        )  # fmt: skip
    head = ("Entry", "What", "Where", "Read", "Limits", "Verdict", "Instrument", "By", "When")
    return Table(head, tuple(rows), (0.6, 1.6, 1, 1.1, 1.8, 1.1, 1.2, 1.3, 1.4), (), title, small=True)


def _deviations(built: AsBuilt, system: System, names: Names) -> Sheet:
    blocks: list[Block] = []
    rows: list[tuple[Cell, ...]] = [
        (
            "; ".join((names.said(stop.text), *stop.details)),
            _answered(stop),
            stop.accepted.reason if stop.accepted else "",
            str(stop.entry or ""),
        )
        for stop in built.deviations
    ]
    saids = {f.entry: f.said for f in built.facts if isinstance(f, kinds.Struck)}
    outcomes = {f.entry: _outcome(f) for f in built.facts if isinstance(f, kinds.Aside)}
    blocks += _list("Deviations", ("What", "Accepted by", "Reason", "Entry"), rows, (4, 2, 3, 0.6))
    rows = [
        (
            names.title(e.joint),
            e.pass_,
            Strong(words.bolts(e.bolts)),
            e.reason,
            outcomes.get(e.number, ""),
            words.who(e),
            words.when(e),
        )
        for e in built.set_aside
    ]
    head = ("Joint", "Pass", "Bolts", "Why", "What became of it", "By", "When")
    blocks += _list("Set aside", head, rows, (1.5, 0.8, 1, 2.6, 2, 1.4, 1.4))
    rows = [
        (
            str(s.by.entry),
            saids.get(s.by.number, "an entry that cannot be read"),
            s.by.reason,
            words.who(s.by),
            words.when(s.by),
        )
        for s in built.wrong_entries
    ]
    blocks += _list(
        "Wrong entries, struck", ("Entry", "Said", "Struck because", "By", "When"), rows, (0.6, 3.4, 2.4, 1.4, 1.4)
    )
    rows = [(e.topic, names.title(e.item), e.text, words.who(e), words.when(e)) for e in built.notes]
    blocks += _list("Notes and handovers", ("Topic", "Item", "Text", "By", "When"), rows, (1, 1.2, 4, 1.4, 1.4))
    rows = [(str(e.number), words.act(e, system, names), words.when(e)) for e in built.recovered]
    blocks += _list("Unfinished entries found and kept aside", ("Entry", "What", "When"), rows, (0.6, 5, 1.6))
    return Sheet("dossier", "", "Deviations, set aside, wrong entries", tuple(blocks), WHAT)


def _outcome(fact: kinds.Aside) -> Cell:
    return Strong(fact.outcome) if fact.outcome == "not accepted" else fact.outcome


def _answered(each: Deviation) -> Cell:
    by = each.accepted
    if by is None:
        return Strong("▲ NOT ACCEPTED") if each.stops else "stopped nothing"
    own = ", of their own entry" if by.own else ""
    return f"{words.who(by)}{f' ({by.role})' if by.role else ''}, {words.when(by)}{own}"


def _list(title: str, head: tuple[str, ...], rows: list[tuple[Cell, ...]], widths: tuple[float, ...]) -> list[Block]:
    if not rows:
        return [Heading(title), Para("None.")]
    return [Heading(title), Table(head, tuple(rows), widths, small=True)]


def _signatures(built: AsBuilt, names: Names) -> Sheet:
    facts = {fact.entry: fact for fact in built.facts if isinstance(fact, kinds.Signature)}
    rows = tuple(
        (
            str(entry.number), words.signed(entry, names=names), words.who(entry), words.when(entry),
            _given_on(facts.get(entry.number)),
        )
        for entry in built.signed
    )  # fmt: skip
    head = ("Entry", "Signed", "By", "When", "On entries, head")
    table: Block = (
        Table(head, rows, (0.6, 3.4, 1.8, 1.8, 1.8), small=True) if rows else Para("Nothing is signed.", "strong")
    )
    blank = Table(
        ("On paper as well", "Name", "Date, signature"), (("Reviewer", Blank(), Blank()),), (2, 2, 3), tall=True
    )
    return Sheet("dossier", "", "Signatures", (table, blank), WHAT)


def _given_on(fact: kinds.Signature | None) -> str:
    return f"{fact.on_entries}, {fact.on_head[:16]}" if fact is not None and fact.on_head else ""


def _register(built: AsBuilt, system: System) -> Sheet:
    rows = tuple((str(entry or ""), revision, what, who) for entry, revision, what, who in lines(built.facts, system))
    head = ("Entry", "Rev.", "What", "When, by")
    note = Para("Every entry as it stands, struck ones too; then what follows from them.", "small")
    return Sheet("dossier", "", "Every entry", (note, Table(head, rows, (0.5, 0.4, 6, 2.2), small=True)), WHAT)
