"""The plan at a glance: what for, what is not in order, and each joint, lift and fit by the figures that decide."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import degrees
from typing import Any

from splitline.assess.lift_told import greatest_leg
from splitline.assess.result import Check, ItemResult
from splitline.plan.model import KINDS
from splitline.plan.numbers import bolts_by_size
from splitline.ui import marks
from splitline.ui.card.checks import worst_first
from splitline.ui.card.values import said_value
from splitline.ui.draw.rows import Row, clean, fit, right, row_width, rule, width, wrap
from splitline.ui.session import Session
from splitline.ui.widgets.lines import Line
from splitline.units import System

_MOST = 8  # checks named; the list of findings has them all
_NAME = 16  # cells a name keeps before a column gives way
_VERDICT = 9  # cells of the last column
_EMPTY = (
    "Nothing in this plan yet.",
    "a adds a joint, a lift, a fit, a step of the order of work.",
    "e shows every field of what stands under the cursor; ? explains it.",
)
Cells = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One figure of a kind of item."""

    title: str
    of: Callable[[Any, ItemResult, System], str]


def overview_lines(session: Session, cells: int) -> list[Line]:
    """Lines under the plan's title; targets are ("at", kind, index)."""
    out = _heading(session, cells)
    if not any(session.draft.tree.get(kind) for kind in KINDS):
        out += [Line(((part, ""),)) for text in _EMPTY for part in wrap(text, cells, 4)]
    elif session.outcome.results:
        out += _standing(session, cells) + _findings(session, cells)
        for kind, title, columns in _TABLES:
            out += _table(session, kind, title, columns, cells)
        out += _timed(session, cells)
    return out


def _heading(session: Session, cells: int) -> list[Line]:
    raw = session.raw("plan", 0)
    said = " · ".join(str(raw[key]) for key in ("machine", "site") if raw.get(key))
    out = [Line(((fit(clean(said), cells), "dim"),))] if said else []
    if left := session.draft.examples:
        text = f"! {left} example values of the starting plan stand in it, each marked example: replace them"
        out += [Line(((part, "near"),)) for part in wrap(text, cells, 3)]
    return out


def _standing(session: Session, cells: int) -> list[Line]:
    """How many checks stand where, how long the work is, how far it is."""
    counts = session.outcome.counts()
    rows: list[list[tuple[str, str]]] = [[]]
    for verdict in marks.VERDICTS:
        if not counts[verdict]:
            continue
        said = (f"{marks.shape(verdict)} {counts[verdict]} {marks.word(verdict)}  ", marks.style(verdict))
        if rows[-1] and row_width((*rows[-1], said)) > cells:
            rows.append([])
        rows[-1].append(said)
    out = [Line(tuple(row)) for row in rows]
    steps = session.draft.plan.steps
    if steps:
        holds = sum(1 for step in steps if step.hold)
        witnessed = sum(1 for step in steps if step.witness)
        counted = ((len(steps), "step"), (holds, "hold point"), (witnessed, "witness point"))
        work = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in counted]
        minutes = [step.minutes for step in steps if step.minutes]
        if minutes:
            work.append(f"{sum(minutes) / 60:.3g} h planned")
        work.append(session.outcome.standing.words)
        out += [Line(((part, "dim"),)) for part in wrap(" · ".join(work), cells, 3)]
    return out


def _findings(session: Session, cells: int) -> list[Line]:
    """What fails, is missing or near its limit: one line each, the worst first."""
    found: list[tuple[Check, ItemResult]] = [
        (check, result)
        for result in session.outcome.results.values()
        for check in result.checks
        if check.verdict in ("fails", "missing", "near")
    ]
    if not found:
        return []
    order = {id(check): at for at, check in enumerate(worst_first(check for check, _ in found))}
    found.sort(key=lambda entry: order[id(entry[0])])
    out = [Line(rule(cells, "needs attention"))]
    for check, result in found[:_MOST]:
        index = session.index_of(result.kind, result.id)
        usage = f"{check.usage:.2f}" if check.usage is not None else ""
        title = (
            check.title
            if check.title.casefold().startswith(result.title.casefold())
            else f"{result.title}: {check.title}"
        )
        text = f"{title}: {check.said(session.system)}"
        row = (
            (f"{marks.shape(check.verdict)} ", marks.style(check.verdict)),
            (fit(clean(text), max(cells - 8, 8)), ""),
            (right(usage, 6), marks.style(check.verdict)),
        )
        out.append(Line(row, ("at", result.kind, index or 0)))
    if len(found) > _MOST:
        out.append(Line(((f"  and {len(found) - _MOST} more: f lists them", "dim"),)))
    return out


