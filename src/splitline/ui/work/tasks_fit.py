"""Tasks of a fit: its mounting steps one by one, with their readings, waits and names."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.fit_measured import FACE, INTERFERENCE, LOCKED
from splitline.assess.fit_steps import Limit, MountingStep
from splitline.assess.result import ItemResult
from splitline.plan.model import Plan
from splitline.record.entry import Measured, Signed
from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.ui.work.holds import Hold, hold_lines, hold_of
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import as_read, show, split


def takes_off(plan: Plan, step: str) -> bool:
    """Whether this step of the order of work takes its fit off."""
    return any(each.id == step and each.removal for each in plan.steps)


def alike(plan: Plan, step: str) -> frozenset[str]:
    """Steps of the order of work that share this one's sequence: of one fit, the same way round."""
    own = next((each for each in plan.steps if each.id == step), None)
    if own is None or own.fit is None:
        return frozenset((step,))
    return frozenset(each.id for each in plan.steps if each.fit == own.fit and bool(each.removal) == bool(own.removal))


def sequence(now: Now, step: StepPlan) -> tuple[MountingStep, ...]:
    """What is done with the fit of this step: its mounting, or its taking off."""
    result = now.assessment.find("fit", step.item)
    if result is None:
        return ()
    return result.fit.removal if takes_off(now.assessment.plan, step.id) else result.fit.mounting


def mounted(now: Now, step: StepPlan) -> dict[str, Signed]:
    """Steps of the sequence that are done, by number; several steps of the order of work may share them."""
    own = alike(now.assessment.plan, step.id)
    return {
        entry.pass_: entry
        for entry in now.alive
        if isinstance(entry, Signed) and entry.act == "mounting" and entry.step in own
    }


def _goes_on(step: StepState, now: Now) -> bool:
    """Whether a later step of the order of work goes on with this fit."""
    own = alike(now.assessment.plan, step.plan.id)
    ids = [state.plan.id for state in now.states if state.plan.id in own]
    return step.plan.id in ids[:-1]


def mounting_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task | None:
    result = now.assessment.find("fit", step.plan.item)
    steps = sequence(now, step.plan)
    done = mounted(now, step.plan)
    own = alike(now.assessment.plan, step.plan.id)
    off = takes_off(now.assessment.plan, step.plan.id)
    todo = next((each for each in steps if str(each.number) not in done), None)
    if todo is None:
        return None
    hold = hold_of(now.alive, step.plan.item, done.get(str(todo.number - 1)))
    left = hold.left(todo.wait, now.at, now.clock) if todo.wait else 0.0
    held = todo.name == "hold" and bool(todo.wait)
    read = [
        entry for entry in readings_so_far(now, step.plan.item) if entry.pass_ == str(todo.number) and entry.step in own
    ]
    have = {entry.what for entry in read}
    missing = [log.title for log in todo.log if log.title not in have]
    readings = _readings(todo, steps, result, held)
    first: tuple[Answer, ...] = (Answer("done", "Done", "enter", not missing and left <= 0),)
    if held and hold.broken is not None:
        first = (Answer("hold-again", "Pressure restored", "h", guarded=True),)
    elif held and left > 0:
        first = (*first, Answer("hold-broken", "Pressure lost", "b", guarded=True))
    return Task(
        kind="mounting",
        key=f"mounting {step.plan.id} {todo.number} {len(read)} {now.last_strike}",
        title=title_of(step),
        middle=f"{'taking off, step' if off else 'mounting step'} {todo.number} of {len(steps)}",
        figures=((_clock(left),) if todo.wait and hold.broken is None else ()) + _figures(todo, now),
        lines=(*_lines(todo, step, now, hold, read, missing), *_in_words(todo, now)),
        answers=(
            *first,
            Answer("reading", "Reading", "r"),
            *((Answer("finish", "Step done", "d"),) if _goes_on(step, now) and left <= 0 and not read else ()),
            *later,
        ),
        readings=(*(e for e in readings if e.what not in have), *(e for e in readings if e.what in have)),
        step=step,
        item=step.plan.item,
        part=str(todo.number),
        wait=todo.wait or 0.0,
        sign=todo.sign,
    )


def mounted_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """After the last mounting step: what was made, before the step of the order of work is closed."""
    result = now.assessment.find("fit", step.plan.item)
    results = result.results if result is not None else {}
    off = takes_off(now.assessment.plan, step.plan.id)
    wanted = () if off else _MADE
    figures = tuple(
        Figure(title, *split(results[key], kind, now.system))
        for key, title, kind in wanted
        if results.get(key) is not None
    )
    taken = [entry for entry in readings_so_far(now, step.plan.item) if entry.step == step.plan.id]
    closing = "It is off." if off else "It is mounted."
    lines = [(closing, "strong"), *common(step, now), *(said(entry, now) for entry in taken[-4:])]
    number = next((n for n, state in enumerate(now.states, 1) if state.plan.id == step.plan.id), 0)
    return Task(
        kind="plain",
        key=f"step {step.plan.id} {step.started is not None} {now.last_strike}",
        title=title_of(step),
        right=f"step {number} of {len(now.states)}",
        figures=figures,
        lines=tuple(lines),
        answers=(*answers(step, now), *later),
        readings=(Limits("length", "length"), Limits("temperature", "temperature"), Limits("force", "force")),
        step=step,
        item=step.plan.item,
    )


_MADE = (
    ("advance_made", "advance, locked", "size"),
    ("measured_interference", "interference measured", "length"),
    ("contact_pressure_measured", "contact pressure of it", "pressure"),
)
_GAUGED = {"ram_force": "ram_pressure", "held_force": "held"}


