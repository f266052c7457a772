"""Hook load, crane and its chart, critical share, headroom, wind."""

from __future__ import annotations

import math
from collections.abc import Sequence

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_hang import NO_MASS, beam_weight
from splitline.assess.lift_types import GRAVITY, Load, Point, State
from splitline.assess.lift_wind import Wind, check_one_rating, wind_of, windy_radius
from splitline.errors import InputError
from splitline.lifting.crane import CLEAR, headroom, hook_load, rating, underside_drop
from splitline.plan.model.lift import Crane, Lift
from splitline.units import System, show

CRITICAL = 0.75
CRITICAL_BASIS = (
    "critical-lift share; shares differ (75 % steel erection and each crane in tandem, 90 % some mobile cranes)"
)


def crane_missing(bench: Bench) -> None:
    """No crane in the plan."""
    note = "name the crane: capacity (or its chart and the radius), block and rigging, hook height"
    bench.missing("crane_usage", "Crane", ("crane",), "crane's chart", note, kind="force")


def assess_crane(
    bench: Bench, lift: Lift, load: Load, state: State | None, ctx: Context, ups: Sequence[Point] = ()
) -> None:
    """Everything between hook and ground; ``ups``: the vertical in the load's frame at every angle it is turned through."""
    crane = lift.crane
    if crane is None:
        crane_missing(bench)
        return
    on_hook = _hook_load(bench, lift, crane, load)
    wind = wind_of(bench, lift, crane, load)
    if on_hook is not None:
        _usage(bench, lift, crane, on_hook, wind, ctx)
    _headroom(bench, lift, crane, state, ups)


def _hook_load(bench: Bench, lift: Lift, crane: Crane, load: Load) -> float | None:
    needs = ["crane.rigging"] if crane.rigging is None else []
    if lift.spreader is not None and not lift.spreader.mass:
        needs.append("spreader.mass")
    if load.factor is None:
        needs.append("mass_basis")
    if needs or load.factor is None or crane.rigging is None:
        bench.missing("hook_load", "Hook load", needs, "statics", _asked(needs), kind="force")
        return None
    beam, rigging = beam_weight(lift), crane.rigging * GRAVITY
    value = hook_load(load.weight, load.factor, load.dynamic, beam, rigging)
    puts = {
        "W": (load.weight, "force"), "k_m": (load.factor, "number"), "k_d": (load.dynamic, "number"),
        "spreader": (beam, "force"), "rigging": (rigging, "force"),
    }  # fmt: skip
    bench.put("hook_load", value, puts)
    # What a load cell above the rigging shows while the load hangs still: no dynamic factor, the mass within its margin.
    still = {"W": (load.weight, "force"), "k_m": (load.factor, "number"), "below the cell": (beam + rigging, "force")}
    bench.put("still_load", load.weight + beam + rigging, still)
    bench.put("still_load_low", load.weight * (2.0 - load.factor) + beam + rigging, still)
    bench.put("still_load_high", load.weight * load.factor + beam + rigging, still)
    if lift.hook is not None and lift.hook.capacity is not None:
        bench.at_most(
            "hook", "Hook", value, lift.hook.capacity, "capacity", "rated capacity of the hook given in the plan"
        )
    return value


def _asked(needs: Sequence[str]) -> str:
    """What the hook load lacks, in words."""
    words = {
        "crane.rigging": "give the rigging's mass; write 0 kg for rigging already counted",
        "spreader.mass": NO_MASS,
        "mass_basis": "say how the load's mass is known",
    }
    return "; ".join(words[each] for each in needs)


def _usage(bench: Bench, lift: Lift, crane: Crane, on_hook: float, wind: Wind | None, ctx: Context) -> None:
    if crane.block is None and not crane.chart_includes_block:
        note = "give the hook block's mass, or say that the rating is below the hook (chart_includes_block)"
        bench.missing("crane_load", "Crane load", ("crane.block",), "statics", note, kind="force")
        return
    if crane.chart_includes_block is None:
        bench.default(
            "crane.chart_includes_block", "no", "the cautious reading; overhead cranes are usually rated below the hook"
        )
    block = 0.0 if crane.chart_includes_block else (crane.block or 0.0) * GRAVITY
    share = crane.share if crane.share is not None else 1.0
    if share < 1.0:
        note = "a part of the load on this crane needs the other crane in the plan; two hooks are not planned here"
        bench.missing("crane_load", "Crane load", ("crane.share",), "statics", note, kind="force")
        return
    value = share * on_hook + block
    puts = {"F_h": (on_hook, "force"), "share": (share, "share"), "block": (block, "force")}
    bench.put("crane_load", value, puts)
    capacity = _capacity(bench, lift, crane, wind, ctx)
    if capacity is None:
        return
    said, basis = capacity
    bench.put("crane_capacity", said)
    usage = value / said
    bench.put("crane_usage", usage, {"F_c": (value, "force"), "capacity": (said, "capacity")})
    bench.at_most("crane_usage", "Crane", value, said, "capacity", basis)
    _critical(bench, crane, usage)


