"""The as-built record as CSV or JSON text. SI values with their unit beside them."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.entry import Entry, Measured, Tightened
from splitline.units import si_unit

COLUMNS = (
    "entry", "kind", "item", "pass", "bolt", "what", "value", "unit", "low", "high", "verdict",
    "torque N*m", "pressure Pa", "tool", "serial", "lubricant", "batch", "done at", "done by", "entered at", "entered by",
)  # fmt: skip
_GUARDED = ("=", "+", "-", "@", "\t", "\r")


def plain(entry: Entry) -> dict[str, Any]:
    """An entry as JSON data."""
    found: dict[str, Any] = {"kind": entry.kind}
    for field in fields(entry):
        value = getattr(entry, field.name)
        if value is None or value == () or value == "":
            continue
        found[field.name.rstrip("_")] = value.isoformat() if isinstance(value, (date, datetime)) else value
    return found


def to_json(built: AsBuilt, entries: Sequence[Entry]) -> dict[str, Any]:
    """The whole record and its tables as JSON data; plan texts are left out (they stand in the record)."""
    return {
        "format": 1,
        "plan": {"title": built.title, "revision": built.revision},
        "count": built.count,
        "head": built.head,
        "problems": list(built.problems),
        "joints": [_joint_data(joint) for joint in built.joints],
        **{
            name: [_item_data(item) for item in getattr(built, name)]
            for name in ("lifts", "fits", "insertions", "clearances", "others")
        },
        "steps": [
            {"id": s.plan.id, "text": s.plan.text, "state": s.state, "hold": s.hold.done_by if s.hold else None}
            for s in built.steps
        ],
        "windows": [{"id": w.plan.id, "phase": w.phase, "elapsed": w.elapsed} for w in built.windows],
        "deviations": [
            {"key": d.key, "text": d.text, "accepted_by": d.accepted.done_by if d.accepted else None,
             "reason": d.accepted.reason if d.accepted else None}
            for d in built.deviations
        ],
        "set_aside": [plain(entry) for entry in built.set_aside],
        "wrong_entries": [
            {"entry": s.by.entry, "reason": s.by.reason, "by": s.by.done_by} for s in built.wrong_entries
        ],
        "entries": [{k: v for k, v in plain(entry).items() if k != "text" or entry.kind != "plan"} for entry in entries],
    }  # fmt: skip


def _joint_data(joint: JointAsBuilt) -> dict[str, Any]:
    return {
        "id": joint.id,
        "title": joint.title,
        "passes": [{"name": n, "closed": c} for n, c in zip(joint.passes, joint.closed, strict=True)],
        "bolts": [
            {
                "bolt": line.bolt,
                "passes": [pull.number if pull else None for pull in line.pulls],
                "readings": [entry.number for entry in line.readings],
                "set_aside": [entry.number for entry in line.aside],
            }
            for line in joint.bolts
        ],
    }


def _item_data(item: ItemAsBuilt) -> dict[str, Any]:
    return {
        "id": item.id,
        "title": item.title,
        "readings": [plain(entry) for entry in item.readings],
        "signed": [plain(entry) for entry in item.signed],
    }


def json_text(built: AsBuilt, entries: Sequence[Entry]) -> str:
    """Indented JSON."""
    return json.dumps(to_json(built, entries), ensure_ascii=False, indent=2) + "\n"


def csv_text(built: AsBuilt) -> str:
    """One line a bolt and pass, one a reading. Text a spreadsheet would run as a formula gets an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for joint in built.joints:
        for line in joint.bolts:
            for pull in line.pulls:
                if pull is not None:
                    writer.writerow(_safe(_pull_row(pull, line.bolt)))
            for reading in line.readings:
                writer.writerow(_safe(_reading_row(reading)))
        for reading in joint.readings:
            writer.writerow(_safe(_reading_row(reading)))
    for item in (*built.lifts, *built.fits, *built.insertions, *built.clearances, *built.others):
        for reading in item.readings:
            writer.writerow(_safe(_reading_row(reading)))
    return out.getvalue()


def _safe(row: list[object]) -> list[object]:
    return [f"'{cell}" if isinstance(cell, str) and cell.startswith(_GUARDED) else cell for cell in row]


def _stamps(entry: Entry) -> list[object]:
    times = [at.isoformat() if at else "" for at in (entry.done_at, entry.entered_at)]
    return [times[0], entry.done_by, times[1], entry.entered_by]


def _number(value: float | None) -> object:
    return "" if value is None else value


def _pull_row(pull: Tightened, bolt: int) -> list[object]:
    unit = si_unit(pull.read_kind) if pull.read_kind else ""
    return [
        pull.number, "tightened", pull.joint, pull.pass_, bolt, pull.read_kind, _number(pull.read), unit, "", "", "",
        _number(pull.torque), _number(pull.pressure), pull.tool, pull.serial, pull.lubricant, pull.batch, *_stamps(pull),
    ]  # fmt: skip


def _reading_row(reading: Measured) -> list[object]:
    what = f"{reading.what} {reading.at}".strip()
    return [
        reading.number, "measured", reading.item, reading.pass_, reading.bolt or "", what, reading.value,
        si_unit(reading.quantity), _number(reading.low), _number(reading.high), reading.verdict,
        "", "", "", reading.instrument, "", "", *_stamps(reading),
    ]  # fmt: skip
