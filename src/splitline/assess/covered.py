"""Steps that cover part of a joint: every pass on every bolt once, and no pass before the one below it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from splitline.plan.model import Joint, Step
from splitline.plan.passes import passes_of

ROUND = "round"
SNUG = "snug"


@dataclass(frozen=True, slots=True)
class Broken:
    """A rule of the order of work that a step breaks."""

    key: str
    title: str
    basis: str
    note: str


def labels(joint: Joint) -> tuple[str, ...]:
    """Passes of a joint in their order: snug, 1, 2 ..., round."""
    planned = passes_of(joint.tightening)
    first = (SNUG,) if planned.snug > 0 else ()
    return (*first, *(str(n) for n in range(1, len(planned.shares) + 1)), *((ROUND,) if planned.rounds > 0 else ()))


def _named(step: Step, every: tuple[str, ...]) -> tuple[str, ...]:
    if step.passes is None:
        return every
    return tuple(SNUG if str(name) == "0" else str(name) for name in step.passes)


def coverage(joint: Joint, steps: Sequence[Step], place: int) -> list[Broken]:
    """What the step at ``place`` breaks: a pass too early; and, on the joint's last step, what no step covers."""
    every = labels(joint)
    rank = {name: n for n, name in enumerate(every)}
    count = joint.layout.count if joint.layout is not None else None
    bolts = tuple(range(1, count + 1)) if count else ()
    reached: dict[int, int] = {}
    covered: dict[str, set[int]] = {name: set() for name in every}
    broken: list[Broken] = []
    last = max(n for n, step in enumerate(steps) if step.joint == joint.id)
    for n, step in enumerate(steps[: place + 1]):
        if step.joint != joint.id:
            continue
        mine = step.bolts if step.bolts is not None else bolts or (0,)
        names = sorted((name for name in _named(step, every) if name in rank), key=rank.__getitem__)
        if n == place and names:
            broken += _too_early(names[0], mine, reached, every, rank)
        for name in names:
            covered[name].update(mine)
        for bolt in mine:
            reached[bolt] = max([reached.get(bolt, -1), *(rank[name] for name in names)])
    if place == last:
        broken += _left_out(covered, bolts or (0,))
    return broken


def _too_early(
    first: str, mine: Iterable[int], reached: dict[int, int], every: tuple[str, ...], rank: dict[str, int]
) -> list[Broken]:
    """The first pass of this step against what its bolts have had: nothing skipped, nothing back."""
    for bolt in mine:
        had = reached.get(bolt, -1)
        if rank[first] > had + 1:
            lacking = every[had + 1]
            what = f"bolt {bolt} has" if bolt else "the bolts have"
            return [_broken("passes_order", f"pass {first} comes here, but {what} not had pass {lacking} yet")]
        if rank[first] < had and first != ROUND:
            what = f"bolt {bolt} has" if bolt else "the bolts have"
            return [_broken("passes_order", f"pass {first} comes here, but {what} already had pass {every[had]}")]
    return []


def _left_out(covered: dict[str, set[int]], bolts: tuple[int, ...]) -> list[Broken]:
    """Passes, or bolts of a pass, that are in no step although the joint's last step has come."""
    found = []
    for name, had in covered.items():
        lacking = [bolt for bolt in bolts if bolt not in had]
        if not lacking:
            continue
        if bolts == (0,) or len(lacking) == len(bolts):
            said = f"pass {name} is in no step of this joint"
        else:
            few = ", ".join(map(str, lacking[:8])) + (", ..." if len(lacking) > 8 else "")
            said = f"pass {name}: bolts {few} are in no step of this joint"
        found.append(_broken("passes_covered", said))
    return found


def _broken(key: str, note: str) -> Broken:
    titles = {"passes_order": "Order of the passes", "passes_covered": "Every pass on every bolt"}
    return Broken(key, titles[key], "order of work", note)
