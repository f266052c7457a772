"""What each size of bolts is pulled to and judged by, on the front of the bolting sheet: one size as facts, several as a table."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from splitline.assess.accepted import accepted_of_size
from splitline.assess.result import ItemResult
from splitline.assess.tightening_list import OrderList
from splitline.plan.model import Joint
from splitline.report.blocks import MISSING, Block, Cell, Strong, Table
from splitline.report.sheets import common
from splitline.units import System

Fact = tuple[str, Cell]
SNUGGED = ("turn", "heat")  # methods whose nut is turned by an angle from a defined snug
MANY = 8  # numbers that are listed in full


def size_facts(joint: Joint, result: ItemResult, system: System) -> list[Fact]:
    """Facts of the only size; nothing where there are several, which stand in their own table."""
    return [] if result.sizes else _facts(joint, result, result.results, (), system)


def size_table(joint: Joint, result: ItemResult, listed: OrderList, system: System) -> list[Block]:
    """A row a size, where there are several."""
    if not result.sizes:
        return []
    groups = [(result.results, ()), *((size.results, size.bolts) for size in result.sizes)]
    rows, head = [], ["Size", "Bolts"]
    for name, (results, bolts) in zip(listed.sizes, groups, strict=True):
        facts = _facts(joint, result, results, bolts, system)
        head = ["Size", "Bolts", *(label for label, _ in facts)]
        rows.append((Strong(name), _numbers(bolts), *(value for _, value in facts)))
    widths = (1.1, 1.4, *(1.2,) * (len(head) - 2))
    return [Table(tuple(head), tuple(rows), widths, ("left", "left"), title="Each size of bolts has its own values")]


def _facts(
    joint: Joint, result: ItemResult, results: Mapping[str, Any], bolts: tuple[int, ...], system: System
) -> list[Fact]:
    method = joint.tightening.method if joint.tightening is not None else ""
    usage = results.get("yield_usage")
    facts: list[Fact] = [
        ("Target preload", common.strong(common.cell(results, "preload", "joint", system))),
        ("on the stress area", common.cell(results, "bolt_stress", "joint", system)),
        ("share of yield", f"{usage:.0%}" if isinstance(usage, int | float) else MISSING),
        ("Stretch at target", common.cell(results, "stretch", "joint", system)),
        ("Accepted stretch", common.stretch_accepted(accepted_of_size(joint, result, bolts), system)),
    ]
    if method in SNUGGED:
        facts.append(("Snug torque", common.strong(common.cell(results, "torque_snug", "joint", system))))
        facts.append(("Nut turn from snug", common.strong(common.cell(results, "turn_angle", "joint", system))))
    if method == "heat":
        facts.append(("Heat the bolt by", common.strong(common.cell(results, "heat_rise", "joint", system))))
    return facts


def _numbers(bolts: tuple[int, ...]) -> str:
    """The bolts of a size; the main size has all that no other has."""
    if not bolts:
        return "all others"
    return ", ".join(map(str, bolts)) if len(bolts) <= MANY else f"{len(bolts)}: see the order"
