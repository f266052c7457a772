"""The bolt map: every bolt in its true place and to scale, with its number beside it, seen from a stated side."""

from __future__ import annotations

import itertools
import math
import textwrap
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from splitline.assess.tightening_list import numbered
from splitline.plan.model import Joint
from splitline.plan.places import bolt_places
from splitline.report.pictures.bar import scale_bar
from splitline.report.shapes import Circle, Drawing, Label, Line, Polygon, Shape, scale_for, scale_said
from splitline.units import System

Place = tuple[float, float]
Box = tuple[float, float, float, float]
POINT = 25.4 / 72
DIGIT = 0.70  # em, width of a bold digit
WIDE = 0.58  # em, width of a letter on the mean
VALUED = 60  # bolts up to which every value is written; of more, that of the worst
VALUE = 6.5  # points
APART = 0.4  # mm on each side, so that two numbers in a row are not read as one


@dataclass(frozen=True, slots=True)
class Looks:
    """What a map shows besides the places. Lengths in m."""

    diameters: Mapping[int, float]  # of each bolt, its thread
    others: Collection[int] = ()  # bolts of another size, drawn grey
    measured: Collection[int] = ()  # bolts whose stretch is read, drawn with a dot
    words: tuple[str, ...] = ()  # written in the middle
    system: System = "SI"
    values: Mapping[int, str] = field(default_factory=dict)  # written under the numbers
    worst: Collection[int] = ()  # a ring round them, and their value stands out
    short: Collection[int] = ()  # crossed out: not pulled to the end


def places_of(joint: Joint) -> tuple[Place, ...]:
    """Places of the bolts, m, y up, in the order of their numbers; empty while they cannot be drawn to scale."""
    layout = joint.layout
    return () if layout is None or (layout.shape == "circle" and not layout.diameter) else bolt_places(joint)


def bolt_map(joint: Joint, looks: Looks, wide: float, high: float, zoom: float = 1.0) -> Drawing | None:
    """The map on a field of at most ``wide`` by ``high`` mm; None while the places are not known."""
    places = places_of(joint)
    if len(places) < 2:
        return None
    return _Map(joint, looks, places, wide, high, zoom).drawing()


