"""Wind on the load: its force, how far the hoist line leans, and what that adds to the working radius."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.bench import Bench
from splitline.assess.lift_types import Load
from splitline.lifting.crane import line_angle, wind_force
from splitline.plan.model.lift import Crane, Lift

TITLE = "Hoist line in the wind"
BASIS = "steady side force on the lightest the load may be; limit by the crane's manual"
DRAG = 1.6  # flat plate, from memory
DRAG_BASIS = "usual for a flat plate, not checked against a standard's text; a closed box or drum has less, a lattice may have more"
RADIUS = "statics: length of line × tan of its angle"


@dataclass(frozen=True, slots=True)
class Wind:
    """What the crane's chart has to know of the wind."""

    angle: float  # of the hoist line off the vertical, rad
    growth: float | None  # m, what the radius grows by; None: the length of the line is not given


def wind_of(bench: Bench, lift: Lift, crane: Crane, load: Load) -> Wind | None:
    """The wind checked; None where none blows or after saying what is missing."""
    if lift.wind_force is None and lift.wind_speed is None and lift.wind_area is None:
        bench.default(
            "wind_force", bench.show(0.0, "force"), "no wind: indoors; outdoors give wind_force, or speed and area"
        )
        return None
    force = _force(bench, lift)
    if force is None or force == 0.0:
        return None
    lightest = load.weight * (2.0 - (load.factor or 1.0))
    if lightest <= 0.0:
        note = "the margin on the mass leaves no load at all: give a margin below 1"
        bench.missing("wind_angle", TITLE, ("mass_margin",), BASIS, note, kind="angle")
        return None
    angle = line_angle(force, lightest)
    bench.put("wind_load", force)
    bench.put("wind_angle", angle, {"F_w": (force, "force"), "W_low": (lightest, "force")})
    if lift.wind_angle_limit is None:
        note = (
            f"in this wind the hoist line stands {bench.show(angle, 'angle')} off the vertical: give the limit of the "
            "crane's manual"
        )
        bench.missing("wind_angle", TITLE, ("wind_angle_limit",), BASIS, note, kind="angle")
    else:
        bench.at_most("wind_angle", TITLE, angle, lift.wind_angle_limit, "angle", BASIS)
    bench.note("The load hangs aside in this wind and swings in gusts: the crane's own wind limit governs.")
    growth = None if crane.line_length is None else crane.line_length * math.tan(angle)
    if growth is not None and crane.line_length is not None:
        puts = {"L_line": (crane.line_length, "length"), "θ_w": (angle, "angle")}
        bench.put("wind_radius", growth, puts)
    return Wind(angle, growth)


def _force(bench: Bench, lift: Lift) -> float | None:
    """Force on the load, N; None after saying what is missing."""
    if lift.wind_force is not None:
        return lift.wind_force
    needs = [name for name in ("wind_speed", "wind_area") if getattr(lift, name) is None]
    if needs or lift.wind_speed is None or lift.wind_area is None:
        bench.missing("wind_angle", TITLE, needs, BASIS, "give both, or wind_force", kind="angle")
        return None
    drag = lift.wind_drag
    if drag is None:
        drag = DRAG
        bench.default("wind_drag", f"{DRAG:g}", DRAG_BASIS)
    return wind_force(lift.wind_speed, lift.wind_area, drag)


def windy_radius(bench: Bench, crane: Crane, radius: float, wind: Wind | None) -> float | None:
    """The radius the chart is read at, m; None after saying that the length of line is missing."""
    if wind is None:
        return radius
    if wind.growth is None:
        note = "wind adds to the radius: give the length of hoist line from the boom's head to the load"
        bench.missing("crane_usage", "Crane", ("crane.line_length",), RADIUS, note, kind="capacity")
        return None
    return radius + wind.growth


def check_one_rating(bench: Bench, wind: Wind | None) -> None:
    """A crane rated by one figure: nobody reads a chart here, so the grown radius is told."""
    if wind is None:
        return
    title = "Capacity at the radius the wind adds to"
    if wind.growth is None:
        note = "wind adds to the radius: give the length of hoist line, and the chart instead of one capacity"
        bench.missing("wind_radius", title, ("crane.line_length",), RADIUS, note, kind="length")
        return
    said = bench.show(wind.growth, "length")
    note = f"the radius grows by {said}: the one capacity given must hold there; a chart (crane.rating) is read so"
    bench.near("wind_radius", title, RADIUS, note)
