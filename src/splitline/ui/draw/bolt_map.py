"""The bolt map: every bolt in its true place, with its number, its mark and the trace of the order."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Mapping, Sequence

from splitline.ui.draw.canvas import Canvas, Scale
from splitline.ui.draw.rows import Row, width

Place = tuple[float, float]
Mark = tuple[str, str]  # a character that says the state, and the name of its style


def bolt_map(
    places: Sequence[Place],
    numbers: Sequence[int],
    marks: Mapping[int, Mark],
    width: int,
    height: int,
    *,
    figures: Mapping[int, str] | None = None,
    trace: Sequence[Sequence[int]] = (),
    tools: Collection[int] = (),
    centre: Sequence[str] = (),
) -> list[Row]:
    """Rows of a map ``width`` × ``height`` cells.

    ``places`` in any one length unit, y up; ``numbers`` the bolt number at each place; ``marks`` by bolt number: a
    character written before the number and the style of both. ``figures`` follow the number where there is room;
    ``trace`` joins the bolts of each step with those of the next; ``tools`` are boxed. Where numbers do not fit, the
    marked ones, 1 and every fifth are written first and the rest shrink to their mark or a dot.
    """
    canvas = Canvas(width, height)
    if not places:
        return canvas.finish()
    at = dict(zip(numbers, places, strict=True))
    scale = _scale(places, numbers, canvas)
    _outline(canvas, places, scale)
    _trace(canvas, at, trace, scale)
    for bolt in _by_weight(at, marks, tools):
        _label(canvas, bolt, at[bolt], scale, marks.get(bolt), bolt in tools, (figures or {}).get(bolt, ""))
    _centre(canvas, places, scale, centre)
    return canvas.finish()


def circle_places(bolts: int, diameter: float, first_at: float, clockwise: bool) -> list[Place]:
    """Places of bolts 1 to n on a circle; ``first_at`` in rad from 12 o'clock, numbers running clockwise or not."""
    turn = 1 if clockwise else -1
    angles = [turn * (2 * math.pi * i / bolts) + first_at * turn for i in range(bolts)]
    return [(diameter / 2 * math.sin(a), diameter / 2 * math.cos(a)) for a in angles]


def line_places(side_a: Sequence[float], side_b: Sequence[float], half_width: float) -> list[Place]:
    """Places of a split line: side a above the centreline, side b below, both numbered the same way."""
    return [(x, half_width) for x in side_a] + [(x, -half_width) for x in side_b]


def on_circle(places: Sequence[Place]) -> bool:
    """Whether the places lie on one circle round their middle."""
    cx = sum(x for x, _ in places) / len(places)
    cy = sum(y for _, y in places) / len(places)
    radii = [math.hypot(x - cx, y - cy) for x, y in places]
    return max(radii) - min(radii) < 0.02 * max(radii) if len(places) > 4 else False


def _scale(places: Sequence[Place], numbers: Sequence[int], canvas: Canvas) -> Scale:
    side = 2 * (width(str(max(numbers))) + 3)
    xs, ys = [x for x, _ in places], [y for _, y in places]
    window = (side / 2 + 1, 2.5, canvas.wide - side / 2 - 1, canvas.high - 2.5)
    return Scale((min(xs), min(ys), max(xs), max(ys)), window)


def _outline(canvas: Canvas, places: Sequence[Place], scale: Scale) -> None:
    spots = [scale(x, y) for x, y in places]
    left, right = min(u for u, _ in spots), max(u for u, _ in spots)
    top, foot = min(v for _, v in spots), max(v for _, v in spots)
    if on_circle(places):
        for share in (0.80, 0.40):
            rx, ry = (right - left) / 2 * share, (foot - top) / 2 * share
            canvas.ellipse((left + right) / 2, (top + foot) / 2, rx, ry, "rule", every=1 if share > 0.5 else 3)
        return
    inset = min(6.0, (foot - top) / 4)
    if foot - top > 12:
        canvas.box(left, top + inset, right, foot - inset, "rule")
        canvas.line(left - 2, (top + foot) / 2, right + 2, (top + foot) / 2, "rule", every=3)


def _trace(canvas: Canvas, at: Mapping[int, Place], trace: Sequence[Sequence[int]], scale: Scale) -> None:
    known = [[b for b in step if b in at] for step in trace]
    known = [step for step in known if step]
    for i, (before, after) in enumerate(itertools.pairwise(known)):
        last = i == len(known) - 2
        (x0, y0), (x1, y1) = scale(*at[before[0]]), scale(*at[after[0]])
        canvas.line(x0, y0, x1, y1, "accent" if last else "trace", every=1 if last else 2)


def _by_weight(at: Mapping[int, Place], marks: Mapping[int, Mark], tools: Collection[int]) -> list[int]:
    """Bolts in the order in which they may take room."""
    strong = {"now": 0, "next": 1}

    def weight(bolt: int) -> tuple[int, int]:
        if bolt in tools:
            return 0, bolt
        style = marks[bolt][1] if bolt in marks else ""
        return (strong.get(style, 2 if bolt == 1 else 3 if bolt % 5 == 0 else 4), bolt)

    return sorted(at, key=weight)


def _label(canvas: Canvas, bolt: int, place: Place, scale: Scale, mark: Mark | None, tool: bool, figure: str) -> None:
    sign, style = mark or ("", "")
    if tool:
        style = "now" if style in ("", "now") else style
    column, row = scale.cell(*place)
    column -= width(str(bolt)) // 2  # the number never moves, whatever stands round it
    tail = f" {figure}" if figure else ""
    tries = [(sign, tail), (sign, "")] if tail else [(sign, "")]
    if sign:
        tries.append(("", ""))  # where the mark has no room the style still says it
    if tool:
        tries = [(f"[{s}", f"{t}]") for s, t in tries] + tries
    for before, after in tries:
        if _room(canvas, column - width(before), row, f"{before}{bolt}{after}", style):
            return
    if not canvas.free(column, row):
        return
    if sign:
        canvas.text(column, row, sign, style, over=False)
    else:
        u, v = scale(*place)
        canvas.dot(round(u), round(v), style or "dim")


def _room(canvas: Canvas, column: int, row: int, text: str, style: str) -> bool:
    """Write where the cells and a blank on both sides are free."""
    if column < 0 or column + width(text) > canvas.cells:
        return False
    if not canvas.free(column - 1, row, width(text) + 2 if column else width(text) + 1):
        return False
    return canvas.text(column, row, text, style, over=False)


def _centre(canvas: Canvas, places: Sequence[Place], scale: Scale, lines: Sequence[str]) -> None:
    if not lines:
        return
    xs, ys = [x for x, _ in places], [y for _, y in places]
    column, row = scale.cell((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    inside = scale.per * (max(xs) - min(xs)) / 2 - 14
    for i, text in enumerate(lines):
        if width(text) <= inside:
            canvas.text(column - width(text) // 2, row - len(lines) // 2 + i, text, "dim")
