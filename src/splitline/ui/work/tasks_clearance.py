"""The task of a clearance: what is read and in which order, what follows from a reading at once, what Done waits for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from splitline.assess.clearance_reading import (
    LEFT,
    MEASURED,
    POSITION_FOUND,
    POSITION_SET,
    PROBE_ENDS,
    REPEAT,
    SHIM_FITTED,
    SIDES,
    reading_of,
    shim_limits,
    side_limits,
)
from splitline.fitting.probes import LINEAR_RANGE
from splitline.plan.model import Clearance
from splitline.record.entry import AS_FOUND, Measured
from splitline.record.order import StepState
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import as_read, show, split

GAP = "gap"
BOTH = (LEFT, MEASURED)  # one value, by whether anything was found before


def clearance_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The task of a step that points at a clearance."""
    item = next((each for each in now.assessment.plan.clearances if each.id == step.plan.item), None)
    result = now.assessment.find("clearance", step.plan.item)
    results: Any = result.results if result else {}
    read = readings_so_far(now, step.plan.item)
    here = [entry for entry in read if entry.step == step.plan.id]
    found = any(entry.what == AS_FOUND for entry in read) or (item is not None and item.as_found is not None)
    kinds = offered(item, results, found, here)
    known = {each.what for each in kinds} | set(BOTH)
    entered = [entry for entry in read if entry.what in known]
    wanted = still_wanted(item, kinds, results, here)
    follows = _follows(item, results, now)
    lines: list[tuple[str, str]] = [*common(step, now), *(line for _, line in follows)]
    if item is not None and item.kind == "tilting-pad":
        lines += _of_pads(item, now)
    elif item is not None and item.diametral is not None:
        lines.append(("limits on diameter" if item.diametral else "limits on radius", "strong"))
    if item is not None and item.kind == "shim" and not found:
        lines.append((f"Read the float {AS_FOUND} first: the shim to fit follows at once.", "strong"))
    if item is not None and item.kind == "float-split":
        lines.append((f"Stop to stop, three repeats within {show(REPEAT, 'length', now.system)}.", "strong"))
    if item is not None and item.sides:
        lines.append(
            ("Feelers on both sides: their sum is the clearance on diameter, one side alone tells nothing.", "strong")
        )
    lines += [said(entry, now) for entry in entered[-4:]] or [("nothing read yet", "dim")]
    if wanted:
        lines.append((f"Done asks for a reading first: {', '.join(wanted)}", "dim"))
    return Task(
        kind="plain",
        key=f"clearance {step.plan.id} {len(entered)} {now.last_strike}",
        title=title_of(step),
        middle="clearance",
        figures=(*_limit_figures(item, kinds[-1], now), *(figure for figure, _ in follows)),
        lines=tuple(lines),
        answers=(*answers(step, now, not wanted), *later),
        readings=kinds,
        step=step,
        item=step.plan.item,
    )


def _limit_figures(item: Clearance | None, last: Limits, now: Now) -> tuple[Figure, ...]:
    """Least and greatest of what is judged; of both sides together where both are read."""
    low, high, name = last.low, last.high, reading_of(item).name if item is not None else ""
    if item is not None and item.sides:
        both = side_limits(item, None)
        low, high, name = both.low, both.high, "both sides together"
    return tuple(
        Figure(f"{name} {caption}".strip(), *split(value, as_read(last.quantity), now.system))
        for caption, value in (("at least", low), ("at most", high))
        if value is not None and (value or high == 0 or caption == "at most")  # a gap is never less than nothing
    )


def clearance_limits(item: Clearance | None, found: bool = False) -> tuple[Limits, ...]:
    """What is read for a clearance by its plan alone; the last one is what it is judged by.

    ``found``: something was found before the work; only then is the value "as left".
    """
    left = LEFT if found else MEASURED
    if item is None:
        return (Limits(AS_FOUND, "length"), Limits(left, "length"))
    reading = reading_of(item)
    low, high = reading.low, reading.high
    if item.kind == "probe":
        return (Limits(reading.name, reading.quantity, low, high, typical="negative, as the probe gives it"),)
    before = Limits(AS_FOUND, "length", low, high, typical=reading.name)
    after = Limits(left, "length", low, high, typical=reading.name)
    if item.kind == "measure" and high is not None and not low:
        return (before, Limits(GAP, "length", None, high), after)
    return (before, after)


def offered(item: Clearance | None, results: Any, found: bool, here: list[Measured]) -> tuple[Limits, ...]:
    """What can be read now, in the order in which it is: with what the readings so far have made known."""
    kinds = clearance_limits(item, found)
    if item is None:
        return kinds
    if item.sides:
        return _both_sides(item, here)
    if item.kind == "float-split":
        low, high = results.get("position_low"), results.get("position_high")
        if low is not None and high is not None:
            return (kinds[0], Limits(POSITION_SET, "length", low, high), kinds[-1])
    if item.kind == "shim":
        place = (Limits(POSITION_FOUND, "length"),) if item.wanted_position is not None else ()
        low, high = shim_limits(item, results)
        return (kinds[0], *place, Limits(SHIM_FITTED, "length", low, high), kinds[-1])
    if item.kind == "probe" and item.axial_float is not None:
        ends = (
            Limits(name, "voltage", *LINEAR_RANGE, typical="negative, as the probe gives it") for name in PROBE_ENDS
        )
        return (*ends, *kinds)
    return kinds


