"""Lubricant by joint, and the parts and consumables the plan lists."""

from __future__ import annotations

from collections.abc import Iterator

from splitline.assess.assessment import Assessment
from splitline.plan.model import Item, Plan
from splitline.report.kit import Line, merged
from splitline.units import System

LUBRICANT, PARTS, COUNTED = "Lubricant", "Parts and consumables", "Counted in and out"


def part_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lubricants, then the items, those counted out last."""
    del assessment, system
    items = [_item(item) for item in plan.items]
    return [*merged(_lubricants(plan)), *sorted(items, key=lambda line: line.count_out)]


def _lubricants(plan: Plan) -> Iterator[Line]:
    for joint in plan.joints:
        friction = joint.friction
        if friction is not None and friction.lubricant:
            yield Line(
                LUBRICANT, friction.lubricant, "one batch", 1, 0, (), (joint.id,), "the same batch for the whole joint"
            )
        elif friction is not None and (friction.nut_factor is not None or friction.thread is not None):
            name = "the lubricant the plan's friction was measured with"
            yield Line(
                LUBRICANT, name, None, 1, 0, (), (joint.id,), "name it in the plan: friction is only as good as it"
            )
        else:
            yield Line(LUBRICANT, "lubricant", None, None, 0, (), (joint.id,), "no lubricant is given")


def _item(item: Item) -> Line:
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    notes = [item.material or "", f"batch {item.batch}" if item.batch else ""]
    notes.append(f"cured {item.cure_date.isoformat()}" if item.cure_date else "")
    section = COUNTED if item.count_out else PARTS
    return Line(
        section, item.title, item.size or "", item.quantity, item.spare or 0, (), used,
        ", ".join(note for note in notes if note), bool(item.count_out),
    )  # fmt: skip