def _told(todo: MountingStep) -> tuple[Limit, ...]:
    """What the step is bounded by, each figure once: what is told before the act, then what is only read."""
    known = {limit.name for limit in todo.limits}
    return (*todo.limits, *(limit for limit in todo.log if limit.name not in known and limit.told))


def _figures(todo: MountingStep, now: Now) -> tuple[Figure, ...]:
    """The targets and limits of a step, large, before the act; a figure that repeats at several places once."""
    found: dict[tuple[str, str, str], Figure] = {}
    told = _told(todo)
    names = {limit.name for limit in told}
    for limit in told:
        if not limit.told:
            continue  # stands in words: it says what the plan lacks
        if _GAUGED.get(limit.name) in names:
            continue  # the gauge of the ram reads pressure; its force stands in words
        if limit.name == "face" and "advance" in names:
            continue  # one figure with the advance it stands for
        figure = _figure(limit, now)
        face = next((each for each in told if each.name == "face"), None)
        if limit.name == "advance" and face is not None and face.target is not None:
            figure = replace(figure, accepted=f"read {show(face.target, 'size', now.system)}")
        found.setdefault((figure.text, figure.unit, limit.name.partition("_")[0]), figure)
    return tuple(found.values())


def _figure(limit: Limit, now: Now) -> Figure:
    def written(value: float) -> tuple[str, str]:
        return (f"{value * 100:.4g}", "%") if limit.kind == "share" else split(value, as_read(limit.kind), now.system)

    low, high = limit.low, limit.high
    if limit.target is not None:
        accepted = f"{written(low)[0]} to {written(high)[0]}" if low is not None and high is not None else ""
        return Figure(limit.title, *written(limit.target), accepted)
    if limit.kind == "pressure" and low is not None and high is not None and low < high:
        return Figure(f"{limit.title}, at most", *written(high), f"from {written(low)[0]}")
    if low is not None and high is not None and low < high:
        text, unit = written(high)
        return Figure(limit.title, f"{written(low)[0]} - {text}", unit)
    if high is not None:
        return Figure(f"{limit.title}, at most", *written(high))
    return Figure(f"{limit.title}, at least", *written(low or 0.0))


def _advance_of(todo: MountingStep, now: Now, step: StepState, read: list[Measured]) -> list[tuple[str, str]]:
    """The advance a reading from the fixed face stands for."""
    faces = (FACE, LOCKED[FACE])
    if not any(limit.title in faces for limit in todo.log):
        return []
    result = now.assessment.find("fit", step.plan.item)
    zero = result.results.get("zero_dimension") if result else None
    if zero is None:
        return []
    known = show(zero, "size", now.system)
    last = next((entry.value for entry in reversed(read) if entry.what in faces), None)
    if last is None:
        return [(f"advance = zero {known} less the dimension read", "")]
    return [(f"advance {show(zero - last, 'size', now.system)} = zero {known} less the dimension read", "strong")]


def _clock(left: float) -> Figure:
    seconds = max(round(left), 0)
    if not seconds:
        return Figure("waited long enough", "0:00", "min")
    if seconds >= 3600:
        return Figure("wait another", f"{seconds // 3600}:{seconds % 3600 // 60:02d}", "h")
    return Figure("wait another", f"{seconds // 60}:{seconds % 60:02d}", "min")


def _lines(
    todo: MountingStep, step: StepState, now: Now, hold: Hold, read: list[Measured], missing: list[str]
) -> tuple[tuple[str, str], ...]:
    lines: list[tuple[str, str]] = [(todo.text, "strong")]
    lines += hold_lines(hold, todo.wait, now.at, now.clock) if todo.wait else []
    lines += common(step, now)
    if todo.sign:
        lines.append((f"{todo.sign} point: a name is asked for", "near"))
    lines += _to_read(missing)
    lines += _advance_of(todo, now, step, read)
    lines += [said(entry, now) for entry in read[-3:]]
    return tuple(lines)


def _in_words(todo: MountingStep, now: Now) -> tuple[tuple[str, str], ...]:
    """The figures once more, in words: last, since they stand large above."""
    return tuple((limit.said(now.system), "" if limit.told else "missing") for limit in _told(todo))


def _to_read(missing: list[str]) -> tuple[tuple[str, str], ...]:
    return ((f"to be read: {', '.join(missing)}", "on-site"),) if missing else ()


def _readings(
    todo: MountingStep, steps: tuple[MountingStep, ...], result: ItemResult | None, held: bool
) -> tuple[Limits, ...]:
    """What can be read in this step; during a hold its gauges, and the advance as it is judged afterwards."""
    asked = list(todo.readable)
    if held:
        asked += [log for log in next((each.log for each in steps if each.name == "ram-off"), ()) if log not in asked]
    found = [Limits(log.title, log.kind, log.low, log.high) for log in asked]
    if held:
        bore = next((limit for each in steps if each.name == "release" for limit in each.limits), None)
        gauges = [
            Limits("ram pressure", "pressure"),
            Limits("bore pressure", "pressure", None, bore.high if bore else None),
        ]
        found = [*gauges, *found]
    return (*found, *(_interference(result) if todo.name == "measure" else ()))


def _interference(result: ItemResult | None) -> tuple[Limits, ...]:
    """The measured interference, against the drawn one."""
    results = result.results if result else {}
    low, high = results.get("interference_low"), results.get("interference_high")
    return (Limits(INTERFERENCE, "length", low, high),)
