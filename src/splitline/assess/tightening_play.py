"""For screens and sheets: the tightening played step by step, and other ways of doing it side by side. No side effects."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from splitline.assess.made_up import JointMadeUp
from splitline.assess.result import ItemResult
from splitline.assess.tightening import Predicted
from splitline.assess.tightening_order import arranged, order_word, steps_of
from splitline.errors import InputError
from splitline.plan.model.joint import Joint, Layout

if TYPE_CHECKING:
    from splitline.tightening.compare import Row
    from splitline.tightening.passes import Pass

MANY = 48  # bolts from which clumps of four neighbours are worth comparing


@dataclass(frozen=True, slots=True)
class Frame:
    """The joint right after one step. Bolts from 1; preloads in N, one per bolt; shares are of each bolt's target."""

    pass_name: str
    step: int  # from 1, within the pass
    steps: int
    bolts: tuple[int, ...]  # tools on these
    moved: tuple[int, ...]  # nuts that went round; the others held more already
    preloads: tuple[float, ...]
    shares: tuple[float, ...]
    lowest: int  # bolt with the lowest share of those tightened so far
    spread: (
        float  # over the bolts of ``alike``: those still waiting at the pass before would say nothing of interaction
    )
    alike: int  # how many bolts were pulled to the same share by now


@dataclass(frozen=True, slots=True)
class Way:
    """One way of tightening a joint: order, tools together, shares of the target, check rounds."""

    name: str
    order: str
    tools: int
    shares: tuple[float, ...]
    rounds: int


def play(result: ItemResult) -> tuple[Frame, ...]:
    """States after every step of every pass, as predicted; empty where nothing could be predicted."""
    found = result.joint.predicted
    if found is None:
        return ()
    frames: list[Frame] = []
    touched: set[int] = set()
    states = iter(zip(found.prediction.after_step.tolist(), found.prediction.moved, strict=True))
    for one in found.passes:
        own: set[int] = set()
        for number, step in enumerate(one.steps, 1):
            loads, moved = next(states)
            own.update(bolt - 1 for bolt in step)
            touched |= own
            shares = [load / target for load, target in zip(loads, found.targets, strict=True)]
            level = sorted(touched) if one.name.startswith("round") else [at for at in sorted(touched) if at in own]
            seen = [shares[at] for at in level]
            lowest = min(touched, key=lambda at: (shares[at], at)) + 1
            mean = sum(seen) / len(seen)
            width = (max(seen) - min(seen)) / mean if mean > 0 else 0.0
            frames.append(
                Frame(
                    one.name, number, len(one.steps), step, moved, tuple(loads), tuple(shares), lowest, width, len(seen)
                )
            )
    return tuple(frames)


def need_of(result: ItemResult) -> float | None:
    """Preload right after tightening that the joint's cases need (main size), N; None where nothing is predicted."""
    return result.results.get("needed_preload")


def chance_of(result: ItemResult) -> float | None:
    """Chance that a bolt of the main size ends below what the cases need; None where either is not known."""
    return result.results.get("chance_below_need")


def usual_ways(joint: Joint, result: ItemResult) -> tuple[Way, ...]:
    """Ways worth comparing: as planned first, then more and fewer rounds, other orders, other numbers of tools."""
    found, layout = result.joint.predicted, joint.layout
    if found is None or layout is None:
        return ()
    shares, rounds = found.schedule.shares, found.schedule.rounds
    how = joint.tightening
    tools = how.tools_together if how is not None and how.tools_together is not None else 1
    ways = [Way("as planned", "", tools, shares, rounds)]
    ways += [Way(_rounds(n), "", tools, shares, n) for n in range(found.schedule.most_rounds + 1) if n != rounds]
    line = layout.shape == "split-line"
    orders = ("centre-out", "round") if line else ("cross", "quadrant", "round")
    tensioned = how is not None and how.method == "hydraulic tensioner"
    planned = "" if tensioned else order_word(how, layout)
    ways += [Way(order, order, tools, shares, rounds) for order in orders if order != planned]
    if layout.shape == "circle" and len(found.targets) >= MANY and len(found.targets) % 4 == 0:
        ways.append(Way("clumps of four", "clumps", 1, shares, rounds))
    base = orders[0]
    ways += [Way(f"{base}, {n} tool{'s' if n > 1 else ''}", base, n, shares, rounds) for n in (1, 2, 4) if n != tools]
    return tuple(ways)


def compare_ways(joint: Joint, result: ItemResult, ways: Sequence[Way] = (), trials: int = 5_000) -> tuple[Row, ...]:
    """Spread, lowest bolt, chances and time of each way (``usual_ways`` when none are given), for this joint's model.

    A way whose order does not fit the joint is left out. Empty where nothing could be predicted.
    """
    found, made_up = result.joint.predicted, result.joint.made_up
    if found is None or made_up is None or joint.layout is None:
        return ()
    from splitline.tightening.compare import Bounds, compare

    need = need_of(result)
    bounds = Bounds(
        0.0 if need is None else need,
        float("inf") if found.limit is None else found.limit,
        found.scatter,
        found.schedule.common,
    )
    planned = []
    for way in ways or usual_ways(joint, result):
        try:
            planned.append((way.name, _passes(way, found, joint.layout, made_up)))
        except InputError:
            continue
    of = found.main if len(made_up.sizes) > 1 else None
    return compare(found.model, planned, found.targets, bounds, found.schedule.minutes_per_step, trials, of)


def _passes(way: Way, found: Predicted, layout: Layout, made_up: JointMadeUp) -> tuple[Pass, ...]:
    from splitline.tightening.order import chunked, clumped
    from splitline.tightening.passes import planned_passes

    count = len(found.targets)
    if not way.order:
        steps = found.steps
    elif way.order == "clumps":
        steps = arranged(chunked(clumped(count, 4), way.tools), made_up.sizes)
    else:
        steps = arranged(steps_of(way.order, layout, count, way.tools), made_up.sizes)
    return planned_passes(steps, found.targets, way.shares, found.schedule.snug, way.rounds)


def _rounds(number: int) -> str:
    return {0: "no round", 1: "1 round"}.get(number, f"{number} rounds")
