"""Trimming at the trial lift: what one link or turn does, which adjuster to turn by how much, and what may still be off."""

from __future__ import annotations

import math
from dataclasses import replace

from splitline.assess.bench import Bench
from splitline.assess.lift_crane import tilt_words
from splitline.assess.lift_level import FREE_BASIS, FREE_TILT
from splitline.assess.lift_types import Hung, LegData, Load, State
from splitline.lifting.stability import pick_line

PRACTICE = "common practice, no published source"


def check_trim(bench: Bench, legs: tuple[LegData, ...], hung: Hung) -> None:
    """Level as drawn, but not certainly within the doubts of length and centre: it has to be trimmed before it goes on.

    Of a load with its picks on one line the worst tilt is mostly roll, which no leg can trim: the tilt's note tells it.
    """
    spigot, worst = bench.get("spigot_tilt"), bench.get("axis_tilt_worst")
    if spigot is not None and worst is not None:
        key, limit, title = "spigot_trim", spigot, "Trimming before the spigot"
        now, basis = bench.get("axis_tilt"), "worst pose over the doubts against half of clearance/engagement"
    elif spigot is None and pick_line([leg.pick for leg in legs]) is None:
        key, limit, title = "tilt_trim", FREE_TILT, "Tilt with tolerances"
        now, worst, basis = bench.get("tilt"), bench.get("tilt_worst"), FREE_BASIS
    else:
        return
    if hung.nominal.state == "turns over" or now is None or worst is None or now > limit or worst <= limit:
        return
    able = [leg for leg in legs if leg.leg.adjuster_capacity is not None]
    if not able and key == "spigot_trim":
        return  # the spigot's own check fails
    said = f"up to {tilt_words(worst, bench.system)}, allowed {tilt_words(limit, bench.system)}"
    how = f"trim with the adjuster of {_names(able)} at the trial lift" if able else "look at it at the trial lift"
    level = ", spirit level on the face" if key == "spigot_trim" else ""
    bench.lift = replace(bench.lift, trimming=f"{how}{level}{_coarse(bench, legs, limit)}")
    bench.near(key, title, basis, f"with tolerances {said}: {bench.lift.trimming}")


def _names(legs: list[LegData]) -> str:
    return " or ".join(leg.name for leg in legs[:3])


def _coarse(bench: Bench, legs: tuple[LegData, ...], limit: float) -> str:
    """Where the nearest link or turn of the finest adjuster can leave more than is allowed."""
    tilts = [
        tilt
        for leg, tilt in zip(legs, bench.get("step_tilt") or (), strict=False)
        if leg.leg.adjuster_capacity is not None and leg.leg.adjuster_step and tilt > 0.0
    ]
    if not tilts or min(tilts) / 2.0 <= limit:
        return ""
    step, left = (tilt_words(tilt, bench.system) for tilt in (min(tilts), min(tilts) / 2.0))
    return f". One link or turn moves it {step}: the nearest may leave {left}, so a finer adjuster is needed to be sure"


def put_adjusters(bench: Bench, legs: tuple[LegData, ...], load: Load, hung: Hung) -> None:
    """What one link or turn does, and which adjuster to turn by how much."""
    which = [place for place, leg in enumerate(legs) if leg.leg.adjuster_capacity is not None]
    if not which or load.centre is None or hung.nominal.beam_upper or hung.nominal.state == "turns over":
        return
    from splitline.lifting.bridle import level_with, tilt_rates

    picks, hard = [leg.pick for leg in legs], [leg.rigidity for leg in legs]
    state: State = hung.nominal
    with bench.guard("adjust", "Levelling by the adjusters", "statics of the hung load"):
        rates = tilt_rates(picks, hung.lengths, hard, load.centre, load.weight, state.hook)
        each = [math.hypot(*row) for row in rates.tolist()]
        steps = [leg.leg.adjuster_step for leg in legs]
        bench.put("step_tilt", [rate * (step or 0.0) for rate, step in zip(each, steps, strict=True)])
        for place in which:
            step = steps[place]
            said = (
                f"{tilt_words(each[place] * step, bench.system)} by one link or turn ({bench.show(step, 'length')})"
                if step
                else ""
            )
            _advise(
                bench,
                f"Adjuster of {legs[place].name}: {tilt_words(each[place] * 0.01, bench.system)} by {bench.show(0.01, 'length')}"
                + (f", {said}." if said else "."),
            )
        if state.tilt < 1e-6:
            return
        found = level_with(picks, hung.lengths, hard, load.centre, load.weight, which)
        bench.put("adjust", list(found.changes))
        bench.put("adjusted_tilt", found.after.tilt)
        said = "; ".join(
            _turn(bench, legs[place], found.changes[place]) for place in which if abs(found.changes[place]) >= 5e-4
        )
        if said:
            _advise(bench, f"To level: {said}; leaves {tilt_words(found.after.tilt, bench.system)}.")


def _advise(bench: Bench, said: str) -> None:
    """Advice on the adjusters: a note, and by itself for the screen where it is used."""
    bench.note(said)
    bench.lift = replace(bench.lift, levelling=(*bench.lift.levelling, said))


def _turn(bench: Bench, leg: LegData, change: float) -> str:
    word = "let out" if change > 0.0 else "take in"
    step = leg.leg.adjuster_step
    count = f" ({abs(change) / step:.1f} links or turns)" if step else ""
    return f"{word} {leg.name} {bench.show(abs(change), 'length')}{count}"
