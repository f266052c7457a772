"""The lift hung below a spreader or lifting beam."""

from __future__ import annotations

import math
from dataclasses import replace

from splitline.assess.bench import Bench
from splitline.assess.lift_hang import BASIS, KEY, TITLE, Turned, beam_weight, hook_of, spreader_missing
from splitline.assess.lift_types import GRAVITY, Hung, LegData, Load, State
from splitline.lifting.below import level_below, worst_below
from splitline.lifting.spreader import Beam, hang_below
from splitline.plan.model.lift import Lift, Spreader


def hung_below(bench: Bench, spreader: Spreader, lift: Lift, legs: tuple[LegData, ...], load: Load) -> Hung | None:
    """The hung lift, or None after a check has said what is missing; InputError from the statics."""
    if spreader_missing(bench, spreader):
        return None
    points = _points(bench, spreader, legs)
    if points is None:
        return None
    assert load.centre is not None
    beam, picks, hard = _beam(bench, spreader, lift), [leg.pick for leg in legs], [leg.rigidity for leg in legs]
    lifted = replace(beam, weight=_lifted(bench, lift, load, beam))
    lengths: tuple[float, ...]
    if any(leg.length is None for leg in legs):
        hook = hook_of(bench, lift, picks, load.centre, Turned())
        if hook is None:
            return None
        open_lengths = [leg.length for leg in legs]
        lengths = level_below(beam, picks, points, open_lengths, hard, load.centre, load.weight, hook).lengths
    else:
        lengths = tuple(leg.length or 0.0 for leg in legs)

    def state(weight: float, bar: Beam) -> State:
        assert load.centre is not None
        found = hang_below(bar, picks, points, lengths, hard, load.centre, weight)
        return State(
            hook=found.hook, up=found.up, tensions=found.tensions, angles=found.angles, along=found.along,
            tops=tuple(found.beam_lower[which] for which in points), tilt=found.tilt, state=found.state,
            upper_tensions=found.upper_tensions, compression=found.compression, upper_angles=found.upper_angles,
            bending=found.bending, beam_tilt=found.beam_tilt,
            beam_upper=found.beam_upper, beam_lower=found.beam_lower,
        )  # fmt: skip

    nominal = state(load.weight, beam)
    if load.design is None:
        return Hung(lengths, nominal, None, None)
    axes = [leg.axis for leg in legs]
    worst, above = worst_below(
        lifted,
        picks,
        points,
        lengths,
        hard,
        load.centre,
        load.design,
        load.tolerance,
        load.shift,
        rise=load.rise,
        axes=axes,
    )
    return Hung(lengths, nominal, state(load.design, lifted), worst, above)


def _lifted(bench: Bench, lift: Lift, load: Load, beam: Beam) -> float:
    """What the upper slings carry beside the load, N: beam and rigging, with the dynamic factor the load has."""
    rigging = lift.crane.rigging if lift.crane is not None else None
    if rigging:
        bench.note("All the rigging is taken to hang below the upper slings: the safe side for them.")
    return (beam.weight + (rigging or 0.0) * GRAVITY) * load.dynamic


def _points(bench: Bench, spreader: Spreader, legs: tuple[LegData, ...]) -> list[int] | None:
    """Lower point of each leg from 0; a leg that names none takes the nearest in plan, which is said."""
    lower = spreader.lower or ()
    found, guessed = [], []
    for leg in legs:
        if leg.leg.beam_point is not None:
            found.append(leg.leg.beam_point - 1)
            continue
        near = sorted(range(len(lower)), key=lambda i: math.dist(lower[i][:2], leg.pick[:2]))
        found.append(near[0])
        guessed.append(leg.number)
    if guessed:
        said = ", ".join(map(str, guessed))
        bench.default("leg.beam_point", "nearest lower point", f"leg {said}: beam over the load's origin, axes alike")
    if any(not 0 <= which < len(lower) for which in found):
        bench.missing(KEY, TITLE, ("leg.beam_point",), BASIS, kind="force")
        return None
    return found


def _beam(bench: Bench, spreader: Spreader, lift: Lift) -> Beam:
    upper, lower = spreader.upper or (), spreader.lower or ()
    hard = None
    if spreader.upper_capacity is not None and spreader.upper_elongation is not None:
        hard = spreader.upper_capacity / spreader.upper_elongation
    else:
        bench.default("spreader.upper_elongation", "no stretch", "stretch of the upper slings not known: unstretching")
    weight = max(beam_weight(lift), 1e-3)
    return Beam(weight, upper, lower, (spreader.upper_length or 0.0,) * len(upper), (hard,) * len(upper))
