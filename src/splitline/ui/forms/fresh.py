"""New items, tables and entries: what must stand in them to be read, with an id nothing else has."""

from __future__ import annotations

import copy
import re
from typing import Any

from splitline.plan.declare import Table
from splitline.plan.edits import Path, Tree
from splitline.plan.fields import Declared, fields_of, table_of
from splitline.plan.model import KINDS

NOUNS = {
    "joint": "one bolted closure: a head cover, a split line",
    "lift": "one load on a hook, or two for upending",
    "fit": "an interference fit: collar, hub, sleeve",
    "insertion": "a bundle pushed into its casing",
    "clearance": "a dimension measured, with limits",
    "window": "a time limit between two steps",
    "item": "a part or consumable for the kit list",
    "step": "a line of the order of work",
}


def ids(tree: Tree) -> set[str]:
    """Every id of a plan."""
    return {
        entry["id"]
        for kind in KINDS
        if isinstance(entries := tree.get(kind), list)
        for entry in entries
        if isinstance(entry, dict) and isinstance(entry.get("id"), str)
    }


def free_id(wanted: str, tree: Tree) -> str:
    """``wanted``, or it with the next free number."""
    taken = ids(tree)
    base = re.sub(r"-\d+$", "", wanted) or "item"
    if wanted not in taken:
        return wanted
    return next(name for n in range(2, 100_000) if (name := f"{base[:56]}-{n}") not in taken)


def fresh_item(kind: str, tree: Tree) -> dict[str, Any]:
    """A new item with what it needs to be read."""
    raw = fresh_table(KINDS[kind])
    raw["id"] = free_id(kind, tree)
    if "title" in raw:
        raw["title"] = f"New {kind}"
    if kind == "step":
        raw["text"] = "New step"
    return raw


def fresh_table(model: type[Table]) -> dict[str, Any]:
    """A new table: its required fields with their first choice. A figure is never made up: it is asked for."""
    required = (field for field in fields_of(model).values() if field.required)
    return {field.name: _start(field) for field in required if _can_start(field)}


def _can_start(field: Declared) -> bool:
    return field.is_table or bool(field.choices) or field.kind in ("text", "id")


def first_to_fill(model: type[Table]) -> str:
    """The field of a new table to stand on: the one that decides what else is asked, else the first a check needs."""
    declared = list(fields_of(model).values())
    wanted = [f for f in declared if f.required and not f.is_table] + [f for f in declared if f.needed_by]
    return (wanted or declared)[0].name


def _start(field: Declared) -> Any:
    if field.is_table and field.model is not None:
        return [fresh_table(field.model)] if field.is_list else fresh_table(field.model)
    if field.choices:
        return field.choices[0]
    return {"text": "New step"}.get(field.name, "new")


def copied(path: Path, raw: Any, tree: Tree) -> Any:
    """A copy of an item or entry; an item gets an id of its own, a named entry a name of its own."""
    new = copy.deepcopy(raw)
    if isinstance(new, dict) and len(path) == 2 and isinstance(new.get("id"), str):
        new["id"] = free_id(new["id"], tree)
    elif isinstance(new, dict) and isinstance(new.get("name"), str):
        new["name"] = f"{new['name']} (copy)"
    return new


def addable(path: Path, raw: dict[str, Any]) -> list[tuple[Path, Declared]]:
    """Fields and tables that can still be added to the table at ``path``; for a list, its next entry."""
    model = table_of(path)
    if model is None:
        return []
    found = []
    for field in fields_of(model).values():
        there = raw.get(field.name)
        if field.is_list:
            found.append(((*path, field.name, len(there) if isinstance(there, list) else 0), field))
        elif field.name not in raw:
            found.append(((*path, field.name), field))
    return found
