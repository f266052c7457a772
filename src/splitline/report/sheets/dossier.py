"""Sheets of the as-built dossier."""

from __future__ import annotations

from splitline.assess.assessment import Assessment
from splitline.plan.model import Clearance, Fit, Insertion, Lift, Plan
from splitline.record.as_built import AsBuilt, ItemAsBuilt
from splitline.record.entry import Measured, Signed
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
    sheets = [_front(plan, built), _work(built, names)]
    for joint in built.joints:
        own = next((each for each in plan.joints if each.id == joint.id), None)
        result = assessment.find("joint", joint.id)
        sheets.append(joint_as_built(joint, own, result, options))
    for title, items in (
        ("Lifts", built.lifts), ("Fits", built.fits), ("Insertions", built.insertions), ("Clearances", built.clearances),
    ):  # fmt: skip
        if items:
            sheets.append(_items(title, items, plan, assessment, options))
    sheets += [_deviations(built, options.system, names), _signatures(built, names)]
    return tuple(sheets)


def _front(plan: Plan, built: AsBuilt) -> Sheet:
    done = sum(state.state == "done" for state in built.steps)
    accepted = sum(stop.accepted is not None for stop in built.deviations)
    rows: list[tuple[str, Cell | None]] = [
        ("Steps done", f"{done} of {len(built.steps)}"),
        ("Joints closed", f"{sum(joint.progress.closed for joint in built.joints)} of {len(built.joints)}"),
        ("Deviations", f"{len(built.deviations)}, {accepted} accepted by name"),
        ("Studs set aside", str(sum(len(entry.bolts) for entry in built.set_aside))),
        ("Wrong entries", str(len(built.wrong_entries))),
        ("Entries", str(built.count)),
        ("Head hash", built.head),
        ("Written on", f"{built.made_at:%Y-%m-%d %H:%M %z}"),
    ]
    blocks: list[Block] = []
    if built.problems:
        blocks.append(Cautions(("The record does NOT stand as it was written:", *built.problems)))
    else:
        blocks.append(Para("Every entry stands as it was written.", "strong"))
    blocks += [common.facts(rows), Para(EVIDENCE), *_plans(built)]
    info = plan.info
    names = [("Prepared", info.prepared_by), ("Checked", info.checked_by), ("Approved", info.approved_by)]
    blocks.append(common.facts([(label, name) for label, name in names if name]))
    blocks.append(Signs((("Dossier read and found complete", "reviewer"), ("Handed over to", "owner"))))
    return Sheet("dossier", "", "As built", tuple(blocks), WHAT)


def _plans(built: AsBuilt) -> list[Block]:
    if not built.plans:
        return [Para("No plan stands in the record.", "strong")]
    rows = tuple(
        (str(entry.number), entry.revision or "not given", words.when(entry), words.who(entry), entry.digest)
        for entry in built.plans
    )
    head = ("Entry", "Revision", "From", "By", "Plan digest")
    return [Table(head, rows, (0.6, 0.8, 1.4, 1.6, 4), title="Plans worked by", small=True)]


def _work(built: AsBuilt, names: Names) -> Sheet:
    rows = tuple(_step(place, state) for place, state in enumerate(built.steps, 1))
    head = ("No.", "Step", "State", "Started", "Done", "Hold", "Witness")
    widths = (0.5, 3.4, 0.9, 1.2, 1.2, 1.8, 1.8)
    blocks: list[Block] = [Table(head, rows, widths, ("right",), small=True)]
    if built.windows:
        lines = tuple(
            (window.plan.title, names.said(window.said.removeprefix(f"{window.plan.title}: ")))
            for window in built.windows
        )
        blocks.append(Table(("Window", "Says"), lines, (2, 4), title="Time windows"))
    return Sheet("dossier", "", "Order of work, as done", tuple(blocks), WHAT)


def _step(place: int, state: StepState) -> tuple[Cell, ...]:
    plan = state.plan
    started = f"{state.started:%Y-%m-%d %H:%M}" if state.started else ""
    done = f"{state.done:%Y-%m-%d %H:%M}" if state.done else ""
    hold = _point(plan.hold, state.hold, "NOT SIGNED")
    witness = _point(plan.witness, state.witness, "not recorded")
    shown: Cell = state.state if state.state == "done" else Strong(state.state)
    text = plan.text or plan.id
    return str(place), text, shown, started, done, hold, witness


def _point(role: str, entry: Signed | None, absent: str) -> Cell:
    if not role:
        return ""
    if entry is None:
        return Strong(f"{role}: {absent}")
    return f"{role}: {words.who(entry)}, {words.when(entry)}"


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
            rows = tuple(_signed(entry) for entry in item.signed)
            blocks.append(Table(("Entry", "Signed", "By", "When"), rows, (0.6, 4, 2, 2), small=True))
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


def _signed(entry: Signed) -> tuple[Cell, ...]:
    return str(entry.number), words.signed(entry, own=True), words.who(entry), words.when(entry)


def _deviations(built: AsBuilt, system: System, names: Names) -> Sheet:
    blocks: list[Block] = []
    rows: list[tuple[Cell, ...]] = [
        (
            "; ".join((names.said(stop.text), *stop.details)),
            f"{words.who(stop.accepted)}, {words.when(stop.accepted)}" if stop.accepted else Strong("▲ NOT ACCEPTED"),
            stop.accepted.reason if stop.accepted else "",
        )
        for stop in built.deviations
    ]
    blocks += _list("Deviations", ("What", "Accepted by", "Reason"), rows, (4, 2, 3))
    rows = [
        (
            names.title(e.joint),
            e.pass_,
            Strong(words.bolts(e.bolts)),
            e.reason,
            _conceded(built, e.number),
            words.who(e),
            words.when(e),
        )
        for e in built.set_aside
    ]
    head = ("Joint", "Pass", "Bolts", "Why", "Accepted as such", "By", "When")
    blocks += _list("Set aside", head, rows, (1.5, 0.8, 1, 2.6, 2, 1.4, 1.4))
    rows = [
        (str(s.by.entry), words.act(s.entry, system, names), s.by.reason, words.who(s.by), words.when(s.by))
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


def _conceded(built: AsBuilt, number: int) -> Cell:
    from splitline.record.progress import concession

    entry = next((each for each in built.accepted if each.stop == concession(number)), None)
    return f"{words.who(entry)}: {entry.reason}" if entry is not None else Strong("not accepted")


def _list(title: str, head: tuple[str, ...], rows: list[tuple[Cell, ...]], widths: tuple[float, ...]) -> list[Block]:
    if not rows:
        return [Heading(title), Para("None.")]
    return [Heading(title), Table(head, tuple(rows), widths, small=True)]


def _signatures(built: AsBuilt, names: Names) -> Sheet:
    rows = tuple(
        (
            str(entry.number),
            words.signed(entry, names=names),
            words.who(entry),
            words.when(entry),
            f"{entry.count}, {entry.head[:16]}" if entry.count else "",
        )
        for entry in built.signed
    )
    head = ("Entry", "Signed", "By", "When", "On entries, head")
    table: Block = (
        Table(head, rows, (0.6, 3.4, 1.8, 1.8, 1.8), small=True) if rows else Para("Nothing is signed.", "strong")
    )
    blank = Table(
        ("On paper as well", "Name", "Date, signature"), (("Reviewer", Blank(), Blank()),), (2, 2, 3), tall=True
    )
    return Sheet("dossier", "", "Signatures", (table, blank), WHAT)
