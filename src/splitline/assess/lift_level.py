"""Will it hang upright and level enough: stability, tilt and the spigot."""

from __future__ import annotations

import math

from splitline.assess.bench import Bench
from splitline.assess.lift_crane import tilt_words
from splitline.assess.lift_hang import Turned
from splitline.assess.lift_types import Hung, LegData, Load
from splitline.errors import InputError
from splitline.lifting.stability import axis_tilt, clocking, pick_line, spigot_limit, standing
from splitline.plan.model.lift import Lift, Spigot
from splitline.units import System

FREE_TILT = math.radians(2.0)
FREE_BASIS = "0027/ND Rev 11.2, 5.3.2: single-crane lift, 2 degrees without special review"
PINS = 0.100  # m, guide pins beyond the spigot (common practice)
STABLE = "least potential energy: curvature of the hung load"


def check_stability(bench: Bench, legs: tuple[LegData, ...], load: Load, hung: Hung, frame: Turned) -> None:
    """Upright, neutral or turning over; the centre against picks and polygon."""
    assert load.centre is not None
    title, state = "Hangs upright", hung.nominal.state
    picks, hook, centre = [frame.to(leg.pick) for leg in legs], frame.to(hung.nominal.hook), frame.to(load.centre)
    found = standing(picks, centre, hook)
    bench.put("below_hook", found.below_hook)
    if len(picks) > 2:
        bench.put("pick_margin", found.margin)
    if state == "turns over":
        note = "the load turns over: it comes to rest with its top downwards; raise the picks or lower the centre"
        bench.fails("stability", title, STABLE, note)
        return
    if state == "neutral":
        if rolls(legs, hung):
            note = "neutral: it may roll about the line through its picks; a small offset of the centre decides how far"
        else:
            note = "neutral: nothing turns it back; hold it with tag lines or another leg"
        bench.near("stability", title, STABLE, note)
        return
    if hung.worst is not None and (hung.worst.turned or hung.worst.unsolved):
        lost = hung.worst.turned + hung.worst.unsolved
        note = f"with the tolerances of length and centre {lost} of {hung.worst.poses} poses do not hang upright"
        bench.fails("stability", title, STABLE, note)
        return
    if found.below_picks < 0.0:
        high = bench.show(-found.below_picks, "length")
        note = f"it stands, but its centre is {high} above its lowest pick: it tips when a leg slackens"
        bench.near("stability", title, STABLE, note)
    elif len(picks) > 2 and not found.inside and hung.nominal.beam_upper == ():
        note = f"the centre lies {bench.show(-found.margin, 'length')} outside the picks: legs go slack and it hangs tilted"
        bench.near("stability", title, STABLE, note)
    else:
        bench.passes("stability", title, STABLE, "centre of gravity below the hook and the picks")


def rolls(legs: tuple[LegData, ...], hung: Hung) -> bool:
    """Whether the centre lies on the line through all picks, so that the load may roll about it like a shaft in slings."""
    return hung.nominal.state == "neutral" and pick_line([leg.pick for leg in legs]) is not None


def check_tilt(bench: Bench, lift: Lift, legs: tuple[LegData, ...], hung: Hung) -> None:
    """Tilt as hung; the worst beside it. Of a load free to roll about its picks the slope of their line counts."""
    tilt, up = hung.nominal.tilt, hung.nominal.up
    worst = max(hung.worst.tilt, tilt) if hung.worst is not None else None
    line = pick_line([leg.pick for leg in legs]) if rolls(legs, hung) else None
    if line is not None:
        tilt = axis_tilt(up, line)
        if hung.worst is not None:
            worst = max([tilt, *(axis_tilt(each, line) for each in hung.worst.ups.tolist())])
        bench.note("The load may roll about the line through its picks: tilt is the slope of that line.")
    bench.put("tilt", tilt, {"up_x": (up[0], "number"), "up_y": (up[1], "number"), "up_z": (up[2], "number")})
    if worst is not None:
        bench.put("tilt_worst", worst)
    if hung.nominal.state == "turns over":
        return
    limit, basis = (lift.tilt_limit, "greatest tilt given in the plan") if lift.tilt_limit else (FREE_TILT, FREE_BASIS)
    note = f"{tilt_words(tilt, bench.system)}" + (
        f"; with tolerances up to {tilt_words(worst, bench.system)}{_rolled(bench, legs, hung)}"
        if worst is not None
        else ""
    )
    bench.at_most("tilt", "Tilt as hung", tilt, limit, "angle", basis, note)
    _roll(bench, lift, legs, hung, limit, basis)
    if lift.spigot is not None:
        _spigot(bench, lift, lift.spigot, hung)


