"""A bolt in its joint, cut open, to one scale: tapped side left, nut right."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


@dataclass(frozen=True)
class BoltSection:
    """Lengths in m along and across the bolt; 0 where there is none. ``labels`` are texts by part."""

    diameter: float
    clamp: float
    engagement: float = 0.0  # tapped side; 0: a second nut stands there
    nut: float = 0.0  # height
    across: float = 0.0  # across flats
    washer: float = 0.0
    washer_diameter: float = 0.0
    hole: float = 0.0
    shank: float = 0.0  # diameter of a reduced shank
    shank_length: float = 0.0
    bore: float = 0.0
    protrusion: float = 0.0
    layers: tuple[float, ...] = ()  # thicknesses from the nut down
    head: float = 0.0  # height of a bolt's head in place of the second nut
    socket: float = 0.0  # across the flats of a socket in the head that stands in place of the nut


def joint_section(part: BoltSection, labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """Rows of the section. ``labels`` knows thread, clamp, engagement, shank, hole, nut, bore, protrusion, washer."""
    canvas = Canvas(width_, height)
    left = part.washer + (part.head or part.nut + part.protrusion)
    if part.engagement:
        left = part.engagement * 1.35
    total = left + part.clamp + part.washer + part.nut + part.protrusion
    across = max(part.hole, part.across, part.washer_diameter, part.diameter) * 1.9
    if total <= 0 or across <= 0:
        return canvas.finish()
    top, foot = 2, 5  # rows kept for labels
    per = min((canvas.wide - 8) / total, (canvas.high - 4 * (top + foot)) / across)
    mid = 4 * top + (canvas.high - 4 * (top + foot)) / 2
    start = (canvas.wide - per * total) / 2
    draw = _Section(canvas, part, per, start, mid, left)
    draw.members(across)
    draw.bolt()
    draw.nuts()
    draw.axis(total)
    _labels(canvas, draw, labels, height)
    return canvas.finish()


class _Section:
    """Places along and across the bolt in dots."""

    def __init__(self, canvas: Canvas, part: BoltSection, per: float, start: float, mid: float, left: float) -> None:
        self.canvas = canvas
        self.part = part
        self.per = per
        self.start = start
        self.mid = mid
        self.across = 0.0  # width of the members as drawn, m
        self.face = left  # place of the parting face along the bolt, m

    def x(self, place: float) -> float:
        return self.start + self.per * place

    def up(self, radius: float) -> float:
        return self.mid - self.per * radius

    def down(self, radius: float) -> float:
        return self.mid + self.per * radius

    def both(self, x0: float, x1: float, radius: float, style: str, every: int = 1) -> None:
        for y in (self.up(radius), self.down(radius)):
            self.canvas.line(self.x(x0), y, self.x(x1), y, style, every)

    def members(self, across: float) -> None:
        part, canvas = self.part, self.canvas
        self.across = across
        half, hole = across / 2, (part.hole or part.diameter * 1.1) / 2
        end = self.face + part.clamp
        for lean, x0, x1, inner in ((1, 0.0, self.face, part.diameter / 2), (-1, self.face, end, hole)):
            if lean == 1 and not part.engagement:
                continue
            for y0, y1 in ((self.up(half), self.up(inner)), (self.down(inner), self.down(half))):
                canvas.hatch(self.x(x0), y0, self.x(x1), y1, "rule", 6, lean)
                canvas.box(self.x(x0), y0, self.x(x1), y1, "dim")
        place = end
        for thickness in part.layers[:-1]:
            place -= thickness
            for y0, y1 in ((self.up(half), self.up(hole)), (self.down(hole), self.down(half))):
                canvas.line(self.x(place), y0, self.x(place), y1, "dim")

    def bolt(self) -> None:
        part = self.part
        radius = part.diameter / 2
        first = self.face - part.engagement if part.engagement else 0.0
        last = self.face + part.clamp + part.washer + part.nut + part.protrusion
        shank0 = shank1 = self.face
        if part.shank and part.shank_length:
            middle = self.face + part.clamp / 2
            shank0, shank1 = middle - part.shank_length / 2, middle + part.shank_length / 2
            self.both(shank0, shank1, part.shank / 2, "text")
            for x in (shank0, shank1):
                self.canvas.line(self.x(x), self.up(radius), self.x(x), self.up(part.shank / 2), "text")
                self.canvas.line(self.x(x), self.down(radius), self.x(x), self.down(part.shank / 2), "text")
        for x0, x1 in ((first + part.head, shank0), (shank1, last)):
            self.both(x0, x1, radius, "text")
            if x1 == last or not part.head:  # no thread under a head
                self.both(x0, x1, radius * 0.88, "dim", every=2)
        for x in (first, last):
            self.canvas.line(self.x(x), self.up(radius), self.x(x), self.down(radius), "text")
        if part.bore:
            self.both(first, last, part.bore / 2, "dim", every=3)

    def nuts(self) -> None:
        part = self.part
        x0 = self.face + part.clamp
        if part.washer:
            self._ring(x0, x0 + part.washer, (part.washer_diameter or part.across) / 2, part.diameter / 2)
        x0 += part.washer
        if part.nut:
            self._ring(x0, x0 + part.nut, part.across / 2, part.diameter / 2)
        if part.socket and part.nut:
            end, deep = x0 + part.nut, 0.55 * part.nut
            self.both(end - deep, end, part.socket / 2, "accent")
            self.canvas.line(
                self.x(end - deep), self.up(part.socket / 2), self.x(end - deep), self.down(part.socket / 2), "accent"
            )
        if not part.engagement and (high := part.head or part.nut):
            inner = 0.0 if part.head else part.diameter / 2
            self._ring(self.face - part.washer - high, self.face - part.washer, part.across / 2, inner)
            if part.washer:
                self._ring(
                    self.face - part.washer, self.face, (part.washer_diameter or part.across) / 2, part.diameter / 2
                )

    def _ring(self, x0: float, x1: float, outer: float, inner: float) -> None:
        for y0, y1 in ((self.up(outer), self.up(inner)), (self.down(inner), self.down(outer))):
            self.canvas.box(self.x(x0), y0, self.x(x1), y1, "accent")

    def axis(self, total: float) -> None:
        self.canvas.line(self.x(0) - 4, self.mid, self.x(total) + 4, self.mid, "rule", every=4)


def _labels(canvas: Canvas, draw: _Section, labels: dict[str, str], height: int) -> None:
    part = draw.part
    end = draw.face + part.clamp
    spans = [
        ("engagement", draw.face - part.engagement, draw.face),
        ("clamp", draw.face, end),
        ("nut", end + part.washer, end + part.washer + part.nut),
        ("head", draw.face - part.washer - part.head, draw.face - part.washer),
    ]
    row = height - 4
    for name, x0, x1 in spans:
        text = labels.get(name, "")
        if not text or x1 <= x0:
            continue
        for x in (x0, x1):
            canvas.line(draw.x(x), 4 * (height - 6), draw.x(x), 4 * row, "rule", every=2)
        canvas.line(draw.x(x0), 4 * row, draw.x(x1), 4 * row, "dim")
        column = round(draw.x((x0 + x1) / 2) / 2 - width(text) / 2)
        column = max(0, min(column, canvas.cells - width(text)))
        if not canvas.text(column, row + 1, text, "text", over=False):
            canvas.text(column, row + 2, text, "text", over=False)
    top = max(int(draw.up(draw.across / 2) / 4) - 1, 1)
    for name, x0, x1 in (("tapped", 0.0, draw.face), ("parts", draw.face, end)):
        text = labels.get(name, "")
        if text and width(text) <= (draw.x(x1) - draw.x(x0)) / 2:
            canvas.text(round(draw.x((x0 + x1) / 2) / 2 - width(text) / 2), top, text, "dim", over=False)
    foot = "   ".join(t for t in ("to one scale", labels.get("layers", "")) if t)
    canvas.text(1, height - 1, foot, "dim", over=False) or canvas.text(1, height - 1, "to one scale", "dim", over=False)
    heads = [labels[k] for k in ("thread", "shank", "hole", "bore", "washer", "protrusion") if labels.get(k)]
    while len(heads) > 1 and width("   ".join(heads)) > canvas.cells - 2:
        heads.pop()
    canvas.text(1, 0, "   ".join(heads), "dim")
