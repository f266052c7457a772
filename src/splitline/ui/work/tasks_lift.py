"""Tasks of a lift."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.cautions import trial_lift
from splitline.assess.lift_told import greatest_leg
from splitline.assess.result import ItemResult
from splitline.record.entry import Signed
from splitline.record.order import StepState
from splitline.ui.marks import shape
from splitline.ui.work.counts import wait_left
from splitline.ui.work.gate import gate_lines, gate_of
from splitline.ui.work.lift_facts import lift_facts
from splitline.ui.work.lift_readings import TRIAL, lift_readings
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Figure, Task
from splitline.ui.work.tasks_parts import answers, common, readings_so_far, said, title_of
from splitline.ui.work.turning import TAUT, tail_of, trial_words, turning_lines
from splitline.units import System, show, split

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