def _table(session: Session, kind: str, title: str, columns: Sequence[Column], cells: int) -> list[Line]:
    """One kind of item, a line each; columns give way from the right while a name has no room."""
    rows: list[tuple[int, ItemResult, Cells]] = []
    for index in range(len(session.draft.tree.get(kind) or ())):
        result, item = session.result(kind, index), session.draft.item(kind, index)
        if result is not None and item is not None:
            rows.append((index, result, tuple(column.of(item, result, session.system) for column in columns)))
    if not rows:
        return []
    shown = [at for at in range(len(columns)) if any(texts[at] for _, _, texts in rows)]
    wide = {at: max(width(columns[at].title), *(width(texts[at]) for _, _, texts in rows)) + 2 for at in shown}
    while shown and cells - 2 - sum(wide[at] for at in shown) - _VERDICT < _NAME:
        shown.pop()
    name = max(cells - 2 - sum(wide[at] for at in shown) - _VERDICT, 4)
    head = fit(title, name + 2) + "".join(right(columns[at].title, wide[at]) for at in shown) + right("worst", _VERDICT)
    out = [Line(()), Line(((head[: name + 2], "head"), (head[name + 2 :], "dim")))]
    for index, result, texts in rows:
        figures = "".join(right(texts[at], wide[at]) for at in shown)
        row: Row = (
            (f"{marks.shape(result.verdict)} ", marks.style(result.verdict)),
            (fit(clean(result.title), name), ""),
            (figures, "number"),
            (right(_worst(result), _VERDICT), marks.style(result.verdict)),
        )
        out.append(Line(row, ("at", kind, index)))
    return out


def _worst(result: ItemResult) -> str:
    """Usage of the worst check, or its word where there is none."""
    worst = result.worst_check
    if worst is None:
        return ""
    return f"{worst.usage:.2f}" if worst.usage is not None else marks.word(worst.verdict).removesuffix(" limit")


def _timed(session: Session, cells: int) -> list[Line]:
    """Windows between steps that run out or must be waited for."""
    out: list[Line] = []
    for index, window in enumerate(session.draft.plan.windows):
        result = session.outcome.find("window", window.id)
        if result is None:
            continue
        most, least = result.results.get("at_most"), result.results.get("at_least")
        said = f"within {said_value(most, 'time', session.system)}" if most else ""
        said = said or (f"at least {said_value(least, 'time', session.system)}" if least else "")
        row = (
            (f"{marks.shape(result.verdict)} ", marks.style(result.verdict)),
            (fit(clean(result.title), max(cells - 2 - width(said), 8)), ""),
            (said, "number"),
        )
        out.append(Line(row, ("at", "window", index)))
    return [Line(()), Line((("time limits", "head"),)), *out] if out else []


def _value(key: str, kind: str) -> Callable[[Any, ItemResult, System], str]:
    def of(item: Any, result: ItemResult, system: System) -> str:
        found = result.results.get(key)
        return said_value(float(found), kind, system) if isinstance(found, int | float) else ""

    return of


def _leg(item: Any, result: ItemResult, system: System) -> str:
    """What the most loaded leg has to be rated for."""
    leg = greatest_leg(result.legs)
    return said_value(leg.governing, "force", system) if leg is not None and leg.governing is not None else ""


def _studs(item: Any, result: ItemResult, system: System) -> str:
    return bolts_by_size(item)


def _set(item: Any, result: ItemResult, system: System) -> str:
    """What the gauge or the wrench is set to in the last pass."""
    setting = result.settings.of_size(0, result.settings.top) if result.settings is not None else None
    if setting is not None and setting.value is not None:
        return " ".join(setting.figure(system))
    return _value("torque", "torque")(item, result, system)


def _flattest(item: Any, result: ItemResult, system: System) -> str:
    angles = [leg.angle if leg.flattest is None else min(leg.angle, leg.flattest) for leg in result.legs]
    return f"{degrees(min(angles)):.0f}°" if angles else ""


_TABLES: tuple[tuple[str, str, tuple[Column, ...]], ...] = (
    (
        "joint", "joints",
        (
            Column("studs", _studs), Column("preload", _value("preload", "force")), Column("last set", _set),
            Column("stretch", _value("stretch", "length")),
        ),
    ),
    (
        "lift", "lifts",
        (
            Column("hook load", _value("hook_load", "force")),
            Column("leg, governing", _leg),
            Column("flattest, to level", _flattest),
            Column("below hook", _value("below_hook", "length")),
        ),
    ),
    (
        "fit", "fits",
        (
            Column("interference", _value("interference", "length")), Column("advance", _value("advance", "length")),
            Column("oil to float max", _value("expansion_pressure_high", "pressure")),
            Column("heat by", _value("heating_rise", "temperature_difference")),
        ),
    ),
    (
        "insertion", "insertions",
        (
            Column("push at most", _value("push_force_high", "force")), Column("stop at", _value("stop_force", "force")),
            Column("strokes", _value("strokes", "count")),
        ),
    ),
    ("clearance", "clearances", ()),
)  # fmt: skip
