"""The body of the fitter's screen as rows: the bolt map at the left, the instruction at the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from splitline.ui import marks
from splitline.ui.draw.bolt_map import bolt_map
from splitline.ui.draw.digits import ROWS, figures
from splitline.ui.draw.rows import Row, Seg, beside, clean, fit, width, wrap
from splitline.ui.work.task import Figure, Task

Place = tuple[float, float]
TALL = 22  # rows from which there is room for more than the instruction
_BARS = "▁▂▃▄▅▆▇█"
_LEGEND = (
    (marks.DONE, "done", "done"),
    (marks.NOW, "now", "now"),
    ("▹", "next", "next"),
    (marks.ASIDE, "set aside", "near"),
    ("▫", "taken", "accent"),
)


def work_rows(
    task: Task,
    places: Sequence[Place],
    seen_from: str,
    preload: Mapping[int, float],
    cells: int,
    rows: int,
) -> list[Row]:
    """The body ``cells`` × ``rows``. ``preload`` by bolt as a share of the target, predicted so far; may be empty."""
    if not places or not task.joint or cells < 60:
        return _words(task, cells, rows)
    left = min(max(cells * 42 // 100, 33), rows * 2 + 8)
    drawing = _map(task, places, seen_from, preload, left, rows)
    return beside(drawing, _words(task, cells - left - 2, rows), left)[:rows]


def _map(
    task: Task, places: Sequence[Place], seen_from: str, preload: Mapping[int, float], cells: int, rows: int
) -> list[Row]:
    foot: list[Row] = []  # always the same lines, so that the map never moves
    if preload and rows >= TALL and len(places) <= cells - 2:
        foot.append(tuple((_bar(preload.get(n)), "load") for n in range(1, len(places) + 1)))
        foot.append(((fit("predicted preload so far, stud by stud: advice", cells), "dim"),))
    present = {mark.mark for mark in task.marks}
    foot.append(
        tuple(seg for sign, word, style in _LEGEND if sign in present for seg in ((sign, style), (f" {word}  ", "dim")))
    )
    foot.append(((fit(clean(f"seen from {seen_from}") if seen_from else "", cells), "dim"),))
    states = {mark.bolt: (mark.mark, mark.style) for mark in task.marks}
    numbers = range(1, len(places) + 1)
    drawing = bolt_map(places, numbers, states, cells, max(rows - len(foot), 5))
    return [*(_trimmed(row) for row in drawing), *foot]


def _trimmed(row: Row) -> Row:
    """The row with its reversed marks no longer than their text."""
    out: list[Seg] = []
    for text, style in row:
        kept = text.rstrip(" ") if style == "now" else text
        out.append((kept, style))
        if len(kept) < len(text):
            out.append((" " * (len(text) - len(kept)), ""))
    return tuple(out)


def _bar(share: float | None) -> str:
    if share is None or share <= 0:
        return "·"
    return _BARS[min(int(share / 1.1 * len(_BARS)), len(_BARS) - 1)]


def _words(task: Task, cells: int, rows: int) -> list[Row]:
    out: list[Row] = []
    count = len(task.figures)
    tall = 2 if count and cells >= 40 and rows >= count * (2 * ROWS + 2) + len(task.lines) + 1 else 1
    spare = rows - count * (ROWS * tall + 1) - len(task.lines)
    for figure in task.figures:
        if spare > 3:
            out.append((("", ""),))
            spare -= 1
        out += _figure(figure, cells, tall)
    if task.figures and spare > 0:
        out.append((("", ""),))
    for text, style in task.lines:
        out += [((part, style),) for part in (wrap(text, cells, 6) if text else [""])]
    return out[:rows]


def _figure(figure: Figure, cells: int, tall: int) -> list[Row]:
    large = figures(figure.text, cells - width(figure.unit) - 3, tall)
    out: list[Row] = [((clean(figure.caption), "label"),)]
    if not large:
        return [*out, ((clean(figure.text), "strong"), (f" {figure.unit}", "unit"))]
    rows = [((f" {row}", "strong"),) for row in large[:-1]]
    return [*out, *rows, ((f" {large[-1]}", "strong"), (f"  {figure.unit}", "strong"))]
