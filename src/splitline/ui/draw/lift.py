"""A load on its hook to one scale: from the side with tensions along the legs, and from above."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from splitline.ui.draw.canvas import Canvas, Scale
from splitline.ui.draw.rows import Row, width

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Line3:
    """A sling from its upper to its lower end, m; ``said`` is written along it."""

    top: Point
    foot: Point
    said: str = ""
    name: str = ""
    style: str = "text"


@dataclass(frozen=True)
class LiftScene:
    """Everything in the load's frame, m; ``up`` is the vertical as the load hangs."""

    hook: Point
    up: Point
    centre: Point | None
    legs: tuple[Line3, ...]
    upper: tuple[Line3, ...] = ()  # slings above a spreader
    beam: tuple[tuple[Point, Point], ...] = ()  # edges of the spreader
    parts: tuple[Point, ...] = ()  # centres of the parts
    outline: tuple[Point, ...] = field(default=())  # corners of a box round the load
    shift: float = 0.0  # radius of doubt of the centre
    notes: tuple[str, ...] = ()


def box_round(points: Sequence[Point]) -> tuple[Point, ...]:
    """The eight corners of a box round points, a little larger."""
    if not points:
        return ()
    low = [min(p[i] for p in points) for i in range(3)]
    high = [max(p[i] for p in points) for i in range(3)]
    pad = 0.06 * max(high[i] - low[i] for i in range(3))
    low = [v - pad for v in low[:2]] + [low[2] - pad]
    high = [v + pad for v in high[:2]] + [high[2]]
    return tuple((x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2]))


_EDGES = ((0, 1), (0, 2), (0, 4), (1, 3), (1, 5), (2, 3), (2, 6), (3, 7), (4, 5), (4, 6), (5, 7), (6, 7))


class _Frame:
    """Axes across and up as one looks at the load."""

    def __init__(self, scene: LiftScene, turn: float) -> None:
        up = _unit(scene.up) or (0.0, 0.0, 1.0)
        first = (1.0, 0.0, 0.0) if abs(up[0]) < 0.9 else (0.0, 1.0, 0.0)
        across = _unit(_less(first, up)) or (1.0, 0.0, 0.0)
        away = _cross(up, across)
        c, s = math.cos(turn), math.sin(turn)
        self.up = up
        self.across = tuple(c * a + s * b for a, b in zip(across, away, strict=True))
        self.away = tuple(c * b - s * a for a, b in zip(across, away, strict=True))

    def side(self, p: Point) -> tuple[float, float]:
        return _dot(p, self.across), _dot(p, self.up)

    def plan(self, p: Point) -> tuple[float, float]:
        return _dot(p, self.across), _dot(p, self.away)


def one_scale(scene: LiftScene, side: tuple[int, int], plan: tuple[int, int], turn: float) -> float:
    """Dots a metre with which both views of these sizes in cells show the whole load."""
    frame = _Frame(scene, turn)
    return min(_side_scale(scene, Canvas(*side), frame).per, _plan_scale(scene, Canvas(*plan), frame).per)


def _side_scale(scene: LiftScene, canvas: Canvas, frame: _Frame, words: bool = True, most: float = math.inf) -> Scale:
    said = [width(part) for line in (*scene.legs, *scene.upper) for part in line.said.split("\n")]
    return _fitted(
        canvas, [frame.side(p) for p in _points(scene)], 2 * max(said, default=0) + 6 if words else 4, 6, most
    )


def _plan_scale(scene: LiftScene, canvas: Canvas, frame: _Frame, most: float = math.inf) -> Scale:
    names = max((width(line.name) for line in scene.legs), default=0)
    return _fitted(canvas, [frame.plan(p) for p in _points(scene)], 2 * names + 6, 8, most)


def lift_side(
    scene: LiftScene, width_: int, height: int, turn: float = 0.0, *, words: bool = True, most: float = math.inf
) -> list[Row]:
    """Rows of the side view; ``turn`` in rad walks round the load, ``most`` limits the scale (dots a metre)."""
    canvas = Canvas(width_, height)
    frame = _Frame(scene, turn)
    place = _side_scale(scene, canvas, frame, words, most)
    _load(canvas, scene, frame.side, place)
    hook = place(*frame.side(scene.hook))
    canvas.line(hook[0], max(hook[1] - 12, 0), hook[0], hook[1], "accent")
    canvas.line(hook[0], hook[1], hook[0], canvas.high - 1, "rule", every=4)
    for line in (*scene.upper, *scene.legs):
        (x0, y0), (x1, y1) = place(*frame.side(line.top)), place(*frame.side(line.foot))
        canvas.line(x0, y0, x1, y1, line.style)
    _ends(canvas, scene, frame.side, place)
    canvas.text(int(hook[0] / 2) + 1, max(int(hook[1] / 4), 0), "hook", "accent", over=False)
    if words:
        for line in (*scene.upper, *scene.legs):
            a, b = place(*frame.side(line.top)), place(*frame.side(line.foot))
            _along(canvas, a, b, line)
        canvas.text(1, 0, "side view, to scale", "dim", over=False)
        _legend(canvas, scene)
    return canvas.finish()


