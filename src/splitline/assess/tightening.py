"""What tightening really leaves in each bolt: the prediction, its scatter, and what it must not be taken for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from splitline.assess.context import Context
from splitline.assess.joint_scatter import Spread
from splitline.assess.joint_sheet import PRACTICE, SHEET, method_of
from splitline.assess.joint_tensioner import tensioned
from splitline.assess.made_up import JointMadeUp
from splitline.assess.sheet import Assumed, Rule
from splitline.assess.speak import said
from splitline.assess.tightening_model import MODEL, TITLE
from splitline.errors import InputError
from splitline.plan.model.joint import Joint
from splitline.plan.passes import BY_NUT, Passes
from splitline.tightening.order import Step

if TYPE_CHECKING:
    from splitline.tightening.correction import Correction
    from splitline.tightening.joint import Joint as Model
    from splitline.tightening.passes import Pass
    from splitline.tightening.prediction import Prediction
    from splitline.tightening.scatter import Scattered

COMMON, MINUTES = 0.5, 4.0
TRIALS = 20_000  # where integration is not certain: 1st percentile of the lowest bolt to about 0.7 %
LITTLE = 0.03  # predicted spread under which the model alone would argue for fewer passes
SCATTER = "normal scatter, one draw per bolt and one common"
KEEP = (
    "Keep three passes and a check round: gaps that close, warp and sealing compound do more than the model shows, "
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

    @property
    def before(self) -> tuple[Pass, ...]:
        """The passes before the last one, which loads that end level replace."""
        return self.passes[: len(self.passes) - self.schedule.rounds - 1]

    @property
    def rows(self) -> list[int]:
        """Places of the main size's bolts in rows of numbers."""
        return [at - 1 for at in self.main]


@SHEET.result()
def schedule(joint: Joint, planned: Passes) -> Schedule:
    """Passes, rounds and times of the plan."""
    how = joint.tightening
    common, minutes = (how.scatter_common, how.minutes_per_step) if how is not None else (None, None)
    return Schedule(
        planned.shares,
        planned.snug,
        planned.rounds,
        planned.most_rounds,
        COMMON if common is None else common,
        MINUTES if minutes is None else minutes,
    )


def _usual(field: str, text: str) -> None:
    """A field of tightening that is told as a default where the plan does not give it and something is predicted."""

    def taken(joint: Joint, schedule: Schedule) -> Assumed | None:
        if joint.tightening is not None and getattr(joint.tightening, field) is not None:
            return None
        return Assumed(None, f"tightening.{field}", PRACTICE, text=text.format(schedule))

    taken.__name__ = f"usual_{field}"
    SHEET.note(after=("forecast",))(taken)


_usual("finish_rounds", "{0.rounds}")
_usual("max_rounds", "{0.most_rounds}")
_usual("scatter_common", "{0.common:g}")
_usual("minutes_per_step", "{0.minutes_per_step:g}")


@SHEET.result()
def targets(made_up: JointMadeUp) -> list[float] | None:
    """Of every bolt in the order of their numbers, N."""
    return made_up.per_bolt("preload")


@SHEET.check("predicted", TITLE, after=("model",))
def every_target(targets: list[float] | None = None) -> Rule | None:
    if targets is not None:
        return None
    return Rule("missing", "needs the target preload of every bolt (see the checks above)", ("target",))


@SHEET.result()
def forecast(
    steps: tuple[Step, ...],
    model: Model,
    targets: list[float],
    made_up: JointMadeUp,
    schedule: Schedule,
    spread: Spread,
) -> Predicted:
    """Every pass as the joint answers it, and the scatter of what is left."""
    from splitline.tightening.passes import planned_passes
    from splitline.tightening.prediction import predict
    from splitline.tightening.scatter import scatter

    passes = planned_passes(steps, targets, schedule.shares, schedule.snug, schedule.rounds)
    prediction = predict(model, passes, keep=len(passes) - schedule.rounds - 1)
    others = {bolt for size in made_up.sizes[1:] for bolt in size.bolts}
    main = tuple(bolt for bolt in range(1, len(targets) + 1) if bolt not in others) or tuple(range(1, len(targets) + 1))
    limit = made_up.main.yield_load
    if limit is not None:  # yield is reached in combined stress: torsion counts
        limit = None if made_up.torsion is None else limit / made_up.torsion
    scattered = scatter(
        model,
        passes,
        prediction,
        spread.scatter,
        schedule.common,
        limit=float("inf") if limit is None else limit,
        trials=TRIALS,
        of=main if others else None,
    )
    return Predicted(model, steps, passes, tuple(targets), main, schedule, spread.scatter, limit, prediction, scattered)


@SHEET.check("interaction", TITLE, quiet=True)
def predictable(forecast: Predicted) -> None:
    """Only says what the physics refuses."""


SHEET.tell("predicted_passes", "forecast.prediction.after_pass", "force", "Predicted preloads, pass by pass",
           formula="min ½ F·M·F − e·F, F ≥ 0", source=MODEL, shape="table")  # fmt: skip
