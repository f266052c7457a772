"""The body of the fitter's screen as rows: the bolt map at the left, the instruction at the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import replace

from splitline.ui import marks
from splitline.ui.draw.bolt_map import bolt_map, centre_room
from splitline.ui.draw.canvas import SOLID
from splitline.ui.draw.cautions import strip_of, whole_of
from splitline.ui.draw.digits import ROWS, figures, small, unit_rows
from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import Row, Seg, beside, clean, fit, signed, width, wrap
from splitline.ui.work.old_values import OLD
from splitline.ui.work.task import Figure, Task

Place = tuple[float, float]
UPRIGHT = 36  # rows from which map and words stand under the figures where the screen is narrow
LEAST_MAP = 15  # rows the map keeps under large figures
LOW_MAP = 8  # rows under which a map says nothing
TALL = 22  # rows from which there is room for more than the instruction
LOUD = (
    "strong",
    "fails",
    "near",
    "caution",
    "missing",
    "on-site",
)  # lines that are set in capitals where there is room
_BARS = "▁▂▃▄▅▆▇█"
_LEGEND = (
    (marks.DONE, "done", "done"),
    (marks.NOW, "now", "now"),
    ("▹", "next", "coming"),
    (marks.ASIDE, "aside", "near"),
    (OLD, "old value", "near"),
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
    """The body ``cells`` × ``rows``. ``preload`` by bolt as a share of the target, predicted so far; may be empty.

    The cautions stand below everything else across the whole width and are never cut: in full where there is room for
    that, else a line each.
    """
    strip = _cautions(task, cells, rows)
    room = max(rows - len(strip), 0)
    body = _body(task, places, seen_from, preload, cells, room)[:room]
    return [*body, *([()] * (room - len(body))), *strip] if strip else body


def _cautions(task: Task, cells: int, rows: int) -> list[Row]:
    if not task.cautions:
        return []
    whole = whole_of((each.text for each in task.cautions), cells)
    figures_ = len(_in_pairs(task.figures, cells)) * (ROWS + 1)
    if task.kind != "bolts" and len(whole) + figures_ + len(_lines(task, cells)) + 1 <= rows:
        return whole
    return strip_of((each.short for each in task.cautions), cells)


def _body(
    task: Task,
    places: Sequence[Place],
    seen_from: str,
    preload: Mapping[int, float],
    cells: int,
    rows: int,
) -> list[Row]:
    if not places or not task.joint or cells < 60:
        return _words(task, cells, rows)
    if rows >= UPRIGHT and cells < 2 * rows + 20:
        return _upright(task, places, seen_from, preload, cells, rows)
    left = min(max(cells * 44 // 100, 36), rows * 2 + 8)
    if task.kind == "set-up" and max(len(_lines(task, cells - left - 2)), LOW_MAP) > rows:
        return _words(task, cells, rows)  # the cautions in full go before the map
    drawing = _map(task, places, seen_from, preload, left, rows)
    return beside(drawing, _words(task, cells - left - 2, rows), left)[:rows]


def _upright(
    task: Task, places: Sequence[Place], seen_from: str, preload: Mapping[int, float], cells: int, rows: int
) -> list[Row]:
    """A tablet held upright: the figures across the whole width, under them the map with the words at its right.

    Without figures the words stand in their place, so that the map does not move.
    """
    count = max(len(task.figures), 2)
    tall = 2 if rows - count * (2 * ROWS + 2) >= LEAST_MAP else 1
    top = count * (tall * ROWS + 2)
    blank: Row = (("", ""),)
    left = max(cells * 56 // 100, 36)
    if task.figures:
        above = [row for figure in task.figures for row in (*_figure(figure, cells, tall), blank)]
        words = [blank, *_words(replace(task, figures=()), cells - left - 2, max(rows - top, 5) - 1)]
    elif len(_lines(task, cells)) > rows - LEAST_MAP:
        return _words(task, cells, rows)  # words in full go before the map
    else:
        above, words = _words(task, cells, rows - LEAST_MAP), []
    above += [blank] * (top - len(above))
    drawing = _map(task, places, seen_from, preload, left, max(rows - len(above), 5))
    return [*above, *beside(drawing, words, left)][:rows]


def _map(
    task: Task, places: Sequence[Place], seen_from: str, preload: Mapping[int, float], cells: int, rows: int
) -> list[Row]:
    foot: list[Row] = []  # always the same lines, so that the map never moves
    if preload and rows >= TALL and len(places) <= cells - 2:
        foot.append(tuple((_bar(preload.get(n)), "load") for n in range(1, len(places) + 1)))
        foot.append(((fit("predicted preload by stud: advice", cells), "dim"),))
    foot += _legend(task, cells)
    seen = f"seen from {clean(seen_from)}" if seen_from else ""
    high = max(rows - len(foot), 5)
    wide, lines = centre_room(places, cells, high)
    inside = wrap(seen, wide, 9) if seen and wide >= max(map(width, seen.split())) else []
    if len(inside) > lines:
        inside = []
    if seen and not inside:
        below: list[Row] = [((line, "dim"),) for line in wrap(seen, cells, 3)]
        foot, high = [*foot, *below], max(high - len(below), 5)
    states = {m.bolt: (m.mark, "coming" if m.style == "next" else m.style) for m in task.marks}
    drawing = bolt_map(places, range(1, len(places) + 1), states, cells, high, centre=inside)
    return [*(_trimmed(row) for row in drawing), *foot]


def _legend(task: Task, cells: int) -> list[Row]:
    """What the marks mean; one line, whatever is on the map."""
    present = {mark.mark for mark in task.marks}
    shown = [(sign, word, style) for sign, word, style in _LEGEND if sign in present]
    gap = "  " if sum(len(word) + 4 for _, word, _ in shown) - 2 <= cells else " "
    segments = tuple(seg for sign, word, style in shown for seg in ((sign, style), (f" {word}{gap}", "dim")))
    return [segments]


def _trimmed(row: Row) -> Row:
    """The row with its reversed and underlined marks no longer than their text."""
    out: list[Seg] = []
    for text, style in row:
        kept = text.rstrip(" ") if style in SOLID else text
        out.append((kept, style))
        if len(kept) < len(text):
            out.append((" " * (len(text) - len(kept)), ""))
    return tuple(out)


def _bar(share: float | None) -> str:
    if share is None or share <= 0:
        return "·"
    return _BARS[min(int(share / 1.1 * len(_BARS)), len(_BARS) - 1)]


def _lines(task: Task, cells: int, without: Set[int] = frozenset()) -> list[Row]:
    """The lines in the small size, but for those that stand large."""
    kept = [line for place, line in enumerate(task.lines) if place not in without]
    while kept and without and not kept[0][0]:
        kept.pop(0)
    return [row for text, style in kept for row in signed(marks.sign(text, style), text, style, cells, 6)]


def _words(task: Task, cells: int, rows: int) -> list[Row]:
    lines = _lines(task, cells)
    blocks = _in_pairs(task.figures, cells) if not task.joint else [[figure] for figure in task.figures]
    if task.kind == "mounting" and len(blocks) * (ROWS + 1) + len(lines) - len(task.figures) > rows:
        # Every figure stays, smaller; what is cut at the foot says the same in words.
        return [*_in_small(task.figures, cells), *lines][:rows]
    count = len(blocks)
    tall = 2 if count and cells >= 40 and rows >= count * (2 * ROWS + 2) + len(lines) + 1 else 1
    spare = rows - count * (ROWS * tall + 1) - len(lines)
    out: list[Row] = []
    for block in blocks:
        if spare > 3:
            out.append((("", ""),))
            spare -= 1
        own = cells // len(block)
        drawn = [_figure(figure, own - (2 if len(block) > 1 else 0), tall) for figure in block]
        out += drawn[0] if len(drawn) == 1 else beside(drawn[0], drawn[1], own - 2)
    large, drawn_large = _headline(task, cells, spare - 1)
    if large:
        out = [*large, *out]
        spare -= len(large)
        lines = _lines(task, cells, drawn_large)
    if task.figures and spare > 0:
        out.append((("", ""),))
    if not task.figures and not task.joint and rows > len(lines) + 1:
        out.append((("", ""),))
    return [*out, *lines][:rows]


def _headline(task: Task, cells: int, rows: int) -> tuple[list[Row], frozenset[int]]:
    """The instruction in capitals for arm's length, and what belongs to it as large, where there is room; which lines these are.

    No line gives way: what is not drawn large has its room below.
    """
    if task.kind == "bolts" or not task.lines:
        return [], frozenset()  # its figures are the instruction
    first, style = task.lines[0]
    said = {"stopped": task.middle or "STOPPED", "sign": task.middle or "hold point"}.get(task.kind, first)
    out: list[Row] = [((row, style),) for row in letters(said, cells, rows // LETTER_ROWS)]
    drawn = {0} if out else set()
    small = {place: len(signed(marks.sign(t, s), t, s, cells, 6)) for place, (t, s) in enumerate(task.lines)}
    room = rows - len(out) + (small[0] if out else 0)
    for place, (text, own) in enumerate(task.lines[1:], 1):
        if not out or not text or own not in LOUD:
            continue
        big = letters(text, cells, (room + small[place] - 1) // LETTER_ROWS)
        if big:
            out += [(("", ""),), *(((row, own),) for row in big)]
            room += small[place] - len(big) - 1
            drawn.add(place)
    return out, frozenset(drawn)


def _in_pairs(figures_: Sequence[Figure], cells: int) -> list[list[Figure]]:
    """Two figures side by side where both have room to be large."""
    fits = [bool(figures(figure.text, cells // 2 - width(figure.unit) - 5, 1)) for figure in figures_]
    if len(figures_) > 1 and all(fits):
        return [list(figures_[place : place + 2]) for place in range(0, len(figures_), 2)]
    return [[figure] for figure in figures_]


def _in_small(figures_: Sequence[Figure], cells: int) -> list[Row]:
    """All figures, two side by side, in the smaller size."""
    own = cells // 2 - 2
    pairs = all(small(figure.text, own - width(figure.unit) - 3) for figure in figures_)
    across = 2 if pairs and len(figures_) > 1 else 1
    out: list[Row] = []
    for place in range(0, len(figures_), across):
        drawn = [_small_figure(figure, own if across > 1 else cells) for figure in figures_[place : place + across]]
        out += drawn[0] if len(drawn) == 1 else beside(drawn[0], drawn[1], own)
    return out


def _small_figure(figure: Figure, cells: int) -> list[Row]:
    drawn = small(figure.text, cells - width(figure.unit) - 3)
    if not drawn:
        return _figure(figure, cells, 1)
    rows: list[Row] = [((f" {row}", "strong"),) for row in drawn[:-1]]
    return [_caption(figure, cells), *rows, ((f" {drawn[-1]}", "strong"), (f"  {figure.unit}", "strong"))]


def _caption(figure: Figure, cells: int, unit: str = "") -> Row:
    """What the figure is, with what is accepted where there is room for it; ``unit``: said here too, where it is drawn."""
    said = clean(figure.caption) + (f", {unit}" if unit else "")
    if figure.accepted and width(said) + width(figure.accepted) + 2 <= cells:
        said = f"{said}, {clean(figure.accepted)}"
    return ((said, "label"),)


def _figure(figure: Figure, cells: int, tall: int) -> list[Row]:
    large = figures(figure.text, cells - width(figure.unit) - 3, tall)
    out: list[Row] = [_caption(figure, cells)]
    if not large:
        return [*out, ((clean(figure.text), "strong"), (f" {figure.unit}", "unit"))]
    behind = unit_rows(figure.unit, cells - len(large[0]) - 4)
    if behind:  # as high as a figure of the usual size, on the same line
        behind = [""] * (len(large) - len(behind)) + behind
        return [
            _caption(figure, cells, figure.unit),
            *(
                ((f" {row}", "strong"), (f"   {own}" if own else "", "unit"))
                for row, own in zip(large, behind, strict=True)
            ),
        ]
    rows = [((f" {row}", "strong"),) for row in large[:-1]]
    return [*out, *rows, ((f" {large[-1]}", "strong"), (f"  {figure.unit}", "strong"))]
