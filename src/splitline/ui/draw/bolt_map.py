"""The bolt map: every bolt in its true place, with its number, its mark and the trace of the order."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache

from splitline.ui.draw.canvas import Canvas, Scale
from splitline.ui.draw.rows import Row, width

Place = tuple[float, float]
Mark = tuple[str, str]  # a character that says the state, and the name of its style
Slot = tuple[int, int]  # column and row of a number's first figure
# Cells outward and rows down by which a number may step aside in a crowd.
_ALONG = ((0, 0), (1, 0), (-1, 0), (2, 0))  # on a straight line of bolts: its numbers keep to one row
_ASIDE = ((0, 0), (1, 0), (2, 0), (-1, 0), (3, 0), (0, 1), (0, -1), (1, 1), (1, -1))


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
    ``centre`` is written in the middle, where it fits; ``trace`` joins the bolts of each step with those of the next;
    ``tools`` are boxed. Where not all numbers fit, those in hand and next, 1 and every fifth are written and the rest
    shrink to their mark or a dot.
    """
    canvas = Canvas(width, height)
    if not places:
        return canvas.finish()
    at = dict(zip(numbers, places, strict=True))
    scale = _scale(places, numbers, canvas)
    _outline(canvas, places, scale)
    _trace(canvas, at, trace, scale)
    by_weight = _by_weight(at, marks, tools)
    own, kept = _standing(tuple(places), tuple(numbers), width, height)
    slots = dict(kept)
    taken = _make_room(slots, [b for b in by_weight if _weight(b, marks, tools) < 2], own, canvas)
    for bolt in by_weight:
        if bolt in slots:
            _label(canvas, bolt, slots[bolt], taken, marks.get(bolt), bolt in tools, (figures or {}).get(bolt, ""))
    for bolt in by_weight:
        if bolt not in slots:
            _shrunk(canvas, at[bolt], scale, marks.get(bolt))
    _centre(canvas, places, scale, centre, 14 if figures else 8 if on_circle(places) else 4)
    return canvas.finish()


@lru_cache(maxsize=16)
def _standing(
    places: tuple[Place, ...], numbers: tuple[int, ...], width: int, height: int
) -> tuple[Mapping[int, Slot], Mapping[int, Slot]]:
    """True cells and slots of the numbers. They follow the places alone: found once, not at every act of every tablet."""
    canvas = Canvas(width, height)
    at = dict(zip(numbers, places, strict=True))
    scale = _scale(places, numbers, canvas)
    own = _own_cells(at, scale)
    return own, _slots(at, own, scale, canvas)


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
        for here, there in zip(before, after, strict=False):  # each tool goes its own way
            (x0, y0), (x1, y1) = scale(*at[here]), scale(*at[there])
            canvas.line(x0, y0, x1, y1, "accent" if last else "trace", every=1 if last else 2)


def _by_weight(at: Mapping[int, Place], marks: Mapping[int, Mark], tools: Collection[int]) -> list[int]:
    """Bolts in the order in which they may take room."""
    return sorted(at, key=lambda bolt: (_weight(bolt, marks, tools), bolt))


def _weight(bolt: int, marks: Mapping[int, Mark], tools: Collection[int]) -> int:
    if bolt in tools:
        return 0
    style = marks[bolt][1] if bolt in marks else ""
    return {"now": 0, "next": 1, "coming": 1}.get(style, 2 if bolt == 1 else 3 if bolt % 5 == 0 else 4)


def _slots(at: Mapping[int, Place], own: Mapping[int, Slot], scale: Scale, canvas: Canvas) -> dict[int, Slot]:
    """Where each number stands, with a cell before it for its mark: by the places alone, so that no number ever moves.

    In a crowd a number steps aside a little, away from the middle. Where that does not do, 1 and every fifth come first
    and the rest is left out.
    """
    centre = scale(sum(x for x, _ in at.values()) / len(at), 0.0)[0] / 2
    outward = sorted(at, key=lambda bolt: (abs(scale(*at[bolt])[0] / 2 - centre), bolt))
    straight = [] if on_circle(list(at.values())) else [(1, _ALONG), (0, _ALONG)]
    for gap, aside in (*straight, (1, _ASIDE), (0, _ASIDE)):
        found = _laid_out(outward, own, canvas, gap, centre, aside)
        if len(found) == len(at) and _in_turn(found, at, scale):
            return found
    return _laid_out(_by_weight(at, {}, ()), own, canvas, 1, None)


def _in_turn(slots: Mapping[int, Slot], at: Mapping[int, Place], scale: Scale) -> bool:
    """Whether the numbers on a ring still follow each other as the bolts do."""
    if not on_circle(list(at.values())):
        return True
    spots = {bolt: scale(*place) for bolt, place in at.items()}
    u0, v0 = sum(u for u, _ in spots.values()) / len(at), sum(v for _, v in spots.values()) / len(at)
    ring = sorted(at, key=lambda b: math.atan2(spots[b][1] - v0, spots[b][0] - u0))
    shown = [(slots[b][0] * 2 + width(str(b)) - u0, slots[b][1] * 4 + 2 - v0) for b in ring]
    turns = [x0 * y1 - y0 * x1 for (x0, y0), (x1, y1) in itertools.pairwise([*shown, shown[0]])]
    return all(turn > 0 for turn in turns)


