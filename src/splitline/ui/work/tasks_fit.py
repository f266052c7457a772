"""Tasks of a fit: its mounting steps one by one, with their readings, waits and names."""

from __future__ import annotations

from splitline.assess.result import ItemResult
from splitline.record.entry import Signed
from splitline.record.order import StepState
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_item import common, readings_so_far, said, title_of


def mounted(now: Now, fit: str) -> dict[str, Signed]:
    """Mounting steps of a fit that are done, by number; several steps of the order of work may share them."""
    own = {state.plan.id for state in now.states if (state.plan.kind, state.plan.item) == ("fit", fit)}
    return {
        entry.pass_: entry
        for entry in now.alive
        if isinstance(entry, Signed) and entry.act == "mounting" and entry.step in own
    }


def _goes_on(step: StepState, now: Now) -> bool:
    """Whether a later step of the order of work goes on with this fit."""
    ids = [state.plan.id for state in now.states if (state.plan.kind, state.plan.item) == ("fit", step.plan.item)]
    return step.plan.id in ids[:-1]


def mounting_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task | None:
    result = now.assessment.find("fit", step.plan.item)
    steps = tuple(result.extra.get("mounting_steps", ())) if result else ()
    done = mounted(now, step.plan.item)
    todo = next((each for each in steps if str(each.number) not in done), None)
    if todo is None:
        return None
    before = done.get(str(todo.number - 1))
    waited = (now.at - before.done_at).total_seconds() if before and before.done_at else 0.0
    left = (todo.wait - waited) if todo.wait else 0.0
    figures = []
    if todo.wait:
        seconds = max(round(left), 0)
        text = (
            f"{seconds // 3600}:{seconds % 3600 // 60:02d}"
            if seconds >= 3600
            else f"{seconds // 60}:{seconds % 60:02d}"
        )
        figures = [Figure("wait another", text, "h" if seconds >= 3600 else "min")]
    lines: list[tuple[str, str]] = [(todo.text, "strong"), *common(step, now)]
    lines += [(limit.said(now.system), "") for limit in todo.limits]
    if todo.sign:
        lines.append((f"{todo.sign} point: a name is asked for", "near"))
    if "pressure" in todo.text or todo.name.startswith("up"):
        lines.append(("Nobody in line with the hub. Oil under the skin: go to hospital at once.", "caution"))
    read = [entry for entry in readings_so_far(now, step.plan.item) if entry.pass_ == str(todo.number)]
    lines += [said(entry, now) for entry in read[-3:]]
    missing = [log.title for log in todo.log if log.title not in {entry.what for entry in read}]
    if missing:
        lines.append((f"to be read: {', '.join(missing)}", "on-site"))
    return Task(
        kind="mounting",
        key=f"mounting {step.plan.id} {todo.number} {len(read)} {now.last_strike}",
        title=title_of(step),
        middle=f"mounting step {todo.number} of {len(steps)}",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(
            Answer("done", "Done", "enter", not missing and left <= 0),
            Answer("reading", "Reading", "r"),
            *((Answer("finish", "Step done", "d"),) if _goes_on(step, now) else ()),
            *later,
        ),
        readings=(
            *(Limits(log.title, log.kind, log.low, log.high) for log in (todo.log or todo.limits)),
            *(_interference(result) if todo.name == "measure" else ()),
        ),
        step=step,
        item=step.plan.item,
        part=str(todo.number),
        sign=todo.sign,
    )


def _interference(result: ItemResult | None) -> tuple[Limits, ...]:
    """The measured interference, against the drawn one."""
    results = result.results if result else {}
    low, high = results.get("interference_low"), results.get("interference_high")
    return (Limits("interference", "length", low, high),)
