"""What else a lift will want, said while it cannot be hung yet: all at once instead of one thing after the other."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.lift_hang import BASIS, KEY, TITLE
from splitline.assess.lift_rigging import FITTING
from splitline.plan.model.lift import Lift


def say_wanted(bench: Bench, lift: Lift, legs_known: bool) -> None:
    """Slings, fittings and lengths that are not given; ``legs_known``: the slings were looked at already."""
    for number, leg in enumerate(lift.leg, 1):
        if not legs_known and leg.sling is None and leg.capacity is None:
            needs = (f"leg.{number}.sling", f"leg.{number}.capacity")
            note = "name a sling of the library or give its rated capacity"
            with bench.about(leg=number, part="sling"):
                bench.missing("leg_capacity", f"Leg {number}: sling", needs, "sling tag", note, kind="capacity")
        if leg.fitting is None and leg.fitting_capacity is None and leg.hitch not in ("basket", "choker"):
            needs = (f"leg.{number}.fitting", f"leg.{number}.fitting_capacity")
            title, note = f"Leg {number}: {FITTING}", "what holds this leg to the load?"
            with bench.about(leg=number, part=FITTING):
                bench.missing("fitting", title, needs, "marking on the fitting", note, kind="capacity")
    hooked = lift.hook is not None and (lift.hook.at is not None or lift.hook.above_picks is not None)
    said = any("hook.above_picks" in check.needs for check in bench.checks)
    if lift.leg and not hooked and not said and lift.spreader is None and any(leg.length is None for leg in lift.leg):
        note = "give every leg's length, or where the hook stands so that level lengths can be computed"
        bench.missing(KEY, TITLE, ("hook.above_picks", "leg.length"), BASIS, note, kind="force")
