"""Between hook and ground: hook load, crane and its chart, critical share, headroom, wind."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_hang import NO_MASS, State
from splitline.assess.lift_legs import SHEET
from splitline.assess.lift_load import GRAVITY
from splitline.assess.lift_told import Point
from splitline.assess.sheet import Absent, Against, Assumed, Default, OnSite, Rule
from splitline.lifting.crane import CLEAR, Rating, line_angle, rating, underside_drop
from splitline.lifting.crane import headroom as room_left
from splitline.lifting.crane import hook_load as load_on_hook
from splitline.lifting.crane import wind_force as force_of_wind
from splitline.lifting.upending import Upending
from splitline.plan.model.lift import Crane, Lift
from splitline.units import show

CRITICAL = 0.75
CRITICAL_BASIS = (
    "critical-lift share; shares differ (75 % steel erection and each crane in tandem, 90 % some mobile cranes)"
)
CHART = "crane's chart"
LEANS = "Hoist line in the wind"
LEANS_BASIS = "steady side force on the lightest the load may be; limit by the crane's manual"
DRAG = 1.6  # flat plate, from memory
PLATE = "usual for a flat plate, not checked against a standard's text; a closed box or drum has less, a lattice may have more"
GROWS = "statics: length of line × tan of its angle"

SHEET.given("crane", "lift.crane")
SHEET.given("rigging", "lift.crane.rigging")
SHEET.given("crane_rated", "lift.crane.capacity")
SHEET.given("radius", "lift.crane.radius")
SHEET.given("line_length", "lift.crane.line_length")
SHEET.given("critical_fraction", "lift.crane.critical_fraction",
            default=Default(CRITICAL, "share", CRITICAL_BASIS, "usual; local rules govern", f"{CRITICAL:.0%}"))  # fmt: skip
SHEET.given("hook_height", "lift.crane.hook_height")
SHEET.given("clear_over", "lift.crane.clear_over")
SHEET.given("underside", "lift.underside")
SHEET.given("wind_force", "lift.wind_force")
SHEET.given("wind_speed", "lift.wind_speed")
SHEET.given("wind_area", "lift.wind_area")
SHEET.given("wind_drag", "lift.wind_drag", default=Default(DRAG, "number", PLATE, "safe", f"{DRAG:g}"))
SHEET.given("wind_angle_limit", "lift.wind_angle_limit")


SHEET.asks("crane_usage", "Crane", "crane", kind="force", basis=CHART,
           lacking="name the crane: capacity (or its chart and the radius), block and rigging, hook height",
           asks=("crane",))  # fmt: skip


# on the hook


@SHEET.result(
    kind="force", title="Hook load", symbol="F_h", formula="k_d (m g k_m + spreader + rigging)",
    source="statics; k_d on spreader and rigging not checked against the standard's text",
    puts={
        "W": ("weight", "force"), "k_m": ("factor", "number"), "k_d": ("dynamic", "number"),
        "spreader": ("beam_weight", "force"), "rigging": ("rigging_weight", "force"),
    },
    after=("crane", "weight"),
)  # fmt: skip
def hook_load(rigging_weight: float, beam_weight: float, factor: float, weight: float, dynamic: float) -> float:
    return load_on_hook(weight, factor, dynamic, beam_weight, rigging_weight)


@SHEET.result()
def rigging_weight(rigging: float) -> float:
    return rigging * GRAVITY


@SHEET.result()
def hook_lacks(lift: Lift, factor: float = 0.0) -> str:
    """What the hook load lacks, in words."""
    words = {
        "give the rigging's mass; write 0 kg for rigging already counted": lift.crane is None
        or lift.crane.rigging is None,
        NO_MASS: lift.spreader is not None and not lift.spreader.mass,
        "say how the load's mass is known": not factor,
    }
    return "; ".join(said for said, lacks in words.items() if lacks)


SHEET.asks("hook_load", "Hook load", "hook_load", kind="force", basis="statics",
           lacking="{hook_lacks}", after=("crane", "weight"))  # fmt: skip


@SHEET.check("hook", "Hook", kind="capacity", basis="rated capacity of the hook given in the plan", quiet=True)
def hook_carries(lift: Lift, hook_load: float) -> Against | None:
    rated = lift.hook.capacity if lift.hook is not None else None
    return Against(hook_load, rated) if rated is not None else None


@SHEET.result(kind="force", title="Crane load", symbol="F_c", formula="share × F_h + block unless rated below the hook",
              source="statics",
              puts={"F_h": ("hook_load", "force"), "share": ("share", "share"), "block": ("block_weight", "force")})  # fmt: skip
def crane_load(hook_load: float, block_weight: float, share: float) -> float:
    return share * hook_load + block_weight


@SHEET.result(after=("hook_load",))
def block_weight(crane: Crane) -> float | Assumed:
    """What the hook block adds, N."""
    if crane.block is None and not crane.chart_includes_block:
        raise Absent(
            "crane.block",
            why="give the hook block's mass, or say that the rating is below the hook (chart_includes_block)",
        )
    block = 0.0 if crane.chart_includes_block else (crane.block or 0.0) * GRAVITY
    basis = "the cautious reading; overhead cranes are usually rated below the hook"
    return (
        Assumed(block, "crane.chart_includes_block", basis, text="no") if crane.chart_includes_block is None else block
    )


@SHEET.result()
def share(crane: Crane) -> float:
    if crane.share is not None and crane.share < 1.0:
        raise Absent(
            "crane.share",
            why="a part of the load on this crane needs the other crane in the plan; two hooks are not planned here",
        )
    return 1.0


SHEET.asks("crane_load", "Crane load", "block_weight", kind="force", basis="statics", quiet=True)


SHEET.asks("crane_load", "Crane load", "share", kind="force", basis="statics", quiet=True, after=("block_weight",))


# wind


def _by_speed(lift: Lift) -> bool:
    return lift.wind_force is None and (lift.wind_speed is not None or lift.wind_area is not None)


@SHEET.result(name="wind_force")
def no_wind(lift: Lift) -> Assumed | None:
    basis = "no wind: indoors; outdoors give wind_force, or speed and area"
    return None if _by_speed(lift) else Assumed(0.0, "wind_force", basis, "force")


@SHEET.result(name="wind_force")
def wind_by_speed(wind_speed: float, wind_area: float, wind_drag: float) -> float:
    return force_of_wind(wind_speed, wind_area, wind_drag)


@SHEET.result(after=("crane", "weight"))
def blows(wind_force: float) -> float | None:
    return wind_force or None


SHEET.asks("wind_angle", LEANS, "wind_speed", "wind_area", kind="angle", basis=LEANS_BASIS, when=_by_speed,
           after=("crane", "weight"), lacking="give both, or wind_force")  # fmt: skip


@SHEET.result()
def lightest(blows: float, weight: float, factor: float = 1.0) -> float:
    """The least the load may weigh, N."""
    if factor >= 2.0:
        raise Absent("mass_margin", why="the margin on the mass leaves no load at all: give a margin below 1")
    return weight * (2.0 - factor)


SHEET.tell("wind_load", "blows", "force", "Wind on the load", "F_w", "½ ρ v² A c, ρ = 1.25 kg/m³",
           "ISO 4302 form, not checked against the standard's text", after=("lightest",))  # fmt: skip


@SHEET.result(kind="angle", title="Hoist line off the vertical in the wind", symbol="θ_w", formula="atan(F_w/(W (2 − k_m)))",
              source="statics", puts={"F_w": ("blows", "force"), "W_low": ("lightest", "force")})  # fmt: skip
def wind_angle(blows: float, lightest: float) -> float:
    return line_angle(blows, lightest)


SHEET.asks("wind_angle", LEANS, "wind_angle", kind="angle", basis=LEANS_BASIS, quiet=True)


@SHEET.result()
def leaning(wind_angle: float, context: Context) -> str:
    return show(wind_angle, "angle", context.system)


@SHEET.check(
    "wind_angle", LEANS, kind="angle", basis=LEANS_BASIS, after=("wind_angle",),
    lacking="in this wind the hoist line stands {leaning} off the vertical: give the limit of the crane's manual",
)  # fmt: skip
def leans_little(wind_angle: float, wind_angle_limit: float) -> Against:
    return Against(wind_angle, wind_angle_limit)


@SHEET.note(after=("wind_angle",))
def hangs_aside() -> str:
    return "The load hangs aside in this wind and swings in gusts: the crane's own wind limit governs."


@SHEET.result(kind="length", title="What wind adds to the working radius", formula="L_line tan θ_w", source="statics",
              puts={"L_line": ("line_length", "length"), "θ_w": ("wind_angle", "angle")})  # fmt: skip
def wind_radius(line_length: float, wind_angle: float) -> float:
    return line_length * math.tan(wind_angle)


# the crane and its chart


@dataclass(frozen=True, slots=True)
class Rated:
    """What the crane may carry where it stands, N, and on what basis."""

    capacity: float
    basis: str


def _by_figure(crane: Crane) -> bool:
    return crane.capacity is not None


def _by_chart(crane: Crane) -> bool:
    return crane.capacity is None and bool(crane.rating)


def _unrated(crane: Crane) -> bool:
    return crane.capacity is None and not crane.rating


@SHEET.result(name="radius")
def radius_measured(lift: Lift, context: Context) -> float:
    entered = context.observed.get(lift.id, "crane.radius")
    if entered is None:
        raise OnSite("crane.radius", why="measure the working radius")
    return float(entered)


@SHEET.result()
def radius_read(radius: float, wind_angle: float | None = None, wind_radius: float = math.nan) -> float | None:
    """What the chart is read at, m; None where nobody knows what the wind adds."""
    read = radius if wind_angle is None else radius + wind_radius
    return None if math.isnan(read) else read


@SHEET.result(when=_by_chart)
def row(crane: Crane, radius_read: float) -> Rating:
    return rating([(each.radius, each.capacity) for each in crane.rating], radius_read)


@SHEET.result(name="rated_at", when=_by_figure)
def rated_by_figure(crane_rated: float) -> Rated:
    return Rated(crane_rated, "capacity at the working radius given in the plan")


@SHEET.result(name="rated_at")
def rated_by_chart(
    crane: Crane, row: Rating, radius_read: float, context: Context, wind_angle: float | None = None
) -> Rated:
    at = f"{CHART} at {show(radius_read, 'length', context.system)}" + ("" if wind_angle is None else ", wind included")
    if row.next_lower == row.capacity:
        return Rated(row.capacity, at)
    if crane.chart_rule == "straight":
        return Rated(row.capacity, f"{at}, straight between its rows as the chart says")
    return Rated(row.next_lower, f"{at}, the next row")


@SHEET.note(after=("crane_load",))
def next_row(crane: Crane, row: Rating) -> Assumed | None:
    if row.next_lower == row.capacity or crane.chart_rule is not None:
        return None
    basis = "the chart's own rule governs; the lesser row is taken"
    return Assumed(None, "crane.chart_rule", basis, text="next row")


SHEET.tell("crane_capacity", "rated_at.capacity", "capacity", "Crane capacity", "",
           "at the radius, straight between rows of its chart", CHART, after=("crane_load",))  # fmt: skip


@SHEET.result(kind="share", title="Crane usage", formula="F_c/capacity", source="statics",
              puts={"F_c": ("crane_load", "force"), "capacity": ("crane_capacity", "capacity")})  # fmt: skip
def crane_usage(crane_load: float, crane_capacity: float) -> float:
    return crane_load / crane_capacity


SHEET.asks("crane_usage", "Crane", "crane_rated", kind="capacity", basis=CHART, when=_unrated, after=("crane_load",),
           asks=("crane.capacity", "crane.rating"))  # fmt: skip


SHEET.asks("crane_usage", "Crane", "radius", kind="capacity", basis=CHART, when=_by_chart, after=("crane_load",))


SHEET.asks("crane_usage", "Crane", "wind_radius", kind="capacity", basis=GROWS, when=_by_chart,
           after=("crane_load", "radius", "wind_angle"),
           lacking="wind adds to the radius: give the length of hoist line from the boom's head to the load")  # fmt: skip


SHEET.asks("crane_usage", "Crane", "row", basis="crane's chart, never beyond its rows", refused="fails", quiet=True,
           after=("crane_load", "radius"))  # fmt: skip


@SHEET.check("crane_usage", "Crane", kind="capacity", basis="{rated_at.basis}", quiet=True, after=("crane_load",))
def crane_carries(crane_load: float, rated_at: Rated) -> Against:
    return Against(crane_load, rated_at.capacity)


@SHEET.check(
    "wind_radius", "Capacity at the radius the wind adds to", kind="length", basis=GROWS, when=_by_figure,
    after=("crane_load", "wind_angle"),
    lacking="wind adds to the radius: give the length of hoist line, and the chart instead of one capacity",
)  # fmt: skip
def figure_in_the_wind(wind_radius: float, context: Context) -> Rule:
    """A crane rated by one figure: nobody reads a chart here, so the grown radius is told."""
    grown = f"the radius grows by {show(wind_radius, 'length', context.system)}"
    return Rule("near", f"{grown}: the one capacity given must hold there; a chart (crane.rating) is read so")


@SHEET.check("critical_lift", "Critical lift", quiet=True)
def critical(crane: Crane, crane_usage: float, critical_fraction: float) -> Rule:
    basis = CRITICAL_BASIS + ("" if crane.critical_fraction is None else "; given in the plan")
    said = f"{crane_usage:.0%} of capacity, critical above {critical_fraction:.0%}"
    if crane_usage > critical_fraction:
        return Rule("near", f"{said}: needs its own lift plan and approval by the site's rules", basis=basis)
    return Rule("ok", said, basis=basis)


# headroom


@SHEET.result()
def kept(context: Context) -> str:
    return show(CLEAR, "length", context.system)


HEADROOM = "Headroom over what it passes"
KEPT = "{kept} kept (common practice, no published source)"


SHEET.asks(
    "headroom",
    HEADROOM,
    "hook_height",
    "clear_over",
    "hangs_below",
    kind="length",
    basis=KEPT,
    after=("crane", "weight"),
)


def _named(lift: Lift) -> list[Point]:
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    parts = [part.at for part in lift.part if isinstance(part.at, tuple)]
    tail = [lift.tail.pick] if lift.tail is not None and lift.tail.pick is not None else []
    return [*picks, *parts, *tail]


@SHEET.result(name="underside")
def lowest_named(lift: Lift, context: Context) -> Assumed:
    low = min(0.0, *(place[2] for place in _named(lift)))
    basis = "the lowest place the plan names, z = 0 included; measure the real underside"
    return Assumed(low, "underside", basis, text=f"z = {show(low, 'length', context.system)}")


@SHEET.result()
def hangs_below(lift: Lift) -> float:
    """How far load and rigging hang below the tail's pick, m: what nobody measured hangs as low as it may."""
    if lift.tail is not None and lift.tail.below is None:
        why = "measure what hangs below the tail's pick when the load stands, rigging included"
        raise Absent("tail.below", why=why)
    return (lift.tail.below or 0.0) if lift.tail is not None else 0.0


