"""Tasks of everything that is no joint: plain steps, lifts, fits, insertions, clearances."""

from __future__ import annotations

from typing import Any

from splitline.record.entry import Measured, Signed
from splitline.record.order import StepState
from splitline.ui.work.counts import count_lines, counts_open, wait_left
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.units import show, split

PUSHED = ("jack pressure", "push force")  # readings that make the force log


def item_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The task of a step that can be worked on."""
    kind = step.plan.kind
    if kind == "fit":
        found = _mounting(step, now, later)
        if found is not None:
            return found
    if kind == "insertion":
        return _insertion(step, now, later)
    if kind == "clearance":
        return _clearance(step, now, later)
    if kind == "lift":
        return _lift(step, now, later)
    return _plain(step, now, later)


def _title(step: StepState) -> str:
    return step.plan.text or step.plan.id


def _common(step: StepState, now: Now) -> tuple[tuple[str, str], ...]:
    """Caution of the step, who is called to witness, waits that are not over."""
    lines: list[tuple[str, str]] = []
    written = next((each for each in now.assessment.plan.steps if each.id == step.plan.id), None)
    if written is not None and written.caution:
        lines.append((written.caution, "caution"))
    if step.plan.witness:
        said = f", witnessed by {step.witness.done_by}" if step.witness else ": call before it starts"
        lines.append((f"Witness point, {step.plan.witness}{said}", "near"))
    waits = wait_left(now, step)
    if waits:
        lines.append((waits, "fails"))
    lines += count_lines(counts_open(now, step.plan.id))
    return tuple(lines)


def _answers(step: StepState, now: Now, ready: bool = True) -> tuple[Answer, ...]:
    """Start where a time limit begins at the start; Done otherwise, when everything is counted out."""
    begins = {window.plan.start for window in now.windows} | {window.plan.end for window in now.windows}
    if step.started is None and f"{step.plan.id}.start" in begins:
        return (Answer("start", "Start", "enter", not wait_left(now, step)), Answer("reading", "Reading", "r"))
    if counts_open(now, step.plan.id):
        return (Answer("done", "Done", "enter", False), Answer("count", "Count out", "c"))
    ready = ready and not wait_left(now, step)
    return (Answer("done", "Done", "enter", ready), Answer("reading", "Reading", "r"))


def _plain(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    lines: list[tuple[str, str]] = [(_title(step), "strong"), ("", ""), *_common(step, now)]
    if step.started is not None:
        lines.append((f"started {step.started:%H:%M}", "dim"))
    number = next((n for n, state in enumerate(now.states, 1) if state.plan.id == step.plan.id), 0)
    return Task(
        kind="plain",
        key=f"step {step.plan.id} {step.started is not None} {now.last_strike}",
        title=_title(step),
        figures=(Figure("STEP", str(number), f"of {len(now.states)}"),),
        lines=tuple(lines),
        answers=(*_answers(step, now), *later),
        readings=(Limits("length", "length"), Limits("temperature", "temperature"), Limits("force", "force")),
        step=step,
        item=step.plan.item,
    )


def _read(now: Now, item: str) -> list[Measured]:
    return [entry for entry in now.alive if isinstance(entry, Measured) and entry.item == item]


def _said(entry: Measured, now: Now) -> tuple[str, str]:
    value = entry.typed or show(entry.value, entry.quantity, now.system)
    where = f" {entry.at}" if entry.at else ""
    style = {"inside": "ok", "outside": "fails"}.get(entry.verdict, "dim")
    return f"{entry.what}{where}  {value}  {entry.verdict}  {entry.done_by}", style


def _clearance(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    item = next((each for each in now.assessment.plan.clearances if each.id == step.plan.item), None)
    low, high = (item.low, item.high) if item else (None, None)
    said = [entry for entry in _read(now, step.plan.item) if entry.what in ("as found", "as left")]
    left = [entry for entry in said if entry.what == "as left" and entry.step == step.plan.id]
    figures = []
    if low is not None and high is not None:
        (a, unit), (b, _) = split(low, "length", now.system), split(high, "length", now.system)
        figures = [Figure("at least", a, unit), Figure("at most", b, unit)]
    lines: list[tuple[str, str]] = list(_common(step, now))
    if item is not None and item.diametral is not None:
        lines.append(("limits on diameter" if item.diametral else "limits on radius", "strong"))
    lines += [_said(entry, now) for entry in said[-4:]] or [("nothing read yet", "dim")]
    if not left:
        lines.append(("Done asks for an as-left reading first.", "dim"))
    return Task(
        kind="plain",
        key=f"clearance {step.plan.id} {len(said)} {now.last_strike}",
        title=_title(step),
        middle="clearance",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(*_answers(step, now, bool(left)), *later),
        readings=(Limits("as found", "length"), Limits("as left", "length", low, high)),
        step=step,
        item=step.plan.item,
    )


def _insertion(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    result = now.assessment.find("insertion", step.plan.item)
    results: Any = result.results if result else {}
    stop = results.get("stop_pressure")
    figures = []
    if stop is not None:
        text, unit = split(stop, "pressure", now.system)
        figures = [Figure("STOP at", text, unit)]
    log = _read(now, step.plan.item)
    lines: list[tuple[str, str]] = [
        ("Nobody between bundle and jack beam.", "caution"),
        ("Stop if the pressure jumps: a seal has rolled or the bundle is cocked.", "caution"),
        *_common(step, now),
    ]
    for check in result.checks if result else ():
        if check.key == "force_log" and check.verdict == "fails":
            lines.insert(0, (f"STOP. {check.said(now.system)}", "fails"))
    if results.get("push_force_high") is not None:
        low, high = results.get("push_force_low"), results["push_force_high"]
        band = f"{show(low, 'force', now.system)} to " if low is not None else "up to "
        lines.append((f"push force {band}{show(high, 'force', now.system)}", ""))
    if results.get("strokes") is not None:
        done = sum(entry.what in PUSHED for entry in log)
        lines.append((f"strokes logged {done} of {results['strokes']:.0f}", "strong"))
    lines += [_said(entry, now) for entry in log[-3:]]
    if not any(entry.what in PUSHED for entry in log):
        lines.append(("Done asks for the force log first.", "dim"))
    return Task(
        kind="plain",
        key=f"insertion {step.plan.id} {len(log)} {now.last_strike}",
        title=_title(step),
        middle="push-in",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(*_answers(step, now, any(entry.what in PUSHED for entry in log)), *later),
        readings=(
            Limits("jack pressure", "pressure", None, stop),
            Limits("push force", "force", None, results.get("stop_force")),
        ),
        step=step,
        item=step.plan.item,
    )


def _lift(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    result = now.assessment.find("lift", step.plan.item)
    results: Any = result.results if result else {}
    figures = []
    if results.get("hook_load") is not None:
        text, unit = split(results["hook_load"], "force", now.system)
        figures = [Figure("hook load", text, unit)]
    lines: list[tuple[str, str]] = [("Nobody under the load; tag lines held.", "caution"), *_common(step, now)]
    for check in result.checks if result else ():
        if check.verdict in ("fails", "missing", "on-site"):
            lines.append((f"{check.title}: {check.said(now.system)}", check.verdict))
    tensions = results.get("leg_tension_worst") or results.get("leg_tension_design") or ()
    if tensions:
        lines.append((f"greatest leg tension {show(max(tensions), 'force', now.system)}", ""))
    lines += [_said(entry, now) for entry in _read(now, step.plan.item)[-3:]]
    high = results.get("hook_load")
    return Task(
        kind="plain",
        key=f"lift {step.plan.id} {step.started is not None} {now.last_strike}",
        title=_title(step),
        middle="lift",
        figures=tuple(figures),
        lines=tuple(lines[:9]),
        answers=(*_answers(step, now), *later),
        readings=(
            Limits("load cell", "force", None, high),
            Limits("tilt", "angle", None, results.get("spigot_tilt")),
            Limits("hook radius", "length"),
        ),
        step=step,
        item=step.plan.item,
    )


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


def _mounting(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task | None:
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
    lines: list[tuple[str, str]] = [(todo.text, "strong"), *_common(step, now)]
    lines += [(limit.said(now.system), "") for limit in todo.limits]
    if todo.sign:
        lines.append((f"{todo.sign} point: a name is asked for", "near"))
    if "pressure" in todo.text or todo.name.startswith("up"):
        lines.append(("Nobody in line with the hub. Oil under the skin: go to hospital at once.", "caution"))
    read = [entry for entry in _read(now, step.plan.item) if entry.pass_ == str(todo.number)]
    lines += [_said(entry, now) for entry in read[-3:]]
    missing = [log.title for log in todo.log if log.title not in {entry.what for entry in read}]
    if missing:
        lines.append((f"to be read: {', '.join(missing)}", "on-site"))
    return Task(
        kind="mounting",
        key=f"mounting {step.plan.id} {todo.number} {len(read)} {now.last_strike}",
        title=_title(step),
        middle=f"mounting step {todo.number} of {len(steps)}",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(
            Answer("done", "Done", "enter", not missing and left <= 0),
            Answer("reading", "Reading", "r"),
            *((Answer("finish", "Step done", "d"),) if _goes_on(step, now) else ()),
            *later,
        ),
        readings=tuple(Limits(log.title, log.kind, log.low, log.high) for log in (todo.log or todo.limits)),
        step=step,
        item=step.plan.item,
        part=str(todo.number),
    )