def lift_plan(scene: LiftScene, width_: int, height: int, turn: float = 0.0, *, most: float = math.inf) -> list[Row]:
    """Rows of the view from above, with the doubt of the centre as a circle."""
    canvas = Canvas(width_, height)
    frame = _Frame(scene, turn)
    place = _plan_scale(scene, canvas, frame, most)
    _load(canvas, scene, frame.plan, place)
    for line in (*scene.upper, *scene.legs):
        (x0, y0), (x1, y1) = place(*frame.plan(line.top)), place(*frame.plan(line.foot))
        canvas.line(x0, y0, x1, y1, line.style)
    if scene.centre is not None and scene.shift > 0:
        u, v = place(*frame.plan(scene.centre))
        canvas.ellipse(u, v, scene.shift * place.per, scene.shift * place.per, "near", every=2)
    _ends(canvas, scene, frame.plan, place)
    for line in scene.legs:
        column, row = place.cell(*frame.plan(line.foot))
        outward = 2 if frame.plan(line.foot)[0] >= frame.plan(scene.hook)[0] else -width(line.name) - 1
        canvas.text(column + outward, row, line.name, line.style, over=False)
    column, row = place.cell(*frame.plan(scene.hook))
    canvas.text(column, row, "┼", "accent")
    canvas.text(1, 0, "from above, to scale", "dim", over=False)
    return canvas.finish()


def _points(scene: LiftScene) -> list[Point]:
    found = [scene.hook, *scene.outline, *scene.parts]
    for line in (*scene.upper, *scene.legs):
        found += [line.top, line.foot]
    for edge in scene.beam:
        found += list(edge)
    return found


def _fitted(canvas: Canvas, points: Sequence[tuple[float, float]], aside: float, above: float, most: float) -> Scale:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    aside, above = min(aside, canvas.wide / 3), min(above, canvas.high / 6)
    window = (aside, above + 4, canvas.wide - aside, canvas.high - above)
    return Scale((min(xs), min(ys), max(xs), max(ys)), window, most)


def _load(canvas: Canvas, scene: LiftScene, view: object, place: Scale) -> None:
    assert callable(view)
    if len(scene.outline) == 8:
        for a, b in _EDGES:
            canvas.line(*place(*view(scene.outline[a])), *place(*view(scene.outline[b])), "rule")
    for one, other in scene.beam:
        for shift in (0, 1):
            (x0, y0), (x1, y1) = place(*view(one)), place(*view(other))
            canvas.line(x0, y0 + shift, x1, y1 + shift, "text")


def _ends(canvas: Canvas, scene: LiftScene, view: object, place: Scale) -> None:
    assert callable(view)
    for line in scene.legs:
        column, row = place.cell(*view(line.foot))
        canvas.text(column, row, "○", line.style)
    for middle in scene.parts:
        column, row = place.cell(*view(middle))
        canvas.text(column, row, "+", "dim", over=False)
    if scene.centre is not None:
        column, row = place.cell(*view(scene.centre))
        canvas.text(column, row, "◆", "near")


def _legend(canvas: Canvas, scene: LiftScene) -> None:
    """What the marks are, in the corner beside the hook."""
    marks = ["◆ centre of gravity"] if scene.centre is not None else []
    marks += ["+ part"] if scene.parts else []
    for row, text in enumerate([*marks, "○ pick point"], 1):
        canvas.text(1, row, text, "dim", over=False)


def _along(canvas: Canvas, a: tuple[float, float], b: tuple[float, float], line: Line3) -> None:
    """Text beside the middle of a leg, on its outer side, moved along it until it is free; its first line at the least."""
    if not line.said:
        return
    style = line.style if line.style != "text" else "strong"
    whole = line.said.split("\n")
    for parts in (whole, whole[:2], whole[:1]):
        for share in (0.5, 0.62, 0.38, 0.75, 0.28, 0.88):
            y = a[1] + share * (b[1] - a[1])
            spots = []
            for number, part in enumerate(parts):
                row = int(y / 4) + number
                along = min(max((4 * row + 2 - a[1]) / ((b[1] - a[1]) or 1e-9), 0.0), 1.0)
                x = a[0] + along * (b[0] - a[0])
                column = int(x / 2) + 2 if b[0] >= a[0] else int(x / 2) - 1 - width(part)
                spots.append((max(0, min(column, canvas.cells - width(part))), row, part))
            if all(canvas.free(column, row, width(part) + 1) for column, row, part in spots):
                for number, (column, row, part) in enumerate(spots):
                    canvas.text(column, row, part, style if number == 0 else "dim")
                return


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def _less(a: Point, axis: Point) -> Point:
    """``a`` without its part along ``axis``."""
    d = _dot(a, axis)
    return (a[0] - d * axis[0], a[1] - d * axis[1], a[2] - d * axis[2])


def _cross(a: Point, b: Point) -> Point:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(a: Point) -> Point | None:
    size = math.sqrt(_dot(a, a))
    return None if size < 1e-12 else (a[0] / size, a[1] / size, a[2] / size)
