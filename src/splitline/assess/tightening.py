"""What tightening really leaves in each bolt: order, interaction, prediction, scatter, levelling, rounds and time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.made_up import JointMadeUp
from splitline.assess.result import Check
from splitline.assess.tightening_order import put_order
from splitline.errors import InputError
from splitline.plan.model.joint import Joint
from splitline.plan.passes import BY_NUT, passes_of

if TYPE_CHECKING:
    from splitline.tightening.joint import Joint as Model
    from splitline.tightening.order import Step
    from splitline.tightening.passes import Pass
    from splitline.tightening.prediction import Prediction
    from splitline.tightening.scatter import Scattered

TITLE = "prediction of preloads"
PRACTICE = "common practice, no published source"
COMMON, MINUTES = 0.5, 4.0
TRIALS = 20_000  # where integration is not certain: 1st percentile of the lowest bolt to about 0.7 %
LITTLE = 0.03  # predicted spread under which the model alone would argue for fewer passes
KEEP = (
    "Keep three passes and a finishing round: gaps that close, warp and sealing compound do more than the model shows, "
    "and rounds go on until no nut moves."
)


@dataclass(frozen=True, slots=True)
class Schedule:
    """What the plan says of the passes, defaults filled in (and said)."""

    shares: tuple[float, ...]
    snug: float
    rounds: int
    most_rounds: int
    common: float
    minutes_per_step: float


@dataclass(frozen=True, slots=True, eq=False)
class Predicted:
    """What screens play and compare: the joint as a model, its passes, and what they leave. Bolts from 1, SI."""

    model: Model
    steps: tuple[Step, ...]
    passes: tuple[Pass, ...]
    targets: tuple[float, ...]
    main: tuple[int, ...]  # bolts of the main size
    schedule: Schedule
    scatter: float
    limit: float | None  # axial load of the main size at which it yields with the torsion it has, N
    prediction: Prediction
    scattered: Scattered


def add_tightening(bench: Bench, joint: Joint, made_up: JointMadeUp, ctx: Context) -> None:
    """Put order, interaction, prediction and what follows from it on the bench (keys of keys/tightening.py)."""
    steps = put_order(bench, joint, made_up)
    if not steps:
        return
    if joint.tightening is not None and joint.tightening.method == "hydraulic tensioner":
        at_once = max(len(step) for step in steps)
        bench.put("tensioner_groups", len(steps), {"studs at once": (float(at_once), "count")})
    with bench.guard("interaction", TITLE):
        _add(bench, joint, made_up, ctx, steps)


def group_pulls(bench: Bench, made_up: JointMadeUp) -> tuple[float, ...]:
    """For each size, main size first, the load that its highest pulled group must keep on release so that all end level, N.

    Without any limit of stud or tool, so that these can be held against it. Empty where tightening is not predicted.
    """
    from splitline.tightening.correction import level_loads

    found = bench.joint.predicted
    if found is None:
        return ()
    before = found.passes[: len(found.passes) - found.schedule.rounds - 1]
    try:
        level = level_loads(found.model, before, found.steps, found.targets, None, found.prediction.after(len(before)))
    except InputError as error:
        bench.note(f"What tensioner groups take from one another is not known: {bench.said(error)}.")
        return ()
    size_of = {bolt: number for number, size in enumerate(made_up.sizes[1:], 1) for bolt in size.bolts}
    most = [0.0] * len(made_up.sizes)
    for step in found.steps:  # one pump: a group has one pressure, set for the mean of its studs
        size = size_of.get(step[0], 0)
        most[size] = max(most[size], float(sum(level.loads[bolt - 1] for bolt in step)) / len(step))
    return tuple(most)


def schedule_of(bench: Bench, joint: Joint) -> Schedule:
    """Passes, rounds and times of the plan; a default is said with its basis."""
    how = joint.tightening
    planned = passes_of(how)
    rounds, most = (how.finish_rounds, how.max_rounds) if how is not None else (None, None)
    common, minutes = (how.scatter_common, how.minutes_per_step) if how is not None else (None, None)
    for field, value, said in (
        ("finish_rounds", rounds, f"{planned.rounds}"),
        ("max_rounds", most, f"{planned.most_rounds}"),
        ("scatter_common", common, f"{COMMON:g}"),
        ("minutes_per_step", minutes, f"{MINUTES:g}"),
    ):
        if value is None:
            bench.default(f"tightening.{field}", said, PRACTICE)
    return Schedule(
        planned.shares,
        planned.snug,
        planned.rounds,
        planned.most_rounds,
        COMMON if common is None else common,
        MINUTES if minutes is None else minutes,
    )


def _add(bench: Bench, joint: Joint, made_up: JointMadeUp, ctx: Context, steps: tuple[Step, ...]) -> None:
    from splitline.assess.tightening_model import model_of

    model = model_of(bench, joint, made_up, made_up.per_bolt("bolt_stiffness"))
    if model is None:
        return
    bench.put("interaction", model.interaction)
    targets = made_up.per_bolt("preload")
    if targets is None:
        bench.missing(
            "predicted", TITLE, ("target",), note="needs the target preload of every bolt (see the checks above)"
        )
        return
    found = _predicted(bench, joint, made_up, model, steps, targets)
    bench.joint = replace(bench.joint, predicted=found)
    _put_prediction(bench, found)
    from splitline.assess.tightening_further import put_further

    put_further(bench, joint, made_up, found, ctx)
    _advise(bench, joint, found)


def _predicted(
    bench: Bench, joint: Joint, made_up: JointMadeUp, model: Model, steps: tuple[Step, ...], targets: list[float]
) -> Predicted:
    from splitline.tightening.passes import planned_passes
    from splitline.tightening.prediction import predict
    from splitline.tightening.scatter import scatter

    schedule = schedule_of(bench, joint)
    passes = planned_passes(steps, targets, schedule.shares, schedule.snug, schedule.rounds)
    prediction = predict(model, passes, keep=len(passes) - schedule.rounds - 1)
    others = {bolt for size in made_up.sizes[1:] for bolt in size.bolts}
    main = tuple(bolt for bolt in range(1, len(targets) + 1) if bolt not in others) or tuple(range(1, len(targets) + 1))
    limit = made_up.main.yield_load
    if limit is not None:  # yield is reached in combined stress: torsion counts
        limit = None if made_up.torsion is None else limit / made_up.torsion
    within = made_up.scatter or 0.0
    scattered = scatter(
        model,
        passes,
        prediction,
        within,
        schedule.common,
        limit=float("inf") if limit is None else limit,
        trials=TRIALS,
        of=main if others else None,
    )
    return Predicted(model, steps, passes, tuple(targets), main, schedule, within, limit, prediction, scattered)


def _put_prediction(bench: Bench, found: Predicted) -> None:
    from splitline.tightening.prediction import spread

    rows = [at - 1 for at in found.main]
    prediction, scattered = found.prediction, found.scattered
    bench.put("predicted_passes", prediction.after_pass)
    bench.put("predicted", prediction.final)
    bench.put("predicted_spread", spread(prediction.final[rows]))
    bench.put("predicted_spreads", [spread(row[rows]) for row in prediction.after_pass])
    puts = {"scatter": (found.scatter, "share"), "common": (found.schedule.common, "share")}
    bench.put("predicted_low", max(scattered.low, 0.0), {**puts}, source=scattered.basis)
    bench.put("predicted_high", scattered.high, {**puts}, source=scattered.basis)
    bench.put("predicted_deviation", scattered.deviation)
    if found.limit is not None:
        bench.put("chance_over_yield", scattered.chance_over_limit)
    bench.note(f"Scatter of the prediction: {scattered.basis}.")
    if prediction.slack:
        bench.note("Some bolts go slack while others are pulled: expect loose nuts in the early passes.")


def _advise(bench: Bench, joint: Joint, found: Predicted) -> None:
    """The model never argues for fewer than three passes and a round; and what it leaves out is said."""
    if joint.tightening is not None and joint.tightening.method in BY_NUT:
        bench.note(
            f"{joint.tightening.method.capitalize()} sets nut positions, not loads; the prediction takes every pull to end "
            "at its load, which shows more loss to later pulls than equal nut turns do."
        )
        return
    schedule = found.schedule
    if len(schedule.shares) < 3 or schedule.rounds < 1:
        passes, rounds = len(schedule.shares), schedule.rounds
        planned = f"{passes} pass{'es' * (passes != 1)} and {rounds} finishing round{'s' * (rounds != 1)} are planned"
        said = f"Caution: {planned}; the prediction is no reason for fewer. {KEEP}"
        bench.note(said)
        bench.joint = replace(bench.joint, warnings=(said,))
    elif bench.get("predicted_spread") is not None and bench.get("predicted_spread") < LITTLE:
        bench.note(f"Little interaction is predicted. {KEEP}")


def add_chances(bench: Bench, made_up: JointMadeUp) -> None:
    """Chance that a bolt of the main size ends below what the load cases need; after the cases have been assessed."""
    found, low = bench.joint.predicted, bench.get("preload_low")
    need = needed_preload(bench.checks, made_up.main.bolts, low, made_up.relaxation or 0.0)
    if found is not None and need is not None:
        bench.put("needed_preload", need)
        bench.put("chance_below_need", chance_below(found, need))


def needed_preload(
    checks: Sequence[Check], bolts: tuple[int, ...], low: float | None, relaxation: float
) -> float | None:
    """Preload of these bolts of one size right after tightening that keeps every case's separation, N.

    (need − change by temperature)/(1 − relaxation), the greatest of all cases; ``low`` is the low preload the checks
    started from. None where no case was assessed.
    """
    needs = [
        (check.demand - (check.limit - low)) / (1 - relaxation)
        for check in checks
        if low is not None
        and check.key == "separation_factor"
        and check.size == bolts
        and check.demand is not None
        and check.limit is not None
    ]
    return max(max(needs), 0.0) if needs else None


def chance_below(found: Predicted, need: float) -> float:
    """Chance that a bolt of the main size ends below ``need``, N."""
    return found.scattered.extremes.lowest_below(need)
