"""Pushing a bundle in: push force band, STOP force, jacks, tracks. Declared on a calculation sheet (see `sheet.py`)."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.assess.assembled import item_of
from splitline.assess.context import Context
from splitline.assess.details import InsertionDetail
from splitline.assess.result import ItemResult
from splitline.assess.sheet import Against, Default, Rule, Sheet
from splitline.assess.worksheet import Worksheet
from splitline.fitting.clearance import SQUEEZE_STATIC, o_ring_squeeze
from splitline.fitting.insertion import (
    GRAVITY,
    STOP_JUMP,
    LogVerdict,
    Push,
    TrackReactions,
    judge_log,
    overhang_limit,
    track_reactions,
)
from splitline.fitting.insertion import push_force as push
from splitline.fitting.insertion import stop_force as stop
from splitline.fitting.jacks import jack_pressure as pressure_of_jacks
from splitline.fitting.jacks import strokes as strokes_of_jacks
from splitline.plan.model import Insertion
from splitline.record.judged import counted
from splitline.units import show

COMMON = "common practice, no published source"
PUSH = "F = m g (μ cos α + sin α) + n π D f"
PUSH_SOURCE = f"statics; friction and drag: {COMMON}"
PASCAL = "Pascal; greatest push force"
TRAVELLING = "statics, two supports that travel with the bundle"
JACK_TITLE = "Jack pressure at the greatest push force"

SHEET = Sheet("insertion")
SHEET.given("mass", "insertion.mass")
SHEET.given("friction", "insertion.friction")
SHEET.given("seals", "insertion.seals")
SHEET.given("seal_diameter", "insertion.seal_diameter")
SHEET.given("seal_drag", "insertion.seal_drag")
LEVEL = Default(0.0, "angle", "level tracks; measure them", "level: a rising track pushes harder")
SHEET.given("seal_section", "insertion.seal_section")
SHEET.given("gland_depth", "insertion.gland_depth")
SHEET.given("track_slope", "insertion.track_slope", default=LEVEL)
SHEET.given("jacks", "insertion.jacks")
SHEET.given("jack_area", "insertion.jack_area")
SHEET.given("jack_max_pressure", "insertion.jack_max_pressure")
LEAD = Default(2e-3, "length", COMMON, "safe: the bundle cants less")
SHEET.given("lead_given", "insertion.jack_lead", default=LEAD)
SHEET.given("jack_stroke", "insertion.jack_stroke")
SHEET.given("distance", "insertion.distance")
SHEET.given("centre", "insertion.centre")
SHEET.given("supports", "insertion.supports")
SHEET.given("track_capacity", "insertion.track_capacity")


def assess_insertion(insertion: Insertion, ctx: Context) -> ItemResult:
    """One insertion. Readings of the force log come as observed ``force_log``: forces in N, in order."""
    sheet = Worksheet(SHEET, insertion, ctx)
    result = item_of(sheet, insertion.id, insertion.title, ctx.system)
    return replace(result, insertion=InsertionDetail(sheet.of(judged_log) or ()))


# what pushes back


@dataclass(frozen=True, slots=True)
class Band:
    """Least and greatest of what the plan gives as one value or a pair."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Seals:
    """O-rings that drag in the bore; diameter m, drag N per m of seal. None where there are no seals."""

    count: int
    diameter: float | None = None
    low: float | None = None
    high: float | None = None


def band(value: float | tuple[float, float]) -> Band:
    return Band(min(value), max(value)) if isinstance(value, tuple) else Band(value, value)


@SHEET.result()
def frictions(friction: float | tuple[float, float]) -> Band:
    return band(friction)


def _sealed(seals: int) -> bool:
    return seals > 0


@SHEET.result(name="dragging", when=_sealed)
def with_seals(seals: int, seal_diameter: float, seal_drag: float | tuple[float, float]) -> Seals:
    drag = band(seal_drag)
    return Seals(seals, seal_diameter, drag.low, drag.high)


@SHEET.result(name="dragging")
def without_seals(seals: int, seal_diameter: float | None = None) -> Seals:
    return Seals(seals, seal_diameter)


