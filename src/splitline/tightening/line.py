"""Centre-out orders on a split line: from mid-length to both ends, both sides alternately."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from splitline.errors import InputError
from splitline.tightening.circle import Step

_SAME = 1e-6  # share of the line within which two distances count as equal


def centre_out_steps(side_a: Sequence[float], side_b: Sequence[float], tools: int = 1) -> tuple[Step, ...]:
    """Steps from mid-length of the bolt rows to both ends (general practice for horizontal joints, no numbered source).

    ``side_a``, ``side_b``: places along the line, m; bolts are numbered along a, then along b. One tool: distance from
    mid-length never decreases, equal distances alternate side and end (a right, b left, a left, b right). Two tools:
    the two sides opposite one another; four tools: also both ends. A side may be empty (a single row).
    """
    places = [*side_a, *side_b]
    if not 3 <= len(places) <= 400:
        raise InputError(f"{len(places)} bolts; an order is made for 3 to 400")
    middle = (min(places) + max(places)) / 2
    same = _SAME * (max(places) - min(places)) or 1.0
    rows = [(place - middle, number, number > len(side_a)) for number, place in enumerate(places, 1)]
    if tools == 1:
        ranked = sorted(rows, key=lambda row: (round(abs(row[0]) / same), _turn(row[0], row[2]), row[1]))
        return tuple((number,) for _, number, _ in ranked)
    outward = [
        [number for _, number, _ in sorted(side, key=lambda row: (round(abs(row[0]) / same), -row[0]))]
        for side in ([row for row in rows if not row[2]], [row for row in rows if row[2]])
    ]
    pairs = [tuple(n for n in pair if n is not None) for pair in zip_longest(*outward)]
    if tools == 2:
        return tuple(pairs)
    return _doubled(pairs, places, middle, same)


def _turn(offset: float, on_b: bool) -> int:
    """Place within bolts equally far out: a right, b left, a left, b right."""
    right = offset >= 0
    return (3 if right else 1) if on_b else (0 if right else 2)


def _doubled(pairs: Sequence[Step], places: Sequence[float], middle: float, same: float) -> tuple[Step, ...]:
    """Two pairs at a time for four tools, both ends together; a pair at mid-length stays alone."""
    steps: list[Step] = []
    waiting: Step = ()
    for pair in pairs:
        if abs(places[pair[0] - 1] - middle) <= same:
            steps.append(pair)
        elif waiting:
            steps.append(waiting + pair)
            waiting = ()
        else:
            waiting = pair
    return (*steps, waiting) if waiting else tuple(steps)