def _laid_out(
    order: Sequence[int],
    own: Mapping[int, Slot],
    canvas: Canvas,
    gap: int,
    centre: float | None,
    steps: Sequence[Slot] = _ASIDE,
) -> dict[int, Slot]:
    used: set[Slot] = set()
    found: dict[int, Slot] = {}
    for bolt in order:
        column, row = own[bolt]
        out = 0 if centre is None else 1 if column + width(str(bolt)) / 2 >= centre else -1
        for aside in steps if out else steps[:1]:
            slot = column + out * aside[0], row + aside[1]
            cells = _cells(bolt, slot)
            inside = slot[0] >= 0 and slot[0] + width(str(bolt)) <= canvas.cells and 0 <= slot[1] < canvas.rows
            near = {(x + d, y) for x, y in cells for d in range(-gap, gap + 1)}
            if inside and not near & used:
                used |= cells
                found[bolt] = slot
                break
    return found


def _own_cells(at: Mapping[int, Place], scale: Scale) -> dict[int, Slot]:
    """The true cell of each number; bolts of one height stand in one row, on whichever side of its edge they fall."""
    found: dict[int, Slot] = {}
    level, row = -math.inf, 0
    for bolt in sorted(at, key=lambda b: scale(*at[b])[1]):
        u, v = scale(*at[bolt])
        if v - level > 1:
            level, row = v, math.floor(v / 4)
        found[bolt] = math.floor(u / 2) - width(str(bolt)) // 2, row
    return found


def _cells(bolt: int, slot: Slot) -> set[Slot]:
    """Cells of a number and of the mark before it."""
    return {(slot[0] + i, slot[1]) for i in range(-1, width(str(bolt)))}


def _make_room(
    slots: dict[int, Slot], heavy: Sequence[int], own: Mapping[int, Slot], canvas: Canvas
) -> dict[Slot, int]:
    """In a crowd the bolts in hand and the next ones are written in any case; gives who has which cell."""
    for bolt in heavy:
        if bolt in slots:
            continue
        column, row = own[bolt]
        slot = min(max(column, 0), max(canvas.cells - width(str(bolt)), 0)), row
        near = {(x + d, row) for x, _ in _cells(bolt, slot) for d in (-1, 0, 1)}
        for other in [b for b, place in slots.items() if b not in heavy and _cells(b, place) & near]:
            del slots[other]
        slots[bolt] = slot
    return {cell: bolt for bolt, slot in slots.items() for cell in _cells(bolt, slot)}


def _label(
    canvas: Canvas, bolt: int, slot: Slot, taken: Mapping[Slot, int], mark: Mark | None, tool: bool, figure: str
) -> None:
    sign, style = mark or ("", "")
    if tool:
        style = "now" if style in ("", "now") else style
    tail = f" {figure}" if figure else ""
    tries = [(sign, tail)] if tail else []
    if tool:
        tries = [(f"[{sign}", f"{tail}]"), (f"[{sign}", "]"), *tries]
    for before, after in tries:
        if _room(canvas, slot[0] - width(before), slot[1], f"{before}{bolt}{after}", style, bolt, taken):
            return
    canvas.text(slot[0] - width(sign), slot[1], f"{sign}{bolt}", style)


def _room(canvas: Canvas, column: int, row: int, text: str, style: str, bolt: int, taken: Mapping[Slot, int]) -> bool:
    """Write where the cells and a blank on both sides belong to nobody else."""
    end = column + width(text)
    if column < 0 or end > canvas.cells:
        return False
    around = range(max(column - 1, 0), end + 1)
    if any(taken.get((x, row), bolt) != bolt for x in around) or not canvas.free(around[0], row, len(around)):
        return False
    return canvas.text(column, row, text, style, over=False)


def _shrunk(canvas: Canvas, place: Place, scale: Scale, mark: Mark | None) -> None:
    """A bolt whose number has no room: its mark, or a dot."""
    sign, style = mark or ("", "")
    column, row = scale.cell(*place)
    if not canvas.free(column, row):
        return
    if sign:
        canvas.text(column, row, sign, style, over=False)
    else:
        u, v = scale(*place)
        canvas.dot(round(u), round(v), style or "dim")


def centre_room(places: Sequence[Place], cells: int, rows: int) -> tuple[int, int]:
    """Cells and rows for words in the middle of a map, inside its numbers."""
    if not places:
        return 0, 0
    scale = _scale(places, range(1, len(places) + 1), Canvas(cells, rows))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    half = 0.7 if on_circle(places) else 1.0  # words are a box in the ring
    wide, high = scale.per * (max(xs) - min(xs)) / 2 * half, scale.per * (max(ys) - min(ys)) / 4 * half
    return max(int(wide) - 4, 0), max(int(high) - 2, 0)


def _centre(canvas: Canvas, places: Sequence[Place], scale: Scale, lines: Sequence[str], margin: int) -> None:
    if not lines:
        return
    xs, ys = [x for x, _ in places], [y for _, y in places]
    column, row = scale.cell((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    inside = scale.per * (max(xs) - min(xs)) / 2 - margin
    if max(map(width, lines)) > inside:
        return  # half a sentence says something else
    for i, text in enumerate(lines):
        canvas.text(column - width(text) // 2, row - len(lines) // 2 + i, text, "dim")
