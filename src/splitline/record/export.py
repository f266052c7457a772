"""The as-built record as CSV or JSON text.

CSV is for a spreadsheet: a line a fact, what was set in columns apart from what was measured, in the units of the plan, rounded
as the trade writes them. JSON is for programs: SI numbers. Both are made from the one list of facts.
"""

from __future__ import annotations

import csv
import io
import json
import math
import unicodedata
from collections.abc import Sequence
from dataclasses import fields
from typing import Any

from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.closing import closed_items, missing, to_look_at
from splitline.record.entry import Entry, Measured, Tightened
from splitline.record.fact_faces import data, heads, plain_value, rows
from splitline.record.fact_schema import unit_of
from splitline.record.facts import witness_said
from splitline.units import KINDS

_GUARDED = "=+-@＝＋－＠﹢﹣﹦﹫⁺⁻⁼₊₋₌−"  # wide and small ones: a spreadsheet of the Far East takes them for the plain
_BLANKS = ("\t", "\r", "\n")


def plain(entry: Entry) -> dict[str, Any]:
    """An entry as JSON data."""
    found: dict[str, Any] = {"kind": entry.kind}
    for field in fields(entry):
        value = getattr(entry, field.name)
        if value is None or value == () or value == "":
            continue
        found[field.name.rstrip("_")] = plain_value(value)
    if isinstance(entry, Tightened):
        found["set"] = {name: found[name] for name in ("torque", "pressure") if name in found}
    elif isinstance(entry, Measured):
        found["verdict"] = entry.verdict
    return found


def to_json(built: AsBuilt, entries: Sequence[Entry]) -> dict[str, Any]:
    """The whole record and its tables as JSON data; plan texts are left out (they stand in the record)."""
    return {
        "format": 1,
        "units": {kind: unit_of(kind) for kind in (*KINDS, "share")},
        "plan": {"title": built.title, "revision": built.revision},
        "plan_file_beside": list(built.beside),
        "count": built.count,
        "seen": built.seen,
        "copy": built.copy,
        "head": built.head,
        "problems": list(built.problems),
        "joints": [_joint_data(joint) for joint in built.joints],
        **{
            name: [_item_data(item) for item in getattr(built, name)]
            for name in ("lifts", "fits", "insertions", "clearances", "others")
        },
        "steps": [
            {"id": s.plan.id, "text": s.plan.text, "state": s.state, "hold": s.hold.done_by if s.hold else None,
             "witness": witness_said(s)}
            for s in built.steps
        ],
        "windows": [{"id": w.plan.id, "phase": w.phase, "elapsed": w.elapsed} for w in built.windows],
        "deviations": [
            {"kind": d.kind, "key": d.key, "text": d.text, "entry": d.entry,
             "accepted_by": d.accepted.done_by if d.accepted else None,
             "reason": d.accepted.reason if d.accepted else None, "details": list(d.details)}
            for d in built.deviations
        ],
        "set_aside": [plain(entry) for entry in built.set_aside],
        "wrong_entries": [
            {"entry": s.by.entry, "reason": s.by.reason, "by": s.by.done_by} for s in built.wrong_entries
        ],
        "closed": [{"kind": c.kind, "id": c.id, "state": c.state, "ok": c.good} for c in closed_items(built)],
        "to_look_at": [{"what": w, "count": n, "entries": list(e)} for w, n, e in to_look_at(built)],
        "missing_before_handover": list(missing(built)),
        "facts": [data(fact) for fact in built.facts],
        "entries": [{k: v for k, v in plain(entry).items() if k != "text" or entry.kind != "plan"} for entry in entries],
    }  # fmt: skip


def _joint_data(joint: JointAsBuilt) -> dict[str, Any]:
    return {
        "id": joint.id,
        "title": joint.title,
        "short": list(joint.progress.short),
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


def columns(us: bool = False) -> tuple[str, ...]:
    """The head of the CSV, with the units of the set values."""
    return heads("US" if us else "SI")


def csv_text(built: AsBuilt, us: bool = False) -> str:
    """One line a fact. Text a spreadsheet would run as a formula gets an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns(us))
    for row in rows(built.facts, "US" if us else "SI"):
        writer.writerow([safe_cell(cell) for cell in row])
    return out.getvalue()


def safe_cell(cell: str) -> str:
    """Text that no spreadsheet runs, whatever blanks stand before its sign; numbers keep their minus."""
    first = next((char for char in cell if not _blank(char)), "")
    runs = cell[:1] in _BLANKS or (first != "" and first in _GUARDED)
    return f"'{cell}" if cell and runs and not _is_number(cell) else cell


def _blank(char: str) -> bool:
    """Whether a spreadsheet, or what cleans a cell before it, passes over this sign: blanks, controls, what nobody sees."""
    return char.isspace() or unicodedata.category(char) in ("Zs", "Zl", "Zp", "Cc", "Cf")


def _is_number(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False
