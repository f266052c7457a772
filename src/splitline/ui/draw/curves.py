"""Curves over one axis: the loads of head and tail while a load is upended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


@dataclass(frozen=True)
class Curve:
    """Values over the axis, with a band where they may lie and a limit."""

    name: str
    values: Sequence[float]
    style: str
    low: Sequence[float] = ()
    high: Sequence[float] = ()
    limit: float | None = None
    limit_said: str = ""


def curves(
    across: Sequence[float],
    found: Sequence[Curve],
    width_: int,
    height: int,
    *,
    ticks: Sequence[tuple[float, str]] = (),
    levels: Sequence[tuple[float, str]] = (),
    title: str = "",
) -> list[Row]:
    """Rows of the picture; ``ticks`` name places across, ``levels`` values up."""
    canvas = Canvas(width_, height)
    if len(across) < 2 or not found:
        return canvas.finish()
    left, right, top, foot = 20.0, canvas.wide - 4.0, 8.0, canvas.high - 10.0
    start, end = min(across), max(across)
    every = [v for c in found for v in (*c.values, *c.low, *c.high)] + [v for v, _ in levels]
    least, most = min([0.0, *every]), max([*every, 1e-9]) * 1.05

    def x(value: float) -> float:
        return left + (right - left) * (value - start) / max(end - start, 1e-12)

    def y(value: float) -> float:
        return foot - (foot - top) * (value - least) / max(most - least, 1e-12)

    canvas.line(left, top, left, foot, "dim")
    canvas.line(left, y(0), right, y(0), "dim")
    for value, said in levels:
        canvas.line(left, y(value), right, y(value), "rule", every=4)
        canvas.text(0, int(y(value) / 4), said, "dim")
    for curve in found:
        for band in (curve.low, curve.high):
            canvas.poly([(x(a), y(v)) for a, v in zip(across, band, strict=False)], curve.style, every=3)
        canvas.poly([(x(a), y(v)) for a, v in zip(across, curve.values, strict=True)], curve.style)
        if curve.limit is not None and curve.limit <= most:
            canvas.line(left, y(curve.limit), right, y(curve.limit), "fails", every=2)
            text = curve.limit_said
            canvas.text(canvas.cells - width(text) - 2, max(int(y(curve.limit) / 4) - 1, 0), text, "fails", over=False)
    for number, curve in enumerate(found):
        _name(canvas, curve, across, x, y, -1 if number % 2 == 0 else 1)
    for value, said in ticks:
        canvas.text(int(x(value) / 2) - width(said) // 2, int(foot / 4) + 1, said, "dim", over=False)
    canvas.text(0, 0, title, "title")
    return canvas.finish()


def _name(canvas: Canvas, curve: Curve, across: Sequence[float], x: object, y: object, side: int) -> None:
    """The curve's name beside it, above (-1) or below (1) first."""
    assert callable(x)
    assert callable(y)
    for share in (0.25, 0.5, 0.75, 0.1, 0.9):
        place = int(share * (len(across) - 1))
        column, row = int(x(across[place]) / 2), int(y(curve.values[place]) / 4)
        for shift in (side, 2 * side, -side, -2 * side):
            if canvas.text(column, row + shift, curve.name, curve.style, over=False):
                return
