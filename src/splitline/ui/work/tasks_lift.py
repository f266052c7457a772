"""Tasks of a lift."""

from __future__ import annotations

from dataclasses import replace
from math import degrees
from typing import Any

from splitline.assess.cautions import trial_lift
from splitline.assess.lift_told import FREE_TILT, greatest_leg, rolled_words, tilt_words
from splitline.assess.result import Check, ItemResult
from splitline.plan.model.lift import Tail
from splitline.record.entry import Measured, Signed
from splitline.record.order import StepState
from splitline.ui import marks
from splitline.ui.marks import shape
from splitline.ui.work.counts import wait_left
from splitline.ui.work.gate import gate_lines, gate_of
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Limits, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.units import System, show, split

Lines = list[tuple[str, str]]

# Common practice, no published source.
TAUT = "Trial lift first: slings taut, tail still on its pivot, hold, look at pivot, lugs, slings and hook."
_TRIAL = (
    ("Slings taut, the tail still on its pivot, hold. Nobody near or under it.", "caution"),
    ("Look: pivot blocked, pull along the lugs, slings in their seats, hook over the head, brake holds.", "strong"),
)


def tail_of(now: Now | None, item: str) -> Tail | None:
    """The second support of a lift that turns its load."""
    lifts = now.assessment.plan.lifts if now is not None else ()
    return next((lift.tail for lift in lifts if lift.id == item), None)


def turns(result: ItemResult | None) -> bool:
    """Whether the load of this lift is upended."""
    return result is not None and any(caution.code.startswith("upending") for caution in result.cautions)


def trial_words(tail: Tail | None) -> tuple[tuple[str, str], ...]:
    """What is done and looked at in the trial lift of a load on a pivot; nothing where it hangs clear."""
    return _TRIAL if tail is not None and tail.kind != "hook" else ()


def turning_lines(result: ItemResult, system: System) -> Lines:
    """How hook and tail share the load on the way, and where the tail lets go or the centre passes over it."""
    results: Any = result.results
    head, tail = results.get("upend_head"), results.get("upend_tail")
    if not head or not tail:
        return []
    ways = [
        f"{name} {show(max(values[0], 0.0), 'force', system)} to {show(max(values[-1], 0.0), 'force', system)}"
        for name, values in (("hook", head), ("tail", tail))
    ]
    out: Lines = [(f"as it turns, load alone: {', '.join(ways)}", "strong")]
    most = [results.get(f"upend_{name}_design") for name in ("head", "tail")]
    if all(most):
        said = ", ".join(
            f"{name} {show(max(values), 'force', system)}" for name, values in zip(("hook", "tail"), most, strict=True)
        )
        out.append((f"at most, margin, dynamics and tolerances in it, rigging not: {said}", "strong"))
    for key, said in (
        ("upend_runaway", "the centre passes over the tail at"),
        ("upend_runaway_early", "with tolerances it passes over from"),
        ("upend_slack", "the tail goes slack at"),
    ):
        angle = results.get(key)
        if angle is not None:
            out.append((f"{said} {show(angle, 'angle', system)}", "near"))
    return out


def hook_band(results: Any) -> tuple[float | None, float | None]:
    """Band of a load cell at the hook anywhere on the way, N: least and greatest head load, within the mass's margin."""
    low, high = results.get("upend_head_low"), results.get("upend_head_high")
    factor, weight, still = (results.get(key) for key in ("mass_factor", "weight", "still_load"))
    if not low or not high or factor is None or weight is None or still is None:
        return None, None
    rigging = still - weight
    return max(min(low), 0.0) * (2.0 - factor) + rigging, max(high) * factor + rigging


TRIAL = "trial"  # act of a signature: it hung clear of the ground and was looked at
CELL, TILT, UNTRIMMED, RADIUS = "load cell", "tilt", "tilt before trimming", "hook radius"
LEG = "leg load"
MRAD = "1 mrad is 1 mm per m on the spirit level"


def lift_readings(result: ItemResult | None, system: System, tried: bool) -> tuple[Limits, ...]:
    """Readings of a lift with what they are judged by; the tilt before trimming only until the trial lift is ticked."""
    results: Any = result.results if result else {}
    turned = turns(result)
    unit = "mrad" if system == "SI" else ""  # what the level shows is typed as it stands
    low, high = hook_band(results) if turned else at_rest(results)
    if turned:  # out of level is what it is meant to be
        return (
            Limits(CELL, "force", low, high),
            Limits(TILT, "angle", typical=MRAD, unit=unit),
            Limits(RADIUS, "length"),
            *_legs(result),
        )
    allowed = results.get("spigot_tilt", tilt_allowed(result))
    worst = results.get("axis_tilt_worst", results.get("tilt_worst"))
    found = [Limits(CELL, "force", low, high, typical=_alone(results, system))]
    if must_trim(result) and not tried and worst is not None:
        found.append(
            Limits(UNTRIMMED, "angle", None, max(worst, allowed), typical=f"{MRAD}; trim with the adjuster", unit=unit)
        )
    return (
        *found,
        Limits(TILT, "angle", None, allowed, typical=MRAD, unit=unit),
        Limits(RADIUS, "length"),
        *_legs(result),
    )


