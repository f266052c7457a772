"""A bundle on its track on the way into the casing, to one scale, over the push force along the same way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width

_SPARE = 0.12  # free way behind the shoulder and jack behind the bundle, as shares of the whole


@dataclass(frozen=True)
class Way:
    """Lengths in m, places from the leading end; forces in N, None where nothing came out."""

    length: float
    high: float  # of the bundle as drawn
    distance: float
    stroke: float = 0.0
    centre: float | None = None
    supports: tuple[float, ...] = ()
    seals: int = 0
    tips_after: float | None = None
    forces: Sequence[tuple[float, str, str]] = ()  # force, what it is said to be, style
    log: Sequence[tuple[float, bool]] = ()  # readings in their order, and whether each stops the push


def insertion_way(way: Way, travel: float, labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """Rows of the side view with the bundle ``travel`` along its way, and of the forces under it.

    ``labels`` knows title, bundle, casing, jack, front, rear, travel, stop, notes.
    """
    canvas = Canvas(width_, height)
    if min(way.length, way.high, way.distance) <= 0 or height < 8:
        return canvas.finish()
    draw = _Way(canvas, way, travel, labels)
    draw.casing()
    draw.bundle()
    draw.jack()
    draw.track()
    draw.forces()
    canvas.text(0, 0, labels.get("title", ""), "title", over=False)
    return canvas.finish()


class _Way:
    """Places in dots: the leading end starts at 0 and ends at the distance; the casing lies to the right."""

    def __init__(self, canvas: Canvas, way: Way, travel: float, labels: dict[str, str]) -> None:
        self.canvas, self.way, self.labels = canvas, way, labels
        self.travel = min(max(travel, 0.0), way.distance)
        self.behind = max(1.7 * way.stroke, _SPARE * way.length)
        whole = self.behind + way.length + way.distance * (1 + _SPARE)
        chart = max(min(canvas.rows * 2 // 5, 14), 5) if way.forces else 1
        self.chart = canvas.rows - chart  # first row of the forces
        room = 4 * (self.chart - 5)
        self.per = min((canvas.wide - 6) / whole, max(room, 6) / (1.4 * way.high))
        self.left = (canvas.wide - self.per * whole) / 2 + self.per * (self.behind + way.length)
        self.mid = 4 * 2 + max(room, 6) / 2
        self.mouth = max(way.distance - way.length, 0.0)

    def x(self, place: float) -> float:
        return self.left + self.per * place

    @property
    def half(self) -> float:
        return self.per * self.way.high / 2

    def casing(self) -> None:
        canvas, end = self.canvas, self.way.distance * (1 + _SPARE)
        wall, bore = max(self.half * 0.35, 3), self.half + 2
        for sign in (-1, 1):
            y0, y1 = self.mid + sign * bore, self.mid + sign * (bore + wall)
            canvas.hatch(self.x(self.mouth), y0, self.x(end), y1, "rule", 5, sign)
            canvas.box(self.x(self.mouth), y0, self.x(end), y1, "dim")
            shoulder = self.mid + sign * self.half * 0.6  # what the leading end lands on
            canvas.hatch(self.x(self.way.distance) + 1, y0, self.x(end), shoulder, "rule", 5, sign)
            canvas.line(self.x(self.way.distance) + 1, y0, self.x(self.way.distance) + 1, shoulder, "text")
        text = self.labels.get("casing", "")
        column = min(round(self.x(end) / 2) - width(text), canvas.cells - width(text))
        canvas.text(max(column, 0), 1, text, "dim", over=False)

    def bundle(self) -> None:
        canvas, way = self.canvas, self.way
        x0, x1 = self.x(self.travel - way.length), self.x(self.travel)
        canvas.box(x0, self.mid - self.half, x1, self.mid + self.half, "accent")
        canvas.line(x0, self.mid, x1, self.mid, "rule", every=4)
        for number in range(way.seals if self.half > 16 else 0):
            place = x0 + (x1 - x0) * (number + 0.5) / way.seals
            for sign in (-1, 1):
                canvas.box(place - 1, self.mid + sign * self.half, place + 1, self.mid + sign * (self.half - 3), "near")
        text = self.labels.get("bundle", "")
        column, row = round((x0 + x1) / 4 - width(text) / 2), int(self.mid / 4) - 1
        if width(text) <= (x1 - x0) / 2 - 2:
            canvas.text(column, row, text, "strong", over=False)
        if way.centre is not None:
            column = int(self.x(self.travel - way.centre) / 2)
            canvas.text(column, int(self.mid / 4), "◆", "near")
            canvas.text(column + 2, int(self.mid / 4), self.labels.get("centre", ""), "near", over=False)

    def jack(self) -> None:
        """The jack pushes on the trailing end from an abutment that follows it."""
        canvas, way = self.canvas, self.way
        if not way.stroke:
            return
        end = self.x(self.travel - way.length)
        back = end - self.per * 1.6 * way.stroke
        high = max(self.half * 0.22, 3)
        canvas.box(back, self.mid - high, back + self.per * 0.9 * way.stroke, self.mid + high, "tool")
        canvas.line(back + self.per * 0.9 * way.stroke, self.mid, end, self.mid, "tool")
        canvas.line(back - 1, self.mid - 2 * high, back - 1, self.mid + self.half, "text")
        text = self.labels.get("jack", "")
        row = int((self.mid - 2 * high) / 4) - 1
        canvas.text(
            min(max(int(back / 2) - width(text) // 2, 0), max(int(end / 2) - width(text) - 1, 0)), row, text, "tool"
        )

    def track(self) -> None:
        canvas, way = self.canvas, self.way
        foot = self.mid + self.half + 5
        canvas.line(self.x(-way.length) - self.per * self.behind, foot, self.x(self.mouth) - 2, foot, "text")
        row = int(foot / 4) + 1
        names = ("front", "rear") if len(way.supports) == 2 else ("front",)
        for place, name in zip(sorted(way.supports), names, strict=False):
            column = int(self.x(self.travel - place) / 2)
            canvas.text(column, int((foot - 2) / 4), "▲", "text")
            text = self.labels.get(name, "")
            canvas.text(
                max(0, min(column - width(text) // 2, canvas.cells - width(text))), row, text, "dim", over=False
            )
        if way.tips_after is not None and len(way.supports) == 2:
            place = self.x(self.travel - min(way.supports))
            canvas.line(place, foot - 4, place, self.mid + self.half, "rule", every=2)

    def forces(self) -> None:
        """Force over the way of the leading end, under the place where that end is."""
        canvas, way = self.canvas, self.way
        if not way.forces:
            return
        top, foot = 4 * self.chart + 3.0, 4.0 * (canvas.rows - 1) - 1
        most = 1.06 * max([f for f, _, _ in way.forces] + [f for f, _ in way.log])
        x0, x1 = self.x(0), self.x(way.distance)

        def y(force: float) -> float:
            return foot - (foot - top) * max(force, 0.0) / most

        canvas.line(x0, top, x0, foot, "dim")
        canvas.line(x0, foot, x1, foot, "dim")
        strokes = int(way.distance / way.stroke + 0.999) if way.stroke else 0
        for number in range(1, min(strokes, 60)):
            canvas.line(self.x(number * way.stroke), foot - 2, self.x(number * way.stroke), foot, "dim")
        for force, _, style in sorted(way.forces):  # the greatest last: where two share a row of cells it has the ink
            canvas.line(x0, y(force), x1, y(force), style, every=1 if style == "limit" else 2)
        self._said(y, x0)
        here = self.x(self.travel)
        canvas.line(here, self.mid + self.half, here, foot, "strong", every=3)
        for number, (force, stops) in enumerate(way.log, 1):
            place = x0 + (x1 - x0) * number / len(way.log)
            canvas.text(int(place / 2), int(y(force) / 4), "▲" if stops else "•", "fails" if stops else "strong")
        self._ticks(x0, x1)

    def _said(self, y: object, x0: float) -> None:
        """Each force left of its line, the greatest first; where rows run out the line stands alone."""
        assert callable(y)
        row = self.chart - 1
        for force, text, style in sorted(self.way.forces, reverse=True):
            row = max(int(y(force) / 4), row + 1)
            room = max(int(x0 / 2) - 1, 0)
            column = max(room - width(text), 0)
            if row < self.canvas.rows - 1:
                self.canvas.text(column, row, text, style, over=False)

    def _ticks(self, x0: float, x1: float) -> None:
        canvas, row = self.canvas, self.canvas.rows - 1
        text = self.labels.get("travel", "")
        column = int(self.x(self.travel) / 2) - width(text) // 2
        canvas.text(max(0, min(column, canvas.cells - width(text))), row, text, "strong", over=False)
        if self.travel and int(x0 / 2) + 2 < column:
            canvas.text(int(x0 / 2), row, "0", "dim", over=False)
        end = self.labels.get("stop", "")
        place = min(int(x1 / 2) - width(end) // 2, canvas.cells - width(end))
        if place > column + width(text) + 1:
            canvas.text(place, row, end, "dim", over=False)