def _both_sides(item: Clearance, here: list[Measured]) -> tuple[Limits, ...]:
    """Left and right feeler: the first one is not judged, the second by what it leaves of the limits of both."""
    last = {name: next((e.value for e in reversed(here) if e.what == name), None) for name in SIDES}
    found = []
    for name, other in zip(SIDES, reversed(SIDES), strict=True):
        left = side_limits(item, last[other])
        judged = last[other] is not None
        typical = "" if judged else "judged with the other side"
        found.append(
            Limits(name, "length", left.low if judged else None, left.high if judged else None, typical=typical)
        )
    unread = [each for each in found if last[each.what] is None]
    return (*(each for each in found if each not in unread), *unread) if unread else tuple(found)


def still_wanted(item: Clearance | None, kinds: tuple[Limits, ...], results: Any, here: list[Measured]) -> list[str]:
    """What Done waits for: the value itself, and what belongs to it."""
    have = {entry.what for entry in here}
    last = kinds[-1]
    names: Iterable[str] = ()
    if item is None or item.kind in ("measure", "tilting-pad"):
        if item is not None and item.sides:
            names = SIDES
        elif not any(entry.what != AS_FOUND for entry in here if entry.what in {e.what for e in kinds} | set(BOTH)):
            return [last.what]
    elif item.kind == "float-split":
        place = (POSITION_SET,) if any(each.what == POSITION_SET for each in kinds) else ()
        names = (last.what, *place)
    elif item.kind == "shim":
        place = (POSITION_FOUND,) if item.wanted_position is not None and item.position is None else ()
        fitted = (SHIM_FITTED,) if AS_FOUND in have and results.get("shim_new") is not None else ()
        names = (*place, *fitted, last.what)
    elif item.kind == "probe":
        names = [each.what for each in kinds]
    if last.what in BOTH and have & set(BOTH):
        have |= set(BOTH)
    return [name for name in names if name not in have]


def _follows(item: Clearance | None, results: Any, now: Now) -> list[tuple[Figure, tuple[str, str]]]:
    """What a reading comes to, at once: the shim to fit, where the rotor is set in its float."""
    if item is None:
        return []
    if item.kind == "shim":
        return _shim(item, results, now)
    found: list[tuple[Figure, tuple[str, str]]] = []
    if item.kind == "float-split" and results.get("active_side") is not None:
        one, other = results["active_side"], results["inactive_side"]
        text = f"set the rotor there; {show(other, 'size', now.system)} from the inactive stop"
        if results.get("position_cold") is not None:
            one = results["position_cold"]
            text = f"set it there cold; it grows to {show(results['active_side'], 'size', now.system)}"
        low, high = results.get("position_low"), results.get("position_high")
        accepted = (
            f"{split(low, 'size', now.system)[0]} to {split(high, 'size', now.system)[0]}"
            if low is not None and high is not None
            else ""
        )
        found.append((Figure("from the active stop", *split(one, "size", now.system), accepted), (text, "strong")))
    if item.kind == "float-split" and results.get("position_active") is not None:
        active, inactive = (show(results[key], "size", now.system) for key in ("position_active", "position_inactive"))
        text = f"with the thrust shoes in: {active} on the active face, {inactive} on the inactive one"
        figure = Figure("on its active face", *split(results["position_active"], "size", now.system))
        found.append((figure, (text, "strong")))
    if item.kind == "probe" and results.get("probe_set") is not None:
        near, far = (show(results[key], "voltage", now.system) for key in ("probe_near", "probe_far"))
        text = f"at the stops of the float {near} near and {far} far"
        found.append(
            (Figure("set at mid-float", *split(results["probe_set"], "voltage", now.system)), (text, "strong"))
        )
    if item.kind == "probe" and results.get("probe_float_read") is not None:
        value = results["probe_float_read"]
        text = f"float by the probe {show(value, 'size', now.system)}: compare it with the indicator"
        found.append((Figure("float by the probe", *split(value, "size", now.system)), (text, "strong")))
    return found


def _shim(item: Clearance, results: Any, now: Now) -> list[tuple[Figure, tuple[str, str]]]:
    found: list[tuple[Figure, tuple[str, str]]] = []
    if results.get("shim_new") is not None:
        new, change = results["shim_new"], results["shim_change"]
        verb = "add" if change >= 0 else "take out"
        where = f" on the {item.side} side" if item.side else ": SIDE NOT GIVEN, ask the planner"
        text = f"from the float found: {verb} {show(abs(change), 'size', now.system)}{where}"
        found.append((Figure("shim to fit", *split(new, "size", now.system)), (text, "strong")))
    if results.get("shim_pack") is not None:
        picked = _of_the_set(item, now)
        found.append((Figure("out of the set", *split(results["shim_pack"], "size", now.system)), (picked, "strong")))
    for key, side in (("shim_active", "active"), ("shim_inactive", "inactive")):
        if results.get(key) is not None:
            change = results[key]
            verb = "add" if change >= 0 else "take out"
            text = f"{verb} {show(abs(change), 'size', now.system)} behind the {side} shoes"
            found.append((Figure(f"{verb}, {side} side", *split(abs(change), "size", now.system)), (text, "strong")))
    return found


def _of_the_set(item: Clearance, now: Now) -> str:
    """The shims of the pack, as the assessment says them."""
    result = now.assessment.find("clearance", item.id)
    check = next((each for each in result.checks if each.key == "shim_set"), None) if result else None
    return f"out of the set: {check.note}" if check is not None else ""


def _of_pads(item: Clearance, now: Now) -> list[tuple[str, str]]:
    """What the lift of a tilting-pad bearing is, beside the clearance it stands for."""
    ends = [show(end, "size", now.system) for end in (item.low, item.high) if end is not None]
    way = {True: " on diameter", False: " on radius", None: ""}[item.diametral]
    text = [("Read the indicator lift: it is judged as a lift.", "strong")]
    if ends:
        text.append((f"stands for a clearance of {' to '.join(ends)}{way}", ""))
    return text
