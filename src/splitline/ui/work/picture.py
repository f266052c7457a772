"""The body of the fitter's screen as rows: the bolt map at the left, the instruction at the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from splitline.ui import marks
from splitline.ui.draw.bolt_map import bolt_map
from splitline.ui.draw.digits import ROWS, figures
from splitline.ui.draw.rows import Row, beside, clean, fit, width, wrap
from splitline.ui.work.task import Figure, Task

Place = tuple[float, float]
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
    foot: list[Row] = []
    if preload and len(places) <= cells - 2:
        foot.append(tuple((_bar(preload.get(n)), "load") for n in range(1, len(places) + 1)))
        foot.append(((fit("predicted preload so far, advice", cells), "dim"),))
    present = {mark.mark for mark in task.marks}
    legend = tuple(
        seg for sign, word, style in _LEGEND if sign in present for seg in ((sign, style), (f" {word}  ", "dim"))
    )
    if legend:
        foot.append(legend)
    if seen_from:
        foot.append(((fit(clean(f"seen from {seen_from}"), cells), "dim"),))
    states = {mark.bolt: (mark.mark, mark.style) for mark in task.marks}
    numbers = range(1, len(places) + 1)
    return [*bolt_map(places, numbers, states, cells, max(rows - len(foot), 5)), *foot]


def _bar(share: float | None) -> str:
    if share is None or share <= 0:
        return "·"
    return _BARS[min(int(share / 1.1 * len(_BARS)), len(_BARS) - 1)]


def _words(task: Task, cells: int, rows: int) -> list[Row]:
    out: list[Row] = []
    spare = rows - len(task.figures) * (ROWS + 1) - len(task.lines)
    for figure in task.figures:
        if spare > 3:
            out.append((("", ""),))
            spare -= 1
        out += _figure(figure, cells)
    if task.figures and spare > 0:
        out.append((("", ""),))
    for text, style in task.lines:
        out += [((part, style),) for part in (wrap(text, cells, 6) if text else [""])]
    return out[:rows]


def _figure(figure: Figure, cells: int) -> list[Row]:
    room = cells - width(figure.unit) - 3
    large = figures(figure.text, room)
    out: list[Row] = [((clean(figure.caption), "label"),)]
    if not large:
        return [*out, ((clean(figure.text), "strong"), (f" {figure.unit}", "unit"))]
    rows = [((f" {row}", "strong"),) for row in large[:-1]]
    return [*out, *rows, ((f" {large[-1]}", "strong"), (f"  {figure.unit}", "strong"))]
