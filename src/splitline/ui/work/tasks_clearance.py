"""Tasks of a clearance: what is read, by what it is judged, and what a reading comes to."""

from __future__ import annotations

from typing import Any

from splitline.assess.clearance_reading import POSITION_SET, reading_of
from splitline.plan.model import Clearance
from splitline.record.entry import AS_FOUND
from splitline.record.order import StepState
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import show, split


def clearance_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
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
