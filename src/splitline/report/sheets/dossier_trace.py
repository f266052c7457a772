"""What was used, by whom it is answered for: tools and instruments with their calibration, parts, seals, open points."""

from __future__ import annotations

from dataclasses import replace

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt
from splitline.record.facts import who_and_when
from splitline.record.register import HELD
from splitline.report.blocks import Block, Cell, Heading, Para, Sheet, Strong, Table
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.names import Names

TITLE = "Tools, parts, open points"
TOOLS, PARTS, COUNTS, POINTS = LISTS = (
    "Tools and instruments", "Parts used and seals fitted", "Counted in and out", "Open points",
)  # fmt: skip


def trace_sheet(built: AsBuilt, names: Names) -> Sheet:
    """One sheet of everything that can be traced by a number."""
    names = names.short()
    facts = [fact for fact in built.facts if not fact.struck_by]
    blocks: list[Block] = [
        *_tools([f for f in facts if isinstance(f, kinds.ToolUsed)], names),
        *_parts(facts, names),
        *_counts(facts, names),
        *_points([f for f in facts if isinstance(f, kinds.OpenPoint)], names),
    ]
    if not blocks:
        return Sheet("dossier", "", TITLE, (), words.WHAT)
    none = [title for title in LISTS if not any(isinstance(b, Heading) and b.text == title for b in blocks)]
    blocks += [Para(f"None: {', '.join(title.lower() for title in none)}.", "small")] if none else []
    return Sheet("dossier", "", TITLE, tuple(blocks), words.WHAT, follows=True)


def _list(title: str, head: tuple[str, ...], rows: list[tuple[Cell, ...]], widths: tuple[float, ...]) -> list[Block]:
    return [Heading(title), Table(head, tuple(rows), widths, small=True)] if rows else []


def _tools(found: list[kinds.ToolUsed], names: Names) -> list[Block]:
    rows: list[tuple[Cell, ...]] = []
    for each in found:
        days = [f"{day:%Y-%m-%d}" for day in (each.first_day, each.last_day) if day is not None]
        rows.append(
            (
                each.tool, each.serial or Strong("not given"), "tool" if each.act == "set-up" else "instrument",
                each.calibration_due.isoformat() if each.calibration_due else "",
                each.on_the_day if each.on_the_day == HELD else Strong(f"▲ {each.on_the_day}"),
                " to ".join(dict.fromkeys(days)), ", ".join(_used(each, names)), str(len(each.entries)),
            )
        )  # fmt: skip
    head = ("Tool, instrument", "Serial", "As", "Calibrated until", "On the days used", "Days", "On", "Times")
    return _list(TOOLS, head, rows, (1.5, 0.9, 0.9, 1, 1.5, 1.5, 3.2, 0.5))


def _used(each: kinds.ToolUsed, names: Names) -> list[str]:
    items = [on.partition(" ")[0] for on in each.used_on]
    return [names.title(item) for item in dict.fromkeys(items)]


def _parts(facts: list[kinds.Fact], names: Names) -> list[Block]:
    rows: list[tuple[Cell, ...]] = [
        (
            str(f.entry), names.title(f.item), str(f.count) if f.count else "", f.batch or Strong("not given"),
            f.cure_date.isoformat() if f.cure_date else "", f.serial, "; ".join(filter(None, (names.title(f.step), f.text))),
            who_and_when(replace(f, device="")),
        )
        for f in facts
        if isinstance(f, kinds.PartUsed)
    ]  # fmt: skip
    head = ("Entry", "Part, seal", "Count", "Batch", "Cured", "Serial", "In, note", "When, by")
    return _list(PARTS, head, rows, (0.5, 2.6, 0.5, 1, 0.9, 0.9, 1.4, 2.2))


def _counts(facts: list[kinds.Fact], names: Names) -> list[Block]:
    rows: list[tuple[Cell, ...]] = [
        (
            str(f.entry),
            f.kind,
            names.title(f.item),
            str(f.count),
            names.title(f.step),
            who_and_when(replace(f, device="")),
        )
        for f in facts
        if isinstance(f, (kinds.Count, kinds.CountIn))
    ]
    return _list(COUNTS, ("Entry", "Way", "Item", "Count", "In", "When, by"), rows, (0.5, 1, 4, 0.6, 1.6, 2.3))


def _points(found: list[kinds.OpenPoint], names: Names) -> list[Block]:
    rows: list[tuple[Cell, ...]] = []
    for f in found:
        state: Cell = f"closed by {f.closed_by}, entry {f.closed_in}" if f.state == "closed" else Strong("▲ OPEN")
        due = f.due.isoformat() if f.due else ""
        rows.append(
            (str(f.entry), f.text, names.title(f.item), f.owner, due, state, who_and_when(replace(f, device="")))
        )
    head = ("Entry", "Point", "Of", "Who", "By", "State", "When, by")
    return _list(POINTS, head, rows, (0.5, 3, 1.4, 0.8, 0.9, 1.8, 2.2))
