"""Tasks of pushing a bundle in: the pressure to stop at and the force log."""

from __future__ import annotations

import contextlib
from typing import Any

from splitline.errors import UnitsError
from splitline.record.entry import Measured
from splitline.record.order import StepState
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import read, show, split

PUSHED = ("jack pressure", "push force")  # readings that make the force log


def insertion_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    result = now.assessment.find("insertion", step.plan.item)
    results: Any = result.results if result else {}
    stop = results.get("stop_pressure")
    figures = []
    if stop is not None:
        text, unit = split(stop, "pressure", now.system)
        figures = [Figure("STOP at", text, unit)]
    if results.get("jack_pressure") is not None:
        figures.append(Figure("expected, up to", *split(results["jack_pressure"], "pressure", now.system)))
    if results.get("jack_lead") is not None:
        figures.append(
            Figure("one jack ahead of the other, at most", *split(results["jack_lead"], "length", now.system))
        )
    log = readings_so_far(now, step.plan.item)
    lines: list[tuple[str, str]] = [
        *common(step, now),
    ]
    for check in result.checks if result else ():
        if check.key == "force_log" and check.verdict == "fails":
            lines.insert(0, (f"STOP. {check.said(now.system)}", "fails"))
    if results.get("push_force_high") is not None:
        low, high = results.get("push_force_low"), results["push_force_high"]
        band = f"{show(low, 'force', now.system)} to " if low is not None else "up to "
        jack = results.get("jack_pressure")
        gauge = f", jack pressure up to {show(jack, 'pressure', now.system)}" if jack is not None else ""
        lines.append((f"expected: push force {band}{show(high, 'force', now.system)}{gauge}", ""))
    logged, doubt = _logged(step, now, [entry for entry in log if entry.what in PUSHED], results.get("strokes"))
    lines += [(logged, "strong")] if logged else []
    lines += [said(entry, now) for entry in log[-3:]]
    if not any(entry.what in PUSHED for entry in log):
        lines.append(("Done asks for the force log first.", "dim"))
    return Task(
        kind="plain",
        key=f"insertion {step.plan.id} {len(log)} {now.last_strike}",
        title=title_of(step),
        middle="push-in",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(*answers(step, now, any(entry.what in PUSHED for entry in log)), *later),
        doubt=doubt,
        readings=(
            Limits("jack pressure", "pressure", None, stop),
            Limits("push force", "force", None, results.get("stop_force")),
        ),
        step=step,
        item=step.plan.item,
    )


def _logged(step: StepState, now: Now, log: list[Measured], strokes: float | None) -> tuple[str, str]:
    """How far the force log has come, and what speaks against being done: by travel where it was given, else by strokes.

    Readings may be closer than one a stroke, so their number alone says nothing of the way.
    """
    item = next((each for each in now.assessment.plan.insertions if each.id == step.plan.item), None)
    travels = []
    for entry in log:
        with contextlib.suppress(UnitsError):
            travels.append(read(entry.at, "length"))
    if travels and item is not None and item.distance is not None:
        way, whole = show(max(travels), "length", now.system), show(item.distance, "length", now.system)
        short = max(travels) < item.distance * (1 - 1e-9)
        return f"log: {len(log)} readings, up to {way} of {whole}", f"the log ends at {way} of {whole}" if short else ""
    if strokes is None:
        return "", ""
    said = f"{len(log)} of {strokes:.0f}"
    return f"strokes logged {said}", f"{said} strokes are logged" if len(log) < strokes else ""
