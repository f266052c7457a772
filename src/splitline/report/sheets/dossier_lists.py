"""Lists of the dossier: deviations with who answers for them, bolts set aside, entries struck, remarks by time, the plans."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt
from splitline.record.deviations import Deviation
from splitline.record.entry import OPEN_POINT
from splitline.record.facts import who_and_when
from splitline.report.blocks import Block, Cell, Heading, Para, Points, Sheet, Strong, Table
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.joint import pass_words
from splitline.report.sheets.names import Names
from splitline.units import System


def answers_sheet(built: AsBuilt, system: System, names: Names) -> Sheet:
    """All lists and the signatures; lists with nothing in them in one line."""
    lists = (
        (
            "Deviations",
            ("Deviation", "Accepted by", "Reason", "Entry"),
            _deviations(built, names),
            (4.6, 2.4, 1.8, 0.8),
        ),
        (
            "Deferred bolts",
            ("Joint", "Pass", "Bolts", "Reason", "What became of it", "By", "When", "Entry"),
            _aside(built, names),
            (1.5, 0.8, 0.8, 1.8, 2.4, 1.1, 1.4, 0.6),
        ),
        (
            "Corrections: entries struck",
            ("Entry", "Said", "Struck because", "By", "When"),
            _struck(built),
            (0.6, 5.4, 1.6, 1, 1.4),
        ),
        (
            "Remarks and handovers, by time",
            ("When", "Topic", "Item", "Remark", "By", "Entry"),
            _remarks(built, names),
            (1.3, 1, 1.5, 3.8, 1.3, 0.6),
        ),
        (
            "Unfinished entries found and kept aside",
            ("Entry", "Action", "When"),
            [(str(e.number), words.act(e, system, names), words.when(e)) for e in built.recovered],
            (0.6, 5, 1.6),
        ),
    )
    blocks: list[Block] = []
    for title, head, rows, widths in lists:
        blocks += [Heading(title), Table(head, tuple(rows), widths, small=True)] if rows else []
    none = [title.partition(",")[0].lower() for title, _, rows, _ in lists if not rows]
    blocks += [Para(f"None: {', '.join(none)}.")] if none else []
    blocks += [*_signatures(built, names), *_plans(built)]
    return Sheet("dossier", "", "Deviations, remarks, signatures", tuple(blocks), words.WHAT, follows=True)


def _deviations(built: AsBuilt, names: Names) -> list[tuple[Cell, ...]]:
    return [
        (
            "; ".join((names.said(each.text), *each.details)),
            _answered(each),
            each.accepted.reason if each.accepted else "",
            ", ".join(str(n) for n in (each.entry, each.accepted.number if each.accepted else 0) if n),
        )
        for each in built.deviations
    ]


def _answered(each: Deviation) -> Cell:
    by = each.accepted
    if by is None:
        return Strong("▲ NOT ACCEPTED") if each.stops else "stopped nothing"
    own = ", of their own entry" if by.own else ""
    return f"{words.who(by)}{f' ({by.role})' if by.role else ''}, {words.when(by)}{own}"


def _aside(built: AsBuilt, names: Names) -> list[tuple[Cell, ...]]:
    found = {f.entry: f for f in built.facts if isinstance(f, kinds.Aside)}

    def became(entry: int) -> Cell:
        fact = found.get(entry)
        said = fact.outcome if fact is not None else ""
        return Strong(said) if fact is not None and fact.left else said

    return [
        (
            names.title(e.joint), pass_words(e.pass_), Strong(words.bolts(e.bolts)), e.reason, became(e.number),
            words.who(e), words.when(e), str(e.number),
        )
        for e in built.set_aside
    ]  # fmt: skip


def _struck(built: AsBuilt) -> list[tuple[Cell, ...]]:
    saids = {f.entry: f.said for f in built.facts if isinstance(f, kinds.Struck)}
    return [
        (
            f"{s.by.entry}, by {s.by.number}", saids.get(s.by.number, "an entry that cannot be read"), s.by.reason,
            words.who(s.by), words.when(s.by),
        )
        for s in built.wrong_entries
    ]  # fmt: skip


def _remarks(built: AsBuilt, names: Names) -> list[tuple[Cell, ...]]:
    first = dt.datetime.min.replace(tzinfo=dt.UTC)
    return [
        (words.when(e), e.topic, names.title(e.item), _remark(e.text, e.part, e.checks), words.who(e), str(e.number))
        for e in sorted(built.notes, key=lambda note: (note.done_at or first, note.number))
        if e.topic != OPEN_POINT  # those stand in their own list
    ]


def _remark(text: str, part: str, checks: tuple[str, ...]) -> str:
    parts = [f"mounting step {part}" if part else "", f"checks {', '.join(checks)}" if checks else "", text]
    return ": ".join(each for each in parts if each)


# Starts and ends stand in the order of work, set-ups at their joint, counts and parts with the tools.
_ELSEWHERE = ("start", "done", "set-up", "count-in", "count-out", "part")


def _signatures(built: AsBuilt, names: Names) -> list[Block]:
    facts = {fact.entry: fact for fact in built.facts if isinstance(fact, kinds.Signature)}
    rows = tuple(
        (
            str(entry.number), words.signed(entry, names=names.short()), words.who(entry), words.when(entry),
            _given_on(facts.get(entry.number)),
        )
        for entry in built.signed
        if entry.act not in _ELSEWHERE or (entry.act == "done" and entry.statement)
    )  # fmt: skip
    head = ("Entry", "Signed", "By", "When", "On entries, record code")
    if not rows:
        return []
    note = (
        "Starts and ends of steps stand in the order of work, set-ups at their joint, counts and parts with the tools."
    )
    return [Heading("Signatures"), Table(head, rows, (0.5, 5, 1.3, 1.5, 1.9), small=True), Para(note, "small")]


def _given_on(fact: kinds.Signature | None) -> str:
    return f"{fact.on_entries}, {fact.on_head[:16]}" if fact is not None and fact.on_head else ""


def _plans(built: AsBuilt) -> list[Block]:
    plans = [fact for fact in built.facts if isinstance(fact, kinds.PlanStands)]
    if not plans:
        return []
    rows = tuple(
        (
            str(fact.entry), fact.revision or "not given", who_and_when(replace(fact, device="")), fact.prepared_by or "not given",
            ", ".join(part for part in (fact.file_of, f"{fact.saved_at:%Y-%m-%d %H:%M}" if fact.saved_at else "") if part),
            fact.digest,
        )
        for fact in plans
    )  # fmt: skip
    head = ("Entry", "Revision", "From, by", "Prepared by", "File saved by, at", "Plan digest")
    found: list[Block] = [Heading("Plans worked by"), Table(head, rows, (0.5, 0.7, 1.6, 1, 1.5, 4.9), small=True)]
    for fact in plans:
        if fact.changes:
            found += [Para(f"What entry {fact.entry} changed in the plan:", "small"), Points(fact.changes)]
    return found
