"""What follows from the prediction: levelling, further rounds, time, tensioner groups, coefficients from readings."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from splitline.assess.context import Context
from splitline.assess.joint_sheet import PRACTICE, SHEET
from splitline.assess.joint_tensioner import tensioned
from splitline.assess.made_up import JointMadeUp
from splitline.assess.sheet import Each
from splitline.assess.speak import said
from splitline.assess.tightening import Predicted, Schedule
from splitline.assess.tightening_model import MODEL
from splitline.errors import InputError
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import Tool

if TYPE_CHECKING:
    from splitline.tightening.coefficients import Fitted
    from splitline.tightening.correction import Correction, Further
    from splitline.tightening.prediction import Array
    from splitline.tightening.tensioner import Group

PULL = 0.9  # share of yield a stud may see while it is pulled
WANTED = 0.05  # spread that counts as level
READ = "readings of this joint"

# check rounds


@SHEET.result()
def further(forecast: Predicted, schedule: Schedule) -> tuple[Further, ...]:
    """What each check round buys, from none to the most that are allowed."""
    from splitline.tightening.correction import further_rounds

    return further_rounds(forecast.prediction, forecast.passes, forecast.targets, schedule.rounds, schedule.most_rounds)


_rounds = partial(SHEET.result, source=MODEL, shape="list")


@_rounds(kind="share", title="Spread after 0, 1, 2 ... check rounds", formula="(max − min)/mean")
def rounds_spread(further: tuple[Further, ...]) -> list[float]:
    return [row.spread for row in further]


@_rounds(kind="share", title="Lowest share of target after 0, 1, 2 ... rounds", formula="min F / F_target")
def rounds_lowest(further: tuple[Further, ...]) -> list[float]:
    return [row.lowest for row in further]


@_rounds(kind="count", title="Nuts that move 1 % or more in each round")
def rounds_moved(further: tuple[Further, ...]) -> list[int]:
    return [row.moved for row in further]


@SHEET.result(kind="count", title="Rounds until the spread is within 5 %", source=MODEL)
def rounds_needed(further: tuple[Further, ...]) -> int | None:
    from splitline.tightening.correction import least_rounds

    enough = least_rounds(further, WANTED)
    return None if enough is None else enough.rounds


@SHEET.note(after=("further",))
def never_level(schedule: Schedule, rounds_needed: int | None = None) -> str | None:
    if rounds_needed is not None:
        return None
    return f"{schedule.most_rounds} rounds do not bring the predicted spread under {WANTED:.0%}."


# time


@SHEET.result(kind="time", title="Time of each pass", formula="5 min to start + steps × minutes_per_step", source=PRACTICE,
              shape="list")  # fmt: skip
def pass_times(forecast: Predicted) -> list[float]:
    from splitline.tightening.compare import minutes

    return [60 * minutes([one], forecast.schedule.minutes_per_step) for one in forecast.passes]


@SHEET.result(kind="time", title="Time of all passes", symbol="t", formula="Σ pass times", source=PRACTICE)
def tightening_time(forecast: Predicted) -> float:
    from splitline.tightening.compare import minutes

    return 60 * minutes(forecast.passes, forecast.schedule.minutes_per_step)


@SHEET.result()
def people(forecast: Predicted) -> float:
    from splitline.tightening.compare import crew

    return float(crew(forecast.passes))


@SHEET.result(kind="time", title="Time of the whole crew", formula="t × (tools + 1)", source=PRACTICE,
              puts={"time": ("tightening_time", "time"), "people": ("people", "count")})  # fmt: skip
def crew_time(tightening_time: float, people: float) -> float:
    return tightening_time * people


# loads of the last pass that leave every bolt at its target without a round, none above its share of yield


def _one_by_one(joint: Joint) -> bool:
    return not tensioned(joint)


@SHEET.result(when=_one_by_one, after=("forecast",))
def levelling_limits(made_up: JointMadeUp) -> list[float] | None:
    """A stud of the strong end of the scatter, twisted as it is pulled, stays under its share of yield, N."""
    yields = made_up.per_bolt("yield_load")
    if yields is None or made_up.torsion is None:
        return None
    return [PULL * load / (made_up.torsion * (1.0 + (made_up.scatter or 0.0))) for load in yields]


@SHEET.note(when=_one_by_one, after=("forecast",))
def levelling_needs(made_up: JointMadeUp) -> str | None:
    if made_up.per_bolt("yield_load") is None:
        return "Loads that end level need the yield strength of the bolts."
    if made_up.torsion is None:
        return "Loads that end level need the friction, for the torsion of the bolts."
    return None


@SHEET.result()
def levelling_found(forecast: Predicted, levelling_limits: list[float]) -> Correction | InputError:
    from splitline.tightening.correction import level_loads

    before, after = forecast.before, forecast.prediction.after(len(forecast.before))
    try:
        return level_loads(forecast.model, before, forecast.steps, forecast.targets, levelling_limits, after)
    except InputError as error:
        return error


@SHEET.result()
def levelling(levelling_found: Correction | InputError) -> Correction | None:
    return None if isinstance(levelling_found, InputError) else levelling_found


SHEET.tell("levelling_loads", "levelling.loads", "force", "Loads of the last pass that end level",
           formula="target + what later steps take", source=MODEL, shape="list")  # fmt: skip


@SHEET.result(kind="torque", title="Torques of the last pass that end level", formula="T·load/target", source=MODEL,
              shape="list")  # fmt: skip
def levelling_torques(levelling: Correction, made_up: JointMadeUp, forecast: Predicted) -> list[float] | None:
    torques = made_up.per_bolt("torque")
    if torques is None:
        return None
    return [t * f / w for t, f, w in zip(torques, levelling.loads, forecast.targets, strict=True)]


SHEET.tell(
    "levelling_spread", "levelling.spread", "share", "Spread they leave", formula="(max − min)/mean", source=MODEL
)


@SHEET.note()
def levelling_stopped(levelling: Correction) -> str | None:
    if not levelling.capped:
        return None
    return (
        f"Loads that end level: bolts {', '.join(map(str, levelling.capped))} are stopped by {PULL:.0%} of yield "
        "in combined stress at the high end of the scatter."
    )


# tensioner groups: the first pulled higher for what the later ones take, and the breakaway check at the end


@SHEET.result(
    each={"losses": Each("tensioner_loss", present=True), "areas": Each("piston_area", present=True)}, when=tensioned
)
def groups_found(
    forecast: Predicted, made_up: JointMadeUp, joint: Joint, losses: tuple[float, ...], areas: tuple[float, ...]
) -> tuple[Group, ...] | InputError | None:
    from splitline.tightening.tensioner import tensioner_groups

    yields = made_up.main.yield_load
    if not losses or yields is None or len(made_up.sizes) > 1:
        return None
    reach, first = [PULL * yields], _first(joint)
    if first is not None and first.pressure_max is not None:
        reach.append(first.pressure_max * (first.piston_area or 0.0))
    try:
        return tensioner_groups(
            forecast.model, forecast.steps, forecast.targets[0], losses[0], min(reach), forecast.before
        )
    except InputError as error:
        return error


def _first(joint: Joint) -> Tool | None:
    """The first tensioner whose piston is known."""
    tools = joint.tightening.tool if joint.tightening is not None else ()
    return next((tool for tool in tools if tool.piston_area is not None), None)


@SHEET.result()
def groups(groups_found: tuple[Group, ...] | InputError) -> tuple[Group, ...] | None:
    return None if isinstance(groups_found, InputError) else groups_found


@SHEET.note(when=tensioned, after=("forecast",))
def groups_need(groups_found: object = None) -> str | None:
    if groups_found is not None:
        return None
    return "Loads of tensioner groups need the tensioner's loss and the yield strength of one size of studs."


@SHEET.note()
def none_level(context: Context, levelling_found: object = None, groups_found: object = None) -> str | None:
    found = next((each for each in (levelling_found, groups_found) if isinstance(each, InputError)), None)
    return None if found is None else f"No loads that end level: {said(found, context.system)}."


_group = partial(SHEET.result, shape="list")


@_group(kind="force", title="Load left in each tensioner group when released", formula="target + what later groups take",
        source=MODEL)  # fmt: skip
def group_loads(groups: tuple[Group, ...]) -> list[float]:
    return [group.left for group in groups]


@SHEET.result()
def group_area(joint: Joint) -> float | None:
    first = _first(joint)
    return None if first is None else first.piston_area


@_group(kind="pressure", title="Pressure of each tensioner group", formula="load·loss / A_piston", source=MODEL)
def group_pressures(groups: tuple[Group, ...], group_area: float) -> list[float]:
    return [group.pull / group_area for group in groups]


@_group(
    kind="force", title="Load at which each group's nuts come free at the end", formula="lowest preload", source=MODEL
)
def group_breakaway(groups: tuple[Group, ...]) -> list[float]:
    return [group.breakaway for group in groups]


@_group(
    kind="pressure", title="Pressure under which a group is pulled again", formula="0.95·F / A_piston", source=PRACTICE
)
def breakaway_pressures(groups: tuple[Group, ...], group_area: float) -> list[float]:
    return [group.breakaway_least / group_area for group in groups]


@SHEET.note()
def groups_stopped(groups: tuple[Group, ...]) -> tuple[str, ...]:
    stopped = (number for number, group in enumerate(groups, 1) if group.capped)
    by = f"is stopped by {PULL:.0%} of yield or the tool's greatest pressure."
    return tuple(f"Tensioner group {number} {by}" for number in stopped)


# coefficients fitted to preloads read on the job; they enter the plan only when a person accepts them


@SHEET.result(after=("forecast",))
def read_preloads(joint: Joint, context: Context) -> Mapping[str, Mapping[int, float]] | None:
    if joint.layout is None or joint.layout.shape != "circle":
        return None
    return context.observed.preloads.get(joint.id) or None


@SHEET.result()
def fit_found(forecast: Predicted, read_preloads: Mapping[str, Mapping[int, float]]) -> Fitted | InputError:
    from splitline.tightening.coefficients import Reading, fit_coefficients

    places = {one.name: number for number, one in enumerate(forecast.passes, 1)}
    readings = [
        Reading(places[name], bolt, load)
        for name, bolts in read_preloads.items()
        if name in places
        for bolt, load in bolts.items()
    ]
    try:
        return fit_coefficients(forecast.passes, readings, len(forecast.targets))
    except InputError as error:
        return error


@SHEET.result()
def fitted(fit_found: Fitted | InputError) -> Fitted | None:
    return None if isinstance(fit_found, InputError) else fit_found


SHEET.tell("interaction_fitted", "fitted.coefficients", "share", "Coefficients fitted to readings, by distance",
           formula="least squares", source=READ, shape="list")  # fmt: skip
SHEET.tell("interaction_fitted_errors", "fitted.errors", "share", "Their standard errors", formula="least squares",
           source=READ, shape="list")  # fmt: skip
SHEET.tell("fitted_scale", "fitted.scale", "share", "Measured over intended load, common to all", formula="least squares",
           source=READ)  # fmt: skip


@SHEET.result(kind="force", title="Preloads at the end with the fitted coefficients", source=READ, shape="list")
def predicted_fitted(fitted: Fitted, forecast: Predicted) -> Array:
    from splitline.tightening.interaction import measured_circle
    from splitline.tightening.joint import Measured
    from splitline.tightening.prediction import predict

    model = Measured(measured_circle(fitted.coefficients, len(forecast.targets)))
    return predict(model, forecast.passes).final * fitted.scale


@SHEET.result(kind="share", title="Their spread", formula="(max − min)/mean", source=READ)
def predicted_fitted_spread(predicted_fitted: Array) -> float:
    from splitline.tightening.prediction import spread

    return spread(predicted_fitted)


@SHEET.note()
def fitted_to(fit_found: Fitted | InputError, context: Context) -> str:
    if isinstance(fit_found, InputError):
        return f"No coefficients from readings: {said(fit_found, context.system)}."
    return (
        f"Coefficients fitted to {fit_found.readings} readings, which they leave {fit_found.rest:.1%} apart; "
        "they count only when a person writes them into tightening.interaction."
    )
