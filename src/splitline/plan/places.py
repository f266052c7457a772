"""Places of a joint's bolts: one geometry for the terminal's map, the fitter's screen, the sheets and the dossier."""

from __future__ import annotations

import math
from collections.abc import Sequence

from splitline.plan.model import Joint

Place = tuple[float, float]


def bolt_places(joint: Joint | None) -> tuple[Place, ...]:
    """Places of bolts 1 to n, m, y up, as seen from the layout's side; () while the layout does not say.

    A circle whose diameter nobody gave is drawn 1 m wide, and a split line without its width half as wide as long:
    pictures only, nothing is computed from either.
    """
    layout = joint.layout if joint is not None else None
    if layout is None:
        return ()
    if layout.shape == "circle" and layout.bolts:
        clockwise = layout.numbering != "counter-clockwise"
        return tuple(circle_places(layout.bolts, layout.diameter or 1.0, layout.first_at or 0.0, clockwise))
    if layout.shape == "split-line" and layout.side_a:
        side_b = layout.side_a if layout.side_b is None else layout.side_b
        both = (*layout.side_a, *side_b)
        return tuple(line_places(layout.side_a, side_b, layout.half_width or max((max(both) - min(both)) / 4, 1e-3)))
    return tuple((float(x), float(y)) for x, y in layout.points or ())


def circle_places(bolts: int, diameter: float, first_at: float, clockwise: bool) -> list[Place]:
    """Places of bolts 1 to n on a circle; ``first_at`` in rad from 12 o'clock, numbers running clockwise or not."""
    turn = 1 if clockwise else -1
    angles = [turn * (2 * math.pi * i / bolts) + first_at * turn for i in range(bolts)]
    return [(diameter / 2 * math.sin(a), diameter / 2 * math.cos(a)) for a in angles]


def line_places(side_a: Sequence[float], side_b: Sequence[float], half_width: float) -> list[Place]:
    """Places of a split line: side a above the centreline, side b below, both numbered the same way."""
    return [(x, half_width) for x in side_a] + [(x, -half_width) for x in side_b]