@SHEET.result(after=("nominal", "hook_height", "clear_over", "hangs_below"))
def low_places(lift: Lift, underside: float) -> tuple[Point, ...]:
    """Places at the load's underside, as drawn: every named place, and the picks brought down to the lowest of them."""
    named = _named(lift)
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    return (*named, *((x, y, underside) for x, y, _ in (picks if lift.tail is None else named)))


def _turned(turning: Upending | None = None) -> bool:
    return turning is not None


@SHEET.result(name="drop", when=_turned)
def drop_turned(
    lift: Lift, low_places: tuple[Point, ...], nominal: State, turning: Upending, tail_pick: Point, hangs_below: float
) -> float:
    """Greatest depth of the load below the hook at any angle of the turn, m: the rigging keeps its height over the head.

    Its places are those named, brought down to the underside it lies on, and what hangs below the tail's pick when it stands.
    """
    x, y, z = (p - hangs_below * u for p, u in zip(tail_pick, turning.ups[-1], strict=True))
    places = [*low_places, (x, y, z)]
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    head = [math.fsum(pick[axis] for pick in picks) / len(picks) for axis in range(3)]
    above = math.fsum((h - p) * u for h, p, u in zip(nominal.hook, head, nominal.up, strict=True))
    standing = underside_drop(nominal.hook, nominal.up, places)
    return max(standing, *(above + underside_drop(head, up, places) for up in turning.ups))


