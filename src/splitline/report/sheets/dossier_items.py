"""Lifts, insertions and clearances of the dossier, a line each; fits with their mounting, a block each."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.assess.assessment import Assessment
from splitline.plan.model import Clearance, Fit, Insertion, Lift, Plan
from splitline.record.as_built import AsBuilt, ItemAsBuilt
from splitline.record.closing import closed_items, ranges
from splitline.record.entry import AS_FOUND, Measured, Signed
from splitline.report.blocks import (
    MISSING,
    Block,
    Cell,
    Facts,
    Heading,
    Para,
    Picture,
    Sheet,
    Strong,
    Table,
    text_of,
)
from splitline.report.pictures.band_chart import Charted, band_chart
from splitline.report.sheets import common, fit, insertion
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets import lift as lift_sheet
from splitline.report.sheets.common import Options
from splitline.units import System

SERIES = 8  # readings of one kind from which they are told as a series


def begun(item: ItemAsBuilt) -> bool:
    """Whether anything of it is recorded."""
    return bool(item.readings or item.signed or item.notes)


def items_sheet(built: AsBuilt, plan: Plan, assessment: Assessment, options: Options) -> Sheet:
    """Lifts, clearances, insertions, what else was read, fits: those of which something is recorded.

    The front page names those that are not begun.
    """
    blocks: list[Block] = []
    for title, items, make in (
        ("Lifts", built.lifts, _lifts), ("Clearances", built.clearances, _clearances),
    ):  # fmt: skip
        own = [item for item in items if begun(item)]
        if own:
            blocks += [Heading(title), *make(own, built, plan, assessment, options)]
    for item in built.insertions:
        if begun(item):
            blocks += [Heading(item.title or item.id), *_insertion(item, plan, assessment, options)]
    others = [reading for item in built.others for reading in item.readings]
    if others:
        titles = {item.id: item.title for item in built.others}
        blocks += [Heading("Other readings"), words.readings(others, options.system, of="step", titles=titles)]
    blocks += _fits(built, plan, assessment, options)
    return Sheet(
        "dossier", "", "Lifts, clearances, insertions and fits, as done", tuple(blocks), words.WHAT, follows=True
    )


def _lifts(
    items: Sequence[ItemAsBuilt], built: AsBuilt, plan: Plan, assessment: Assessment, options: Options
) -> list[Block]:
    """A line a lift: what was planned at the hook, what was read, who saw it hang clear, who signed."""
    states = {each.id: each for each in closed_items(built) if each.kind == "lift"}
    rows = []
    for item in items:
        state = states[item.id]
        rows.append(
            (
                Strong(item.title or item.id), *_lift_planned(item.id, plan, assessment, options.system),
                _read(item.readings, options.system), _signed(item.signed, "trial"),
                state.state if state.good else Strong(f"▲ {state.state}"),
            )
        )  # fmt: skip
    head = (
        "Lift", "Mass", "At the hook, still", "Crane load", "Tilt at worst", "Read", "Hung clear, seen by", "State",
    )  # fmt: skip
    return [Table(head, tuple(rows), (2, 0.8, 1.2, 0.8, 1.3, 2.2, 1.6, 0.9), small=True)]


def _lift_planned(ident: str, plan: Plan, assessment: Assessment, system: System) -> tuple[Cell, ...]:
    lift, result = plan.find("lift", ident), assessment.find("lift", ident)
    if not isinstance(lift, Lift) or result is None:
        return ("", "", "", "")
    results = result.results
    return (
        common.cell(results, "mass", "lift", system),
        lift_sheet.still_words(results, system) if results.get("still_load_low") is not None else MISSING,
        common.cell(results, "crane_load", "lift", system),
        lift_sheet.tilt_said(results.get("tilt_worst"), system),
    )


def _read(readings: Sequence[Measured], system: System) -> Cell:
    parts = [f"{' '.join(part for part in (r.what, r.at) if part)} {_value(r, system)}" for r in readings]
    text = "\n".join(parts)
    return Strong(text) if any(r.verdict == "outside" for r in readings) else text


def _value(reading: Measured, system: System) -> str:
    limits = words.limits(reading, system)
    mark = "▲ " if reading.verdict == "outside" else ""
    band = f", limits {text_of(limits)}" if limits else ""
    with_ = f", {words.instrument(reading)}"
    return f"{mark}{words.value(reading, system)}{band}{with_}"


def _signed(entries: Sequence[Signed], act: str) -> str:
    return "\n".join(f"{words.who(e)}, {words.when(e)}, entry {e.number}" for e in entries if e.act == act)


def _clearances(
    items: Sequence[ItemAsBuilt], built: AsBuilt, plan: Plan, assessment: Assessment, options: Options
) -> list[Block]:
    """One table of all clearances: limits, as found, as left, with what, by whom."""
    del assessment
    system = options.system
    states = {each.id: each for each in closed_items(built) if each.kind == "clearance"}
    rows = []
    for item in items:
        own = plan.find("clearance", item.id)
        limits: Cell = common.band(own.low, own.high, "length", system) if isinstance(own, Clearance) else ""
        found = [r for r in item.readings if r.what == AS_FOUND]
        left = [r for r in item.readings if r.what != AS_FOUND]
        taken = dict.fromkeys(f"{words.instrument(r)}, {words.by(r)}" for r in item.readings)
        state = states[item.id]
        rows.append(
            (
                Strong(item.title or item.id), limits, _figures(found, system), _figures(left, system),
                "\n".join(taken), words.span(item.readings) if item.readings else "",
                ranges(r.number for r in item.readings),
                state.state if state.good else Strong(f"▲ {state.state}"),
            )
        )  # fmt: skip
    head = ("Clearance", "Limits", "As found", "As left", "Instrument, by", "When", "Entries", "State")
    return [Table(head, tuple(rows), (1.9, 1.2, 1.1, 1.3, 2.4, 1.5, 0.8, 0.9), small=True)]


def _figures(readings: Sequence[Measured], system: System) -> Cell:
    """Readings in their order; what they are of where it is neither as found nor as left, and what outside limits they had."""
    parts = []
    for r in readings:
        name = "" if r.what in (AS_FOUND, "as left") else r.what
        text = " ".join(part for part in (name, r.at, words.value(r, system)) if part)
        parts.append(f"▲ {text}" if r.verdict == "outside" else text)
    said = "\n".join(parts)
    return Strong(said) if said else ""


def _insertion(item: ItemAsBuilt, plan: Plan, assessment: Assessment, options: Options) -> list[Block]:
    own, result = plan.find("insertion", item.id), assessment.find("insertion", item.id)
    blocks: list[Block] = []
    if isinstance(own, Insertion) and result is not None:
        blocks.append(_planned(insertion.about(own, result.results, options)))
    return [*blocks, *read_blocks(item.readings, options)]


def _planned(facts: Facts) -> Table:
    """What the plan wanted, close together."""
    return Table(
        ("As planned", ""), tuple((label, value) for label, value in facts.rows), (1.2, 1), beside=3, small=True
    )


def read_blocks(readings: Sequence[Measured], options: Options) -> list[Block]:
    """Readings; many of one kind as a series with its chart."""
    kinds: dict[tuple[str, str], list[Measured]] = {}
    for each in readings:
        kinds.setdefault((each.what, each.quantity), []).append(each)
    few = [each for own in kinds.values() if len(own) < SERIES for each in own]
    blocks: list[Block] = [words.readings(few, options.system)] if few else []
    for own in kinds.values():
        blocks += _series(own, options) if len(own) >= SERIES else []
    return blocks


def _series(readings: Sequence[Measured], options: Options) -> list[Block]:
    """Readings of one kind, one after another: what is alike once, then place and value."""
    system, first = options.system, readings[0]
    points = [
        Charted(each.at or str(place), each.value, each.low, each.high, outside=each.verdict == "outside")
        for place, each in enumerate(readings, 1)
    ]
    drawing = band_chart(points, first.quantity, system, options.room, 36, first.what, "in the order read")
    limits = {words.limits(each, system) for each in readings}
    band = f", limits {text_of(limits.pop())}" if len(limits) == 1 and first.verdict != "not judged" else ""
    taken = dict.fromkeys(f"{words.instrument(each)}, {words.by(each)}" for each in readings)
    alike = len(limits) <= 1
    rows = tuple(
        (
            (each.at or str(place)).replace(" ", "\u00a0"),
            _strong(f"{words.value(each, system)}{'' if alike else f' ({text_of(words.limits(each, system))})'}", each),
        )
        for place, each in enumerate(readings, 1)
    )
    entries = ranges(each.number for each in readings)
    said = f"{first.what}{band}: {'; '.join(taken)}, {words.span(readings)}, entries {entries}."
    table = Table(("At", "Read"), rows, (1.1, 1), ("right", "right"), beside=6, small=True)
    caption = "Grey: inside the limits. Triangle: outside."
    return [*([Picture(drawing, caption)] if drawing is not None else []), Para(said), table]


def _strong(text: str, reading: Measured) -> Cell:
    return Strong(f"▲ {text}") if reading.verdict == "outside" else text


def _fits(built: AsBuilt, plan: Plan, assessment: Assessment, options: Options) -> list[Block]:
    """Every fit of which something is recorded: what was planned, the steps of mounting as signed, readings, remarks."""
    blocks: list[Block] = []
    for item in built.fits:
        if not begun(item):
            continue
        blocks.append(Heading(item.title or item.id))
        own, result = plan.find("fit", item.id), assessment.find("fit", item.id)
        if isinstance(own, Fit) and result is not None:
            blocks.append(_planned(fit.about(own, result, options)))
        steps = [entry for entry in item.signed if entry.act == "mounting"]
        if steps:
            rows = tuple((words.signed(e, own=True), words.who(e), words.when(e), str(e.number)) for e in steps)
            blocks.append(Table(("Mounting step", "By", "When", "Entry"), rows, (4.5, 1.6, 1.6, 0.6), small=True))
        blocks += read_blocks(item.readings, options)
        blocks += (
            [Para(f"Remarks by time: entries {ranges(n.number for n in item.notes)}.", "small")] if item.notes else []
        )
    return blocks
