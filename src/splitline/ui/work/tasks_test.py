"""Tasks of a pressure or leak test, and of barring a rotor over: figures before the act, readings before Done."""

from __future__ import annotations

from splitline.assess.step import AT_END, AT_START, BARRED, test_limit
from splitline.plan.model import Step
from splitline.record.clock import passed
from splitline.record.entry import Measured
from splitline.record.order import StepState
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import show, split


def test_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task | None:
    """None for a step that is neither."""
    plan = next((each for each in now.assessment.plan.steps if each.id == step.plan.id), None)
    if plan is None or (plan.test is None and plan.bar_over is None):
        return None
    taken = readings_so_far(now, step.plan.id)
    figures, readings, lines, ready, wait = _tested(plan, taken, now) if plan.test else _barred(plan, taken, now)
    return Task(
        kind="plain",
        key=f"test {step.plan.id} {len(taken)} {step.started is not None} {now.last_strike}",
        title=title_of(step),
        middle="test" if plan.test else "bar over",
        figures=figures,
        lines=((title_of(step), "strong"), *common(step, now), *lines, *(said(entry, now) for entry in taken[-3:])),
        answers=(*answers(step, now, ready), *later),
        readings=readings,
        step=step,
        item=step.plan.item,
        wait=wait,
    )


# What is shown large, what can be read, lines, whether Done is open, seconds left of a hold that runs.
Parts = tuple[tuple[Figure, ...], tuple[Limits, ...], list[tuple[str, str]], bool, float]


def _tested(plan: Step, taken: list[Measured], now: Now) -> Parts:
    """Start, hold, end: the end is read when the hold is over and judged by the start less the allowed drop."""
    first = next((entry for entry in reversed(taken) if entry.what == AT_START), None)
    last = next(
        (e for e in reversed(taken) if e.what == AT_END and first is not None and e.number > first.number), None
    )
    lines: list[tuple[str, str]] = []
    lacking = [name for name in ("test_pressure", "test_hold", "test_drop") if getattr(plan, name) is None]
    if lacking:
        lines.append((f"THE PLAN LACKS {', '.join(lacking)}: ask the planner before any pressure", "missing"))
    most = test_limit(plan)
    figures = [
        Figure(title, *split(value, kind, now.system))
        for title, value, kind in (
            ("test pressure", plan.test_pressure, "pressure"),
            ("never above", most, "pressure"),
            ("drop, at most", plan.test_drop, "pressure"),
        )
        if value is not None
    ]
    left = 0.0
    if first is not None and last is None and plan.test_hold is not None:
        left = plan.test_hold - passed(first.done_at or now.at, first.number, now.at, now.clock)
        seconds = max(round(left), 0)
        caption = "wait another" if seconds else "waited long enough"
        figures.insert(0, Figure(caption, f"{seconds // 60}:{seconds % 60:02d}", "min"))
    elif plan.test_hold is not None:
        figures.append(Figure("hold", *split(plan.test_hold, "time", now.system)))
    start = Limits(AT_START, "pressure", plan.test_pressure, most, typical="both readings at one temperature")
    least = None if first is None or plan.test_drop is None else first.value - plan.test_drop
    end = Limits(AT_END, "pressure", least, most, typical="both readings at one temperature")
    if last is not None:
        return tuple(figures), (start, end), lines, True, 0.0
    if first is None:
        lines.append((f"Done asks for two readings: {AT_START}, then {AT_END}", "dim"))
        return tuple(figures), (start,), lines, False, max(left, 0.0)
    if left > 0:
        return tuple(figures), (start,), lines, False, max(left, 0.0)
    lines.append((f"Done asks for {AT_END}", "dim"))
    if least is not None:
        lines.append((f"{AT_END} at least {show(least, 'pressure', now.system)}", "strong"))
    return tuple(figures), (end,), lines, False, max(left, 0.0)


def to_read(plan: Step, now: Now) -> tuple[Limits, ...]:
    """What a test or a barring over still wants read, first to last; () for a step that is neither."""
    taken = readings_so_far(now, plan.id)
    if plan.test is not None:
        readings = _tested(plan, taken, now)[1]
        first = any(entry.what == AT_START for entry in taken)
        last = next((each for each in readings if each.what == AT_END), Limits(AT_END, "pressure"))
        return (last,) if first else (readings[0], last)
    if plan.bar_over is not None and not any(entry.what == BARRED for entry in taken):
        return _barred(plan, taken, now)[1]
    return ()


def _barred(plan: Step, taken: list[Measured], now: Now) -> Parts:
    most = plan.bar_over or 0.0
    read = any(entry.what == BARRED for entry in taken)
    lines = [] if read else [(f"Done asks for a reading first: {BARRED}", "dim")]
    lines.insert(0, ("By hand, with the bar the drawing names; more than this: stop, it rubs or is locked.", "strong"))
    figures = (Figure("breaks away by hand, at most", *split(most, "torque", now.system)),)
    return figures, (Limits(BARRED, "torque", None, most),), lines, read, 0.0
