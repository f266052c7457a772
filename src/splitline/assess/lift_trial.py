"""Readings of a trial lift: mass and the line the centre lies on; the plan held against them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.bench import Bench
from splitline.assess.lift_types import GRAVITY, LegData, Load, Point
from splitline.errors import InputError
from splitline.plan.model.lift import Lift, Reading

AGREE = 0.005  # m, how far lines of two hangs may pass one another where no doubt of the centre is given


@dataclass(frozen=True, slots=True)
class Trial:
    """What the readings together tell."""

    mass: float | None  # kg
    centre: Point | None  # where two hangs' lines meet; with one hang, on its line level with the highest pick
    met: float | None  # m, how far that centre is from the lines of the hangs; None with one line
    hook: Point | None
    up: Point | None
    source: str


def trial_of(bench: Bench, lift: Lift, legs: tuple[LegData, ...] | None) -> Trial | None:
    """The documented readings taken together; None without any."""
    told = [reading for reading in lift.reading if reading.source]
    for number, reading in enumerate(lift.reading, 1):
        if not reading.source:
            note = "a reading counts when the document it stands in is named"
            bench.missing("trial", f"Trial-lift reading {number}", (f"reading.{number}.source",), "trial lift", note)
    if not told:
        return None
    loads = [reading.load / GRAVITY for reading in told if reading.load is not None]
    found: list[tuple[Point, Point, float | None]] = []
    if legs is not None:
        with bench.guard("trial", "Centre of gravity by the trial lift", "statics of concurrent forces"):
            found = [line for reading in told if (line := _line(lift, legs, reading)) is not None]
    loads += [weight / GRAVITY for _, _, weight in found if weight is not None]
    mass = sum(loads) / len(loads) if loads else None
    if mass is not None:
        bench.put("trial_mass", mass, {"readings": (float(len(loads)), "count")})
    source = "; ".join(dict.fromkeys(reading.source or "" for reading in told))
    if not found or legs is None:
        return Trial(mass, None, None, None, None, source)
    from splitline.lifting.trial import Line, at_height, meet

    with bench.guard("trial", "Centre of gravity by the trial lift", "statics of concurrent forces"):
        met = meet([Line(hook, up, weight) for hook, up, weight in found])
        if met.centre is not None:
            bench.put("trial_centre", list(met.centre))
            return Trial(mass, met.centre, met.miss, found[0][0], found[0][1], source)
        places = [at_height(Line(hook, up, None), max(leg.pick[2] for leg in legs)) for hook, up, _ in found]
        x, y, z = (sum(place[axis] for place in places) / len(places) for axis in range(3))
        return Trial(mass, (x, y, z), None, found[0][0], found[0][1], source)
    return Trial(mass, None, None, None, None, source)


def _line(lift: Lift, legs: tuple[LegData, ...], reading: Reading) -> tuple[Point, Point, float | None] | None:
    from splitline.lifting.trial import from_cells, from_tilt

    loads = reading.leg_loads
    if loads is None and (reading.tilt_x is None or reading.tilt_y is None):
        return None
    picks = [leg.pick for leg in legs]
    lengths: tuple[float | None, ...] = reading.lengths or tuple(leg.length for leg in legs)
    if len(lengths) != len(legs):
        raise InputError(f"a hang with {len(lengths)} lengths for {len(legs)} legs")
    if reading.lengths is None and lift.hook is not None and lift.hook.at is not None:
        hook = lift.hook.at
    elif None in lengths:
        raise InputError("the legs' lengths are needed to place the hook of a trial lift")
    else:
        hook = _hook(legs, lengths, loads if loads is not None else (0.0,) * len(legs))
    tilts = (reading.tilt_x or 0.0, reading.tilt_y or 0.0)
    line = from_cells(picks, hook, loads) if loads is not None else from_tilt(hook, *tilts)
    return line.hook, line.up, line.weight


def _hook(legs: tuple[LegData, ...], lengths: tuple[float | None, ...], pulls: tuple[float, ...]) -> Point:
    """Place of the hook from the stretched legs; slack ones say nothing where three others pull."""
    from splitline.lifting.trial import hook_place

    every = list(zip(legs, lengths, pulls, strict=True))
    taut = [each for each in every if each[2] > 0.0]
    used = taut if len(taut) >= 3 else every
    picks = [leg.pick for leg, _, _ in used]
    far = [(length or 0.0) * (1.0 + (pull / leg.rigidity if leg.rigidity else 0.0)) for leg, length, pull in used]
    x, y = (sum(pick[axis] for pick in picks) / len(picks) for axis in range(2))
    return hook_place(picks, far, (x, y, max(pick[2] for pick in picks) + max(far)))


def check_trial(bench: Bench, load: Load, trial: Trial | None) -> None:
    """Planned mass and centre against the readings."""
    if trial is None:
        return
    basis = f"trial lift: {trial.source}"
    if trial.mass is not None and load.factor is not None:
        bench.at_most(
            "trial_mass", "Mass by the trial lift within the margin", trial.mass, load.mass * load.factor, "mass", basis
        )
    if trial.mass is not None and load.factor is not None:
        title = "Mass by the trial lift not below what was planned"
        note = "a load far too light still stands on something, or is not the load that was planned"
        bench.at_least("trial_mass_low", title, load.mass * (2.0 - load.factor), trial.mass, "mass", basis, note)
    if trial.hook is None or trial.up is None or load.centre is None:
        return
    from splitline.lifting.trial import Line, miss

    if trial.met is not None and trial.centre is not None:
        off = math.dist(trial.centre, load.centre)
        allowed = max(load.shift, AGREE)
        bench.at_most("trial_hangs", "Hangs of the trial lift agree on one centre", trial.met, allowed, "length", basis)
    else:
        off = miss(Line(trial.hook, trial.up, None), load.centre)
    bench.put("trial_miss", off)
    if load.shift > 0.0:
        bench.at_most("trial_centre", "Planned centre against the trial lift", off, load.shift, "length", basis)
    elif off > 0.005:
        far = bench.show(off, "length")
        note = f"the trial lift puts the centre {far} from the plan's: give centre_shift or correct the centre"
        bench.near("trial_centre", "Planned centre against the trial lift", basis, note)
