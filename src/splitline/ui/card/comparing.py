"""Two variants side by side: what was changed, and what came of it."""

from __future__ import annotations

from typing import Any

from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult
from splitline.plan.edits import ABSENT, Path, same
from splitline.plan.problem import where
from splitline.ui import marks
from splitline.ui.card.checks import usage_bar
from splitline.ui.card.values import list_text
from splitline.ui.draw.rows import clean, fit, right, rule, width
from splitline.ui.forms.typed import literal
from splitline.ui.session import Outcome, Session
from splitline.ui.widgets.lines import Line
from splitline.units import show


def differences(before: Any, after: Any, path: Path = ()) -> list[tuple[Path, Any, Any]]:
    """Places where two trees differ, with what stands there in each."""
    if same(before, after):
        return []
    if isinstance(before, dict) and isinstance(after, dict):
        keys = [*before, *(k for k in after if k not in before)]
        return [d for k in keys for d in differences(before.get(k, ABSENT), after.get(k, ABSENT), (*path, k))]
    tables = all(isinstance(v, list) and all(isinstance(e, dict) for e in v) for v in (before, after))
    if tables:
        return [
            d
            for n in range(max(len(before), len(after)))
            for d in differences(
                before[n] if n < len(before) else ABSENT, after[n] if n < len(after) else ABSENT, (*path, n)
            )
        ]
    return [(path, before, after)]


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
    column = max((cells - 34) // 2, 12)
    head = (fit("", 30), ""), (fit("pinned", column), "head"), ("  ", ""), (fit("now", column), "head")
    out = [Line(head), Line(rule(cells, "changed"))]
    changes = differences(pinned.draft.tree, session.draft.tree)
    for path, before, after in changes[:200]:
        name = clean(where(session.draft.tree, path))
        out.append(Line(((fit(name, cells), "label"),), ("path", path)))
        out.append(
            Line(
                (
                    (" " * 30, ""),
                    (fit(clean(_said(before)), column), ""),
                    ("  ", ""),
                    (fit(clean(_said(after)), column), "strong"),
                )
            )
        )
    if not changes:
        out.append(Line((("nothing: change a value and come back", "dim"),)))
    for key in dict.fromkeys((*pinned.outcome.results, *session.outcome.results)):
        lines = _item(pinned.outcome.find(*key), session.outcome.find(*key), column, session)
        if lines:
            out += [Line(rule(cells, clean(_title(key, pinned.outcome, session.outcome)))), *lines]
    return out


def _title(key: tuple[str, str], before: Outcome, after: Outcome) -> str:
    result = after.find(*key) or before.find(*key)
    return result.title if result is not None else key[1]


def _item(before: ItemResult | None, after: ItemResult | None, column: int, session: Session) -> list[Line]:
    out: list[Line] = []
    if before is None or after is None:
        return [Line((("only in one of the two", "dim"),))] if before is not after else []
    for name in dict.fromkeys((*(c.title for c in before.checks), *(c.title for c in after.checks))):
        a = next((c for c in before.checks if c.title == name), None)
        b = next((c for c in after.checks if c.title == name), None)
        if a != b:
            row = ((fit(clean(name), 29) + " ", "label"), *_check(a, column), ("  ", ""), *_check(b, column))
            out.append(Line(row, ("item", after.kind, after.id)))
    keys = registry(after.kind)
    for key in dict.fromkeys((*before.results, *after.results)):
        a_value, b_value = before.results.get(key), after.results.get(key)
        if key in keys and a_value != b_value and not isinstance(a_value or b_value, list):
            title = keys[key].title
            row = (
                (fit(clean(title), 29) + " ", "label"),
                (fit(_value(a_value, keys[key].kind, session), column), ""),
                ("  ", ""),
                (fit(_value(b_value, keys[key].kind, session), column), "strong"),
            )
            out.append(Line(row, ("item", after.kind, after.id)))
    return out


def _value(value: Any, kind: str, session: Session) -> str:
    return show(float(value), kind, session.system) if isinstance(value, int | float) else "-"


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
