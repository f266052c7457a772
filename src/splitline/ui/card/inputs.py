"""What was given for an item: one line a field, tables under thin rules, defaults dimmed with their basis."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from splitline.assess.result import Default, ItemResult
from splitline.plan.declare import Table
from splitline.plan.edits import Path
from splitline.plan.fields import Declared, fields_of, table_of
from splitline.plan.problem import Problem
from splitline.ui import marks
from splitline.ui.card.places import fields_in, path_of
from splitline.ui.card.values import label_of, value_segs
from splitline.ui.draw.rows import Row, clean, fit, rule, width, wrap
from splitline.ui.forms.relevant import relevant
from splitline.ui.session import Session
from splitline.ui.widgets.lines import Line

NUMBERS = 9  # cells the numbers of a card are set right in


@dataclass(frozen=True)
class _Card:
    """What the lines are drawn from."""

    session: Session
    item: dict[str, Any]  # as typed
    cells: int
    every: bool
    defaults: dict[Path, Default]
    needed: dict[Path, str]  # absent fields a check waits for, with its verdict
    problems: dict[Path, list[Problem]]

    @property
    def label(self) -> int:
        return max(min(self.cells * 2 // 5, 24), 12)


def input_lines(session: Session, kind: str, index: int, cells: int, every: bool) -> list[Line]:
    """Lines of one item's inputs; targets are paths into the plan."""
    root: Path = ("plan",) if kind == "plan" else (kind, index)
    raw = session.raw(kind, index)
    model = table_of(root)
    if model is None:
        return []
    result = session.result(kind, index)
    problems: dict[Path, list[Problem]] = {}
    for problem in session.draft.problems:
        if problem.path[: len(root)] == root:
            problems.setdefault(problem.path, []).append(problem)
    card = _Card(session, raw, cells, every, _defaults(root, raw, result), _needed(root, raw, result), problems)
    what = "plan heading" if kind == "plan" else label_of(kind)
    out = [Line(rule(cells, f"given, {what}"))]
    out += _problem_lines(card, root)
    out += _table(card, root, raw, model, 0)
    return out


def _defaults(root: Path, raw: dict[str, Any], result: ItemResult | None) -> dict[Path, Default]:
    return {} if result is None else {path_of(raw, root, d.field): d for d in result.defaults}


def needed_of(session: Session, kind: str, index: int) -> dict[Path, str]:
    """Fields nobody gave that a check of the item waits for, with its verdict."""
    root: Path = ("plan",) if kind == "plan" else (kind, index)
    return _needed(root, session.raw(kind, index), session.result(kind, index))


def _needed(root: Path, raw: dict[str, Any], result: ItemResult | None) -> dict[Path, str]:
    found: dict[Path, str] = {}
    for check in result.checks if result is not None else ():
        if check.verdict in ("missing", "on-site"):
            for need in check.needs:
                for name in fields_in(need):
                    found.setdefault(path_of(raw, root, name), check.verdict)
    return found


def _table(card: _Card, path: Path, raw: dict[str, Any], model: type[Table], depth: int) -> Iterator[Line]:
    declared = fields_of(model)
    simple = sorted((f for f in declared.values() if not f.is_table), key=lambda f: not f.required)
    tables = [f for f in declared.values() if f.is_table]
    for field in simple:
        yield from _field(card, (*path, field.name), field, raw, depth)
    for key in raw:
        if key not in declared:  # an unknown key, with its problem
            yield from _unknown(card, (*path, key), key, raw[key], depth)
    for field in tables:
        yield from _tables(card, (*path, field.name), field, raw.get(field.name), depth)


def _tables(card: _Card, path: Path, field: Declared, there: Any, depth: int) -> Iterator[Line]:
    assert field.model is not None
    if field.is_list:
        entries = there if isinstance(there, list) else []
        for number, entry in enumerate(entries):
            place = (*path, number)
            name = entry.get("name") or entry.get("id") if isinstance(entry, dict) else None
            title = f"{label_of(field.name)} {number + 1}" + (f" · {clean(str(name))}" if name else "")
            yield from _section(card, place, title, entry, field.model, depth)
        if there is not None and not isinstance(there, list):
            yield from _unknown(card, path, field.name, there, depth)
        elif not entries and (card.every or path in card.needed):
            yield _absent_table(card, path, field, depth)
    elif isinstance(there, dict):
        yield from _section(card, path, label_of(field.name), there, field.model, depth)
    elif there is not None:
        yield from _unknown(card, path, field.name, there, depth)
    elif path in card.needed or card.every or any(need[: len(path)] == path for need in card.needed):
        yield _absent_table(card, path, field, depth)


