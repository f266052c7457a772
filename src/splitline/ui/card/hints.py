"""What is under the cursor, said from the declaration that also validates it."""

from __future__ import annotations

import re
from collections.abc import Hashable

from splitline.assess.keys import registry
from splitline.plan.edits import Path
from splitline.plan.fields import Declared, declared, table_of
from splitline.plan.problem import where
from splitline.ui.card.values import label_of
from splitline.ui.forms.typed import spoken_example
from splitline.ui.session import Session

_PURPOSES = {  # checks without a result of their own, and results whose title says too much here
    "fitting": "the fitting at the load",
    "gasket_crush": "crushing of the gasket",
    "gasket_operating": "gasket pressure in operation",
    "gasket_seating": "seating of the gasket",
    "gasket_stiffness": "stiffness of the gasket",
    "grip": "grip against slipping",
    "held_axially": "what holds it along the shaft",
    "interaction": "what pulling one bolt does to the others",
    "kit": "the kit list",
    "limits": "the limits it is judged by",
    "order": "the tightening order",
    "push_force": "the push force",
    "spreader_rated": "the rated load of the beam",
    "spreader_upper": "the upper slings",
    "tool_range": "the range of the tool",
    "trial": "the trial lift",
    "upend_tail": "load on the tail",
    "window": "time limits between steps",
    "zones": "pressure along the split line",
}
Said = list[tuple[str, str]]


def hint_of(session: Session, item: tuple[str, int], target: Hashable) -> Said:
    """Lines (text, style) about a target of a pane."""
    if not isinstance(target, tuple) or not target:
        return []
    if target[0] == "at":
        return _item(session, str(target[1]), int(target[2]))
    if target[0] in ("check", "result", "group"):
        return _outcome(session, item, target)
    if target[0] == "problem":
        return [("Enter goes to the field", "dim")]
    return _field(session, target)


def _item(session: Session, kind: str, index: int) -> Said:
    if kind == "plan":
        return [("The plan at a glance, and its heading: title, machine, revision, names, units of display.", "")]
    raw = session.raw(kind, index)
    said = f"{label_of(kind)} {session.ident(kind, index)}"
    for key in ("hold", "witness"):
        if raw.get(key):
            said += f" · {key} {raw[key]}"
    extra = str(raw.get("caution") or raw.get("text") or raw.get("notes") or "")
    return [(said, "dim"), (extra, "caution" if raw.get("caution") else "")]


def _outcome(session: Session, item: tuple[str, int], target: tuple[object, ...]) -> Said:
    result = session.result(*item)
    if result is None:
        return []
    key = str(target[2] if target[0] == "group" else target[1])
    if target[0] == "check":
        check = next((c for c in result.checks if c.key == key), None)
        if check is None:
            return []
        return [(f"{check.title}: {check.said(session.system)}", ""), (f"Basis: {check.basis}", "dim")]
    found = registry(item[0]).get(key)
    if found is None:
        return []
    formula = f"{found.symbol} = {found.formula}" if found.formula and found.symbol else found.formula or found.title
    return [(f"{found.title}. {formula}", ""), (f"{found.source}    w shows the numbers put in", "dim")]


def _field(session: Session, path: Path) -> Said:
    problem = session.draft.problem_at(path)
    field = declared(path)
    if field is None:
        model = table_of(path)
        if problem is not None:
            return [(problem.message, "problem")]
        return [(where(session.draft.tree, path), "dim")] if model is not None else []
    first = (problem.message, "problem") if problem is not None else (field.words, "")
    if problem is None and session.draft.is_example(path):
        first = (f"{field.words}. An example: put your own; m takes it as right", "")
    return [first, (_details(field, str(path[0])), "dim")]


def _details(field: Declared, kind: str) -> str:
    parts = []
    if field.choices:
        told = all(choice in field.words for choice in field.choices)
        parts.append("Enter lists them" if told else "one of " + ", ".join(field.choices))
    elif field.library:
        parts.append("Enter lists the library")
    elif field.units or (field.example and not field.is_table):
        parts.append(f"as in {spoken_example(field)}")
    if field.usual:
        parts.append(f"usual {field.usual}")
    if field.default_said:
        parts.append(f"left out: {field.default_said}")
    if field.source:
        parts.append(f"source: {field.source}")
    if field.needed_by:
        parts.append("needed for " + ", ".join(_purpose(kind, key) for key in field.needed_by))
    if field.units and not field.choices and not field.library:  # last: a line cut short loses them first
        parts.append(f"units {', '.join(_plain_units(field))}")
    return " · ".join(parts)


def _purpose(kind: str, key: str) -> str:
    """What a field is asked for, in a planner's words: the title of the result, without what qualifies it."""
    found = _PURPOSES.get(key)
    if found is None:
        result = registry(kind).get(key)
        title = re.split(r"[:,(]", result.title)[0].strip() if result is not None else key.replace("_", " ")
        found = title[:1].lower() + title[1:]
    return found


def _plain_units(field: Declared) -> list[str]:
    """A few units a planner writes, each once; other spellings are taken all the same."""
    spelled: dict[str, str] = {}
    for unit in field.units:
        spelled.setdefault(unit.translate(_ONE_SPELLING), unit)
    return [unit for unit in list(spelled.values())[:8] if unit not in ("um", "µm", "μm")]


_ONE_SPELLING = {ord("²"): "2", ord("³"): "3", **dict.fromkeys(map(ord, "^*·"))}
