"""Look-up over the declarations: what a field is called, measures, needs and offers. Screens, help and schema read this."""

from __future__ import annotations

import copy
import re
import types
import typing
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic.fields import FieldInfo

from splitline.plan.declare import Table
from splitline.plan.edits import Path, get
from splitline.plan.leaf import Choice, Dim, Either, Leaf, Many, Num, Numbers, Row, Words
from splitline.plan.model import KINDS, PlanInfo
from splitline.plan.toml_text import value_text
from splitline.units import KINDS as QUANTITIES


@dataclass(frozen=True, slots=True)
class Declared:
    """One field of the plan file, or one table inside another."""

    name: str  # the key in the file
    attribute: str  # the name in the plan model: "from_" for the key "from"
    words: str
    kind: str  # a quantity of units.KINDS, or number, count, text, choice, id, yes/no, date, list, row, taper, table
    sample: Any  # an example as TOML gives it
    example: str  # the same as written in the file
    units: tuple[str, ...]
    usual: str
    source: str
    default_said: str
    errs: str  # the side that default errs on
    needed_by: tuple[str, ...]
    choices: tuple[str, ...]
    library: str  # table of the library it is picked from, or ""
    offers: str  # table of the library it may be picked from, or ""
    required: bool
    is_table: bool
    is_list: bool
    model: type[Table] | None
    leaf: Leaf | None


def _unwrapped(annotation: Any) -> tuple[type[Table] | None, bool, Leaf | None]:
    """Table, whether it is a list of tables, and leaf type behind an annotation."""
    origin = typing.get_origin(annotation)
    if origin is typing.Annotated:
        leaf = next((m for m in annotation.__metadata__ if isinstance(m, Leaf)), None)
        return None, False, leaf
    if origin in (typing.Union, types.UnionType):
        found = [_unwrapped(a) for a in typing.get_args(annotation) if a is not type(None)]
        return next((f for f in found if f[0] or f[2]), (None, False, None))
    if origin is tuple:
        model, _, leaf = _unwrapped(typing.get_args(annotation)[0])
        return model, model is not None, leaf
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation, False, None
    return None, False, None


def _kind(leaf: Leaf | None) -> str:
    if isinstance(leaf, Dim):
        return leaf.kind
    if isinstance(leaf, Num):
        return "count" if leaf.whole else "number"
    if isinstance(leaf, Either):
        return _kind(leaf.options[0])
    return "table" if leaf is None else leaf.form


def _choices(leaf: Leaf | None) -> tuple[str, ...]:
    if isinstance(leaf, Choice):
        return leaf.words
    if isinstance(leaf, Numbers):
        return tuple(map(str, leaf.values))
    return ()


def _units(leaf: Leaf | None) -> tuple[str, ...]:
    kinds = {"setting": ("pressure", "torque"), "minutes": ("time",)}.get(_kind(leaf), (_kind(leaf),))
    if isinstance(leaf, Many) and isinstance(leaf.part, Dim):
        kinds = (leaf.part.kind,)
    if isinstance(leaf, Row):
        kinds = tuple(dict.fromkeys(part.kind for part in leaf.parts if isinstance(part, Dim)))
    if "capacity" in kinds:
        kinds = (*kinds, "mass")
    return tuple(unit for kind in kinds if kind in QUANTITIES for unit in QUANTITIES[kind].units)


def _declared(attribute: str, info: FieldInfo) -> Declared:
    model, is_list, leaf = _unwrapped(info.annotation)
    leaf = next((m for m in info.metadata if isinstance(m, Leaf)), leaf)
    extra: dict[str, Any] = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
    sample = extra.get("example")
    if sample is None:
        sample = leaf.sample if leaf is not None else ""
    return Declared(
        name=info.alias or attribute,
        attribute=attribute,
        words=info.description or "",
        kind=_kind(leaf),
        sample=sample,
        example=value_text(sample) if leaf is not None else "",
        units=_units(leaf),
        usual=extra.get("usual", ""),
        source=extra.get("source", ""),
        default_said=extra.get("default_said", ""),
        errs=extra.get("errs", ""),
        needed_by=tuple(extra.get("needed_by", ())),
        choices=_choices(leaf),
        library=leaf.table if isinstance(leaf, Words) else "",
        offers=leaf.offers if isinstance(leaf, Words) else "",
        required=info.is_required(),
        is_table=model is not None,
        is_list=is_list,
        model=model,
        leaf=leaf,
    )


