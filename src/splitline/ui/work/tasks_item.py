"""Tasks of everything that is no joint: plain steps, lifts, fits, insertions, clearances."""

from __future__ import annotations

import contextlib
from typing import Any

from splitline.assess.clearance_reading import POSITION_SET, reading_of
from splitline.errors import UnitsError
from splitline.plan.model import Clearance
from splitline.record.entry import AS_FOUND, Measured
from splitline.record.order import StepState
from splitline.ui.work.counts import count_lines, counts_open, wait_left
from splitline.ui.work.gate import shut_task
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.units import read, show, split

PUSHED = ("jack pressure", "push force")  # readings that make the force log


def item_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The task of a step that can be worked on."""
    kind = step.plan.kind
    if kind and now.assessment.find(kind, step.plan.item) is None:
        lines = (
            ("The plan's numbers for this could not be worked out, or it has a mistake.", "missing"),
            ("Nothing is done here before the planner has mended that.", "strong"),
        )
        return Task("nothing", f"unknown {step.plan.id}", title_of(step), "", "", (), lines, later, step=step)
    shut = shut_task(step, now, later, title_of(step)) if kind != "lift" else None  # a lift shows its load beside it
    if shut is not None:
        return shut
    if kind == "fit":
        from splitline.ui.work.tasks_fit import mounting_task

        found = mounting_task(step, now, later)
        if found is not None:
            return found
    if kind == "insertion":
        return _insertion(step, now, later)
    if kind == "clearance":
        return _clearance(step, now, later)
    if kind == "lift":
        from splitline.ui.work.tasks_lift import lift_task

        return lift_task(step, now, later)
    from splitline.ui.work.tasks_test import test_task

    return test_task(step, now, later) or _plain(step, now, later)


def title_of(step: StepState) -> str:
    return step.plan.text or step.plan.id


def common(step: StepState, now: Now, counts: bool = True) -> tuple[tuple[str, str], ...]:
    """Who is called to witness, waits that are not over; ``counts``: what is to be counted out now."""
    lines: list[tuple[str, str]] = []
    if step.plan.witness:
        said = f", witnessed by {step.witness.done_by}" if step.witness else ": call before it starts"
        lines.append((f"Witness point, {step.plan.witness}{said}", "near"))
    waits = wait_left(now, step)
    if waits:
        lines.append((waits, "fails"))
    if counts:
        lines += count_lines(counts_open(now, step.plan.id))
    return tuple(lines)


def answers(step: StepState, now: Now, ready: bool = True) -> tuple[Answer, ...]:
    """Start where a time limit begins at the start; Done otherwise, when everything is counted out."""
    begins = {window.plan.start for window in now.windows} | {window.plan.end for window in now.windows}
    if step.started is None and f"{step.plan.id}.start" in begins:
        return (Answer("start", "Start", "enter", not wait_left(now, step)), Answer("reading", "Reading", "r"))
    if counts_open(now, step.plan.id):
        rest = (Answer("count", "Count out", "c"), Answer("reading", "Reading", "r"))
        return (Answer("done", "Done", "enter", False), *(rest if ready else reversed(rest)))
    ready = ready and not wait_left(now, step)
    return (Answer("done", "Done", "enter", ready), Answer("reading", "Reading", "r"))


def _plain(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    lines: list[tuple[str, str]] = [(title_of(step), "strong"), ("", ""), *common(step, now)]
    if step.started is not None:
        lines.append((f"started {step.started:%H:%M}", "dim"))
    number = next((n for n, state in enumerate(now.states, 1) if state.plan.id == step.plan.id), 0)
    return Task(
        kind="plain",
        key=f"step {step.plan.id} {step.started is not None} {now.last_strike}",
        title=title_of(step),
        right=f"step {number} of {len(now.states)}",
        lines=tuple(lines),
        answers=(*answers(step, now), *later),
        readings=(Limits("length", "length"), Limits("temperature", "temperature"), Limits("force", "force")),
        step=step,
        item=step.plan.item,
    )


def readings_so_far(now: Now, item: str) -> list[Measured]:
    return [entry for entry in now.alive if isinstance(entry, Measured) and entry.item == item]


def said(entry: Measured, now: Now) -> tuple[str, str]:
    value = entry.typed or show(entry.value, entry.quantity, now.system)
    where = f" {entry.at}" if entry.at else ""
    if entry.bolt is not None:
        joint = now.job.joint(entry.item)
        where += f" {joint.noun if joint else 'stud'} {entry.bolt}"
    style = {"inside": "ok", "outside": "fails"}.get(entry.verdict, "dim")
    return f"{entry.what}{where}  {value}  {entry.verdict}  {entry.done_by}", style


def _clearance(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    item = next((each for each in now.assessment.plan.clearances if each.id == step.plan.item), None)
    kinds = clearance_limits(item)
    last = kinds[-1]
    entered = [e for e in readings_so_far(now, step.plan.item) if e.what in {each.what for each in kinds}]
    left = [e for e in entered if e.step == step.plan.id and e.what != AS_FOUND]
    result = now.assessment.find("clearance", step.plan.item)
    if item is not None and item.kind == "float-split":
        kinds = _with_position(kinds, result.results if result else {})
        known = {each.what for each in kinds}
        entered = [e for e in readings_so_far(now, step.plan.item) if e.what in known]
    if item is not None and item.kind == "shim":
        kinds = (kinds[0], _shim_limits(item, result.results if result else {}), kinds[-1])
        known = {each.what for each in kinds}
        entered = [e for e in readings_so_far(now, step.plan.item) if e.what in known]
        left = [e for e in entered if e.step == step.plan.id and e.what == last.what]
    read_as = reading_of(item).name if item is not None else ""
    figures = [
        Figure(f"{read_as} {caption}".strip(), *split(value, last.quantity, now.system))
        for caption, value in (("at least", last.low), ("at most", last.high))
        if value is not None
    ]
    follows = _follows(item, result.results if result else {}, now)
    figures += [figure for figure, _ in follows]
    lines: list[tuple[str, str]] = [*common(step, now), *(line for _, line in follows)]
    if item is not None and item.kind == "tilting-pad":
        lines += _of_pads(item, now)
    elif item is not None and item.diametral is not None:
        lines.append(("limits on diameter" if item.diametral else "limits on radius", "strong"))
    lines += [said(entry, now) for entry in entered[-4:]] or [("nothing read yet", "dim")]
    if not left:
        lines.append((f"Done asks for a reading first: {last.what}", "dim"))
    return Task(
        kind="plain",
        key=f"clearance {step.plan.id} {len(entered)} {now.last_strike}",
        title=title_of(step),
        middle="clearance",
        figures=tuple(figures),
        lines=tuple(lines),
        answers=(*answers(step, now, bool(left)), *later),
        readings=kinds,
        step=step,
        item=step.plan.item,
    )


def _with_position(kinds: tuple[Limits, ...], results: Any) -> tuple[Limits, ...]:
    """Where the rotor was set is read too, once the float is known and its place has a tolerance."""
    low, high = results.get("position_low"), results.get("position_high")
    if low is None or high is None:
        return kinds
    return (kinds[0], Limits(POSITION_SET, "length", low, high), kinds[-1])


def _shim_limits(item: Clearance, results: Any) -> Limits:
    """The shim that is fitted, by what brings the float found between its limits."""
    low, high = results.get("shim_change_low"), results.get("shim_change_high")
    if item.shim is None or low is None or high is None:
        return Limits("shim fitted", "length")
    return Limits("shim fitted", "length", max(item.shim + low, 0.0), max(item.shim + high, 0.0))


def _follows(item: Clearance | None, results: Any, now: Now) -> list[tuple[Figure, tuple[str, str]]]:
    """What a reading comes to, at once: the shim to fit, where the rotor is set in its float."""
    found: list[tuple[Figure, tuple[str, str]]] = []
    if item is None:
        return found
    if item.kind == "shim" and results.get("shim_new") is not None:
        new, change = results["shim_new"], results["shim_change"]
        verb = "add" if change >= 0 else "take out"
        where = f" on the {item.side} side" if item.side else ": SIDE NOT GIVEN, ask the planner"
        said = f"from the float found: {verb} {show(abs(change), 'length', now.system)}{where}"
        found.append((Figure("shim to fit", *split(new, "length", now.system)), (said, "strong")))
    if item.kind == "shim" and results.get("shim_pack") is not None:
        picked = _of_the_set(item, results, now)
        found.append((Figure("out of the set", *split(results["shim_pack"], "length", now.system)), (picked, "strong")))
    if item.kind == "shim" and results.get("shim_active") is not None:
        each = (f"{show(results[key], 'length', now.system)} {side}" for key, side in _SIDES)
        found.append((Figure("active side, shim change", *split(results["shim_active"], "length", now.system)),
                      (f"minus: take out; {', '.join(each)}", "strong")))  # fmt: skip
    if item.kind == "float-split" and results.get("active_side") is not None:
        one, other = results["active_side"], results["inactive_side"]
        said = f"set the rotor there; {show(other, 'length', now.system)} from the inactive stop"
        if results.get("position_cold") is not None:
            one = results["position_cold"]
            said = f"set it there cold; it grows to {show(results['active_side'], 'length', now.system)}"
        low, high = results.get("position_low"), results.get("position_high")
        accepted = (
            f"{split(low, 'length', now.system)[0]} to {split(high, 'length', now.system)[0]}" if low and high else ""
        )
        found.append((Figure("from the active stop", *split(one, "length", now.system), accepted), (said, "strong")))
    if item.kind == "probe" and results.get("probe_set") is not None:
        ends = (show(results[key], "voltage", now.system) for key in ("probe_near", "probe_far"))
        said = f"at the stops of the float {' and '.join(ends)}"
        found.append(
            (Figure("set at mid-float", *split(results["probe_set"], "voltage", now.system)), (said, "strong"))
        )
    return found


_SIDES = (("shim_active", "behind the active shoes"), ("shim_inactive", "behind the inactive shoes"))


def _of_the_set(item: Clearance, results: Any, now: Now) -> str:
    """The shims of the pack, as the assessment says them."""
    result = now.assessment.find("clearance", item.id)
    check = next((each for each in result.checks if each.key == "shim_set"), None) if result else None
    return f"out of the set: {check.note}" if check is not None else ""


def _of_pads(item: Clearance, now: Now) -> list[tuple[str, str]]:
    """What the lift of a tilting-pad bearing is, beside the clearance it stands for."""
    ends = [show(end, "length", now.system) for end in (item.low, item.high) if end is not None]
    way = {True: " on diameter", False: " on radius", None: ""}[item.diametral]
    said = [("Read the indicator lift: it is judged as a lift.", "strong")]
    if ends:
        said.append((f"stands for a clearance of {' to '.join(ends)}{way}", ""))
    return said


def clearance_limits(item: Clearance | None) -> tuple[Limits, ...]:
    """What is read for a clearance; the last one is what it is judged by."""
    if item is None:
        return (Limits(AS_FOUND, "length"), Limits("as left", "length"))
    reading = reading_of(item)
    low, high = reading.low, reading.high
    if item.kind == "probe":
        return (Limits(reading.name, reading.quantity, low, high, typical="negative, as the probe gives it"),)
    found = Limits(AS_FOUND, "length", low, high, typical=reading.name)
    if item.kind == "measure" and high is not None and not low:
        return (found, Limits("gap", "length", None, high), Limits("as left", "length", low, high))
    return (found, Limits("as left", "length", low, high, typical=reading.name))


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


def _insertion(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
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
