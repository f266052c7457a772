"""Why this number: formula, the numbers put in, the result, the source; for a check what is against what, and its basis."""

from __future__ import annotations

from collections.abc import Hashable

from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult, Working
from splitline.assess.speak import in_words
from splitline.ui import marks
from splitline.ui.card.places import fields_in
from splitline.ui.card.values import label_of, said_value
from splitline.ui.draw.rows import clean, fit, rule, width, wrap
from splitline.ui.widgets.lines import Line
from splitline.units import KINDS, System


def working_lines(result: ItemResult, cells: int, system: System) -> list[Line]:
    """Lines of the whole working of an item; targets are ("result", key), ("check", key, n) and ("need", field)."""
    out: list[Line] = []
    for place, check in enumerate(result.checks):
        out += _check(check, place, cells, system)
    if result.checks:
        out.insert(0, Line(rule(cells, "checks: what is against what, and why")))
    if result.working:
        out.append(Line(rule(cells, "results: formula, numbers put in, source")))
        out += [
            line for working in result.working for line in _working(result.kind, working, ("result",), cells, system)
        ]
    for number, group in enumerate((*result.cases, *result.sizes)):
        if group.working:
            name = group.name or "bolts " + ", ".join(map(str, group.bolts))
            out.append(Line(rule(cells, clean(name))))
            for working in group.working:
                out += _working(result.kind, working, ("group", number), cells, system)
    if result.notes:
        out.append(Line(rule(cells, "notes")))
        out += [Line(((part, "dim"),)) for note in result.notes for part in wrap(note, cells, 8)]
    return out or [Line((("No working is kept for this item.", "dim"),))]


def _working(kind: str, working: Working, head: tuple[Hashable, ...], cells: int, system: System) -> list[Line]:
    declared = registry(kind).get(working.key)
    title = declared.title if declared is not None else label_of(working.key)
    symbol = declared.symbol if declared is not None else ""
    value = _shown(working.value, declared.kind if declared is not None else "number", system)
    out = [
        Line(
            ((fit(clean(title), max(cells - width(value) - 1, 4)), "strong"), (" ", ""), (value, "number")),
            (*head, working.key),
        )
    ]
    if working.formula:
        formula = f"{symbol} = {working.formula}" if symbol and "=" not in working.formula else working.formula
        out += [Line((("    ", ""), (part, ""))) for part in wrap(formula, cells - 4, 6)]
    into = "   ".join(f"{p.symbol} = {_shown(p.value, p.kind, system)}" for p in working.puts)
    out += [Line((("    ", ""), (part, "accent"))) for part in wrap(into, cells - 4, 8) if into]
    out += [Line((("    ", ""), (part, "dim"))) for part in wrap(working.source, cells - 4, 4) if working.source]
    return out


def _shown(value: float | str, kind: str, system: System) -> str:
    if isinstance(value, str):
        return clean(value)
    known = kind in KINDS or kind in ("number", "share", "count")
    return said_value(value, kind, system) if known else f"{value:g} {kind}"


def _check(check: Check, place: int, cells: int, system: System) -> list[Line]:
    style = marks.style(check.verdict)
    usage = f" {check.usage:.2f}" if check.usage is not None else ""
    tail = f"{marks.word(check.verdict)}{usage}"
    out = [
        Line(
            (
                (f"{marks.shape(check.verdict)} ", style),
                (fit(clean(check.title), max(cells - 3 - width(tail), 4)), "strong"),
                (f" {tail}", style),
            ),
            ("check", check.key, place),
        )
    ]
    out += [Line((("    ", ""), (part, ""))) for part in wrap(check.said(system), cells - 4, 6)]
    if check.note and check.demand is not None:
        out += [Line((("    ", ""), (part, ""))) for part in wrap(check.note, cells - 4, 6)]
    out += [Line((("    ", ""), (part, "dim"))) for part in wrap(check.basis, cells - 4, 6) if check.basis]
    for need in (name for each in check.needs for name in fields_in(each)):
        text = f"{marks.shape(check.verdict)} {in_words(need)}   Enter goes there"
        out.append(Line((("    ", ""), (clean(text), style)), ("need", need)))
    return out