def tilt_allowed(result: ItemResult | None) -> float:
    """What the tilt is judged by, rad: the plan's own limit where it gives one."""
    check = next((each for each in result.checks if each.key == "tilt"), None) if result is not None else None
    return check.limit if check is not None and check.limit is not None else FREE_TILT


def _legs(result: ItemResult | None) -> tuple[Limits, ...]:
    """What one leg pulls, where something is read in it."""
    return (Limits(LEG, "force", legs=len(result.legs)),) if result is not None and result.legs else ()


def limits_of_leg(result: ItemResult | None, leg: int, system: System) -> Limits:
    """The reading of one leg: it pulls no more than what its parts must be rated for."""
    own = next((each for each in (result.legs if result is not None else ()) if each.number == leg), None)
    if own is None:
        return Limits(LEG, "force")
    return Limits(LEG, "force", None, own.governing, typical=f"as planned {own.nominal_said(system)}; hanging still")


def at_rest(results: Any) -> tuple[float | None, float | None]:
    """Band of a load cell at the hook while the load hangs still, N: the mass within its margin, rigging added, no dynamics.

    Less than the band says that it still stands on something, or is not the load that was planned.
    """
    return results.get("still_load_low"), results.get("still_load_high")


def must_trim(result: ItemResult | None) -> bool:
    """Whether the plan says that the tilt is to be trimmed at the trial lift."""
    return result is not None and any(check.key in ("spigot_trim", "tilt_trim") for check in result.checks_of("near"))


def tilt_read(now: Now, item: str, step: str) -> bool:
    """Whether a trimmed tilt was read in this step."""
    return any(isinstance(e, Measured) and (e.item, e.step, e.what) == (item, step, TILT) for e in now.alive)


def _alone(results: Any, system: System) -> str:
    weight = results.get("weight")
    return f"the load alone is planned at {show(weight, 'force', system)}; hanging still" if weight else ""


def lift_facts(result: ItemResult, system: System, hangs: bool = True) -> Lines:
    """Weakest part, flattest leg both ways, tilt against what is allowed, what to trim with: (text, style).

    ``hangs``: False for a load that is turned on the way, where the tilt it hangs at says nothing.
    """
    out: Lines = []
    for key, title in (("leg_capacity", "weakest part"), ("crane_usage", "crane")):
        check = _worst(result, key)
        if check is not None and check.usage is not None:
            name = f"Leg {check.leg}, {check.part}" if check.leg is not None and check.part else ""
            out.append(_line(check, title, f"{check.usage:.0%} used" + (f": {name}" if name else "")))
    flattest = _worst(result, "leg_angle")
    if flattest is not None and flattest.demand is not None and flattest.limit is not None:
        # "at least": what is needed stands as the demand, what is there as the limit
        need, there = degrees(flattest.demand), degrees(flattest.limit)
        said = (
            f"{there:.0f}° to the horizontal, {90 - there:.0f}° to the vertical; at least {need:.0f}° to the horizontal"
        )
        out.append(_line(flattest, "flattest leg", said))
    return out + (_tilt(result, system) if hangs else []) + _trim(result)


def _tilt(result: ItemResult, system: System) -> Lines:
    """As hung, over the doubts, and what is allowed: of the axis where a spigot waits."""
    results: Any = result.results
    now, worst = (
        results.get("axis_tilt", results.get("tilt")),
        results.get("axis_tilt_worst", results.get("tilt_worst")),
    )
    if now is None:
        return []
    said = f"{tilt_words(now, system)} as hung"
    if worst is not None:
        said += f", up to {tilt_words(worst, system)} with tolerances"
    level = _worst(result, "tilt")
    slope = results.get("pick_line_tilt")
    said += rolled_words(slope, system) if slope is not None else ""
    allowed = results.get("spigot_tilt")
    if allowed is not None:
        said += f"; the spigot allows {tilt_words(allowed, system)}"
    elif level is not None and level.limit is not None:
        said += f"; allowed {tilt_words(level.limit, system)}"
    check = next((c for c in result.checks if c.key in ("spigot_trim", "tilt_trim")), level)
    return [_line(check, "tilt", said)]


def _trim(result: ItemResult) -> Lines:
    """Advice on the adjusters, and where half a step is too much."""
    out: Lines = [(said, "") for said in result.lift.levelling]
    trim = next((c for c in result.checks if c.key in ("spigot_trim", "tilt_trim")), None)
    if trim is not None:
        how = result.lift.trimming or trim.note
        out.insert(0, (f"{marks.shape(trim.verdict)} {how}", trim.verdict))
    return out


def _worst(result: ItemResult, key: str) -> Check | None:
    found = [check for check in result.checks if check.key == key]
    return max(found, key=lambda c: (-marks.VERDICTS.index(c.verdict), c.usage or 0.0), default=None)


