"""The left pane: the plan's heading, the order of work, then every item by kind."""

from __future__ import annotations

from typing import Any

from splitline.plan.numbers import number_of
from splitline.ui import marks
from splitline.ui.draw.rows import Row, clean, fit, right, rule, width
from splitline.ui.session import Session
from splitline.ui.widgets.lines import Line

HEADINGS = {
    "joint": "joints",
    "lift": "lifts",
    "fit": "fits",
    "insertion": "insertions",
    "clearance": "clearances",
    "window": "time limits",
    "item": "parts and consumables",
}
POINTS_AT = ("joint", "lift", "fit", "insertion", "clearance")


def content_lines(session: Session, cells: int) -> list[Line]:
    """Lines of the left pane; targets are ("at", kind, index)."""
    standing = session.outcome.standing
    out = [Line(_plain("", "Overview", cells, _plan_mark(session)), ("at", "plan", 0))]
    steps = _entries(session, "step")
    if steps:
        out.append(Line(rule(cells, f"order of work, {standing.words}" if standing.begun else "order of work")))
    for number, step in enumerate(steps):
        out.append(Line(_step(session, step, number, cells, standing.done, standing.now), ("at", "step", number)))
    for kind, heading in HEADINGS.items():
        entries = _entries(session, kind)
        if not entries:
            continue
        out.append(Line(rule(cells, heading)))
        for number, entry in enumerate(entries):
            mark, style = _state(session, kind, number)
            title = (
                str(entry.get("title") or entry.get("id") or f"{kind} {number + 1}")
                if isinstance(entry, dict)
                else kind
            )
            name = number_of(kind, number)
            row = ((f"{mark} ", style), (f"{name} ", "dim"), (fit(clean(title), max(cells - 3 - width(name), 1)), ""))
            out.append(Line(row, ("at", kind, number)))
    return out


def _entries(session: Session, kind: str) -> list[Any]:
    found = session.draft.tree.get(kind)
    return found if isinstance(found, list) else []


def _plain(mark: str, text: str, cells: int, tail: tuple[str, str]) -> Row:
    return ((fit(f"{mark}{text}", cells - width(tail[0])), "strong"), tail)


def _plan_mark(session: Session) -> tuple[str, str]:
    here = [p for p in session.draft.problems if p.path[:1] not in [(k,) for k in HEADINGS] + [("step",)]]
    return (f"{marks.PROBLEM} {len(here)} ", "problem") if here else ("", "")


def _state(session: Session, kind: str, index: int) -> tuple[str, str]:
    if session.draft.item_problems(kind, index):
        return marks.PROBLEM, "problem"
    result = session.outcome.find(kind, session.ident(kind, index))
    if result is None:
        return marks.OPEN, "dim"
    return marks.shape(result.verdict), marks.style(result.verdict)


def _step(session: Session, step: Any, number: int, cells: int, done: frozenset[str], now: str) -> Row:
    if not isinstance(step, dict):
        return ((fit(f"{marks.PROBLEM} {number + 1}", cells), "problem"),)
    ident = str(step.get("id"))
    mark = marks.DONE if ident in done else marks.NOW if ident == now else marks.OPEN
    style = "done" if mark == marks.DONE else "next" if mark == marks.NOW else "dim"
    text = str(step.get("title") or step.get("text") or ident or "")
    state, state_style = _pointed(session, step, number)
    flags = (marks.HOLD if step.get("hold") else marks.WITNESS if step.get("witness") else " ") + state
    return (
        (f"{mark}{right(str(number + 1), 3)} ", style),
        (fit(clean(text), max(cells - 5 - width(flags) - 1, 1)), "dim" if mark == marks.DONE else ""),
        (f" {flags[:1]}", "near"),
        (flags[1:], state_style),
    )


def _pointed(session: Session, step: dict[str, Any], number: int) -> tuple[str, str]:
    """Mark of the step itself if it has a mistake, else of the item it points at."""
    if session.draft.item_problems("step", number):
        return marks.PROBLEM, "problem"
    for kind in POINTS_AT:
        ident = step.get(kind)
        if isinstance(ident, str) and (index := session.index_of(kind, ident)) is not None:
            return _state(session, kind, index)
    return " ", ""
