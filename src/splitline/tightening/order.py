"""In what sequence bolts are tightened within a pass, and which of them together: round a circle, along a split line, listed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Hashable, Mapping, Sequence
from itertools import pairwise, zip_longest
from math import atan2, ceil, gcd, hypot, tau

from splitline.errors import InputError

# Published legacy pattern of the cross order; 7 (28 bolts) from memory.
_LEGACY: dict[int, tuple[int, ...]] = {7: (1, 4, 6, 2, 5, 7, 3)}


def spaced(count: int) -> tuple[int, ...]:
    """Numbers 1 to ``count`` so that each lies far from those just before it.

    A number with factor p is taken as p interleaved parts (8: 1 5 3 7 2 6 4 8); a prime is walked by the stride nearest
    to 0.382 of it (golden section: the largest gap stays smallest). Gives the published legacy starts of the cross
    order for 2, 3, 4, 5, 6 and 8; 7 is tabulated.
    """
    if count in _LEGACY:
        return _LEGACY[count]
    if count <= 2:
        return tuple(range(1, count + 1))
    factor = next((p for p in range(2, count) if count % p == 0), count)
    if factor == count:
        return _stride(count)
    part = count // factor
    return tuple(start + part * (step - 1) for start in spaced(part) for step in spaced(factor))


def _stride(prime: int) -> tuple[int, ...]:
    wanted = 0.381966 * prime
    stride = min((s for s in range(1, prime) if gcd(s, prime) == 1), key=lambda s: (abs(s - wanted), s))
    return tuple(1 + (step * stride) % prime for step in range(prime))


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


Point = tuple[float, float]


def ring_of(points: Sequence[Point]) -> tuple[int, ...]:
    """Bolt numbers (from 1) as met going round the middle of the pattern, bolt 1 first."""
    x, y = _middle(points)
    angles = [atan2(point[1] - y, point[0] - x) for point in points]
    ranked = sorted(range(len(points)), key=lambda at: ((angles[at] - angles[0]) % tau, at))
    return tuple(at + 1 for at in ranked)


def points_steps(order: str, points: Sequence[Point], tools: int = 1) -> tuple[Step, ...]:
    """Steps for bolts at ``points`` (m): cross, quadrant or round on the ring of their angles, or centre-out by distance.

    Common practice for covers that are neither round nor a split line. InputError for another order.
    """
    if order == "centre-out":
        if tools not in (1, 2, 4):
            raise InputError(f"{tools} tools together; 1, 2 or 4 are possible")
        x, y = _middle(points)
        away = [round(hypot(px - x, py - y), 9) for px, py in points]
        return chunked(tuple(at + 1 for at in sorted(range(len(points)), key=lambda at: (away[at], at))), tools)
    ring = ring_of(points)
    return tuple(tuple(ring[bolt - 1] for bolt in step) for step in circle_steps(order, len(points), tools))


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
