"""One item of a plan, checked alone: frozen plan data, or every mistake in it as a plain sentence."""

from __future__ import annotations

import copy
import difflib
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from splitline.plan.canonical import normal_form
from splitline.plan.cross import strange
from splitline.plan.declare import Table
from splitline.plan.edits import Path, get
from splitline.plan.fields import Declared, fields_of
from splitline.plan.model import KINDS, PlanInfo
from splitline.plan.names import Names

Said = tuple[Path, str]  # path inside the item, sentence
MOST_REMEMBERED = 4096


@dataclass(frozen=True, slots=True)
class Checked:
    """What came of an item."""

    item: Table | None
    said: tuple[Said, ...] = ()


_remembered: OrderedDict[tuple[str, str, str], Checked] = OrderedDict()


def check_item(kind: str, raw: Any, names: Names) -> Checked:
    """Check one item ("joint", "lift", ... or "plan" for the heading); remembered by what is written in it."""
    key = (kind, names.version, normal_form(raw))
    found = _remembered.get(key)
    if found is None:
        found = _check(PlanInfo if kind == "plan" else KINDS[kind], raw, names, kind)
        _remembered[key] = found
        if len(_remembered) > MOST_REMEMBERED:
            _remembered.popitem(last=False)
    return found


def _check(model: type[Table], raw: Any, names: Names, kind: str) -> Checked:
    if not isinstance(raw, dict):
        wanted = "[plan]" if kind == "plan" else f"[[{kind}]]"
        return Checked(None, (((), f"a table is wanted here: write {wanted}"),))
    try:
        item = model.model_validate(raw, context={"names": names}, by_alias=True, by_name=False)
    except ValidationError as error:
        said = _sentences(error, model, kind)
        return Checked(None, _in_order(said + _hidden_behind(error, model, raw, names, kind), raw))
    odd = tuple(strange(item))
    return Checked(None if odd else item, odd)


def _in_order(said: list[Said], raw: dict[str, Any]) -> tuple[Said, ...]:
    """In the order of the file as far as the tree tells it, each once."""
    places = {key: number for number, key in enumerate(raw)}
    return tuple(sorted(dict.fromkeys(said), key=lambda s: places.get(str(s[0][0]), -1) if s[0] else len(places)))


def _hidden_behind(
    error: ValidationError, model: type[Table], raw: dict[str, Any], names: Names, kind: str
) -> list[Said]:
    """Mistakes between fields that the first pass did not reach because a field beside them was wrong already."""
    rest = copy.deepcopy(raw)
    touched: set[Path] = set()
    for details in error.errors(include_url=False):
        path = _taken_out(rest, details, model)
        if path and not (details["type"] in ("plan", "missing") and _model_at(model, path)):
            touched.add(path[:-1])  # a table taken out whole hides nothing of the one around it
        elif path is None and details["type"] != "plan":
            return []
    try:
        item = model.model_validate(rest, context={"names": names}, by_alias=True, by_name=False)
    except ValidationError as again:
        said = [(p, m) for p, m in _sentences(again, model, kind) if p not in touched]
        return [] if any(d["type"] == "missing" for d in again.errors(include_url=False)) else said
    return [(path, said) for path, said in strange(item) if path[:-1] not in touched]


def _taken_out(rest: dict[str, Any], details: ErrorDetails, model: type[Table]) -> Path | None:
    """Take the faulty value out of ``rest``: itself, or the nearest table above that an item can do without."""
    path: Path = tuple(details["loc"])
    if len(path) == 1 and (field := fields_of(model).get(str(path[0]))) is not None and field.required:
        rest[field.name] = field.choices[0] if field.choices else "stand-in"
        return path[:0]
    if details["type"] == "missing":
        path = path[:-1]
    while path:
        tables = path[:-1]
        field = fields_of(_model_at(model, tables) or model).get(str(path[-1]))
        if isinstance(path[-1], str) and (field is None or not field.required):
            node: Any = rest
            for step in tables:
                node = get(node, (step,), {})
            node.pop(path[-1], None)
            return path
        path = tables
    return None


def _model_at(model: type[Table], path: Path) -> type[Table] | None:
    found: type[Table] | None = model
    for step in path:
        if isinstance(step, str):
            field = fields_of(found).get(step) if found is not None else None
            found = field.model if field is not None else None
    return found


def _sentences(error: ValidationError, model: type[Table], kind: str) -> list[Said]:
    return [_sentence(details, model, kind) for details in error.errors(include_url=False)]


def _sentence(details: ErrorDetails, model: type[Table], kind: str) -> Said:
    path: Path = tuple(details["loc"])
    if details["type"] == "plan":
        return path, details["msg"]
    above = _model_at(model, path[:-1]) or model
    name = str(path[-1]) if path else ""
    if details["type"] == "extra_forbidden":
        return path, _unknown(name, above, model, kind)
    field = fields_of(above).get(name)
    if details["type"] == "missing" and field is not None:
        return path, _missing(field)
    keys = [kind, *(step for step in path if isinstance(step, str))]
    if field is not None and field.is_list and not isinstance(path[-1], int):
        return path, f"a list of tables is wanted here: write [[{'.'.join(keys)}]]"
    if isinstance(path[-1] if path else "", int):
        return path, f"a table is wanted here: write [[{'.'.join(keys)}]]"
    return path, f"a table is wanted here, not a value: write [{'.'.join(keys)}]"


def _missing(field: Declared) -> str:
    choices = f" ({', '.join(field.choices)})" if field.choices else ""
    return f"missing: add it, as in {field.name} = {field.example}{choices}"


def _unknown(name: str, above: type[Table], item: type[Table], kind: str) -> str:
    known = list(fields_of(above))
    if near := difflib.get_close_matches(name, known, 1, 0.6):
        return f'unknown key; did you mean "{near[0]}"?'
    if homes := _homes(name, item, kind):
        return f"unknown key here; it belongs in {' or '.join(homes[:3])}"
    shown = ", ".join(known[:12]) + (", ..." if len(known) > 12 else "")
    return f"unknown key; known here: {shown}"


def _homes(name: str, model: type[Table], above: str) -> list[str]:
    """Headings of the tables of the same item in which the key is known."""
    found: list[str] = []
    for field in fields_of(model).values():
        if field.model is not None:
            path = f"{above}.{field.name}"
            if name in fields_of(field.model):
                found.append(f"[[{path}]]" if field.is_list else f"[{path}]")
            found += _homes(name, field.model, path)
    return found