def _roll(bench: Bench, lift: Lift, legs: tuple[LegData, ...], hung: Hung, limit: float, basis: str) -> None:
    """Of a load with its picks on one line: how far it rolls about it over the doubts of the centre.

    Nothing but the centre's depth below that line turns it back, so the doubt sets the angle; no leg trims it.
    """
    line = pick_line([leg.pick for leg in legs])
    if line is None or len(legs) < 2 or hung.worst is None:
        return
    worst = max((clocking(up, line) for up in hung.worst.ups.tolist()), default=0.0)
    bench.put("roll_worst", worst)
    title = "Roll about the line of its picks, with tolerances"
    if lift.rolls_freely:
        said = f"up to {bench.show(worst, 'angle')}; the plan says that roll does no harm (rolls_freely)"
        bench.passes("roll", title, "given in the plan", said)
        return
    note = "hold it with a third pick, raise the picks, or say rolls_freely where roll does no harm"
    bench.at_most("roll", title, worst, limit, "angle", basis, "" if worst <= limit else note)


def _rolled(bench: Bench, legs: tuple[LegData, ...], hung: Hung) -> str:
    """Of a load with its picks on one line: how much of the worst tilt is that line's own slope, the rest being roll."""
    line = pick_line([leg.pick for leg in legs])
    if line is None or hung.worst is None or hung.nominal.state == "neutral":
        return ""
    slope = max(axis_tilt(each, line) for each in hung.worst.ups.tolist())
    if slope > 0.9 * hung.worst.tilt:
        return ""
    bench.put("pick_line_tilt", slope)
    return rolled_words(slope, bench.system)


def rolled_words(slope: float, system: System) -> str:
    """How much of a worst tilt is the slope of the line through the picks, rad."""
    return f", of which the line through the picks {tilt_words(slope, system)}, the rest roll about it"


def _spigot(bench: Bench, lift: Lift, spigot: Spigot, hung: Hung) -> None:
    title = "Tilt of the axis entering the spigot"
    basis = "half of clearance/engagement (the whole is two-point contact)"
    axis = spigot.axis or (0.0, 0.0, 1.0)
    try:
        now, turn = axis_tilt(hung.nominal.up, axis), clocking(hung.nominal.up, axis)
        ups = hung.worst.ups.tolist() if hung.worst is not None else []
        worst = max([now, *(axis_tilt(up, axis) for up in ups)])
    except InputError as error:
        bench.missing("spigot_tilt", title, ("spigot.axis",), basis, bench.said(error), kind="angle")
        return
    bench.put("axis_tilt", now)
    if ups:
        bench.put("axis_tilt_worst", worst)
    bench.put("clocking", turn)
    if spigot.diameter is not None:
        bench.put(
            "axis_rise", spigot.diameter * math.tan(now), {"D": (spigot.diameter, "length"), "θ_s": (now, "angle")}
        )
    needs = [f"spigot.{name}" for name in ("clearance", "engagement") if getattr(spigot, name) is None]
    if needs or spigot.clearance is None or spigot.engagement is None:
        bench.missing("spigot_tilt", title, needs, basis, kind="angle")
        return
    limit = spigot_limit(spigot.clearance, spigot.engagement)
    bench.put("spigot_tilt", limit, {"s": (spigot.clearance, "length"), "e": (spigot.engagement, "length")})
    rise = limit * spigot.diameter if spigot.diameter is not None else None
    across = f", {bench.show(rise, 'length')} across the spigot" if rise is not None else ""
    note = f"allowed {tilt_words(limit, bench.system)}{across}; with tolerances up to {tilt_words(worst, bench.system)}"
    adjustable = any(leg.adjuster_capacity is not None for leg in lift.leg)
    if adjustable or not ups:
        bench.at_most(
            "spigot_tilt",
            title,
            now,
            limit,
            "angle",
            basis,
            note,
        )
    else:
        bench.at_most(
            "spigot_tilt", f"{title}, worst", worst, limit, "angle", basis, f"{note}; no adjuster to trim it with"
        )
    bench.caution("pinch", "A cover out of level jams on its spigot and then drops: level it before it enters.")
    bench.caution("hidden-bolts")
    if spigot.guide_pin_length is not None:
        need = spigot.engagement + PINS
        basis = f"guide pins {bench.show(PINS, 'length')} longer than the spigot (common practice, no published source)"
        bench.at_least("guide_pins", "Guide pins beyond the face", need, spigot.guide_pin_length, "length", basis)