class _Map:
    def __init__(
        self, joint: Joint, looks: Looks, places: Sequence[Place], wide: float, high: float, zoom: float
    ) -> None:
        self.joint, self.looks, self.places, self.zoom = joint, looks, places, zoom
        layout = joint.layout
        self.shape = layout.shape if layout is not None else "points"
        self.values = (
            looks.values if len(places) <= VALUED else {n: looks.values[n] for n in looks.worst if n in looks.values}
        )
        self.size = 9.0 if len(places) <= 30 else 8.0 if len(places) <= 60 else 6.5 if len(places) <= 120 else 5.6
        low, top = self._extent()
        span = (max(top[0] - low[0], 1e-3), max(top[1] - low[1], 1e-3))
        self.margin, over = self._margin(), self._overhang()
        for _ in range(3):  # a flange wider than its bolt circle gives the numbers part of their room
            self.n = scale_for(span[0], span[1], wide - 2 * self.margin, high - 2 * self.margin - 6, zoom)
            self.per = 1000 / self.n / zoom  # layout mm per m
            self.margin = max(1.5, self._margin() - over * self.per)
        self.middle = ((low[0] + top[0]) / 2, (low[1] + top[1]) / 2)
        self.width = wide
        self.height = span[1] * self.per + 2 * self.margin + 6
        self.shapes: list[Shape] = []
        self.boxes: list[Box] = []  # numbers that stand
        self.bolts: list[tuple[float, float, float]] = []

    def _margin(self) -> float:
        """Room round the bolts for their numbers: one ring of them, two or three where they stand close."""
        rings = 1 if len(self.places) <= 60 else 2 if len(self.places) <= 120 else 3
        own = 3.0 + 1.1 * len(str(len(self.places))) * self.size * POINT * DIGIT * rings
        widest = max((len(text) for text in self.values.values()), default=0) * VALUE * POINT * WIDE
        return own + (widest if len(self.places) <= VALUED else 0.0)

    def _overhang(self) -> float:
        """How far the flange reaches beyond the bolt circle, m."""
        member, layout = self.joint.member, self.joint.layout
        if (
            self.shape != "circle"
            or member is None
            or layout is None
            or not member.outer_diameter
            or not layout.diameter
        ):
            return 0.0
        return max(0.0, (member.outer_diameter - layout.diameter) / 2)

    def _extent(self) -> tuple[Place, Place]:
        member, layout = self.joint.member, self.joint.layout
        xs, ys = [p[0] for p in self.places], [p[1] for p in self.places]
        if self.shape == "circle" and layout is not None and layout.diameter:
            reach = max(layout.diameter, (member.outer_diameter if member else None) or 0.0) / 2
            return (-reach, -reach), (reach, reach)
        pad = max(self.looks.diameters.values(), default=0.0)
        ends = [layout.line_from, layout.line_to] if layout is not None else []
        xs += [end for end in ends if end is not None]
        return (min(xs) - pad, min(ys) - pad), (max(xs) + pad, max(ys) + pad)

    def at(self, place: Place) -> Place:
        """Where a place lies on the field."""
        x = self.width / 2 + (place[0] - self.middle[0]) * self.per
        y = (self.height - 6) / 2 - (place[1] - self.middle[1]) * self.per
        return x, y

    def drawing(self) -> Drawing:
        self._outline()
        radii = [self._radius(number) for number in range(1, len(self.places) + 1)]
        for number, place in enumerate(self.places, 1):
            x, y = self.at(place)
            r = radii[number - 1]
            self.bolts.append((x, y, r))
        for number, place in enumerate(self.places, 1):
            self._bolt(number, self.at(place), radii[number - 1])
        for number, place in enumerate(self.places, 1):
            self._number(number, self.at(place), radii[number - 1])
        self._words()
        self._bar()
        return Drawing(self.width, self.height, tuple(self.shapes), self._said())

    def _radius(self, number: int) -> float:
        """To scale, but never so small that it cannot be seen, nor touching its neighbour."""
        true = self.looks.diameters.get(number, 0.0) / 2 * self.per
        return max(true, 0.5)

    def _outline(self) -> None:
        layout, member = self.joint.layout, self.joint.member
        if self.shape == "circle" and layout is not None and layout.diameter:
            x, y = self.at((0.0, 0.0))
            self.shapes.append(Circle(x, y, layout.diameter / 2 * self.per, 0.15, dash=1.2, grey=0.4))
            for diameter in (member.outer_diameter, member.inner_diameter) if member else ():
                if diameter:
                    self.shapes.append(Circle(x, y, diameter / 2 * self.per, 0.25, grey=0.3))
            self._top(x, y)
        if self.shape == "split-line":
            self._line_outline()

    def _top(self, x: float, y: float) -> None:
        """A mark at 12 o'clock, and an arrow that says which way the numbers run."""
        layout = self.joint.layout
        assert layout is not None
        assert layout.diameter is not None
        r = layout.diameter / 2 * self.per
        tip = y - r * 0.80
        self.shapes.append(Polygon(((x, tip), (x - 1.6, tip + 3.2), (x + 1.6, tip + 3.2)), 0.2, 0.0))
        self.shapes.append(Label(x, tip + 5.0, "12 o'clock", 7, "middle"))
        turn = -1 if layout.numbering == "counter-clockwise" else 1
        inner = r * 0.70
        points = [
            (x + turn * inner * math.sin(a), y - inner * math.cos(a)) for a in [0.35 + 0.06 * k for k in range(11)]
        ]
        for (x0, y0), (x1, y1) in itertools.pairwise(points):
            self.shapes.append(Line(x0, y0, x1, y1, 0.4))
        (bx, by), (ax, ay) = points[-2], points[-1]
        angle = math.atan2(ay - by, ax - bx)
        head = tuple(
            (ax + 2.4 * math.cos(angle + turned), ay + 2.4 * math.sin(angle + turned)) for turned in (0.0, 2.4, -2.4)
        )
        self.shapes.append(Polygon(head, 0.2, 0.0))

    def _line_outline(self) -> None:
        layout, member = self.joint.layout, self.joint.member
        assert layout is not None
        xs = [p[0] for p in self.places]
        pitch = max((b - a for a, b in zip(sorted(set(xs)), sorted(set(xs))[1:], strict=False)), default=0.1) / 2
        start = layout.line_from if layout.line_from is not None else min(xs) - pitch
        end = layout.line_to if layout.line_to is not None else max(xs) + pitch
        width = (member.flange_width if member else None) or 0.0
        for side in sorted({p[1] for p in self.places}):
            for edge in (side - width / 2, side + width / 2) if width else (side,):
                (x0, y0), (x1, y1) = self.at((start, edge)), self.at((end, edge))
                self.shapes.append(Line(x0, y0, x1, y1, 0.25, 0.0 if width else 1.2, 0.35))
        (x0, y0), (x1, _) = self.at((start, 0.0)), self.at((end, 0.0))
        self.shapes.append(Line(x0, y0, x1, y0, 0.2, 2.5, 0.4))
        for name, side in (("side a", 1), ("side b", -1)):
            ys = [p[1] for p in self.places if p[1] * side > 0]
            if ys:
                x, y = self.at((start, 0.0))
                self.shapes.append(Label(x + 2, y - side * 4, name, 8, "left"))

    def _bolt(self, number: int, at: Place, r: float) -> None:
        other, measured = number in self.looks.others, number in self.looks.measured
        self.shapes.append(Circle(at[0], at[1], r, 0.35, 0.72 if other else 1.0))
        if number in self.looks.worst:
            self.shapes.append(Circle(at[0], at[1], r + 0.9, 0.6))
        if number in self.looks.short:
            d = (r + 0.5) * math.sqrt(0.5)
            (x, y) = at
            self.shapes += [Line(x - d, y - d, x + d, y + d, 0.5), Line(x - d, y + d, x + d, y - d, 0.5)]
        if measured:
            self.shapes.append(Circle(at[0], at[1], max(r * 0.4, 0.3), 0.2, 0.0))

    def _number(self, number: int, at: Place, r: float) -> None:
        """Beside its bolt on the outside, farther out where another number is in the way."""
        text, value = str(number), self.values.get(number, "")
        line, under = self.size * POINT, VALUE * POINT * 1.15 if value else 0.0
        high = line + under
        wide = max(len(text) * line * DIGIT, len(value) * VALUE * POINT * WIDE)
        r += 1.2 if number in self.looks.worst else 0.0
        ux, uy = self._outward(at)
        reach = abs(ux) * wide / 2 + abs(uy) * high / 2
        for ring in range(24):
            away = r + 0.7 + reach + ring * high * 0.45
            x, y = at[0] + ux * away, at[1] + uy * away
            box = (x - wide / 2 - APART, y - high / 2, x + wide / 2 + APART, y + high / 2)
            if not any(_overlap(box, other) for other in self.boxes) and not any(_covers(box, b) for b in self.bolts):
                break
        self.boxes.append(box)
        if ring > 1:
            self.shapes.append(Line(at[0] + ux * r, at[1] + uy * r, x - ux * reach, y - uy * reach, 0.12, grey=0.45))
        clear = self.shape == "split-line" or bool(self.values)  # a flange's edge strikes no figure through
        self.shapes.append(Label(x, y - under / 2, text, self.size, "middle", strong=True, clear=clear))
        if value:
            worst = number in self.looks.worst
            self.shapes.append(Label(x, y + line / 2, value, VALUE, "middle", strong=worst, clear=clear))

    def _outward(self, at: Place) -> Place:
        x, y = self.width / 2, (self.height - 6) / 2
        if self.shape == "split-line":
            return 0.0, -1.0 if at[1] < self.at((0.0, 0.0))[1] else 1.0
        dx, dy = at[0] - x, at[1] - y
        size = math.hypot(dx, dy)
        return (dx / size, dy / size) if size > 1e-6 else (0.0, -1.0)

    def _words(self) -> None:
        x, y = self.at((0.0, 0.0)) if self.shape == "circle" else (self.width / 2, self.at(self.middle)[1])
        size = 8.5 if self.shape != "points" else 0.0
        if not size:
            return
        rows = [*self.looks.words, f"scale {scale_said(self.n)}"]
        layout = self.joint.layout
        if self.shape == "circle" and layout is not None and layout.diameter:
            inside = layout.diameter * self.per * 0.72  # clear of the numbers and the arrow
            rows = [line for text in rows for line in textwrap.wrap(text, max(int(inside / (size * POINT * WIDE)), 8))]
        for number, text in enumerate(rows):
            row = y + (number - (len(rows) - 1) / 2) * size * POINT * 1.35
            self.shapes.append(
                Label(x, row, text, size, "middle", strong=number == 0, clear=self.shape == "split-line")
            )

    def _bar(self) -> None:
        """A bar of known length: a print that was fitted to the page shows."""
        words = f" on the machine, {scale_said(self.n)}"
        self.shapes += scale_bar(self.height - 2.4, self.per, min(45, self.width * 0.4), self.looks.system, words)

    def _said(self) -> str:
        layout = self.joint.layout
        words = [f"{len(self.places)} bolts"]
        if layout is not None:
            words.append(numbered(layout))
            if layout.seen_from:
                words.append(f"seen from {layout.seen_from}")
        said = ", ".join([*words, f"scale {scale_said(self.n)}"])
        by = ", ".join(f"{number}: {text}" for number, text in sorted(self.looks.values.items()))
        parts = [said, *([f"by bolt {by}"] if by else [])]
        for name, numbers in (("worst", self.looks.worst), ("not pulled to the end", self.looks.short)):
            parts += [f"{name}: {', '.join(map(str, sorted(numbers)))}"] if numbers else []
        return "; ".join(parts)


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _covers(box: Box, bolt: tuple[float, float, float]) -> bool:
    """Whether a number would stand on a bolt."""
    x, y, r = bolt
    dx, dy = max(box[0] - x, x - box[2], 0.0), max(box[1] - y, y - box[3], 0.0)
    return math.hypot(dx, dy) < r
