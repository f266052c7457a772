"""A bar of known length under a drawing: a print that was fitted to the page shows."""

from __future__ import annotations

from splitline.report.shapes import Label, Line, Shape
from splitline.units import System, show

_ROUND = {
    "SI": tuple(mm / 1000 for mm in (5000, 2000, 1000, 500, 200, 100, 50, 20, 10, 5)),
    "US": tuple(inch * 0.0254 for inch in (200, 100, 40, 20, 10, 4, 2, 1, 0.5, 0.25)),
}


def scale_bar(y: float, per: float, most: float, system: System, words: str = "") -> list[Shape]:
    """The longest round length that is at most ``most`` mm on paper; ``per`` is mm of paper per m of the thing."""
    length = next((each for each in _ROUND[system] if each * per <= most), _ROUND[system][-1])
    end = 1.0 + length * per
    return [
        Line(1.0, y, end, y, 0.5),
        Line(1.0, y - 1, 1.0, y + 1, 0.3),
        Line(end, y - 1, end, y + 1, 0.3),
        Label(end + 1.5, y, f"{show(length, 'length', system)}{words}", 7, "left"),
    ]