SHEET.tell("predicted", "forecast.prediction.final", "force", "Predicted preloads at the end",
           formula="min ½ F·M·F − e·F, F ≥ 0", source=MODEL, shape="list")  # fmt: skip
SHEET.tell("predicted_deviation", "forecast.scattered.deviation", "force", "Standard deviation of each bolt",
           formula="σ·√(c·(ΣP)² + (1 − c)·ΣP²)", source=SCATTER, shape="list")  # fmt: skip
_spread = partial(SHEET.result, kind="share", formula="(max − min)/mean", source=MODEL)


@_spread(title="Elastic-interaction spread at the end, without tool and friction scatter")
def predicted_spread(forecast: Predicted) -> float:
    from splitline.tightening.prediction import spread

    return spread(forecast.prediction.final[forecast.rows])


@_spread(title="Elastic-interaction spread pass by pass, without tool and friction scatter", shape="list")
def predicted_spreads(forecast: Predicted) -> list[float]:
    from splitline.tightening.prediction import spread

    return [spread(row[forecast.rows]) for row in forecast.prediction.after_pass]


_scattered = partial(
    SHEET.result, kind="force", formula="F = P·m", source="{forecast.scattered.basis}",
    puts={"scatter": ("forecast.scatter", "share"), "common": ("schedule.common", "share")},
)  # fmt: skip


@_scattered(title="Lowest bolt with scatter (1st percentile)")
def predicted_low(forecast: Predicted) -> float:
    return max(forecast.scattered.low, 0.0)


@_scattered(title="Highest bolt with scatter (99th percentile)")
def predicted_high(forecast: Predicted) -> float:
    return forecast.scattered.high


@SHEET.result(kind="share", title="Chance that a bolt passes its yield load", source=SCATTER,
              formula="1 − E[Π Φ], or share of trials")  # fmt: skip
def chance_over_yield(forecast: Predicted) -> float | None:
    return forecast.scattered.chance_over_limit if forecast.limit is not None else None


@SHEET.note()
def how_it_scatters(forecast: Predicted) -> str:
    return f"Scatter of the prediction: {forecast.scattered.basis}."


@SHEET.note()
def slack_bolts(forecast: Predicted) -> str | None:
    slack = "Some bolts go slack while others are pulled: expect loose nuts in the early passes."
    return slack if forecast.prediction.slack else None


# what it must not be taken for: the model never argues for fewer than three passes and a round


def _by_nut(joint: Joint) -> bool:
    return method_of(joint) in BY_NUT


@SHEET.note(when=_by_nut, after=("forecast",))
def positions_not_loads(joint: Joint) -> str:
    return (
        f"{method_of(joint).capitalize()} sets nut positions, not loads; the prediction takes every pull to end "
        "at its load, which shows more loss to later pulls than equal nut turns do."
    )


@SHEET.result(after=("forecast",))
def few_passes(joint: Joint, schedule: Schedule) -> str | None:
    """What is said, and never cut, where fewer are planned."""
    passes, rounds = len(schedule.shares), schedule.rounds
    if _by_nut(joint) or (passes >= 3 and rounds >= 1):
        return None
    planned = f"{passes} pass{'es' * (passes != 1)} and {rounds} check round{'s' * (rounds != 1)} are planned"
    return f"Caution: {planned}; the prediction is no reason for fewer. {KEEP}"


@SHEET.note()
def caution_of_few(few_passes: str) -> str:
    return few_passes


@SHEET.note()
def little_interaction(joint: Joint, predicted_spread: float, few_passes: str = "") -> str | None:
    if _by_nut(joint) or few_passes or predicted_spread >= LITTLE:
        return None
    return f"Little interaction is predicted. {KEEP}"


# tensioner groups: the load that the highest pulled group of each size must keep on release so that all end level


@SHEET.result(when=tensioned)
def level_found(forecast: Predicted) -> Correction | InputError:
    """Loads that end level without any limit of stud or tool, so that these can be held against it."""
    from splitline.tightening.correction import level_loads

    before, after = forecast.before, forecast.prediction.after(len(forecast.before))
    try:
        return level_loads(forecast.model, before, forecast.steps, forecast.targets, None, after)
    except InputError as error:
        return error


@SHEET.result()
def group_pulls(forecast: Predicted, level_found: Correction | InputError, made_up: JointMadeUp) -> tuple[float, ...]:
    """For each size, main size first, N. Empty where it cannot be told."""
    if isinstance(level_found, InputError):
        return ()
    size_of = {bolt: number for number, size in enumerate(made_up.sizes[1:], 1) for bolt in size.bolts}
    most = [0.0] * len(made_up.sizes)
    for step in forecast.steps:  # one pump: a group has one pressure, set for the mean of its studs
        size = size_of.get(step[0], 0)
        most[size] = max(most[size], float(sum(level_found.loads[bolt - 1] for bolt in step)) / len(step))
    return tuple(most)


@SHEET.note()
def groups_unknown(level_found: Correction | InputError, context: Context) -> str | None:
    if not isinstance(level_found, InputError):
        return None
    return f"What tensioner groups take from one another is not known: {said(level_found, context.system)}."
