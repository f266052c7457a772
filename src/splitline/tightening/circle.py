"""Orders on a bolt circle: groups of bolts across the circle, one group after another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from splitline.errors import InputError
from splitline.tightening.spacing import spaced

Step = tuple[int, ...]


def cross_groups(bolts: int) -> tuple[Step, ...]:
    """Groups of a cross order, each at 0, 180, 90, 270 degrees, starts well spaced; bolts are numbered 1 to n around.

    8 to 32 bolts in fours give the published legacy pattern (ASME PCC-1, from memory). Other counts leave a pair across
    and, when odd, one single bolt; both go as late as they can without following a neighbour.
    """
    _enough(bolts)
    if bolts in (5, 7):  # too few for groups: the star walk never touches a neighbour
        star = [1 + (step * (bolts // 2)) % bolts for step in range(bolts)]
        return tuple(tuple(star[i : i + 2]) for i in range(0, bolts, 2))
    return _with_rest([_four(start, bolts) for start in spaced(bolts // 4)], _rest(bolts), bolts)


def quadrant_groups(bolts: int) -> tuple[Step, ...]:
    """Groups of a quadrant order: one bolt of each quadrant, then the next bolt of each in the same direction.

    Common practice (alternative patterns of flange guidance); neighbours stand a whole group apart in time.
    """
    _enough(bolts)
    return _with_rest([_four(start, bolts) for start in range(1, bolts // 4 + 1)], _rest(bolts), bolts)


def round_groups(bolts: int, tools: int) -> tuple[Step, ...]:
    """Steps of a round order: along the circle; two tools stay opposite, four stay a quarter apart.

    Bolts left over (n not a multiple of the tools) come last, in pairs across where there are pairs.
    """
    _enough(bolts)
    if tools == 1:
        return tuple((bolt,) for bolt in range(1, bolts + 1))
    half = bolts // 2
    if tools == 2:
        pairs = [(bolt, bolt + half) for bolt in range(1, half + 1)]
        return (*pairs, (bolts,)) if bolts % 2 else tuple(pairs)
    fours = [_four(start, bolts) for start in range(1, bolts // 4 + 1)]
    return (*fours, *_rest(bolts))


def clumped(bolts: int, size: int) -> tuple[int, ...]:
    """Order for many bolts: clumps of ``size`` adjacent bolts are treated as one bolt of a cross order.

    48 bolts in clumps of 4 start 1 2 3 4, then 25 26 27 28 (clump 7 of 12), as in ASME PCC-1-2019's grouping. ``size``
    must divide the number of bolts into 3 clumps or more.
    """
    _enough(bolts)
    if size < 1 or bolts % size or bolts // size < 3:
        raise InputError(f"{bolts} bolts do not part into 3 or more clumps of {size}; the size must divide them")
    clumps = (clump for group in cross_groups(bolts // size) for clump in group)
    return tuple(size * (clump - 1) + 1 + place for clump in clumps for place in range(size))


def _enough(bolts: int) -> None:
    if not 3 <= bolts <= 400:
        raise InputError(f"{bolts} bolts; an order is made for 3 to 400")


def _four(start: int, bolts: int) -> Step:
    half, quarter = bolts // 2, bolts // 4
    return (start, start + half, start + quarter, start + quarter + half)


def _rest(bolts: int) -> tuple[Step, ...]:
    half, quarter = bolts // 2, bolts // 4
    pair: tuple[Step, ...] = ((half, 2 * half),) if half % 2 or quarter == 0 else ()
    return (*pair, (bolts,)) if bolts % 2 else pair


def _with_rest(groups: list[Step], rest: Sequence[Step], bolts: int) -> tuple[Step, ...]:
    """The groups with each left-over step at the latest place where it touches no neighbour."""
    for step in rest:
        places = range(len(groups), -1, -1)
        clear = (at for at in places if _clear([*groups[:at], step, *groups[at:]], bolts))
        at = next(clear, len(groups))
        groups = [*groups[:at], step, *groups[at:]]
    return tuple(groups)


def _clear(groups: Sequence[Step], bolts: int) -> bool:
    flat = [bolt for group in groups for bolt in group]
    return all((b - a) % bolts not in (1, bolts - 1) for a, b in pairwise(flat))
