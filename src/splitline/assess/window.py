"""A time window: the planned minutes between its two moments against its limits. Declared on a calculation sheet."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.assess.assembled import item_of
from splitline.assess.context import Context
from splitline.assess.result import ItemResult
from splitline.assess.sheet import Absent, Against, Rule, Sheet
from splitline.assess.worksheet import Worksheet
from splitline.fitting.windows import (
    Moment,
    Task,
    Wait,
    between,
    earliest,
    one_after_another,
    unknown_durations,
)
from splitline.fitting.windows import elapsed as elapsed_between
from splitline.plan.model import Plan, Step, Window
from splitline.units import show

BASIS = "planned minutes of the steps"
ONE_BY_ONE = "steps one after another as listed, every minute and every wait between the two moments counted"
CHAIN = "critical path: steps with hands enough, each after its needs"
ORDER = "order of work"

SHEET = Sheet("window")
SHEET.given("from_", "window.from_", field="from")
SHEET.given("to", "window.to")


def tasks_of(steps: Sequence[Step]) -> tuple[Task, ...]:
    """The order of work as the timing rooms take it: durations in s, needs that are steps."""
    known = {step.id for step in steps}
    return tuple(
        Task(
            step.id,
            None if step.minutes is None else step.minutes * 60.0,
            tuple(need for need in step.needs or () if need in known),
        )
        for step in steps
    )


def moment_of(text: str) -> Moment:
    """``"bead.start"`` as step and end."""
    name, _, which = text.rpartition(".")
    return name, "start" if which == "start" else "done"


def waits_of(windows: Sequence[Window]) -> tuple[Wait, ...]:
    """The shortest times of the plan's windows: the work screen keeps them, so the schedule waits for them."""
    return tuple(
        Wait(moment_of(window.from_), moment_of(window.to), window.at_least)
        for window in windows
        if window.from_ is not None and window.to is not None and window.at_least is not None
    )


def assess_window(window: Window, plan: Plan, ctx: Context) -> ItemResult:
    """One window, from the planned minutes; the countdown on the job is the work screen's."""
    return item_of(Worksheet(SHEET, window, InPlan(plan, ctx)), window.id, window.title, ctx.system)


class InPlan:
    """What a window may look at besides itself."""

    def __init__(self, plan: Plan, ctx: Context) -> None:
        self.plan, self.ctx = plan, ctx

    def show(self, seconds: float) -> str:
        """A time in the units of the assessment."""
        return show(seconds, "time", self.ctx.system)


@SHEET.result()
def limited(window: Window) -> bool:
    """That a limit is given at all."""
    if window.at_least is None and window.at_most is None:
        raise Absent("at_least or at_most")
    return True


@SHEET.result()
def ends(from_: str, to: str, limited: bool) -> tuple[Moment, Moment]:
    return moment_of(from_), moment_of(to)


@SHEET.result(kind="time", title="Shortest time allowed", symbol="t_low", formula="as planned", source="plan")
def at_least(window: Window, ends: tuple[Moment, Moment]) -> float | None:
    return window.at_least


@SHEET.result(kind="time", title="Longest time allowed", symbol="t_high", formula="as planned", source="plan")
def at_most(window: Window, ends: tuple[Moment, Moment]) -> float | None:
    return window.at_most


@SHEET.result()
def tasks(context: InPlan) -> tuple[Task, ...]:
    return tasks_of(context.plan.steps)


@SHEET.result()
def waits(context: InPlan) -> tuple[Wait, ...]:
    return waits_of(context.plan.windows)


@SHEET.result()
def inside(tasks: tuple[Task, ...], ends: tuple[Moment, Moment]) -> tuple[Task, ...]:
    """The steps between the two moments, all with their minutes."""
    found = between(tasks, *ends)
    unknown = unknown_durations(found)
    if unknown:
        raise Absent(*(f"minutes of step {name}" for name in unknown))
    return found


@SHEET.result()
def inside_said(inside: tuple[Task, ...]) -> str:
    return ", ".join(task.id for task in inside) or "none"


@SHEET.result(kind="time", title="Planned time, one step after another", symbol="t", formula="sum of the steps' minutes",
              source=ORDER, puts={"steps": ("inside_said", "count")})  # fmt: skip
def elapsed(tasks: tuple[Task, ...], waits: tuple[Wait, ...], ends: tuple[Moment, Moment], inside_said: str) -> float:
    return elapsed_between(one_after_another(tasks, waits), *ends)


@SHEET.result(kind="time", title="Planned time with hands enough", symbol="t_min", formula="longest chain of needs",
              source="critical-path method")  # fmt: skip
def elapsed_shortest(
    tasks: tuple[Task, ...], waits: tuple[Wait, ...], ends: tuple[Moment, Moment], elapsed: float
) -> float:
    return elapsed_between(earliest(tasks, waits), *ends)


@SHEET.result()
def worked(tasks: tuple[Task, ...], ends: tuple[Moment, Moment], elapsed: float) -> float:
    """What the steps take without waiting, s."""
    return elapsed_between(earliest(tasks), *ends)


def _backwards(elapsed: float) -> bool:
    return elapsed < 0


def _forwards(elapsed: float) -> bool:
    return elapsed >= 0


@SHEET.result(kind="time", title="Time in hand before the latest end", symbol="t_high − t", formula="at most − planned",
              source=ORDER, when=_forwards)  # fmt: skip
def slack(at_most: float, elapsed: float) -> float:
    return at_most - elapsed


@SHEET.result(kind="time", title="Waiting the steps do not cover", symbol="t_low − t_min", formula="at least − planned",
              source=ORDER, when=_forwards)  # fmt: skip
def wait(at_least: float, worked: float) -> float | None:
    return at_least - worked if worked < at_least else None


@SHEET.check("window", "{window.title}", kind="time", basis=BASIS)
def in_order(window: Window, inside: tuple[Task, ...], elapsed: float) -> Rule | None:
    if elapsed >= 0:
        return None
    return Rule("fails", f"{window.to} comes before {window.from_} in the order of work")


@SHEET.check("at_most", "{window.title}, longest", kind="time", basis=ONE_BY_ONE, when=_forwards, quiet=True)
def not_too_long(window: Window, at_most: float, elapsed: float, elapsed_shortest: float, context: InPlan) -> Against:
    note = ""
    if elapsed > at_most >= elapsed_shortest:
        note = f"kept only if steps run side by side with a second crew: then {context.show(elapsed_shortest)}"
    return Against(elapsed, at_most, note)


@SHEET.check(
    "at_least", "{window.title}, shortest", sense="at least", kind="time", basis=CHAIN, when=_forwards, quiet=True
)
def not_too_short(
    window: Window, at_least: float, worked: float, context: InPlan, wait: float | None = None
) -> Against:
    """What the steps do not cover is waited. The work screen holds the next step until then."""
    note = ""
    if wait is not None:
        taken, waited = context.show(worked), context.show(wait)
        note = f"the steps between take {taken}: {waited} of waiting is counted in the running total, and the work screen keeps it"
    return Against(at_least, max(worked, at_least), note)
