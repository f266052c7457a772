"""One joint of the dossier: what was planned for each pass, what each bolt got, by whom."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from splitline.assess.result import ItemResult
from splitline.assess.tightening_list import order_list
from splitline.plan.model import Joint
from splitline.record.as_built import BoltLine, JointAsBuilt
from splitline.record.entry import Measured
from splitline.record.fact_kinds import StudValue
from splitline.report.blocks import Block, Cell, Large, Para, Picture, Sheet, Strong, Table
from splitline.report.pictures.bolt_map import Looks, bolt_map
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.common import Options
from splitline.report.sheets.joint import diameters, pass_words, settings
from splitline.units import System

WIDE = 5  # passes from which names stand under the values in small type


Studs = Mapping[tuple[int, int], StudValue]  # by entry and bolt


def joint_as_built(
    joint: JointAsBuilt, plan: Joint | None, result: ItemResult | None, options: Options, studs: Studs
) -> Sheet:
    """The sheet of one joint as built."""
    blocks: list[Block] = []
    if plan is not None and result is not None:
        blocks += [_plain(block) for block in settings(plan, result, order_list(plan, result), options)]
    blocks += [_passes(joint, studs), *_set_ups(joint, options.system)]
    if not any(each.done or each.aside for each in joint.progress.passes):
        blocks.append(Para("No bolt of it is tightened.", "strong"))
    elif joint.bolts:
        blocks.append(_bolts(joint, plan, options.system, studs))
    else:
        blocks.append(Para("Nothing is known of its bolts.", "strong"))
    blocks += _map(joint, plan, result, options)
    from splitline.report.sheets.dossier import readings

    own = tuple(reading for line in joint.bolts for reading in line.readings)
    every: tuple[Measured, ...] = (*own, *joint.readings)
    if every:
        blocks.append(readings(every, options.system, "Readings", "pass"))
    return Sheet("dossier", joint.id, joint.title or joint.id, tuple(blocks), "Joint, as built")


def _held(text: str) -> str:
    """Each number with its unit on one line."""
    value, bracket, rest = text.partition(" (")
    return " (".join(part.replace(" ", "\u00a0") for part in (value, rest) if part) if bracket else text


def _plain(block: Block) -> Block:
    """Set values in the size of the rest: nobody sets a tool by the dossier."""
    if not isinstance(block, Table):
        return block
    rows = tuple(
        tuple(Strong(_held(cell.text)) if isinstance(cell, Large) else cell for cell in row) for row in block.rows
    )
    return replace(block, rows=rows)


def _map(joint: JointAsBuilt, plan: Joint | None, result: ItemResult | None, options: Options) -> list[Block]:
    """Where the bolts stand that were set aside or are still open in the last pass begun."""
    begun = [each for each in joint.progress.passes if each.done or each.aside]
    if plan is None or result is None or not begun:
        return []
    aside = {bolt for each in joint.progress.passes for bolt in each.aside}
    left = set(begun[-1].open) - aside
    if not aside and not left:
        return []
    looks = Looks(diameters(result, len(joint.bolts)), aside, left, (joint.title or joint.id,), options.system)
    drawing = bolt_map(plan, looks, options.room, 88, options.paper.zoom)
    last = pass_words(begun[-1].plan.name)
    seen = f"Seen from {plan.layout.seen_from}. " if plan.layout is not None and plan.layout.seen_from else ""
    caption = f"{seen}Grey: set aside. Dot: not done in {last}, the last begun."
    return [Picture(drawing, caption)] if drawing is not None else []


def _passes(joint: JointAsBuilt, studs: Studs) -> Table:
    rows = []
    for each, closed in zip(joint.progress.passes, joint.closed, strict=True):
        total = len(each.plan.bolts)
        state: Cell = "closed" if closed else Strong("open")
        aside = words.bolts(tuple(sorted(each.aside)))
        revisions = dict.fromkeys(
            fact.revision or "not given"
            for bolt, entry in each.done.items()
            if (fact := studs.get((entry.number, bolt))) is not None
        )
        if closed and each.short:
            state = Strong(f"closed SHORT of {words.bolts(each.short)}")
        moved, count = words.bolts(each.moved), f"{len(each.done)} of {total}"
        rows.append((pass_words(each.plan.name), count, state, aside, moved, ", ".join(revisions)))
    head = ("Pass", "Bolts done", "State", "Set aside", "Nuts that moved", "Plan revision")
    return Table(head, tuple(rows), (1.2, 1.2, 1.6, 2.2, 2.2, 1), title="Passes, as done")


def _set_ups(joint: JointAsBuilt, system: System) -> list[Block]:
    del system
    if not joint.set_ups:
        return []
    rows = tuple(
        (
            pass_words(entry.pass_),
            f"{entry.lubricant}, batch {entry.batch or 'not given'}",
            f"{entry.tool} {entry.serial}".strip(),
            entry.calibration_due.isoformat() if entry.calibration_due else "not given",
            words.who(entry),
            words.when(entry),
        )
        for entry in joint.set_ups
    )
    head = ("Pass", "Lubricant", "Tool, serial", "Calibrated until", "By", "When")
    return [Table(head, rows, (1, 3, 1.8, 1.4, 1.6, 1.8), title="Set-up of each pass", small=True)]


def _bolts(joint: JointAsBuilt, plan: Joint | None, system: System, studs: Studs) -> Table:
    head = ("Bolt", *(pass_words(name) for name in joint.passes), "Set aside")
    rows = tuple(_bolt(line, joint, plan, system, studs) for line in joint.bolts)
    widths = (0.5, *(2.0,) * len(joint.passes), 1.6)
    return Table(head, rows, widths, ("right",), "Bolt by bolt", small=True)


def _bolt(line: BoltLine, joint: JointAsBuilt, plan: Joint | None, system: System, studs: Studs) -> tuple[Cell, ...]:
    cells: list[Cell] = [Strong(str(line.bolt))]
    for done, each in zip(line.pulls, joint.progress.passes, strict=True):
        if done is not None:
            text = f"{words.in_lines(done, system, plan)}\n{words.when(done)}\n{words.who(done)}"
            fact = studs.get((done.number, line.bolt))
            wrong = fact is not None and fact.otherwise
            cells.append(Strong(f"▲ {text}\ntold {fact.told}") if fact is not None and wrong else text)
        else:
            cells.append("" if line.bolt not in each.plan.bolts else Strong("not done"))
    aside = "; ".join(f"{entry.reason} ({pass_words(entry.pass_)}, {words.who(entry)})" for entry in line.aside)
    return (*cells, Strong(aside) if aside else "")
