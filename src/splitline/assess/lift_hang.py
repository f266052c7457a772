"""The lift hung: level lengths where they are left open, nominal and design load, the worst over the doubts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.assess.bench import Bench
from splitline.assess.lift_types import GRAVITY, Hung, LegData, Load, Point, State
from splitline.errors import InputError
from splitline.plan.model.lift import Lift, Spreader

KEY, TITLE = "leg_tension", "Leg tensions"
BASIS = "statics of the hung load"
HOOK_MOVED = 0.005  # m, from which it is said that the given legs put the hook elsewhere


@dataclass(frozen=True, slots=True)
class Turned:
    """Rotation from the drawn frame to the one the load hangs in (turned up, for upending)."""

    rows: tuple[Point, Point, Point] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

    def to(self, point: Sequence[float]) -> Point:
        x, y, z = (math.fsum(a * b for a, b in zip(row, point, strict=True)) for row in self.rows)
        return (x, y, z)

    def back(self, point: Sequence[float]) -> Point:
        x, y, z = (math.fsum(row[axis] * p for row, p in zip(self.rows, point, strict=True)) for axis in range(3))
        return (x, y, z)


def turned_to(up: Point) -> Turned:
    """Frame whose z axis is ``up`` of the drawn frame."""
    x, y, z = up
    if math.hypot(x, y) < 1e-12:
        return Turned()
    size = math.hypot(x, y)
    first = (z * x / size, z * y / size, -size)
    second = (-y / size, x / size, 0.0)
    return Turned((first, second, (x, y, z)))


def hung_of(bench: Bench, lift: Lift, legs: tuple[LegData, ...], load: Load, frame: Turned) -> Hung | None:
    """The hung lift, or None after a check has said why not."""
    if load.centre is None:
        _without_centre(bench)
        return None
    try:
        if lift.spreader is not None:
            from splitline.assess.lift_beam import hung_below

            if lift.tail is not None:
                bench.note("Below a spreader the legs are hung as the load is drawn, not as it is upended.")
            return hung_below(bench, lift.spreader, lift, legs, load)
        return _plain(bench, lift, legs, load, frame)
    except InputError as error:
        bench.fails(KEY, TITLE, BASIS, bench.said(error))
        return None


def _without_centre(bench: Bench) -> None:
    """The planner's to give, unless the plan says that only a trial lift can tell."""
    centre = next((check for check in bench.checks if check.key == "centre"), None)
    if centre is not None and centre.verdict == "missing":
        bench.missing(KEY, TITLE, centre.needs, BASIS, "the centre of gravity is not given", kind="force")
    else:
        bench.on_site(KEY, TITLE, ("centre",), BASIS, "the centre of gravity is not known yet", kind="force")


def hook_of(bench: Bench, lift: Lift, picks: Sequence[Point], centre: Point, frame: Turned) -> Point | None:
    """Place of the hook for level lengths in the hanging frame; None after saying it is missing."""
    from splitline.lifting.levels import hook_above

    if lift.hook is not None and lift.hook.at is not None:
        return frame.to(lift.hook.at)
    if lift.hook is not None and lift.hook.above_picks is not None:
        return hook_above(picks, centre, lift.hook.above_picks)
    note = "give every leg's length, or where the hook stands so that level lengths can be computed"
    bench.missing(KEY, TITLE, ("hook.above_picks", "leg.length"), BASIS, note, kind="force")
    return None


def _plain(bench: Bench, lift: Lift, legs: tuple[LegData, ...], load: Load, frame: Turned) -> Hung | None:
    from splitline.lifting.hang import cannot_meet, hang
    from splitline.lifting.levels import level_lengths
    from splitline.lifting.tolerance import worst_case

    assert load.centre is not None
    picks, centre = [frame.to(leg.pick) for leg in legs], frame.to(load.centre)
    hard = [leg.rigidity for leg in legs]
    lengths: tuple[float, ...]
    if any(leg.length is None for leg in legs):
        hook = hook_of(bench, lift, picks, centre, frame)
        if hook is None:
            return None
        level = level_lengths(picks, [leg.length for leg in legs], hard, centre, load.weight, hook)
        lengths, moved = level.lengths, level.hook[2] - hook[2]
        if abs(moved) > HOOK_MOVED:
            said = bench.show(abs(moved), "length")
            bench.note(
                f"The legs of given length put the hook {said} {'above' if moved > 0 else 'below'} where it was asked."
            )
    else:
        lengths = tuple(leg.length or 0.0 for leg in legs)
        for i, j in cannot_meet(picks, lengths):
            apart = bench.show(math.dist(picks[i - 1], picks[j - 1]), "length")
            both = bench.show(lengths[i - 1] + lengths[j - 1], "length")
            raise InputError(f"legs {i} and {j} cannot meet at one hook: {both} of sling over {apart} of load")

    def state(weight: float) -> State:
        found = hang(picks, lengths, hard, centre, weight)
        along = [_unit(found.hook, pick) for pick in picks]
        hook = frame.back(found.hook)
        return State(
            hook=hook,
            up=frame.back(found.up),
            tensions=found.tensions,
            angles=found.angles,
            along=tuple(frame.back(direction) for direction in along),
            tops=(hook,) * len(legs),
            tilt=found.tilt,
            state=found.state,
        )

    nominal = state(load.weight)
    if load.design is None:
        return Hung(lengths, nominal, None, None)
    axes = [None if leg.axis is None else frame.to(leg.axis) for leg in legs]
    worst = worst_case(picks, lengths, hard, centre, load.design, load.tolerance, load.shift, rise=load.rise, axes=axes)
    return Hung(lengths, nominal, state(load.design), worst)


def _unit(top: Point, low: Point) -> Point:
    x, y, z = (a - b for a, b in zip(top, low, strict=True))
    size = math.sqrt(x * x + y * y + z * z) or 1.0
    return (x / size, y / size, z / size)


NO_MASS = "a beam has a mass: weigh it or take its plate's; 0 kg is none"


def spreader_missing(bench: Bench, spreader: Spreader) -> bool:
    """Whether the beam lacks what the statics need; said once."""
    needs = [] if spreader.mass else ["spreader.mass"]
    needs += [f"spreader.{name}" for name in ("upper", "lower", "upper_length") if getattr(spreader, name) is None]
    if needs:
        bench.missing(KEY, TITLE, needs, BASIS, NO_MASS if spreader.mass == 0.0 else "", kind="force")
    return bool(needs)


def beam_weight(lift: Lift) -> float:
    """Weight of the spreader, N; 0 without one."""
    return (lift.spreader.mass or 0.0) * GRAVITY if lift.spreader is not None else 0.0