@SHEET.result()
def least(mass: float, frictions: Band, track_slope: float, dragging: Seals) -> Push:
    return push(mass, frictions.low, track_slope, dragging.count, dragging.diameter or 0.0, dragging.low or 0.0)


@SHEET.result()
def greatest(mass: float, frictions: Band, track_slope: float, dragging: Seals) -> Push:
    return push(mass, frictions.high, track_slope, dragging.count, dragging.diameter or 0.0, dragging.high or 0.0)


def _puts(end: str) -> dict[str, tuple[str, str]]:
    return {
        "m": ("mass", "mass"), "μ": (f"frictions.{end}", "number"), "α": ("track_slope", "angle"),
        "n": ("dragging.count", "count"), "D": ("dragging.diameter", "length"), "f": (f"dragging.{end}", "line_load"),
    }  # fmt: skip


@SHEET.result(
    kind="force", title="Push force, least", symbol="F_low", formula=PUSH, source=PUSH_SOURCE, puts=_puts("low")
)
def push_force_low(least: Push, mass: float, frictions: Band, track_slope: float, dragging: Seals) -> float:
    return least.total


@SHEET.result(
    kind="force", title="Push force, greatest", symbol="F_high", formula=PUSH, source=PUSH_SOURCE, puts=_puts("high")
)
def push_force_high(greatest: Push, mass: float, frictions: Band, track_slope: float, dragging: Seals) -> float:
    return greatest.total


@SHEET.result(
    kind="force", title="Push force before the seals enter, greatest", symbol="F_free", formula="m g (μ cos α + sin α)",
    source="statics",
)  # fmt: skip
def push_force_free(greatest: Push) -> float:
    return greatest.total - greatest.seals


@SHEET.result(kind="force", title="Drag of the seals, greatest", symbol="F_seal", formula="n π D f", source=COMMON)
def seal_force(greatest: Push) -> float:
    return greatest.seals


@SHEET.check(
    "push_force", "Push force", kind="force", basis="statics",
    hint="without O-rings seals is 0; friction may be a pair, as in [0.10, 0.15]",
)  # fmt: skip
def pushed(mass: float, friction: float, dragging: Seals, greatest: Push) -> None:
    """Only says what is missing."""


@SHEET.note()
def one_friction(frictions: Band, greatest: Push) -> str | None:
    if frictions.low != frictions.high:
        return None
    return "One friction value is given: a band [low, high] shows what the log should be judged by."


@SHEET.result()
def hold_back(least: Push, context: Context) -> str | None:
    """What must hold the bundle back on a falling track, in words."""
    own = least.friction + least.slope
    return show(-own, "force", context.system) if own < 0 else None


@SHEET.check("hold_back", "Bundle on a falling track", basis="statics", quiet=True)
def runs_down(hold_back: str) -> Rule:
    return Rule(
        "near", f"the bundle runs down by itself: a brake or a winch must hold back {hold_back} until the seals grip"
    )


# the glands


def _glanded(insertion: Insertion) -> bool:
    return insertion.seal_section is not None or insertion.gland_depth is not None


@SHEET.result(kind="share", title="Squeeze of the O-rings in their gland", symbol="s", formula="1 − depth / section",
              source="geometry", when=_glanded,
              puts={"depth": ("gland_depth", "length"), "section": ("seal_section", "length")})  # fmt: skip
def seal_squeeze(seal_section: float, gland_depth: float) -> float:
    return o_ring_squeeze(seal_section, gland_depth)


SQUEEZE_BASIS = "most linear compression of a ring at rest, Mechanical Engineers' Handbook; more rolls or cuts it"


@SHEET.check("seal_squeeze", "Squeeze of the O-rings", kind="share", basis=SQUEEZE_BASIS, when=_glanded)
def squeezed(seal_squeeze: float) -> Against | Rule:
    if seal_squeeze <= 0:
        return Rule("fails", "the gland is deeper than the ring is thick: it does not seal")
    return Against(seal_squeeze, SQUEEZE_STATIC)


# the jacks


