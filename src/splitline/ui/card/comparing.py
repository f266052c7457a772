"""Two variants side by side: what was changed, and what came of it."""

from __future__ import annotations

from typing import Any

from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult
from splitline.plan.changes import changes
from splitline.plan.edits import ABSENT
from splitline.ui import marks
from splitline.ui.card.checks import usage_bar
from splitline.ui.card.values import list_text, said_value
from splitline.ui.draw.rows import clean, fit, right, rule, width
from splitline.ui.forms.typed import literal
from splitline.ui.session import Outcome, Session
from splitline.ui.widgets.lines import Line


def _said(value: Any) -> str:
    if value is ABSENT:
        return "not there"
    if isinstance(value, dict):
        return str(value.get("id") or value.get("name") or f"{len(value)} fields")
    return list_text(value) if isinstance(value, list) else value if isinstance(value, str) else literal(value)


def compare_lines(session: Session, cells: int) -> list[Line]:
    """Lines of the comparison; targets are paths and items."""
    pinned = session.pinned
    if pinned is None:
        return []
    label = max(min(cells * 2 // 5, 56), 24)
    column = max((cells - label - 3) // 2, 10)
    head = (fit("", label), ""), (fit("pinned", column), "head"), ("  ", ""), (fit("now", column), "head")
    out = [Line(head), Line(rule(cells, "changed"))]
    found = changes(pinned.draft.tree, session.draft.tree)
    for each in found[:200]:
        target = ("path", each.path) if each.new is not ABSENT else None
        out.append(Line(((fit(clean(each.where), cells), "label"),), target))
        out.append(
            Line(
                (
                    (" " * label, ""),
                    (fit(clean(_said(each.old)), column), ""),
                    ("  ", ""),
                    (fit(clean(_said(each.new)), column), "strong"),
                )
            )
        )
    if not found:
        out.append(Line((("nothing: change a value and come back", "dim"),)))
    for key in dict.fromkeys((*pinned.outcome.results, *session.outcome.results)):
        lines = _item(pinned.outcome.find(*key), session.outcome.find(*key), label, column, session)
        if lines:
            out += [Line(rule(cells, clean(_title(key, pinned.outcome, session.outcome)))), *lines]
    return out


def _title(key: tuple[str, str], before: Outcome, after: Outcome) -> str:
    result = after.find(*key) or before.find(*key)
    return result.title if result is not None else key[1]


def _item(before: ItemResult | None, after: ItemResult | None, label: int, column: int, session: Session) -> list[Line]:
    """Checks and results of one item that differ as far as the screen says them."""
    out: list[Line] = []
    if before is None or after is None:
        return [Line((("only in one of the two", "dim"),))] if before is not after else []
    target = ("item", after.kind, after.id)
    was, now = _told_apart(before), _told_apart(after)
    for about in dict.fromkeys((*was, *now)):
        a, b = was.get(about), now.get(about)
        said = b or a
        if said is not None and _differ(a, b):
            head = (fit(clean(said.title), label - 1) + " ", "label")
            out.append(Line((head, *_check(a, column), ("  ", ""), *_check(b, column)), target))
    keys = registry(after.kind)
    for key in dict.fromkeys((*before.results, *after.results)):
        values = [result.results.get(key) for result in (before, after)]
        if key not in keys or any(isinstance(v, list) for v in values):
            continue
        one, other = (_value(v, keys[key].kind, session) for v in values)
        if one != other:
            head = (fit(clean(keys[key].title), label - 1) + " ", "label")
            out.append(Line((head, (fit(one, column), ""), ("  ", ""), (fit(other, column), "strong")), target))
    return out


def _told_apart(result: ItemResult) -> dict[tuple[object, ...], Check]:
    """Checks by what they are of; several of one and the same by their order."""
    out: dict[tuple[object, ...], Check] = {}
    for check in result.checks:
        number = 0
        while (*check.about, number) in out:
            number += 1
        out[*check.about, number] = check
    return out


def _differ(a: Check | None, b: Check | None) -> bool:
    """Whether two checks differ as far as the screen says them."""
    if a is None or b is None:
        return a is not b
    return (a.verdict, f"{a.usage or 0:.2f}") != (b.verdict, f"{b.usage or 0:.2f}")


def _value(value: Any, kind: str, session: Session) -> str:
    return said_value(float(value), kind, session.system) if isinstance(value, int | float) else "-"


def _check(check: Check | None, column: int) -> tuple[tuple[str, str], ...]:
    if check is None:
        return ((fit("-", column), "dim"),)
    style = marks.style(check.verdict)
    word = f"{marks.shape(check.verdict)} {marks.word(check.verdict)}"
    if check.usage is None:
        return ((fit(word, column), style),)
    usage = right(f"{check.usage:.2f}", 6)
    bar = max(column - width(usage) - 2, 5)
    return ((f"{marks.shape(check.verdict)} ", style), *usage_bar(check.usage, bar, style), (usage, style))
