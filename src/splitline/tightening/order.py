"""In what sequence bolts are tightened within a pass, and which of them together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Hashable, Mapping, Sequence
from math import ceil

from splitline.errors import InputError
from splitline.tightening.circle import Step, cross_groups, quadrant_groups, round_groups
from splitline.tightening.line import centre_out_steps

__all__ = [
    "Step",
    "chunked",
    "circle_steps",
    "coverage_steps",
    "first_before",
    "flat",
    "line_steps",
    "listed_steps",
    "parted",
]


def circle_steps(order: str, bolts: int, tools: int = 1) -> tuple[Step, ...]:
    """Steps of one pass on a bolt circle, bolts numbered 1 to n around; bolts of one step are pulled together.

    ``order``: cross, quadrant or round. ``tools`` 1, 2 or 4: two stand opposite one another (nearest to it for odd
    counts), four a quarter apart. InputError for another order or fewer than 3 or more than 400 bolts.
    """
    _tools(tools)
    if order == "round":
        return round_groups(bolts, tools)
    if order not in ("cross", "quadrant"):
        raise InputError(f'"{order}" is no order for a bolt circle: use cross, quadrant, round or listed')
    groups = cross_groups(bolts) if order == "cross" else quadrant_groups(bolts)
    return tuple(step for group in groups for step in chunked(group, tools))


def line_steps(order: str, side_a: Sequence[float], side_b: Sequence[float], tools: int = 1) -> tuple[Step, ...]:
    """Steps of one pass on a split line, places in m, bolts numbered along side a, then side b.

    ``order``: centre-out, or round (along a, then back along b; two tools start at opposite ends of that loop).
    """
    _tools(tools)
    if order == "centre-out":
        return centre_out_steps(side_a, side_b, tools)
    if order != "round":
        raise InputError(f'"{order}" is no order for a split line: use centre-out, round or listed')
    count_a, count = len(side_a), len(side_a) + len(side_b)
    loop = [*range(1, count_a + 1), *range(count, count_a, -1)]
    return tuple(tuple(loop[at - 1] for at in step) for step in round_groups(count, tools))


def listed_steps(listed: Sequence[int], bolts: int, tools: int = 1) -> tuple[Step, ...]:
    """Steps of an order written by hand, ``tools`` bolts at a time as listed. Every bolt must stand in it once."""
    _tools(tools)
    seen = set(listed)
    twice = sorted(bolt for bolt, times in Counter(listed).items() if times > 1)
    lacking = sorted(set(range(1, bolts + 1)) - seen)
    foreign = sorted(seen - set(range(1, bolts + 1)))
    said = [
        f"{word} {', '.join(map(str, numbers))}"
        for word, numbers in (("missing", lacking), ("twice", twice), ("not in the joint", foreign))
        if numbers
    ]
    if said:
        raise InputError(f"listed order must hold each bolt 1 to {bolts} once: {'; '.join(said)}")
    return chunked(listed, tools)


def coverage_steps(bolts: int, coverage: float) -> tuple[Step, ...]:
    """Tensioner groups: every k-th stud at once, k = 1/coverage rounded up; alternate groups follow each other.

    Coverage 0.5 pulls every other stud, then the rest; an odd count leaves two neighbours in the first group, where the
    circle closes. InputError outside 0 < coverage ≤ 1. Common practice, no published source.
    """
    if not 0 < coverage <= 1:
        raise InputError(f"coverage {coverage:g} must be above 0 and at most 1")
    every = min(bolts, ceil(1 / coverage - 1e-9))
    starts = [*range(1, every + 1, 2), *range(2, every + 1, 2)]
    return tuple(tuple(range(start, bolts + 1, every)) for start in starts)


def first_before(steps: Sequence[Step], first: Collection[int]) -> tuple[Step, ...]:
    """The steps with the bolts of ``first`` (body-bound, dowel, corner) pulled before all others, order kept."""
    early = [tuple(bolt for bolt in step if bolt in first) for step in steps]
    late = [tuple(bolt for bolt in step if bolt not in first) for step in steps]
    return tuple(step for step in (*early, *late) if step)


def parted(steps: Sequence[Step], kind: Mapping[int, Hashable]) -> tuple[Step, ...]:
    """Steps split where bolts of unlike kind (size, target) would share one pump; others are of kind None."""
    out: list[Step] = []
    for step in steps:
        parts: dict[Hashable, list[int]] = {}
        for bolt in step:
            parts.setdefault(kind.get(bolt), []).append(bolt)
        out.extend(tuple(part) for part in parts.values())
    return tuple(out)


def chunked(order: Sequence[int], tools: int) -> tuple[Step, ...]:
    """``tools`` bolts at a time, as they stand."""
    return tuple(tuple(order[at : at + tools]) for at in range(0, len(order), tools))


def flat(steps: Sequence[Step]) -> tuple[int, ...]:
    """All bolts of the steps, one after another."""
    return tuple(bolt for step in steps for bolt in step)


def _tools(tools: int) -> None:
    if tools not in (1, 2, 4):
        raise InputError(f"{tools} tools together; 1, 2 or 4 are possible")
