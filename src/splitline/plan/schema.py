"""JSON Schema of the plan file, made from the declarations: for editors that complete keys and check as one types."""

from __future__ import annotations

from typing import Any

from splitline.library.store import CLOSED, SAME, Library
from splitline.plan.declare import Table
from splitline.plan.fields import Declared, fields_of
from splitline.plan.model import FORMAT, KINDS, PlanInfo

Json = dict[str, Any]
SCHEMA_FILE = "splitline-plan.schema.json"


def plan_schema() -> Json:
    """The schema of a whole plan file (JSON Schema 2020-12; TOML dates are texts to a JSON validator)."""
    tables: Json = {}
    heading = _reference(PlanInfo, tables)
    kinds = {kind: {"type": "array", "items": _reference(model, tables)} for kind, model in KINDS.items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Splitline plan",
        "type": "object",
        "required": ["format", "plan"],
        "additionalProperties": False,
        "properties": {
            "format": {"type": "integer", "minimum": 1, "maximum": FORMAT, "description": "Format of the file"},
            "plan": heading,
            **kinds,
        },
        "$defs": tables,
    }


def _reference(model: type[Table], tables: Json) -> Json:
    name = model.__name__
    if name not in tables:
        tables[name] = {}  # stands while its fields are written
        tables[name] = _table(model, tables)
    return {"$ref": f"#/$defs/{name}"}


def _table(model: type[Table], tables: Json) -> Json:
    fields = fields_of(model)
    required = [field.name for field in fields.values() if field.required]
    schema: Json = {
        "type": "object",
        "description": (model.__doc__ or "").splitlines()[0],
        "additionalProperties": False,
        "properties": {name: _field(field, tables) for name, field in fields.items()},
    }
    return {**schema, "required": required} if required else schema


def _field(field: Declared, tables: Json) -> Json:
    said = ". ".join(part.rstrip(".") for part in _sentences(field))
    if field.model is None:
        schema = dict(field.leaf.schema()) if field.leaf is not None else {}
        if isinstance(field.sample, str | int | float | list) and field.kind not in ("choice", "yes/no"):
            schema["examples"] = [field.sample]
        if field.library and "enum" not in schema:
            names = [name for name in _names(field.library) if name not in schema.get("examples", ())]
            schema["examples"] = [*schema.get("examples", ()), *names]
        return {**schema, "description": said}
    table = _reference(field.model, tables)
    if not field.is_list:
        return {**table, "description": said}
    entries: Json = {"type": "array", "items": table}
    if field.name == "tool":
        return {"anyOf": [entries, table], "description": said}
    return {**entries, "description": said}


def _names(table: str) -> list[str]:
    """Names of the shipped library, offered while one types; a site's own are as good, and threads are read, not listed."""
    return [] if table in CLOSED else list(Library.load().names(SAME.get(table, table)))


def _sentences(field: Declared) -> list[str]:
    said = [field.words]
    if field.usual:
        said.append(f"usual: {field.usual}")
    if field.default_said:
        said.append(f"default: {field.default_said}")
    if field.source:
        said.append(f"source: {field.source}")
    if field.library:
        said.append(f"a name of the library table {field.library}")
    return said
