"""Checks as bars: how long, where the limit stands, how much in figures, and in words what is short."""

from __future__ import annotations

from collections.abc import Iterable

from splitline.assess.result import Check
from splitline.ui import marks
from splitline.ui.draw.rows import Row, clean, fit, width, wrap
from splitline.ui.widgets.lines import Line
from splitline.units import System

_LIMIT_AT = 0.8  # the limit stands at four fifths of the bar, so that what is over shows
_PARTS = " ▏▎▍▌▋▊▉█"


def usage_bar(usage: float | None, cells: int, style: str) -> Row:
    """A bar with the limit as a tick; what is over the limit runs past it."""
    cells = max(cells, 5)
    tick = max(round((cells - 1) * _LIMIT_AT), 1)
    if usage is None:
        return ((" " * tick, ""), ("│", "dim"), (" " * (cells - tick - 1), ""))
    length = min(max(usage, 0.0), 1.24) * tick
    out: list[tuple[str, str]] = []
    for place in range(cells):
        if place == tick:
            out.append(("┃" if usage > 1 else "│", style if usage > 1 else "dim"))
            continue
        filled = length - place + (1 if place > tick else 0)
        part = _PARTS[max(0, min(8, round(filled * 8)))]
        out.append((part, style) if part != " " else (("·" if place < tick else " "), "rule"))
    if usage > 1.24:
        out[-1] = ("▶", style)
    return tuple(_joined(out))


def _joined(segs: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    out: list[tuple[str, str]] = []
    for text, style in segs:
        if out and out[-1][1] == style:
            out[-1] = (out[-1][0] + text, style)
        else:
            out.append((text, style))
    return out


def worst_first(checks: Iterable[Check]) -> list[Check]:
    """Checks by verdict, worst first and what only the job can settle after what the planner can, then by usage."""
    return sorted(checks, key=lambda c: (marks.LOOK_AT.index(c.verdict), -(c.usage or 0.0)))


def check_lines(checks: Iterable[Check], cells: int, system: System) -> list[Line]:
    """Checks, worst first; those that are not ok say why on a line of their own where the first has no room."""
    out: list[Line] = []
    bar = max(min(cells // 7, 22), 8)
    ordered = worst_first(checks)
    longest = max((width(clean(c.title)) for c in ordered), default=0)
    title = max(min(longest + 2, cells - bar - 9), 12)
    room = cells - title - bar - 10
    for number, check in enumerate(ordered):
        style = marks.style(check.verdict)
        said = clean(check.said(system))
        short = width(said) <= room
        row = (
            (f"{marks.shape(check.verdict)} ", style),
            (fit(clean(check.title), title - 1) + " ", "" if check.verdict == "ok" else style),
            *_measure(check, bar, style),
            (f"  {said}" if short else "", "dim"),
        )
        out.append(Line(row, ("check", check.key, number)))
        if check.verdict == "ok":  # what is in order is said in a line; the rest stands below under the cursor
            continue
        more = [] if short else [said]
        more += [check.note] if check.note and check.demand is not None else []
        out += [Line((("    ", ""), (part, "dim"))) for text in more for part in wrap(text, max(cells - 4, 10), 8)]
    return out


def _measure(check: Check, bar: int, style: str) -> Row:
    """Bar and figure of a check with numbers, its word where there are none."""
    if check.demand is None:
        return ((fit(marks.word(check.verdict), bar + 6), style),)
    usage = f"{check.usage:6.2f}" if check.usage is not None else f"{'none':>6}"
    return (*usage_bar(check.usage, bar, style), (usage, style if check.verdict != "ok" else "number"))
