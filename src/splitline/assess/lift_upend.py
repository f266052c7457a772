"""Turning a load up with a second hook or on the floor: loads against angle, slack, runaway, pulls on the head's fittings."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_types import LegData, Load, Point
from splitline.errors import InputError, LibraryError
from splitline.plan.model.lift import Lift, Tail

if TYPE_CHECKING:
    from splitline.lifting.upending import Upending

TITLE, BASIS = "Loads while upending", "statics of two parallel forces"


def upend_of(bench: Bench, lift: Lift, legs: tuple[LegData, ...] | None, load: Load) -> Upending | None:
    """Loads at every angle; None without a tail or after saying what is missing."""
    tail = lift.tail
    if tail is None:
        return None
    detail = "" if tail.kind == "hook" else "Block the pivot so that it cannot slide."
    bench.caution(_code(tail), detail)
    if legs is None:
        return None
    if tail.pick is None:
        bench.missing("upend_tail", TITLE, ("tail.pick",), BASIS, kind="force")
        return None
    if load.centre is None:
        bench.on_site("upend_tail", TITLE, ("centre",), BASIS, "the centre of gravity is not known yet", kind="force")
        return None
    from splitline.lifting.upending import upending

    try:
        found = upending(head_of(legs), tail.pick, load.centre, load.weight, max(load.shift, load.rise))
    except InputError as error:
        bench.missing("upend_tail", TITLE, ("tail.pick",), BASIS, bench.said(error), kind="force")
        return None
    _put(bench, found, load)
    return found


def _code(tail: Tail) -> str:
    return "upending-hooks" if tail.kind == "hook" else "upending"


def head_of(legs: tuple[LegData, ...]) -> Point:
    """The head as one point: the mean of its picks."""
    x, y, z = (sum(leg.pick[axis] for leg in legs) / len(legs) for axis in range(3))
    return (x, y, z)


def _put(bench: Bench, found: Upending, load: Load) -> None:
    bench.put("upend_angles", list(found.angles))
    for key, values in (
        ("upend_head", found.head), ("upend_head_low", found.head_low), ("upend_head_high", found.head_high),
        ("upend_tail", found.tail), ("upend_tail_low", found.tail_low), ("upend_tail_high", found.tail_high),
    ):  # fmt: skip
        bench.put(key, list(values))
    if load.factor is not None:
        k = load.factor * load.dynamic
        bench.put("upend_head_design", [k * value for value in found.head_high])
        bench.put("upend_tail_design", [k * value for value in found.tail_high])
    bench.put("upend_slack", found.tail_slack)
    bench.put("upend_changeover", found.changeover)
    bench.put("upend_runaway", found.runaway)
    bench.put("upend_runaway_early", found.runaway_early)
    if found.tail_slack is not None and found.tail_slack < math.pi / 2.0 - 1e-6:
        bench.note(f"The tail goes slack at {bench.show(found.tail_slack, 'angle')}: the head then carries all.")
    if found.changeover is not None:
        bench.note(f"From {bench.show(found.changeover, 'angle')} on the head carries more than the tail.")


def check_upend(bench: Bench, lift: Lift, load: Load, found: Upending) -> None:
    """Runaway, tail and second crane, whatever becomes of the legs."""
    assert lift.tail is not None
    _check_runaway(bench, lift.tail, found)
    if load.factor is None:
        return
    k = load.factor * load.dynamic
    greatest = max(found.tail_high) * k
    _check_tail(bench, lift.tail, greatest)


def check_pulls(
    bench: Bench, legs: tuple[LegData, ...], load: Load, found: Upending, spread: float, ctx: Context
) -> None:
    """The head's fittings as the pull turns, with margin and dynamic factor; ``spread``: leg tension per head force."""
    if load.factor is None:
        return
    for leg in legs:
        _check_pull(bench, leg, found, load.factor * load.dynamic * spread, ctx)


def _check_runaway(bench: Bench, tail: Tail, found: Upending) -> None:
    """Where the centre passes over the support: as given, else within its doubt."""
    title = "Centre over the tail"
    if found.runaway == 0.0:
        note = "as it lies the centre is already over the tail or beyond it: no pull at the head turns it up; move the tail"
        bench.fails("upend_runaway", title, BASIS, note)
        bench.caution(_code(tail), "As it lies its centre is already beyond the support.")
        return
    if found.runaway_early is None:
        bench.passes("upend_runaway", title, BASIS, "the centre never passes over the tail, its doubt included")
        return
    early = bench.show(found.runaway_early, "angle")
    if found.runaway is None:
        note = f"within its doubt the centre passes over the tail from {early} on: the load may run away, hold it back"
    else:
        at = bench.show(found.runaway, "angle")
        note = (
            f"at {at}, within its doubt from {early} on, the centre passes over the tail: "
            "the load runs away unless it is held back"
        )
    bench.near("upend_runaway", title, BASIS, note)
    bench.caution(_code(tail), f"Here the centre may pass over from {early} on.")


def _check_tail(bench: Bench, tail: Tail, greatest: float) -> None:
    title = "Tail hook: rigging" if tail.kind == "hook" else "Floor pivot"
    basis = "greatest tail load over the angles and the centre's doubt, with margin and dynamic factor"
    if tail.capacity is not None:
        bench.at_most("upend_tail", title, greatest, tail.capacity, "capacity", basis)
    elif tail.kind == "hook":
        bench.missing("upend_tail", title, ("tail.capacity",), basis, kind="capacity")
    else:
        bench.note(
            f"Load on the floor under the pivot: up to {bench.show(greatest, 'force')}. Ask whether the floor bears it."
        )
    if tail.crane_capacity is not None:
        bench.at_most("upend_crane", "Second crane", greatest, tail.crane_capacity, "capacity", basis)


def _check_pull(bench: Bench, leg: LegData, found: Upending, k: float, ctx: Context) -> None:
    """The head's fitting at its worst angle of turn."""
    from splitline.assess.lift_rigging import FITTING, fitting_part
    from splitline.lifting.rigging import pull_angle

    plan = leg.leg
    if plan.fitting is None or leg.axis is None:
        return
    worst: tuple[float, float, float, str] | None = None
    for angle, force, up in zip(found.angles, found.head_high, found.ups, strict=True):
        off = pull_angle(leg.axis, up)
        try:
            part = fitting_part(bench, plan, leg.number, force * k, off, ctx)
        except (InputError, LibraryError):
            return
        if part is None or part.capacity is None:
            return
        usage = part.usage or 0.0
        if worst is None or usage > worst[0]:
            worst = (usage, part.demand, part.capacity, f"turned {bench.show(angle, 'angle')}: {part.name}")
    if worst is not None:
        basis = "pull along the hoist line as the load turns, the head's force over the centre's doubt"
        title = f"Leg {leg.number}: fitting while upending"
        with bench.about(leg=leg.number, part=FITTING):
            bench.at_most("upend_fitting", title, worst[1], worst[2], "capacity", basis, worst[3])