def _critical(bench: Bench, crane: Crane, usage: float) -> None:
    fraction, basis = crane.critical_fraction, f"{CRITICAL_BASIS}; given in the plan"
    if fraction is None:
        fraction, basis = CRITICAL, CRITICAL_BASIS
        bench.default("crane.critical_fraction", f"{CRITICAL:.0%}", CRITICAL_BASIS)
    title = "Critical lift"
    said = f"{usage:.0%} of capacity, critical above {fraction:.0%}"
    if usage > fraction:
        note = f"{said}: needs its own lift plan and approval by the site's rules"
        bench.near("critical_lift", title, basis, note)
    else:
        bench.passes("critical_lift", title, basis, said)


def _capacity(bench: Bench, lift: Lift, crane: Crane, wind: Wind | None, ctx: Context) -> tuple[float, str] | None:
    title = "Crane"
    if crane.capacity is not None:
        check_one_rating(bench, wind)
        return crane.capacity, "capacity at the working radius given in the plan"
    if not crane.rating:
        bench.missing("crane_usage", title, ("crane.capacity", "crane.rating"), "crane's chart", kind="capacity")
        return None
    entered = ctx.observed.get(lift.id, "crane.radius")
    radius = crane.radius if crane.radius is not None else (float(entered) if entered is not None else None)
    if radius is None:
        bench.on_site(
            "crane_usage", title, ("crane.radius",), "crane's chart", "measure the working radius", kind="capacity"
        )
        return None
    radius = windy_radius(bench, crane, radius, wind)
    if radius is None:
        return None
    try:
        found = rating([(row.radius, row.capacity) for row in crane.rating], radius)
    except InputError as error:
        bench.fails("crane_usage", title, "crane's chart, never beyond its rows", bench.said(error))
        return None
    at = bench.show(radius, "length") + (", wind included" if wind is not None else "")
    if found.next_lower == found.capacity:
        return found.capacity, f"crane's chart at {at}"
    if crane.chart_rule == "straight":
        return found.capacity, f"crane's chart at {at}, straight between its rows as the chart says"
    if crane.chart_rule is None:
        bench.default("crane.chart_rule", "next row", "the chart's own rule governs; the lesser row is taken")
    return found.next_lower, f"crane's chart at {at}, the next row"


def _headroom(bench: Bench, lift: Lift, crane: Crane, state: State | None, ups: Sequence[Point]) -> None:
    needs = [f"crane.{name}" for name in ("hook_height", "clear_over") if getattr(crane, name) is None]
    if lift.tail is not None and lift.tail.below is None:
        needs.append("tail.below")  # what nobody measured hangs as low as it may
    title, basis = (
        "Headroom over what it passes",
        f"{bench.show(CLEAR, 'length')} kept (common practice, no published source)",
    )
    if needs or crane.hook_height is None or crane.clear_over is None:
        note = (
            "measure what hangs below the tail's pick when the load stands, rigging included"
            if "tail.below" in needs
            else ""
        )
        bench.missing("headroom", title, needs, basis, note, kind="length")
        return
    if state is None:
        return
    drop = (
        turned_drop(bench, lift, state, ups) if ups else underside_drop(state.hook, state.up, _underside(bench, lift))
    )
    left = headroom(crane.hook_height, drop, crane.clear_over)
    puts = {
        "hook height": (crane.hook_height, "length"), "hook to underside": (drop, "length"),
        "clear over": (crane.clear_over, "length"),
    }  # fmt: skip
    bench.put("headroom", left, puts)
    bench.at_least("headroom", title, CLEAR, left, "length", basis)


def _underside(bench: Bench, lift: Lift) -> list[tuple[float, float, float]]:
    """Places at the load's underside, as drawn: every named place, and the picks brought down to the lowest of them."""
    given = lift.underside
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    named = [*picks, *(part.at for part in lift.part if isinstance(part.at, tuple))]
    if lift.tail is not None and lift.tail.pick is not None:
        named.append(lift.tail.pick)
    low = given if given is not None else min(0.0, *(place[2] for place in named)) if named else 0.0
    if given is None:
        said = f"z = {bench.show(low, 'length')}"
        bench.default("underside", said, "the lowest place the plan names, z = 0 included; measure the real underside")
    under = [(x, y, low) for x, y, _ in (picks if lift.tail is None else named)]
    return [*named, *under] or [(0.0, 0.0, low)]


def turned_drop(bench: Bench, lift: Lift, state: State, ups: Sequence[Point]) -> float:
    """Greatest depth of the load below the hook at any angle of the turn, m: the rigging keeps its height over the head.

    Its places are those named, brought down to the underside it lies on, and what hangs below the tail's pick when it stands.
    """
    places, tail = _underside(bench, lift), lift.tail
    if tail is not None and tail.pick is not None:
        below = tail.below  # where it is not given, the caller says that it is missing
        x, y, z = (p - (below or 0.0) * u for p, u in zip(tail.pick, ups[-1], strict=True))
        places = [*places, (x, y, z)]
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    head = [math.fsum(pick[axis] for pick in picks) / len(picks) for axis in range(3)]
    above = math.fsum((h - p) * u for h, p, u in zip(state.hook, head, state.up, strict=True))
    return max(underside_drop(state.hook, state.up, places), *(above + underside_drop(head, up, places) for up in ups))


def tilt_words(tilt: float, system: System = "SI") -> str:
    """A tilt as riggers measure it: mm per m (in per ft); in degrees where that says nothing any more."""
    if tilt > math.radians(30.0):
        return show(tilt, "angle", system)
    return f"{math.tan(tilt) * 12:.2f} in per ft" if system == "US" else f"{math.tan(tilt) * 1e3:.1f} mm per m"
