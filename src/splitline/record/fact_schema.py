"""The JSON Schema of an exported record, made from the declarations of its facts; every number says its unit."""

from __future__ import annotations

from dataclasses import MISSING, fields
from typing import Any

from splitline.record.fact_kinds import KINDS, OWN, Fact, name_of
from splitline.units import KINDS as QUANTITIES

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
