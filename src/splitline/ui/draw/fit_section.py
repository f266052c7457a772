"""A hub on its shaft, cut open, to one scale, with the pressures between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


@dataclass(frozen=True)
class FitSection:
    """Lengths in m; ``taper`` on diameter, 0 for a cylinder; ``pressures`` as (label, Pa), drawn as bars on one scale."""

    diameter: float
    bore: float
    outer: float
    length: float
    taper: float = 0.0
    advance: float = 0.0
    pressures: Sequence[tuple[str, float, str]] = ()  # label, Pa, style
    said: Sequence[str] = ()  # the pressures as text
    overlap: float = 0.0  # diametral interference; drawn far too thick, and said so


def fit_section(part: FitSection, labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """Rows of the section; ``labels`` knows shaft, outer, length, taper, advance."""
    canvas = Canvas(width_, height)
    if min(part.diameter, part.outer, part.length) <= 0:
        return canvas.finish()
    bars = len(part.pressures)
    foot = bars + 1
    body = canvas.high - 4.0 * (foot + 3)
    if body < 16:
        foot, body = 2, max(canvas.high - 16, 8)
        bars = 0
    long = part.length * 2.2
    per = min((canvas.wide * 0.72) / long, body / part.outer)
    mid = 8 + body / 2
    x0 = canvas.wide * 0.36 - per * long / 2
    hub = x0 + per * part.length * 0.6
    _shaft(canvas, part, per, x0, x0 + per * long, mid, hub)
    _hub(canvas, part, per, hub, mid)
    thick = _overlap(canvas, part, per, hub, mid)
    told = dict(labels)
    if thick and labels.get("interference"):
        times = thick / (part.overlap / 2 * per)
        told["drawn"] = f"interference drawn {float(f'{times:.1g}'):g} × too thick"
    _labels(canvas, part, told, per, hub, mid)
    if bars:
        _pressures(canvas, part, height - foot)
    return canvas.finish()


def _radius(part: FitSection, share: float) -> float:
    """Radius of the seat at a share of the length from the large end."""
    return part.diameter / 2 + part.taper / 2 * part.length * (0.5 - share)


def _shaft(canvas: Canvas, part: FitSection, per: float, x0: float, x1: float, mid: float, hub: float) -> None:
    thick, thin = _radius(part, 0.0) * per, _radius(part, 1.0) * per
    end = hub + per * part.length
    for sign in (-1, 1):
        canvas.line(x0, mid + sign * thick, hub, mid + sign * thick, "text")
        canvas.line(hub, mid + sign * thick, end, mid + sign * thin, "text")
        canvas.line(end, mid + sign * thin, x1, mid + sign * thin, "text")
        if part.bore:
            canvas.line(x0, mid + sign * part.bore / 2 * per, x1, mid + sign * part.bore / 2 * per, "dim", every=2)
    canvas.line(x0, mid - thick, x0, mid + thick, "rule", every=2)
    canvas.line(x1, mid - thin, x1, mid + thin, "rule", every=2)
    canvas.line(x0 - 4, mid, x1 + 4, mid, "rule", every=4)


def _hub(canvas: Canvas, part: FitSection, per: float, hub: float, mid: float) -> None:
    end = hub + per * part.length
    outer = part.outer / 2 * per
    steps = max(int(per * part.length), 1)
    for sign in (-1, 1):
        seat0, seat1 = _radius(part, 0.0) * per, _radius(part, 1.0) * per
        for i in range(steps):
            x = hub + i
            inner = (seat0 + (seat1 - seat0) * i / steps) + 1
            for y in range(int(inner), int(outer)):
                if (int(x) + y) % 5 == 0:
                    canvas.dot(int(x), round(mid + sign * y), "rule")
        canvas.poly(
            [
                (hub, mid + sign * seat0),
                (hub, mid + sign * outer),
                (end, mid + sign * outer),
                (end, mid + sign * seat1),
            ],
            "accent",
        )
        if part.advance:
            place = hub + part.advance * per  # where the large end stood at the witnessed zero
            canvas.line(place, mid + sign * outer, place, mid + sign * (outer + 6), "near")


def _overlap(canvas: Canvas, part: FitSection, per: float, hub: float, mid: float) -> float:
    """A band where hub and shaft want the same room; gives how many dots thick it is drawn."""
    if part.overlap <= 0:
        return 0.0
    thick = max(min(per * (part.outer - part.diameter) / 12, 4.0), 2.0)
    steps = max(int(per * part.length), 1)
    for i in range(steps + 1):
        inner = _radius(part, i / steps) * per
        for sign in (-1, 1):
            canvas.line(hub + i, mid + sign * inner, hub + i, mid + sign * (inner - thick), "load")
    return thick


def _labels(canvas: Canvas, part: FitSection, labels: dict[str, str], per: float, hub: float, mid: float) -> None:
    right = int((hub + per * part.length * 1.75) / 2) + 2
    row = int(mid / 4)
    lines = [
        labels.get(k, "")
        for k in ("outer", "shaft", "bore", "length", "taper", "interference", "drawn", "advance", "zero")
    ]
    for number, text in enumerate(t for t in lines if t):
        canvas.text(
            min(right, canvas.cells - width(text)),
            max(row - 4 + number, 0),
            text,
            "text" if text != labels.get("drawn") else "dim",
        )
    canvas.text(0, 0, labels.get("title", ""), "title")


def _pressures(canvas: Canvas, part: FitSection, row: int) -> None:
    """Pressures as bars of one scale, with their figures."""
    label = max((width(name) for name, _, _ in part.pressures), default=0) + 2
    most = max((value for _, value, _ in part.pressures), default=0) or 1.0
    tail = max((width(t) for t in part.said), default=0) + 2
    room = max(canvas.cells - label - tail - 2, 5)
    for number, ((name, value, style), said) in enumerate(zip(part.pressures, part.said, strict=True)):
        canvas.text(1, row + number, name, "dim")
        canvas.text(label + 1, row + number, "█" * max(round(value / most * room), 1), style)
        canvas.text(label + 2 + max(round(value / most * room), 1), row + number, said, "strong")
