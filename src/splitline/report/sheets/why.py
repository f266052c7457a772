"""The page "why this value", and behind it formula, numbers put in, result and source of every result, then all checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from splitline.assess.keys import Key, registry
from splitline.assess.result import Group, ItemResult, Working
from splitline.report.blocks import Beside, Block, Cell, Facts, Para, Sheet, Strong, Table
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.report.working import value_said, worked

BARE = ("set_snug", "set_passes", "set_is_pressure")  # said with their unit by set_pressures and set_torques
WHAT = {"joint": "Why this torque", "lift": "Why these tensions", "fit": "Why this fit", "insertion": "Why this force"}


# What leads from the target to the torque and to what it leaves, in that order.
CHAIN = (
    "stress_area", "preload", "bolt_stress", "yield_usage", "torque", "thread_torque", "nut_factor", "combined_stress",
    "stretch", "load_factor", "preload_low", "preload_high",
)  # fmt: skip
MAKER = ("maker_torque", "maker_stretch")  # checks against the maker's figures


def why_sheets(
    kind: str, ident: str, title: str, result: ItemResult, options: Options, given: Facts | None = None
) -> tuple[Sheet, ...]:
    """Of a joint one page, inputs, chain of formulas, maker's value and sources, then the whole working; of others this alone."""
    whole = _whole(kind, ident, title, result, options)
    if kind != "joint":
        return (whole,)
    keys = registry(kind)
    chain = {name: keys[name] for name in CHAIN if name in keys}
    maker = tuple(check for check in result.checks if check.key in MAKER)
    blocks: list[Block] = [
        Para("How the torque follows from the target, line by line; the whole working is behind it.", "small")
    ]
    if given is not None:
        half = -(-len(given.rows) // 2)
        blocks.append(Beside((Facts(given.rows[:half]),), (Facts(given.rows[half:]),), 0.5))
    blocks += _working("From the target to the torque", chain, result.results, result.working, options)
    rows = tuple(
        (f"{common.MARKS[check.verdict]} {check.verdict}", check.title, check.said(options.system), check.basis)
        for check in maker
    )
    if rows:
        blocks.append(
            Table(("Verdict", "Check", "Result", "Basis"), rows, (1, 2, 3, 3), title="Maker's value", small=True)
        )
    else:
        blocks.append(Para("Maker's value: none is given in the plan to compare with.", "small"))
    front = Sheet("why", ident, title, tuple(blocks), WHAT[kind])
    return front, replace(whole, title=f"{title}: whole working")


def _whole(kind: str, ident: str, title: str, result: ItemResult, options: Options) -> Sheet:
    """The working of one item."""
    keys = registry(kind)
    blocks: list[Block] = [
        Para("Every result with its formula, the numbers put in and the source; recompute any line by hand.", "small")
    ]
    blocks += _working("Results", keys, result.results, result.working, options)
    for group in (*result.sizes, *result.cases):
        blocks += _working(_name(group), keys, group.results, group.working, options)
    if result.checks:
        blocks.append(common.checks_table(result, options.system))
    if result.defaults:
        rows = tuple((default.field, default.said, default.basis) for default in result.defaults)
        blocks.append(Table(("Field", "Taken", "Basis"), rows, (2.2, 1.2, 4), title="Taken by default", small=True))
    if kind == "joint":  # the sheets of other kinds print their notes themselves
        blocks += common.notes_of(result)
    return Sheet("why", ident, title, tuple(blocks), WHAT.get(kind, "Working"))


def _name(group: Group) -> str:
    if group.bolts:
        return ("Bolt " if len(group.bolts) == 1 else "Bolts ") + ", ".join(str(bolt) for bolt in group.bolts)
    return f"Case: {group.name}"


def _working(
    title: str, keys: Mapping[str, Key], results: Mapping[str, Any], lines: Sequence[Working], options: Options
) -> list[Block]:
    found = {line.key: line for line in lines}
    rows: list[tuple[Cell, ...]] = []
    for key in keys.values():
        if key.key not in results or key.shape == "table" or key.key in BARE:
            continue
        formula, put_in, source = worked(key, found.get(key.key), options.system)
        value = value_said(results[key.key], key.kind, options.system)
        value = f"{key.symbol} = {value}" if key.symbol else value
        how = "\n".join(text for text in (formula, put_in) if text)
        rows.append((key.title, Strong(value), how, source))
    if not rows:
        return []
    return [
        Table(
            ("Result", "Value", "Formula; put in", "Source"), tuple(rows), (1.8, 1.9, 3.6, 3.0), (), title, small=True
        )
    ]
