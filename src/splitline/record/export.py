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
from collections.abc import Iterator, Sequence
from dataclasses import MISSING, fields
from datetime import date, datetime
from typing import Any

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.closing import closed_items, missing, to_look_at
from splitline.record.entry import Entry, Measured, Tightened
from splitline.record.fact_kinds import KINDS, OWN, Fact, name_of, quantity_of
from splitline.record.facts import witness_said
from splitline.units import KINDS as QUANTITIES
from splitline.units import System, from_si, split

FIGURES = 6  # significant, of a measured value
# Columns that always stood, in their order; those of the other fields follow.
_FIRST = (
    "entry", "kind", "item", "pass_", "bolt", "set_torque", "set_pressure", "moved", "what", "where", "value", "unit",
    "at_least", "at_most", "verdict", "typed", "tool", "serial", "lubricant", "batch", "done_at", "done_by", "entered_at",
    "entered_by", "times in",
)  # fmt: skip
_ROUNDED = ("torque", "pressure")  # set values: rounded as on the sheet


def _names() -> tuple[str, ...]:
    every = dict.fromkeys(each.name for kind in kinds.KINDS for each in fields(kind))
    return (*_FIRST, *(name for name in every if name not in _FIRST and name != kinds.OWN))


NAMES = _names()
_UNITS = {
    each.name: each.metadata["quantity"]
    for kind in kinds.KINDS
    for each in fields(kind)
    if each.metadata.get("quantity", kinds.OWN) != kinds.OWN
}


def heads(system: System) -> tuple[str, ...]:
    """Titles of the columns, with their units."""
    return tuple(
        f"{name_of(name)} {_unit(_UNITS[name], system)}" if name in _UNITS else name_of(name) for name in NAMES
    )


def rows(facts: Sequence[Fact], system: System) -> Iterator[list[str]]:
    """A row a fact."""
    for fact in facts:
        yield [_cell(fact, name, system) for name in NAMES]


def _cell(fact: Fact, name: str, system: System) -> str:
    if name == "kind":
        return f"struck {fact.kind}" if fact.struck_by else fact.kind  # nobody adds up what was struck
    if name == "times in":
        return f"UTC{fact.done_at.isoformat(timespec='seconds')[19:]}" if fact.done_at else ""
    if name == "unit":
        quantity = str(getattr(fact, kinds.OWN, ""))
        return _unit(quantity, system) if quantity else ""
    value = getattr(fact, name, None)
    if name == "moved":
        return "moved" if value else ""
    return _text(value, quantity_of(fact, name) if hasattr(fact, name) else "", system, name)


def _text(value: Any, quantity: str, system: System, name: str) -> str:
    if value is None or value is False or (value == 0 and isinstance(value, int) and name != "count"):
        return ""
    if value is True:
        return "yes"
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M:%S}"
    if isinstance(value, tuple):
        return "; ".join(map(str, value))
    if isinstance(value, float) and quantity:
        if name.startswith("set_") and quantity in _ROUNDED:
            return split(value, quantity, system)[0]
        return figure(value, quantity, system)
    return str(value)


def _unit(quantity: str, system: System) -> str:
    return QUANTITIES[quantity].shown[system] if quantity in QUANTITIES else "%" if quantity == "share" else ""


def figure(value: float, quantity: str, system: System) -> str:
    """What was measured, in the shown unit of its kind, to more figures than an instrument has; no powers of ten."""
    shown = from_si(value, quantity, QUANTITIES[quantity].shown[system]) if quantity in QUANTITIES else value
    if quantity == "share":
        shown = value * 100
    if shown == 0 or not math.isfinite(shown):
        return f"{shown:g}"
    decimals = max(FIGURES - 1 - math.floor(math.log10(abs(shown))), 0)
    text = f"{shown:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def data(fact: Fact) -> dict[str, Any]:
    """A fact as JSON data: SI, times with their offset; what says nothing is left out."""
    found: dict[str, Any] = {"kind": fact.kind}
    for each in fields(fact):
        value = getattr(fact, each.name)
        if value is None or value == each.default:
            continue
        found[each.name.rstrip("_")] = plain_value(value)
    return found


def plain_value(value: Any) -> Any:
    """Times with their offset, numbers without the noise of their last bits."""
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, tuple):
        return list(value)
    return float(f"{value:.12g}") if isinstance(value, float) else value


SCHEMA_FILE = "splitline-record.schema.json"
_JSON: dict[str, dict[str, Any]] = {
    "str": {"type": "string"},
    "bool": {"type": "boolean"},
    "int": {"type": "integer"},
    "int | None": {"type": "integer"},
    "float | None": {"type": "number"},
    "datetime | None": {"type": "string", "format": "date-time"},
    "date | None": {"type": "string", "format": "date"},
    "tuple[float, ...]": {"type": "array", "items": {"type": "number"}},
    "tuple[int, ...]": {"type": "array", "items": {"type": "integer"}},
    "tuple[str, ...]": {"type": "array", "items": {"type": "string"}},
}


def unit_of(quantity: str) -> str:
    """SI unit of a kind of quantity; a share is of one."""
    return QUANTITIES[quantity].si if quantity in QUANTITIES else "1"


def record_schema() -> dict[str, Any]:
    """The schema: a fact is told by its ``kind``; a key that says nothing is left out."""
    text, number = {"type": "string"}, {"type": "integer"}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "As-built record",
        "description": "Numbers are SI; `units` names the unit of each kind of quantity. Times carry their offset.",
        "type": "object",
        "required": ["format", "units", "plan", "count", "head", "problems", "facts"],
        "properties": {
            "format": {"const": 1},
            "units": {"type": "object", "additionalProperties": text},
            "plan": {"type": "object", "properties": {"title": text, "revision": text}},
            "plan_file_beside": {"type": "array", "items": text},
            "count": number,
            "seen": {**number, "description": "the greatest count this folder has seen; 0: it keeps none"},
            "copy": {**text, "description": "copy number: tells this machine and folder from others"},
            "head": text,
            "problems": {"type": "array", "items": text},
            "facts": {"type": "array", "items": {"oneOf": [_of(kind) for kind in KINDS]}},
        },
    }


def _of(kind: type[Fact]) -> dict[str, Any]:
    found: dict[str, Any] = {"kind": {"const": kind.kind}}
    for each in fields(kind):
        own = dict(_JSON[str(each.type)])
        quantity = each.metadata.get("quantity", "")
        if quantity == OWN:
            own["description"] = f"{name_of(each.name)}, in the SI unit of the `quantity` of this fact"
        elif quantity:
            own |= {"description": f"{name_of(each.name)}, {unit_of(quantity)}", "x-unit": unit_of(quantity)}
        assert each.default is not MISSING
        found[each.name.rstrip("_")] = own
    return {
        "title": (kind.__doc__ or "").strip(),
        "type": "object",
        "required": ["kind"],
        "properties": found,
        "additionalProperties": False,
    }


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
        "units": {kind: unit_of(kind) for kind in (*QUANTITIES, "share")},
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