def _section(card: _Card, path: Path, title: str, raw: Any, model: type[Table], depth: int) -> Iterator[Line]:
    indent = "  " * depth
    yield Line(((indent, ""), *rule(max(card.cells - len(indent), 4), title)), path)
    yield from _problem_lines(card, path)
    if isinstance(raw, dict):
        yield from _table(card, path, raw, model, depth + 1)


def _absent_table(card: _Card, path: Path, field: Declared, depth: int) -> Line:
    verdict = next((v for need, v in card.needed.items() if need[: len(path)] == path), "")
    mark = marks.shape(verdict) if verdict else "+"
    text = f"{'  ' * depth}{mark} {label_of(field.name)}"
    return Line(((fit(text, card.label) + " ", verdict or "dim"), (clean(field.words), "dim")), path)


def _field(card: _Card, path: Path, field: Declared, raw: dict[str, Any], depth: int) -> Iterator[Line]:
    there = field.name in raw
    default = card.defaults.get(path)
    needed = card.needed.get(path)
    wrong = card.problems.get(path)
    if not (there or default or needed or wrong or card.every or field.required):
        return
    if not (there or needed or wrong) and not relevant(card.item, path):
        return  # says nothing under the choices made; a still offers it
    head = _head(card, field.name, depth, "problem" if wrong else needed or "")
    if there:
        value = value_segs(field, raw[field.name], card.session.system, card.session.shown_us is not None, NUMBERS)
        if card.session.draft.is_example(path):
            value = _with_word(value, card.cells - width(head[0][0]))
        yield Line(_marked(card, head, value, wrong), path)
    elif default is not None:
        said = value_segs(field, default.said, card.session.system, False, NUMBERS)
        slanted = tuple((text, "default") for text, _ in said)
        yield Line((*head, *slanted, (f"  {clean(default.basis)}", "dim")), path)
    elif needed:
        what = "entered on site" if needed == "on-site" else "not given"
        yield Line((*head, (f"{marks.shape(needed)} {what}", needed)), path)
    else:
        said_default = f"{clean(field.default_said)}" if field.default_said else "·"
        yield Line((*head, (said_default, "default" if field.default_said else "rule")), path)
    yield from _problem_lines(card, path)


def _with_word(value: Row, cells: int) -> Row:
    """A starting plan's example says so, however long it is."""
    word = "  example"
    *before, (text, style) = value
    room = max(cells - len(word) - sum(width(part) for part, _ in before), 4)
    return (*before, (fit(text, room) if width(text) > room else text, style), (word, "near"))


def _unknown(card: _Card, path: Path, key: str, value: Any, depth: int) -> Iterator[Line]:
    head = _head(card, key, depth, "problem")
    yield Line((*head, *value_segs(None, value, "SI", False, NUMBERS)), path)
    yield from _problem_lines(card, path)


def _head(card: _Card, name: str, depth: int, state: str) -> tuple[tuple[str, str], ...]:
    mark = f"{marks.PROBLEM} " if state == "problem" else ""
    return ((fit(f"{'  ' * depth}{mark}{label_of(name)}", card.label) + " ", state or "label"),)


def _marked(card: _Card, head: Row, value: Row, wrong: list[Problem] | None) -> Row:
    return (*head, *((text, "problem" if wrong else style) for text, style in value))


def _problem_lines(card: _Card, path: Path) -> list[Line]:
    found = card.problems.get(path, ())
    indent = "    "
    return [
        Line(((f"{indent}{part}", "problem"),))
        for problem in found
        for part in wrap(problem.message, max(card.cells - width(indent), 10), 6)
    ]
