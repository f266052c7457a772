"""The as-built record as CSV or JSON text.

CSV is for a spreadsheet: what was set stands in columns apart from what was measured, in the units of the plan, rounded as
the trade writes them. JSON is for programs: SI numbers.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Sequence
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.entry import Entry, Measured, Tightened
from splitline.units import KINDS, System, from_si, split

_COLUMNS = (
    "entry", "kind", "item", "pass", "bolt", "set torque {torque}", "set pressure {pressure}", "nut moved",
    "measured", "where", "value", "unit", "at least", "at most", "verdict", "as typed",
    "tool", "serial", "lubricant", "batch", "done at", "done by", "entered at", "entered by", "times in",
)  # fmt: skip
FIGURES = 6  # significant, of a measured value
_GUARDED = ("=", "+", "-", "@", "\t", "\r")


def plain(entry: Entry) -> dict[str, Any]:
    """An entry as JSON data."""
    found: dict[str, Any] = {"kind": entry.kind}
    for field in fields(entry):
        value = getattr(entry, field.name)
        if value is None or value == () or value == "":
            continue
        found[field.name.rstrip("_")] = _json_value(value)
    if isinstance(entry, Tightened):
        found["set"] = {name: found[name] for name in ("torque", "pressure") if name in found}
    elif isinstance(entry, Measured):
        found["verdict"] = entry.verdict
    return found


def _json_value(value: Any) -> Any:
    """Times with their offset, numbers without the noise of their last bits."""
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    return float(f"{value:.12g}") if isinstance(value, float) else value


def to_json(built: AsBuilt, entries: Sequence[Entry]) -> dict[str, Any]:
    """The whole record and its tables as JSON data; plan texts are left out (they stand in the record)."""
    return {
        "format": 1,
        "units": {kind: KINDS[kind].si for kind in ("length", "force", "torque", "pressure", "mass", "temperature", "time")},
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
             "reason": d.accepted.reason if d.accepted else None, "details": list(d.details)}
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


def columns(us: bool = False) -> tuple[str, ...]:
    """The head of the CSV, with the units of the set values."""
    units = {kind: KINDS[kind].shown[_system(us)] for kind in ("torque", "pressure")}
    return tuple(name.format(**units) for name in _COLUMNS)


def csv_text(built: AsBuilt, us: bool = False) -> str:
    """One line a bolt and pass, one a reading. Text a spreadsheet would run as a formula gets an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns(us))
    for joint in built.joints:
        for line in joint.bolts:
            for pull in line.pulls:
                if pull is not None:
                    writer.writerow(_safe(_pull_row(pull, line.bolt, us)))
            for reading in line.readings:
                writer.writerow(_safe(_reading_row(reading, us)))
        for reading in joint.readings:
            writer.writerow(_safe(_reading_row(reading, us)))
    for item in (*built.lifts, *built.fits, *built.insertions, *built.clearances, *built.others):
        for reading in item.readings:
            writer.writerow(_safe(_reading_row(reading, us)))
    return out.getvalue()


def _system(us: bool) -> System:
    return "US" if us else "SI"


def _safe(row: list[str]) -> list[str]:
    """Text that no spreadsheet runs; numbers keep their minus."""
    return [f"'{cell}" if cell.startswith(_GUARDED) and not _is_number(cell) else cell for cell in row]


def _is_number(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


def _stamps(entry: Entry) -> list[str]:
    """Times as a spreadsheet takes them for times: year first, no offset in them; the offset stands beside."""
    done, entered = entry.done_at, entry.entered_at
    offset = f"UTC{done.isoformat(timespec='seconds')[19:]}" if done is not None else ""
    if entered is not None and done is not None and done.tzinfo is not None and entered.tzinfo is not None:
        entered = entered.astimezone(done.tzinfo)
    times = [f"{at:%Y-%m-%d %H:%M:%S}" if at is not None else "" for at in (done, entered)]
    return [times[0], entry.done_by, times[1], entry.entered_by, offset]


def _figure(value: float | None, kind: str, us: bool) -> str:
    """What was measured, in the shown unit of its kind, to more figures than an instrument has; no powers of ten."""
    if value is None:
        return ""
    shown = from_si(value, kind, KINDS[kind].shown[_system(us)]) if kind in KINDS else value
    if kind == "share":
        shown = value * 100
    if shown == 0 or not math.isfinite(shown):
        return f"{shown:g}"
    decimals = max(FIGURES - 1 - math.floor(math.log10(abs(shown))), 0)
    text = f"{shown:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _set(value: float | None, kind: str, us: bool) -> str:
    """What was set, rounded as on the sheet."""
    return "" if value is None else split(value, kind, _system(us))[0]


def _pull_row(pull: Tightened, bolt: int, us: bool) -> list[str]:
    kind = pull.read_kind
    return [
        str(pull.number), "tightened", pull.joint, pull.pass_, str(bolt),
        _set(pull.torque, "torque", us), _set(pull.pressure, "pressure", us), "moved" if pull.moved else "",
        kind, "", _figure(pull.read, kind, us), _unit(kind, us) if kind else "", "", "", "", "",
        pull.tool, pull.serial, pull.lubricant, pull.batch, *_stamps(pull),
    ]  # fmt: skip


def _reading_row(reading: Measured, us: bool) -> list[str]:
    kind = reading.quantity
    value, low, high = (_figure(each, kind, us) for each in (reading.value, reading.low, reading.high))
    return [
        str(reading.number), "measured", reading.item, reading.pass_, str(reading.bolt or ""), "", "", "",
        reading.what, reading.at, value, _unit(kind, us), low, high, reading.verdict, reading.typed,
        "", reading.instrument, "", "", *_stamps(reading),
    ]  # fmt: skip


def _unit(kind: str, us: bool) -> str:
    return KINDS[kind].shown[_system(us)] if kind in KINDS else "%" if kind == "share" else ""
