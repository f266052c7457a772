"""The order of work over time: a bar a step, hold points, and the windows between moments as brackets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui import marks
from splitline.ui.draw.rows import Row, clean, fit, right, width


@dataclass(frozen=True)
class Bar:
    """One step; times in s from the start of the work, None where nobody gave minutes."""

    number: int
    title: str
    start: float
    end: float | None
    hold: bool = False
    witness: bool = False
    verdict: str = ""


@dataclass(frozen=True)
class Span:
    """One window between two moments, s; ``latest`` is when it breaks, None for a window without an upper limit."""

    title: str
    start: float
    end: float
    earliest: float | None = None
    latest: float | None = None
    verdict: str = ""


def timeline(steps: Sequence[Bar], windows: Sequence[Span], width_: int, height: int, first: int = 0) -> list[Row]:
    """Rows of the timeline from step ``first`` on; windows stand under the steps."""
    label = max(min(width_ * 2 // 5, 44), 16)
    room = max(width_ - label - 8, 10)
    whole = max([s.end or s.start for s in steps] + [s.latest or s.end for s in windows] + [60.0])
    rows: list[Row] = [_axis(whole, label, room)]
    below = _windows(windows, whole, label, room)
    most = max(height - 2 - len(below), 3)
    shown = steps[first : first + most]
    rows += [_step(bar, whole, label, room) for bar in shown]
    return [*rows, (), *below][:height]


def _axis(whole: float, label: int, room: int) -> Row:
    """Hours along the top, on a round step that leaves the figures room."""
    step = next(
        h for h in (0.25, 0.5, 1, 2, 4, 8, 12, 24, 48, 96, 240, 1000) if whole / 3600 / h * 7 <= room or h == 1000
    )
    cells = [" "] * (room + 6)
    hours = 0.0
    while hours * 3600 <= whole:
        place = round(hours * 3600 / whole * (room - 1))
        for shift, char in enumerate(f"{hours:g} h"):
            if place + shift < len(cells):
                cells[place + shift] = char
        hours += step
    key = f"   {marks.HOLD} hold   {marks.WITNESS} witness"
    return ((fit(f" order of work{key if label > 36 else ''}", label + 2), "head"), ("".join(cells), "dim"))


def _step(bar: Bar, whole: float, label: int, room: int) -> Row:
    sign = marks.HOLD if bar.hold else marks.WITNESS if bar.witness else " "
    head = (
        (right(str(bar.number), 3), "dim"),
        (f" {sign}", "near" if bar.hold else "dim"),
        (f" {fit(clean(bar.title), max(label - 6, 4))} ", ""),
    )
    start = round(bar.start / whole * (room - 1))
    if bar.end is None:
        return (*head, (" " * start, ""), ("○ no minutes", "missing"))
    cells = max(round(bar.end / whole * (room - 1)) - start, 1)
    said = f"{(bar.end - bar.start) / 60:g} min"
    style = marks.style(bar.verdict) if bar.verdict in ("fails", "near", "missing") else "accent"
    block = ("█" * cells, style)
    if start + cells + width(said) + 1 <= room + 6:
        return (*head, (" " * start, ""), block, (f" {said}", "dim"))
    return (*head, (right(f"{said} ", start), "dim"), block)


def _windows(windows: Sequence[Span], whole: float, label: int, room: int) -> list[Row]:
    out: list[Row] = []
    for span in windows:
        style = marks.style(span.verdict) if span.verdict else "dim"
        cells = [" "] * (room + 1)

        def put(time: float | None, char: str, cells: list[str] = cells) -> None:
            if time is not None and 0 <= (place := round(time / whole * (room - 1))) < len(cells):
                cells[place] = char

        a, b = round(span.start / whole * (room - 1)), round(span.end / whole * (room - 1))
        for place in range(max(a, 0), min(b, room) + 1):
            cells[place] = "─"
        put(span.start, "├")
        put(span.end, "┤")
        put(span.earliest, "╎")
        put(span.latest, "┃")
        head = ((f" {marks.WINDOW} ", style), (fit(clean(span.title), label - 1), ""))
        out.append((*head, ("".join(cells), style)))
    key = f"   {marks.HOLD} hold   {marks.WITNESS} witness" if label <= 36 else ""
    return [((fit(f" time limits   ┃ latest   ╎ earliest end{key}", label + room), "head"),), *out] if out else []