@SHEET.result(kind="force", title="STOP force", symbol="F_stop", formula="1.3 F_high, or a jump of 25 %", source=COMMON,
              puts={"F_high": ("push_force_high", "force")})  # fmt: skip
def stop_force(push_force_high: float) -> float | None:
    return stop(push_force_high) if push_force_high > 0 else None


def _pushing(stop_force: float | None = None) -> bool:
    """Nothing is asked of jacks before the push is known, nor of a bundle that runs in by itself."""
    return stop_force is not None


@SHEET.result(kind="pressure", title=JACK_TITLE, symbol="p", formula="F_high / (n A)", source="Pascal", when=_pushing,
              puts={"F_high": ("push_force_high", "force"), "n": ("jacks", "count"), "A": ("jack_area", "area")})  # fmt: skip
def jack_pressure(push_force_high: float, jacks: int, jack_area: float) -> float:
    return pressure_of_jacks(push_force_high, jack_area, jacks)


@SHEET.result(kind="pressure", title="Jack pressure at the STOP force", symbol="p_stop", formula="F_stop / (n A)",
              source="Pascal", when=_pushing,
              puts={"F_stop": ("stop_force", "force"), "n": ("jacks", "count"), "A": ("jack_area", "area")})  # fmt: skip
def stop_pressure(stop_force: float, jacks: int, jack_area: float) -> float:
    return pressure_of_jacks(stop_force, jack_area, jacks)


@SHEET.check("jack_pressure", JACK_TITLE, kind="pressure", basis=PASCAL, when=_pushing)
def within_the_jacks(jack_pressure: float, jack_max_pressure: float) -> Against:
    return Against(jack_pressure, jack_max_pressure)


def _several(jacks: int) -> bool:
    return jacks > 1


@SHEET.result(kind="length", title="Greatest lead of one jack over the other", symbol="s", formula="as planned",
              source=COMMON, when=_several)  # fmt: skip
def jack_lead(lead_given: float) -> float:
    return lead_given


@SHEET.result()
def relief(stop_pressure: float, jack_max_pressure: float, context: Context) -> str:
    """What the relief valve is set to, in words."""
    return show(min(stop_pressure, jack_max_pressure), "pressure", context.system)


@SHEET.note()
def relief_valve(relief: str) -> str:
    return f"Set the pump's relief valve to {relief}, so that it stops by itself."


@SHEET.result(kind="count", title="Jack strokes", symbol="N", formula="distance / stroke, rounded up", source="geometry",
              puts={"distance": ("distance", "length"), "stroke": ("jack_stroke", "length")})  # fmt: skip
def strokes(distance: float, jack_stroke: float) -> float:
    return strokes_of_jacks(distance, jack_stroke)


@SHEET.check("strokes", "Jack strokes", quiet=True)
def strokes_known(strokes: float) -> None:
    """Only says what physics refuses."""


# the log


@SHEET.result(when=_pushing)
def judged_log(
    insertion: Insertion, stop_force: float, push_force_high: float, context: Context
) -> tuple[tuple[float, LogVerdict], ...] | None:
    """The force log, if there is one, each reading with its verdict against the prediction."""
    log = context.observed.get(insertion.id, "force_log")
    if not log:
        return None
    forces = tuple(counted(float(force), None, stop_force, "force") for force in log)
    return tuple(zip(forces, judge_log(forces, push_force_high), strict=True))


def _stopped(judged_log: tuple[tuple[float, LogVerdict], ...]) -> bool:
    return any(verdict.stop for _, verdict in judged_log)


def _went_on(judged_log: tuple[tuple[float, LogVerdict], ...]) -> bool:
    return not _stopped(judged_log)


LOG_BASIS = f"STOP force 1.3 times the greatest prediction, or a jump of {STOP_JUMP * 100:.0f} %: {COMMON}"


@SHEET.check("force_log", "Greatest logged push force", kind="force", basis=LOG_BASIS, when=_went_on, quiet=True)
def log_within(judged_log: tuple[tuple[float, LogVerdict], ...], stop_force: float) -> Against:
    return Against(max(force for force, _ in judged_log), stop_force)


