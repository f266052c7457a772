"""What follows from the prediction: levelling, further rounds, time, tensioner groups, coefficients from readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.made_up import JointMadeUp
from splitline.errors import InputError
from splitline.plan.model.joint import Joint

if TYPE_CHECKING:
    from splitline.assess.tightening import Predicted

PULL = 0.9  # share of yield a stud may see while it is pulled
WANTED = 0.05  # spread that counts as level
PRACTICE = "common practice, no published source"


def put_further(bench: Bench, joint: Joint, made_up: JointMadeUp, found: Predicted, ctx: Context) -> None:
    """All of it; each part says why where it cannot be told."""
    _rounds(bench, found)
    _time(bench, found)
    try:
        if joint.tightening is not None and joint.tightening.method == "hydraulic tensioner":
            _groups(bench, joint, made_up, found)
        else:
            _levelling(bench, made_up, found)
    except InputError as error:
        bench.note(f"No loads that end level: {bench.said(error)}.")
    _readings(bench, joint, found, ctx)


def _rounds(bench: Bench, found: Predicted) -> None:
    """What each finishing round buys, from none to the most that are allowed."""
    from splitline.tightening.correction import further_rounds, least_rounds

    schedule = found.schedule
    rows = further_rounds(found.prediction, found.passes, found.targets, schedule.rounds, schedule.most_rounds)
    bench.put("rounds_spread", [row.spread for row in rows])
    bench.put("rounds_lowest", [row.lowest for row in rows])
    bench.put("rounds_moved", [row.moved for row in rows])
    enough = least_rounds(rows, WANTED)
    if enough is None:
        bench.note(f"{schedule.most_rounds} rounds do not bring the predicted spread under {WANTED:.0%}.")
    else:
        bench.put("rounds_needed", enough.rounds)


def _time(bench: Bench, found: Predicted) -> None:
    from splitline.tightening.effort import crew, minutes

    per_step = found.schedule.minutes_per_step
    bench.put("pass_times", [60 * minutes([one], per_step) for one in found.passes])
    total = 60 * minutes(found.passes, per_step)
    people = crew(found.passes)
    bench.put("tightening_time", total)
    bench.put("crew_time", total * people, {"time": (total, "time"), "people": (float(people), "count")})


def _levelling(bench: Bench, made_up: JointMadeUp, found: Predicted) -> None:
    """Loads of the last pass that leave every bolt at its target without a round, none above its share of yield."""
    from splitline.tightening.correction import level_loads

    yields = made_up.per_bolt("yield_load")
    if yields is None:
        bench.note("Loads that end level need the yield strength of the bolts.")
        return
    if made_up.torsion is None:
        bench.note("Loads that end level need the friction, for the torsion of the bolts.")
        return
    # A stud of the strong end of the scatter, twisted as it is pulled, stays under its share of yield.
    limits = [PULL * load / (made_up.torsion * (1.0 + (made_up.scatter or 0.0))) for load in yields]
    before = found.passes[: len(found.passes) - found.schedule.rounds - 1]
    level = level_loads(found.model, before, found.steps, found.targets, limits, found.prediction.after(len(before)))
    bench.put("levelling_loads", level.loads)
    bench.put("levelling_spread", level.spread)
    torques = made_up.per_bolt("torque")
    if torques is not None:
        bench.put("levelling_torques", [t * f / w for t, f, w in zip(torques, level.loads, found.targets, strict=True)])
    if level.capped:
        bench.note(
            f"Loads that end level: bolts {', '.join(map(str, level.capped))} are stopped by {PULL:.0%} of yield "
            "in combined stress at the high end of the scatter."
        )


def _groups(bench: Bench, joint: Joint, made_up: JointMadeUp, found: Predicted) -> None:
    """Tensioner groups: the first pulled higher for what the later ones take, and the breakaway check at the end."""
    from splitline.tightening.tensioner import tensioner_groups

    loss, yields = bench.get("tensioner_loss"), made_up.main.yield_load
    if loss is None or yields is None or len(made_up.sizes) > 1:
        bench.note("Loads of tensioner groups need the tensioner's loss and the yield strength of one size of studs.")
        return
    tools = joint.tightening.tool if joint.tightening is not None else ()
    sized = [tool for tool in tools if tool.piston_area is not None]
    area = sized[0].piston_area if sized else None
    reach = [PULL * yields]
    if area is not None and sized[0].pressure_max is not None:
        reach.append(sized[0].pressure_max * area)
    before = found.passes[: len(found.passes) - found.schedule.rounds - 1]
    groups = tensioner_groups(found.model, found.steps, found.targets[0], loss, min(reach), before)
    bench.put("group_loads", [group.left for group in groups])
    bench.put("group_breakaway", [group.breakaway for group in groups])
    if area is not None:
        bench.put("group_pressures", [group.pull / area for group in groups])
        bench.put("breakaway_pressures", [group.breakaway_least / area for group in groups])
    for number, group in enumerate(groups, 1):
        if group.capped:
            bench.note(f"Tensioner group {number} is stopped by {PULL:.0%} of yield or the tool's greatest pressure.")


def _readings(bench: Bench, joint: Joint, found: Predicted, ctx: Context) -> None:
    """Coefficients fitted to preloads read on the job; they enter the plan only when a person accepts them."""
    read = ctx.observed.preloads.get(joint.id)
    if not read or joint.layout is None or joint.layout.shape != "circle":
        return
    from splitline.tightening.coefficients import Reading, fit_coefficients
    from splitline.tightening.interaction import measured_circle
    from splitline.tightening.joint import Measured
    from splitline.tightening.prediction import predict, spread

    places = {one.name: number for number, one in enumerate(found.passes, 1)}
    readings = [
        Reading(places[name], bolt, load)
        for name, bolts in read.items()
        if name in places
        for bolt, load in bolts.items()
    ]
    try:
        fitted = fit_coefficients(found.passes, readings, len(found.targets))
    except InputError as error:
        bench.note(f"No coefficients from readings: {bench.said(error)}.")
        return
    bench.put("interaction_fitted", fitted.coefficients)
    bench.put("interaction_fitted_errors", fitted.errors)
    bench.put("fitted_scale", fitted.scale)
    told = (
        predict(Measured(measured_circle(fitted.coefficients, len(found.targets))), found.passes).final * fitted.scale
    )
    bench.put("predicted_fitted", told)
    bench.put("predicted_fitted_spread", spread(told))
    bench.note(
        f"Coefficients fitted to {fitted.readings} readings, which they leave {fitted.rest:.1%} apart; "
        "they count only when a person writes them into tightening.interaction."
    )