def _line(check: Check | None, title: str, said: str) -> tuple[str, str]:
    verdict = check.verdict if check is not None else ""
    return f"{marks.shape(verdict)} {title}: {said}", "" if verdict == "ok" else marks.style(verdict)


TRY = "Trial lift first: {} clear, hold, look at level, slings and hook."


def on_site(result: ItemResult | None) -> tuple[str, ...]:
    """Names of what is still to be entered on the job."""
    checks = result.checks_of("on-site") if result else ()
    return tuple(dict.fromkeys(need for check in checks for need in check.needs))


def enterable(name: str) -> bool:
    """Whether this screen can take it; the rest is the planner's."""
    return name == "crane.radius" or (name.startswith("leg.") and name.endswith(".tag"))


def tried(now: Now, step: str) -> bool:
    """Whether the load hung clear and was looked at, since the step was last begun anew."""
    return any(isinstance(entry, Signed) and (entry.act, entry.step) == (TRIAL, step) for entry in now.alive)


def _first(step: StepState, now: Now, refused: bool, open_ones: tuple[str, ...]) -> tuple[Answer, ...]:
    """Accept what fails, enter what only the job knows, hang it clear, then go."""
    if refused:
        return (Answer("accept-plan", "Accept", "a"), Answer("reading", "Reading", "r"))
    if any(enterable(name) for name in open_ones):
        return (Answer("site", "Enter", "enter"), Answer("reading", "Reading", "r"))
    found = answers(step, now, not open_ones)
    if found[0].id == "done" and not tried(now, step.plan.id):
        # What is counted out after the landing cannot be out before the load hangs.
        ready = not open_ones and not wait_left(now, step)
        return (Answer(TRIAL, "Trial lift", "enter", ready), *(each for each in found[1:] if each.id != "count"))
    if found[0].id == "done":  # a second Enter never closes the lift
        return (replace(found[0], key="d", guarded=True), *found[1:])
    return found


def figures(result: ItemResult | None, system: System, hangs: bool = True) -> tuple[Figure, ...]:
    """What the load cell shows while it hangs still (of a load turned on the way, the hook load), and the greatest leg."""
    if result is None:
        return ()
    out = []
    if hangs and result.results.get("still_load") is not None:
        out.append(Figure("load cell, hanging still", *split(result.results["still_load"], "force", system)))
    elif result.results.get("hook_load") is not None:
        out.append(Figure("hook load, margin and dynamics in it", *split(result.results["hook_load"], "force", system)))
    leg = greatest_leg(result.legs)
    if leg is not None and leg.governing is not None:
        caption = f"leg {leg.number} governing ({leg.nominal_said(system)})"
        out.append(Figure(caption, *split(leg.governing, "force", system)))
    elif leg is not None:
        out.append(
            Figure(f"leg {leg.number} nominal ({leg.governing_said(system)})", *split(leg.nominal, "force", system))
        )
    return tuple(out)


def _loads(result: ItemResult, system: System) -> list[tuple[str, str]]:
    """Which load is which: the band of the cell at rest, and the crane's own number with what it includes."""
    low, high, hook = (result.results.get(key) for key in ("still_load_low", "still_load_high", "hook_load"))
    if low is None or high is None or hook is None:
        return []
    band = f"load cell while it hangs still: {show(low, 'force', system)} to {show(high, 'force', system)}"
    return [
        (band, "strong"),
        (f"hook load for the crane, margin and dynamics in it: {show(hook, 'force', system)}", ""),
    ]


def lift_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The lift with its load; what only the job knows is entered first, and a failing check needs a name."""
    result = now.assessment.find("lift", step.plan.item)
    lines: list[tuple[str, str]] = [*common(step, now, counts=tried(now, step.plan.id))]
    tail = tail_of(now, step.plan.item)
    gate = gate_of(now, step.plan)
    open_ones = on_site(result)
    lines += gate_lines(gate, now)
    lines += [
        (f"{shape(check.verdict)} {check.title}: {check.said(now.system)}", check.verdict)
        for check in (result.checks_of("on-site") if result else ())
    ]
    facts = lift_facts(result, now.system, hangs=tail is None) if result else []
    if tail is not None and result is not None:
        facts += turning_lines(result, now.system)
    done = tried(now, step.plan.id)
    pivots = bool(trial_words(tail))
    held = "trial lift done" if pivots else "trial lift done, hangs clear"
    lines.append((held if done else TAUT if pivots else TRY.format(trial_lift(now.system)), "ok" if done else "strong"))
    if tail is None and result is not None:
        lines += _loads(result, now.system)
    lines += facts
    lines += [said(entry, now) for entry in readings_so_far(now, step.plan.item)[-3:]]
    return Task(
        kind="plain",
        key=f"lift {step.plan.id} {step.started is not None} {len(open_ones)} {done} {now.last_strike}",
        title=title_of(step),
        middle="lift",
        figures=figures(result, now.system, tail is None),
        lines=tuple(lines),
        answers=(*_first(step, now, gate.shut, open_ones), *later),
        readings=lift_readings(result, now.system, done),
        step=step,
        item=step.plan.item,
    )