@cache
def fields_of(model: type[Table]) -> dict[str, Declared]:
    """Fields of a table by their key in the file, in the order they are declared."""
    found = [_declared(name, info) for name, info in model.model_fields.items()]
    return {field.name: field for field in found}


def table_of(path: Path) -> type[Table] | None:
    """The table declared at a path such as ("joint", 0, "bolting"); None where a value stands or nothing is declared."""
    if not path:
        return None
    first = path[0]
    model: type[Table] | None = PlanInfo if first == "plan" else KINDS.get(str(first))
    for step in path[1:]:
        if isinstance(step, int):
            continue
        field = fields_of(model).get(step) if model is not None else None
        model = field.model if field is not None else None
    return model


def declared(path: Path) -> Declared | None:
    """The field at a path such as ("joint", 0, "bolting", "clamp_length"); list numbers may be left out."""
    steps = [step for step in path if isinstance(step, str)]
    if len(steps) < 2:
        return None
    model = table_of(tuple(steps[:-1]))
    return fields_of(model).get(steps[-1]) if model is not None else None


def every_field() -> Iterator[tuple[Path, Declared]]:
    """Every declared field with its path (without list numbers), tables before their fields."""
    yield from _under(("plan",), PlanInfo)
    for kind, model in KINDS.items():
        yield from _under((kind,), model)


def _under(path: Path, model: type[Table]) -> Iterator[tuple[Path, Declared]]:
    for name, field in fields_of(model).items():
        yield (*path, name), field
        if field.model is not None:
            yield from _under((*path, name), field.model)


def new_entry(path: Path, tree: Any = None) -> dict[str, Any]:
    """The least that may stand in a new table at ``path``: what must be there, with a stand-in for each value.

    For an item ("joint", 2) that is an id free in ``tree`` and a title; for ("joint", 0, "layout") its shape.
    """
    model = table_of(path)
    if model is None:
        return {}
    needed = [field for field in fields_of(model).values() if field.required and field.leaf]
    found = {field.name: copy.deepcopy(field.sample) for field in needed}
    if len(path) <= 2 and "id" in found:
        kind = str(path[0])
        found["id"] = free_id(kind, tree or {})
        found["title"] = f"New {kind}"
    elif "name" in found and path:
        beside = _list(get(tree or {}, path[:-1], None))
        names = {entry.get("name") for entry in beside if isinstance(entry, dict)}
        numbered = (f"{found['name']} {number}" for number in range(2, 10_000))
        found["name"] = next(name for name in (found["name"], *numbered) if name not in names)
    return found


def new_item(kind: str, ids: Iterable[str]) -> dict[str, Any]:
    """The least that may stand in a new item of a kind, with an id not among ``ids``."""
    return {**new_entry((kind, 0)), "id": _free(kind, set(ids))}


def free_id(like: str, tree: dict[str, Any]) -> str:
    """An id that no item of the plan has: ``like`` itself, else with the next number behind it."""
    return _free(like, ids_of(tree))


def ids_of(tree: dict[str, Any]) -> set[str]:
    """Every id in a plan as typed."""
    entries = [entry for kind in KINDS for entry in _list(tree.get(kind)) if isinstance(entry, dict)]
    return {entry["id"] for entry in entries if isinstance(entry.get("id"), str)}


def copy_of(item: dict[str, Any], tree: dict[str, Any]) -> dict[str, Any]:
    """A copy of an item under a free id, to be put behind it."""
    copied = copy.deepcopy(item)
    if isinstance(item.get("id"), str):
        copied["id"] = free_id(re.sub(r"-\d+$", "", item["id"]), tree)
    return copied


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _free(like: str, taken: set[str]) -> str:
    like = like[:60]
    return like if like not in taken else next(f"{like}-{n}" for n in range(2, 10_000) if f"{like}-{n}" not in taken)