@SHEET.check("force_log", "Force log", basis=LOG_BASIS, when=_stopped, quiet=True)
def log_stopped(judged_log: tuple[tuple[float, LogVerdict], ...], context: Context) -> Rule:
    place, (force, verdict) = next((n, each) for n, each in enumerate(judged_log, 1) if each[1].stop)
    return Rule("fails", f"reading {place}, {show(force, 'force', context.system)}: {verdict.reason}")


# the tracks: places count backwards from the leading end, the physics counts forwards along the track


@SHEET.result()
def front(supports: tuple[float, float]) -> float:
    """Place of the front support behind the leading end, m."""
    return min(supports)


@SHEET.result()
def rear(supports: tuple[float, float]) -> float:
    return max(supports)


@SHEET.result()
def weight(mass: float) -> float:
    return mass * GRAVITY


TRACK_PUTS = {"W": ("weight", "force"), "x_c": ("centre", "length"), "x_front": ("front", "length"),
              "x_rear": ("rear", "length")}  # fmt: skip


@SHEET.result()
def reactions(weight: float, centre: float, front: float, rear: float) -> TrackReactions:
    return track_reactions(weight, -centre, -rear, -front)


@SHEET.result(kind="force", title="Front support", symbol="R_front", formula="W (x_c − x_rear)/(x_front − x_rear)",
              source="statics", puts=TRACK_PUTS)  # fmt: skip
def track_front(reactions: TrackReactions, weight: float, centre: float, front: float, rear: float) -> float:
    return reactions.front


@SHEET.result(
    kind="force", title="Rear support", symbol="R_rear", formula="W − R_front", source="statics", puts=TRACK_PUTS
)
def track_rear(reactions: TrackReactions, weight: float, centre: float, front: float, rear: float) -> float:
    return reactions.rear


def _stands(reactions: TrackReactions) -> bool:
    return not reactions.lifts


def _tips(reactions: TrackReactions) -> bool:
    return reactions.lifts


@SHEET.result(kind="force", title="Greater load of the two supports", symbol="R_max", formula="larger of the two",
              source="statics", when=_stands)  # fmt: skip
def track_greatest(reactions: TrackReactions) -> float:
    return max(reactions.front, reactions.rear)


@SHEET.result(kind="length", title="Travel after which it tips over a standing front support", symbol="x_tip",
              formula="x_front − x_c", source="statics", when=_stands,
              puts={"x_front": ("front", "length"), "x_c": ("centre", "length")})  # fmt: skip
def overhang_travel(centre: float, front: float) -> float:
    return overhang_limit(-centre, -front)


@SHEET.check("tipping", "Bundle on its supports", basis="statics", when=_tips, quiet=True)
def tips(reactions: TrackReactions) -> Rule:
    return Rule("fails", "its centre of gravity lies outside the two supports: it tips")


def _rated(insertion: Insertion) -> bool:
    return insertion.track_capacity is not None


@SHEET.check("tracks", "Load on one support of the track", kind="capacity", basis=TRAVELLING, when=_rated)
def within_the_track(mass: float, track_greatest: float, track_capacity: float) -> Against:
    return Against(track_greatest, track_capacity)


@SHEET.note()
def standing_supports(overhang_travel: float, distance: float, context: Context) -> str | None:
    if distance <= overhang_travel:
        return None
    tips_after = show(overhang_travel, "length", context.system)
    return (
        f"The supports are taken to travel with the bundle. If they stand still, its centre of gravity passes the front one "
        f"after {tips_after}: the front one then carries the whole weight, and the leading end must have "
        "landed in the casing before that."
    )


# cautions


@SHEET.caution("jack")
def jack_figure(hold_back: str) -> str:
    return f"Falling track: fit the hold-back for {hold_back} before the bundle is let go."


@SHEET.caution("hydraulic-energy")
def stop_figure(relief: str) -> str:
    return f"Stop and look for the cause at {relief}."


@SHEET.caution("pinch")
def pinch() -> None:
    """No figure."""


@SHEET.caution("jack-off")
def jack_off() -> None:
    """No figure."""
