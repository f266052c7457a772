"""A time window: the planned minutes between its two moments against its limits."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.result import ItemResult
from splitline.fitting.windows import (
    Moment,
    Task,
    Wait,
    between,
    earliest,
    elapsed,
    one_after_another,
    unknown_durations,
)
from splitline.plan.model import Plan, Step, Window

BASIS = "planned minutes of the steps"
ONE_BY_ONE = "steps one after another as listed, every minute and every wait between the two moments counted"
CHAIN = "critical path: steps with hands enough, each after its needs"


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
    bench = Bench("window", window.id, window.title, ctx.system)
    needs = [name for name, value in (("from", window.from_), ("to", window.to)) if value is None]
    if window.at_least is None and window.at_most is None:
        needs.append("at_least or at_most")
    if window.from_ is None or window.to is None or needs:
        bench.missing("window", window.title, needs, BASIS, kind="time")
        return bench.done()
    bench.put("at_least", window.at_least)
    bench.put("at_most", window.at_most)
    with bench.guard("window", window.title, BASIS):
        _judge(window, tasks_of(plan.steps), waits_of(plan.windows), bench)
    return bench.done()


def _judge(window: Window, tasks: tuple[Task, ...], waits: tuple[Wait, ...], bench: Bench) -> None:
    begin, end = moment_of(window.from_ or ""), moment_of(window.to or "")
    inside = between(tasks, begin, end)
    unknown = unknown_durations(inside)
    if unknown:
        needs = [f"minutes of step {name}" for name in unknown]
        bench.missing("window", window.title, needs, BASIS, kind="time")
        return
    longest = elapsed(one_after_another(tasks, waits), begin, end)
    shortest = elapsed(earliest(tasks, waits), begin, end)
    worked = elapsed(earliest(tasks), begin, end)
    bench.put("elapsed", longest, {"steps": (", ".join(task.id for task in inside) or "none", "count")})
    bench.put("elapsed_shortest", shortest)
    if longest < 0:
        note = f"{window.to} comes before {window.from_} in the order of work"
        bench.fails("window", window.title, BASIS, note)
        return
    if window.at_most is not None:
        bench.put("slack", window.at_most - longest)
        note = ""
        if longest > window.at_most >= shortest:
            note = f"kept only if steps run side by side with a second crew: then {bench.show(shortest, 'time')}"
        bench.at_most("at_most", f"{window.title}, longest", longest, window.at_most, "time", ONE_BY_ONE, note)
    if window.at_least is not None:
        _wait(window, window.at_least, worked, bench)


def _wait(window: Window, least: float, worked: float, bench: Bench) -> None:
    """The shortest time: what the steps do not cover is waited. The work screen holds the next step until then."""
    note = ""
    if worked < least:
        bench.put("wait", least - worked)
        taken, waited = bench.show(worked, "time"), bench.show(least - worked, "time")
        note = f"the steps between take {taken}: {waited} of waiting is counted in the running total, and the work screen keeps it"
    bench.at_least("at_least", f"{window.title}, shortest", least, max(worked, least), "time", CHAIN, note)