@SHEET.result(name="drop")
def drop_hung(low_places: tuple[Point, ...], nominal: State) -> float:
    return underside_drop(nominal.hook, nominal.up, low_places)


@SHEET.result(
    kind="length", title="Headroom", formula="hook height − hook to underside − clear over",
    source="geometry of the hung load",
    puts={"hook height": ("hook_height", "length"), "hook to underside": ("drop", "length"),
          "clear over": ("clear_over", "length")},
)  # fmt: skip
def headroom(hook_height: float, clear_over: float, drop: float) -> float:
    return room_left(hook_height, drop, clear_over)


@SHEET.check("headroom", HEADROOM, sense="at least", kind="length", basis=KEPT, quiet=True)
def clears(headroom: float) -> Against:
    return Against(CLEAR, headroom)


# what a load cell above the rigging shows while the load hangs still: no dynamic factor, the mass within its margin


@SHEET.result(after=("hook_load",))
def below_cell(beam_weight: float, rigging_weight: float) -> float:
    return beam_weight + rigging_weight


STILL = {"W": ("weight", "force"), "k_m": ("factor", "number"), "below the cell": ("below_cell", "force")}


@SHEET.result(
    kind="force", title="Load cell while it hangs still", formula="W + spreader + rigging", source="statics", puts=STILL
)
def still_load(weight: float, below_cell: float) -> float:
    return weight + below_cell


@SHEET.result(kind="force", title="Load cell hanging still, least expected", formula="W·(2 − k_m) + spreader + rigging",
              source="statics; mass within its margin", puts=STILL)  # fmt: skip
def still_load_low(weight: float, factor: float, below_cell: float) -> float:
    return weight * (2.0 - factor) + below_cell


@SHEET.result(kind="force", title="Load cell hanging still, most expected", formula="W·k_m + spreader + rigging",
              source="statics; mass within its margin", puts=STILL)  # fmt: skip
def still_load_high(weight: float, factor: float, below_cell: float) -> float:
    return weight * factor + below_cell
