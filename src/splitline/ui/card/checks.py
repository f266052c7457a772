"""Checks as bars: how long, where the limit stands, how much in figures, and in words what is short."""

from __future__ import annotations

from collections.abc import Iterable

from splitline.assess.result import Check
from splitline.ui import marks
from splitline.ui.draw.rows import Row, clean, fit, width, wrap
from splitline.ui.widgets.lines import Line

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
    """Checks by verdict, worst first, then by usage."""
    return sorted(checks, key=lambda c: (marks.VERDICTS.index(c.verdict), -(c.usage or 0.0)))


def check_lines(checks: Iterable[Check], cells: int, system: str) -> list[Line]:
    """Checks, worst first; those that are not ok say why on a line of their own where the first has no room."""
    out: list[Line] = []
    title = max(min(cells * 3 // 10, 30), 14)
    bar = max(min(cells // 6, 22), 8)
    for number, check in enumerate(worst_first(checks)):
        style = marks.style(check.verdict)
        said = clean(check.said(system))  # type: ignore[arg-type]
        room = cells - title - bar - 10
        usage = f"{check.usage:6.2f}" if check.usage is not None else " " * 6
        short = width(said) <= room
        row = (
            (f"{marks.shape(check.verdict)} ", style),
            (fit(clean(check.title), title - 1) + " ", "" if check.verdict == "ok" else style),
            *(usage_bar(check.usage, bar, style) if check.demand is not None else ((fit(marks.word(check.verdict), bar), style),)),
            (usage, style if check.verdict != "ok" else "number"),
            (f"  {said}" if short else "", "dim"),
        )
        out.append(Line(row, ("check", check.key, number)))
        if not short:
            out += [Line((("    ", ""), (part, "dim"))) for part in wrap(said, max(cells - 4, 10), 8)]
        if check.note and check.demand is not None:
            out += [Line((("    ", ""), (part, "dim"))) for part in wrap(check.note, max(cells - 4, 10), 4)]
    return out
