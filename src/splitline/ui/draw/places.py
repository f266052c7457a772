"""Where a clearance is measured: sketches with the gap drawn far too wide, so that it can be seen. Never to scale."""

from __future__ import annotations

import math

from splitline.ui.draw.canvas import Canvas
from splitline.ui.draw.rows import Row, width


def gap_place(labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """Two faces with a gap between them; ``labels`` knows gap."""
    canvas = Canvas(width_, height)
    mid, half = canvas.wide / 2, min(canvas.high / 2 - 6, 40)
    y0, y1 = canvas.high / 2 - half, canvas.high / 2 + half
    for sign in (-1, 1):
        canvas.hatch(mid + sign * 10, y0, mid + sign * 60, y1, "rule", 5, sign)
        canvas.box(mid + sign * 10, y0, mid + sign * 60, y1, "dim")
    _across(canvas, mid - 10, mid + 10, canvas.high / 2, "")
    text = labels.get("gap", "")
    canvas.text(max(int(mid / 2) - width(text) // 2, 0), max(int(y0 / 4) - 1, 0), text, "strong")
    return canvas.finish()


def float_place(share: float, labels: dict[str, str], width_: int, height: int, shim: bool = False) -> list[Row]:
    """A thrust collar between its stops, ``share`` of the float from the active side; labels: active, inactive.

    With ``shim`` a plate stands behind one stop; which side it is on is said in words, not drawn.
    """
    canvas = Canvas(width_, height)
    wide, mid = min(canvas.wide - 40, 220), canvas.wide / 2
    x0, x1 = mid - wide / 2, mid + wide / 2
    free, half = wide * 0.5, min(canvas.high / 2 - 2, 36)
    y = canvas.high / 2
    place = x0 + wide * 0.1 + free * min(max(share, 0.0), 1.0)
    collar = wide * 0.3
    for a, b in ((x0 - 10, x0 + wide * 0.1), (place + collar + free * (1 - share), x1 + 10)):
        for sign in (-1, 1):
            canvas.hatch(a, y + sign * half, b, y + sign * half * 0.35, "rule", 5)
            canvas.box(a, y + sign * half, b, y + sign * half * 0.35, "dim")
    for sign in (-1, 1):
        if shim:
            canvas.hatch(x1 + 11, y + sign * half, x1 + 16, y + sign * half * 0.35, "near", 1)
        canvas.line(0, y + sign * half * 0.25, place, y + sign * half * 0.25, "text")
        canvas.line(place + collar, y + sign * half * 0.25, canvas.wide, y + sign * half * 0.25, "text")
    canvas.box(place, y - half * 0.9, place + collar, y + half * 0.9, "accent")
    canvas.text(int((place + collar / 2) / 2) - 3, int(y / 4), labels.get("collar", "collar"), "accent")
    row = y - half * 0.7
    _across(canvas, x0 + wide * 0.1, place, row, labels.get("active", ""))
    _across(canvas, place + collar, place + collar + free * (1 - share), row, labels.get("inactive", ""))
    return canvas.finish()


def pads_place(pads: int, between: bool, labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """A journal in its tilting pads with the way it is lifted; the gap is drawn far too wide."""
    canvas = Canvas(width_, height)
    inner = max(min(canvas.high / 2 - 8, canvas.wide / 4), 6)
    said = max((width(labels.get(key, "")) for key in ("gap", "way", "lift")), default=0)
    cx = max(min(canvas.wide / 2, canvas.wide - 2 * said - inner - 14), inner + 6)  # words stand to the right
    cy = canvas.high / 2
    canvas.ellipse(cx, cy, inner * 0.8, inner * 0.8, "accent")
    turn = 2 * math.pi / max(pads, 1)
    first = -math.pi / 2 + (turn / 2 if between else 0.0)  # the lift goes straight up
    for number in range(pads):
        middle = first + number * turn
        for radius in (inner, inner + 5):
            points = []
            for k in range(13):
                a = middle + (k / 12 - 0.5) * turn * 0.78
                points.append((cx + radius * math.cos(a), cy + radius * math.sin(a)))
            canvas.poly(points, "text" if radius == inner else "dim")
        for edge in (-0.39, 0.39):
            a = middle + edge * turn
            canvas.line(
                cx + inner * math.cos(a), cy + inner * math.sin(a),
                cx + (inner + 5) * math.cos(a), cy + (inner + 5) * math.sin(a), "text",
            )  # fmt: skip
    canvas.line(cx, cy + 2, cx, cy - inner * 0.6, "near")
    canvas.text(int(cx / 2), max(int((cy - inner * 0.6) / 4), 0), "↑", "near")
    for shift, (key, style) in enumerate((("gap", "strong"), ("way", "near"), ("lift", "near"))):
        text = labels.get(key, "")
        canvas.text(min(int((cx + inner + 12) / 2), canvas.cells - width(text)), int(cy / 4) + shift - 1, text, style)
    return canvas.finish()


def probe_place(labels: dict[str, str], width_: int, height: int) -> list[Row]:
    """A probe before the shaft's end or collar; ``labels`` knows gap, volts."""
    canvas = Canvas(width_, height)
    mid, y = canvas.wide / 2, canvas.high / 2
    half = min(canvas.high / 2 - 3, 30)
    canvas.hatch(mid + 14, y - half, mid + 44, y + half, "rule", 5)
    canvas.box(mid + 14, y - half, mid + 44, y + half, "accent")
    canvas.box(mid - 60, y - 5, mid - 14, y + 5, "text")
    canvas.line(mid - 90, y, mid - 60, y, "dim")
    _across(canvas, mid - 14, mid + 14, y - 10, "")
    text = labels.get("gap", "")
    canvas.text(max(int((mid - 14) / 2) - width(text), 0), max(int((y - 10) / 4) - 1, 0), text, "strong")
    canvas.text(int((mid - 60) / 2), int((y + 8) / 4) + 1, labels.get("volts", ""), "near")
    return canvas.finish()


def _across(canvas: Canvas, x0: float, x1: float, y: float, text: str) -> None:
    """A gap's dimension: a line across it and its words above."""
    canvas.line(x0, y, x1, y, "near")
    for x in (x0, x1):
        canvas.line(x, y - 3, x, y + 3, "near")
    column = round((x0 + x1) / 4 - width(text) / 2)
    if text:
        canvas.text(max(0, min(column, canvas.cells - width(text))), max(int(y / 4) - 1, 0), text, "strong")
