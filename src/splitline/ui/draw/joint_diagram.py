"""The joint diagram: bolt and clamped parts as two springs, and what an outside force does to them."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


@dataclass(frozen=True)
class Springs:
    """Forces in N, stiffnesses in N/m."""

    preload: float
    bolt: float
    member: float
    low: float | None = None
    high: float | None = None
    outside: float = 0.0  # force per bolt of the case shown
    residual: float | None = None  # clamp left at low preload
    bolt_load: float | None = None  # at high preload


def joint_diagram(springs: Springs, labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """Rows of the diagram; ``labels`` knows preload, low, high, outside, residual, bolt_load, stretch, squeeze, title."""
    canvas = Canvas(width_, height)
    if min(springs.preload, springs.bolt, springs.member) <= 0:
        return canvas.finish()
    stretch, squeeze = springs.preload / springs.bolt, springs.preload / springs.member
    top_force = 1.08 * max(springs.preload, springs.high or 0.0, springs.bolt_load or 0.0)
    said = max((width(labels.get(k, "")) for k in ("preload", "low", "high", "residual", "bolt_load")), default=0)
    left, right, top, foot = 6.0, max(canvas.wide - 2.0 * said - 6, canvas.wide / 3), 8.0, canvas.high - 10.0
    wide = max(stretch * 1.12, (springs.high or springs.preload) / springs.bolt) + squeeze * 1.25

    def x(place: float) -> float:
        return left + (right - left) * place / wide

    def y(force: float) -> float:
        return foot - (foot - top) * force / top_force

    canvas.line(left, top, left, foot, "dim")
    canvas.line(left, foot, right, foot, "dim")
    canvas.line(x(0), y(0), x(stretch), y(springs.preload), "text")
    canvas.line(x(stretch), y(springs.preload), x(stretch + squeeze), y(0), "accent")
    if springs.high is not None and springs.high > springs.preload:  # a bolt tightened more goes on up its own line
        canvas.line(x(stretch), y(springs.preload), x(springs.high / springs.bolt), y(springs.high), "text", every=2)
    for force, name in ((springs.low, "low"), (springs.high, "high")):
        if force is not None:
            canvas.line(left, y(force), right, y(force), "rule", every=3)
            _beside(canvas, right, y(force), labels.get(name, ""), "dim")
    canvas.line(left, y(springs.preload), x(stretch), y(springs.preload), "rule", every=2)
    _beside(canvas, right, y(springs.preload), labels.get("preload", ""), "strong")
    if springs.outside > 0:
        _outside(canvas, springs, x, y, labels, right)
    _feet(canvas, x, stretch, squeeze, foot, labels)
    canvas.text(0, 0, labels.get("title", ""), "title")
    return canvas.finish()


def _outside(canvas: Canvas, springs: Springs, x: object, y: object, labels: dict[str, str], right: float) -> None:
    """The outside force opens the springs by F_A / (k_b + k_m): drawn as the gap between the two lines."""
    assert callable(x)
    assert callable(y)
    stretch = springs.preload / springs.bolt
    give = springs.outside / (springs.bolt + springs.member)
    upper, lower = springs.preload + springs.bolt * give, max(springs.preload - springs.member * give, 0.0)
    place = x(stretch + give)
    canvas.line(x(stretch), y(springs.preload), place, y(upper), "near")
    canvas.line(place, y(upper), place, y(lower), "near")
    column = int(place / 2) + 2
    row = int(y((upper + lower) / 2) / 4)
    for shift, name in enumerate(("outside", "share")):
        text = labels.get(name, "")
        spot = min(column, canvas.cells - width(text))
        if not canvas.text(spot, row + shift, text, "near" if shift == 0 else "dim", over=False):
            canvas.text(spot, row + shift + 1, text, "near" if shift == 0 else "dim", over=False)
    for name, start, force, style in (
        ("bolt_load", springs.high, springs.bolt_load, "fails"),
        ("residual", springs.low, springs.residual, "ok"),
    ):
        if force is None or force < 0 or start is None:
            continue
        # The same force on a bolt at this end of its preload: up its line, or down the line of what it clamps.
        foot = x(start / springs.bolt)
        canvas.line(foot, y(start), x(start / springs.bolt + give), y(force), style, every=2)
        canvas.line(x(start / springs.bolt + give), y(force), right, y(force), style, every=3)
        _beside(canvas, right, y(force), labels.get(name, ""), style)


def _beside(canvas: Canvas, right: float, y: float, text: str, style: str) -> None:
    """A label at the right end of a line, moved down a row where one stands already."""
    row = max(int(y / 4), 0)
    column = min(int(right / 2) + 1, max(canvas.cells - width(text), 0))
    for shift in (0, 1, -1, 2, -2, 3):
        if canvas.text(column, row + shift, text, style, over=False):
            return


def _feet(canvas: Canvas, x: object, stretch: float, squeeze: float, foot: float, labels: dict[str, str]) -> None:
    assert callable(x)
    row = int(foot / 4) + 1
    for place, name, style in ((stretch / 2, "stretch", "text"), (stretch + squeeze / 2, "squeeze", "accent")):
        text = labels.get(name, "")
        column = max(0, min(int(x(place) / 2) - width(text) // 2, canvas.cells - width(text)))
        if not canvas.text(column, row, text, style, over=False):
            canvas.text(max(0, canvas.cells - width(text)), row + 1, text, style, over=False)
