"""A lift assessed: load, hang, legs and their parts, stability and tilt, upending, crane, cautions."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess import lift_rigging as rigging
from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_above import check_above
from splitline.assess.lift_crane import assess_crane, crane_missing
from splitline.assess.lift_hang import Turned, hung_of, turned_to
from splitline.assess.lift_legs import legs_of
from splitline.assess.lift_level import check_stability, check_tilt
from splitline.assess.lift_load import load_of
from splitline.assess.lift_trial import check_trial, trial_of
from splitline.assess.lift_trim import check_trim, put_adjusters
from splitline.assess.lift_types import Hung, LegData, Load, Picture
from splitline.assess.lift_upend import check_pulls, check_upend, upend_of
from splitline.assess.lift_wanted import say_wanted
from splitline.assess.result import ItemResult
from splitline.plan.model.lift import Lift


def assess_lift(lift: Lift, ctx: Context) -> ItemResult:
    """Every result and check of one lift. No side effects; what cannot be computed is said as missing or on-site."""
    bench = Bench("lift", lift.id, lift.title, ctx.system)
    bench.caution("suspended-load")
    bench.caution("trial-lift" if lift.tail is None or lift.tail.kind == "hook" else "trial-turn")
    bench.caution("set-down")
    legs = legs_of(bench, lift, ctx)
    trial = trial_of(bench, lift, legs)
    load = load_of(bench, lift, ctx, trial)
    if load is None:
        if lift.crane is None:
            crane_missing(bench)
        say_wanted(bench, lift, legs is not None)
        return bench.done()
    check_trial(bench, load, trial)
    turning = upend_of(bench, lift, legs, load)
    if turning is not None:
        check_upend(bench, lift, load, turning)
    frame = turned_to(turning.ups[-1]) if turning is not None else Turned()
    hung = hung_of(bench, lift, legs, load, frame) if legs is not None else None
    if legs is not None and hung is not None:
        demands = _legs(bench, lift, legs, load, hung, frame, ctx)
        if turning is not None:
            carried = demands or hung.nominal.tensions
            share = max(carried) / (load.design if demands and load.design else load.weight)
            check_pulls(bench, legs, load, turning, share, ctx)
    else:
        say_wanted(bench, lift, legs is not None)
    if legs is not None:
        rigging.check_tags(bench, lift, legs, ctx)
    ups = turning.ups if turning is not None else ()
    assess_crane(bench, lift, load, hung.nominal if hung is not None else None, ctx, ups)
    return bench.done()


def _legs(
    bench: Bench, lift: Lift, legs: tuple[LegData, ...], load: Load, hung: Hung, frame: Turned, ctx: Context
) -> tuple[float, ...] | None:
    """Hang, legs and beam; what each leg is checked for, N, where it can be told."""
    bench.put("hook", list(hung.nominal.hook))
    demands = rigging.put_tensions(bench, lift, legs, load, hung)
    check_stability(bench, legs, load, hung, frame)
    check_tilt(bench, lift, legs, hung)
    rigging.check_angles(bench, lift, legs, hung)
    usages = rigging.check_chains(bench, lift, legs, hung, demands, ctx)
    check_above(bench, lift, load, hung)
    if lift.tail is None:
        put_adjusters(bench, legs, load, hung)
        check_trim(bench, legs, hung)
    _picture(bench, lift, legs, load, hung, usages)
    return demands


def _picture(
    bench: Bench, lift: Lift, legs: tuple[LegData, ...], load: Load, hung: Hung, usages: list[float | None]
) -> None:
    """What the drawings need, under the names they look for."""
    assert load.centre is not None
    state = hung.nominal
    picture = Picture(
        hook=state.hook, up=state.up, centre=load.centre, picks=tuple(leg.pick for leg in legs), tops=state.tops,
        names=tuple(leg.name for leg in legs), beam_upper=state.beam_upper, beam_lower=state.beam_lower,
        parts=tuple(part.at for part in lift.part if isinstance(part.at, tuple)),
        tail=lift.tail.pick if lift.tail is not None else None, shift=load.shift, usage=tuple(usages),
    )  # fmt: skip
    bench.lift = replace(bench.lift, picture=picture)
