"""Lubricant by joint, and the parts and consumables the plan lists."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.plan.model import Item, Joint, Plan
from splitline.report.kit_lines.line import Line, merged
from splitline.units import System

FILM = 0.2e-3  # m of paste brushed on: common practice, no published source
_FILM_SAID = "0.2 mm brushed on thread and face: common practice, no published source"
LUBRICANT, PARTS, COUNTED = "Lubricant", "Parts and consumables", "Counted in and out"
INSTRUMENTS = "Instruments, by serial"


def part_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lubricants, then the items, those counted out last."""
    items = [_item(item) if item.kind != "instrument" else _instrument(item) for item in plan.items]
    del system
    return [*merged(_lubricants(plan, assessment)), *sorted(items, key=_place)]


def _place(line: Line) -> int:
    """Instruments first, what is counted out last."""
    return 0 if line.section == INSTRUMENTS else 2 if line.count_out else 1


def _lubricants(plan: Plan, assessment: Assessment) -> Iterator[Line]:
    """A lubricant the plan lists among its items is counted there."""
    for joint in plan.joints:
        friction = joint.friction
        if friction is not None and friction.lubricant:
            if any(_is_for(item, joint.id) for item in plan.items):
                continue
            found = assessment.find("joint", joint.id)
            volume = _volume(joint, found.results if found is not None else {})
            note = "the same batch for the whole joint"
            if volume is not None:
                note += f"; about {volume} ml for {joint.id} ({_FILM_SAID})"
            yield Line(LUBRICANT, friction.lubricant, "one batch", 1, 0, (), (joint.id,), note)
        elif friction is not None and (friction.nut_factor is not None or friction.thread is not None):
            name = "the lubricant the plan's friction was measured with"
            yield Line(
                LUBRICANT, name, None, 1, 0, (), (joint.id,), "name it in the plan: friction is only as good as it"
            )
        else:
            yield Line(LUBRICANT, "lubricant", None, None, 0, (), (joint.id,), "no lubricant is given")


def _is_for(item: Item, joint: str) -> bool:
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    return item.kind == "lubricant" and joint in used


def _volume(joint: Joint, results: Mapping[str, Any]) -> int | None:
    """Millilitres for every thread end and nut face, rounded up to 10; None where a size is not known."""
    diameter: float | None = results.get("pitch_diameter")
    face: float | None = results.get("bearing_diameter")
    hole: float | None = results.get("hole_diameter")
    if diameter is None or joint.layout is None or joint.layout.count is None:
        return None
    face_area = math.pi / 4 * ((face or 1.6 * diameter) ** 2 - (hole or 1.1 * diameter) ** 2)
    ends = 1 if joint.bolting is not None and joint.bolting.kind == "cap-screw" else 2
    engaged = joint.bolting.engagement if joint.bolting is not None and joint.bolting.engagement else 1.2 * diameter
    area = math.pi * diameter * (engaged + (ends - 1) * diameter) + face_area
    return math.ceil(FILM * area * joint.layout.count * 1e6 / 10) * 10


def _instrument(item: Item) -> Line:
    """A measuring instrument the plan names, by its serial."""
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    due = f"calibrated until {item.calibration_due.isoformat()}" if item.calibration_due else "calibration: on site"
    serials = (item.serial,) if item.serial else ()
    note = due if item.serial else f"serial: on site; {due}"
    return Line(INSTRUMENTS, item.title, item.size or "", item.quantity or 1, item.spare or 0, serials, used, note)


def _item(item: Item) -> Line:
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    notes = [item.material or "", f"batch {item.batch}" if item.batch else ""]
    notes.append(f"cured {item.cure_date.isoformat()}" if item.cure_date else "")
    section = COUNTED if item.count_out else PARTS
    return Line(
        section, item.title, item.size or "", item.quantity, item.spare or 0, (), used,
        ", ".join(note for note in notes if note), bool(item.count_out),
    )  # fmt: skip
