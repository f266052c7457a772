"""The section of an interference fit, upper half of hub over shaft, to scale (taper drawn steeper where it would not show)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from splitline.report.shapes import Drawing, Label, Line, Polygon, Shape, scale_for, scale_said
from splitline.units import System, show


def fit_section(section: Mapping[str, Any], wide: float, high: float, zoom: float, system: System) -> Drawing | None:
    """Hub and shaft; ``section`` has shaft_diameter, shaft_bore, hub_outer, length, taper (on diameter), all SI."""
    d, outer, length = (section.get(name) for name in ("shaft_diameter", "hub_outer", "length"))
    if not d or not outer or not length:
        return None
    bore, taper = section.get("shaft_bore") or 0.0, section.get("taper") or 0.0
    n = scale_for(length * 1.7, outer, wide - 42, high - 22, zoom)
    per = 1000 / n / zoom
    middle, axis = (wide - 40) / 2, (high - 6) / 2
    half, rise = length / 2 * per, taper * length / 4 * per
    if taper:
        rise = max(rise, 1.2)  # a taper of 1:30 over a short hub would look cylindrical
    shapes: list[Shape] = []
    for side in (-1, 1):
        seat, top, inner = side * d / 2 * per, side * outer / 2 * per, side * bore / 2 * per
        left, right = axis + seat + side * rise, axis + seat - side * rise
        hub = ((middle - half, left), (middle + half, right), (middle + half, axis + top), (middle - half, axis + top))
        shapes.append(Polygon(hub, 0.45, 0.82))
        x0, x1 = middle - half * 1.6, middle + half * 1.4
        shaft = (
            (x0, axis + inner), (x1, axis + inner), (x1, right), (middle + half, right), (middle - half, left), (x0, left),
        )  # fmt: skip
        shapes.append(Polygon(shaft, 0.45, 1.0))
    shapes.append(Line(middle - half * 1.75, axis, middle + half * 1.55, axis, 0.2, 2.2, 0.3))
    shapes += _dimensions(section, middle, axis, half, per, system)
    said = f"section, scale {scale_said(n)}" + (f", taper 1:{1 / taper:g} on diameter" if taper else "")
    shapes.append(Label(1, high - 2.5, said, 7.5, "left"))
    return Drawing(wide, high, tuple(shapes), f"section of hub and shaft, scale {scale_said(n)}")


def _dimensions(
    section: Mapping[str, Any], middle: float, axis: float, half: float, per: float, system: System
) -> list[Shape]:
    outer, d = section["hub_outer"], section["shaft_diameter"]
    x = middle + half * 1.4 + 3
    shapes: list[Shape] = []
    for word, size, shift in (("hub ⌀", outer, 0.0), ("seat ⌀", d, 6.0)):
        y = size / 2 * per
        at = x + shift
        shapes += [
            Line(at, axis - y, at, axis + y, 0.2),
            Line(middle + half, axis - y, at + 1, axis - y, 0.12, grey=0.4),
            Line(middle + half, axis + y, at + 1, axis + y, 0.12, grey=0.4),
        ]
        shapes += _arrow(at, axis - y, -1) + _arrow(at, axis + y, 1)
        left, middle_height = (at + 1.2, axis) if shift else (at - 1, axis - y - 3)
        shapes.append(Label(left, middle_height, f"{word} {show(size, 'length', system)}", 7.5, "left"))
    top = axis - outer / 2 * per - 3
    shapes += [
        Line(middle - half, top, middle + half, top, 0.2),
        Line(middle - half, top - 1, middle - half, top + 3, 0.12, grey=0.4),
        Line(middle + half, top - 1, middle + half, top + 3, 0.12, grey=0.4),
        Label(middle, top - 2.2, f"length {show(section['length'], 'length', system)}", 7.5),
    ]
    return shapes


def _arrow(x: float, y: float, way: int) -> list[Shape]:
    return [Polygon(((x, y), (x - 0.7, y - way * 2.2), (x + 0.7, y - way * 2.2)), 0.1, 0.0)]
