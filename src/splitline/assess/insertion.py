"""Pushing a bundle in: push force band, STOP force, jacks, tracks."""

from __future__ import annotations

from typing import Any

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.result import ItemResult
from splitline.fitting.insertion import (
    GRAVITY,
    STOP_JUMP,
    Push,
    judge_log,
    overhang_limit,
    push_force,
    stop_force,
    track_reactions,
)
from splitline.fitting.jacks import jack_pressure, strokes
from splitline.plan.model import Insertion
from splitline.record.judged import counted

COMMON = "common practice, no published source"


def assess_insertion(insertion: Insertion, ctx: Context) -> ItemResult:
    """One insertion. Readings of the force log come as observed ``force_log``: forces in N, in order."""
    bench = Bench("insertion", insertion.id, insertion.title, ctx.system)
    bench.caution("jack")
    bench.caution("hydraulic-energy")
    bench.caution("pinch")
    bench.caution("jack-off")
    with bench.guard("push_force", "Push force"):
        pushed = _push(insertion, bench)
        if pushed is not None:
            low, high = pushed
            _forces(insertion, low, high, bench)
            _log(insertion, high.total, bench, ctx)
    with bench.guard("strokes", "Jack strokes"):
        if insertion.distance is not None and insertion.jack_stroke is not None:
            count = strokes(insertion.distance, insertion.jack_stroke)
            puts = {"distance": (insertion.distance, "length"), "stroke": (insertion.jack_stroke, "length")}
            bench.put("strokes", count, puts)
    with bench.guard("tracks", "Load on the tracks"):
        _tracks(insertion, bench)
    return bench.done()


def _ends(value: float | tuple[float, float]) -> tuple[float, float]:
    return value if isinstance(value, tuple) else (value, value)


def _push(insertion: Insertion, bench: Bench) -> tuple[Push, Push] | None:
    """Least and greatest push force; None after saying what is missing."""
    needs = [name for name in ("mass", "friction", "seals") if getattr(insertion, name) is None]
    if insertion.seals:
        needs += [name for name in ("seal_diameter", "seal_drag") if getattr(insertion, name) is None]
    if insertion.mass is None or insertion.friction is None or needs:
        note = f"needs {', '.join(needs)}; without O-rings seals is 0; friction may be a pair, as in [0.10, 0.15]"
        bench.missing("push_force", "Push force", needs, "statics", note, kind="force")
        return None
    frictions, drags = _ends(insertion.friction), _ends(insertion.seal_drag or 0.0)
    slope = insertion.track_slope
    if slope is None:
        slope = 0.0
        bench.default("track_slope", "0°", "level tracks; measure them")
    count, diameter = insertion.seals or 0, insertion.seal_diameter or 0.0
    if min(frictions) == max(frictions):
        bench.note("One friction value is given: a band [low, high] shows what the log should be judged by.")
    low = push_force(insertion.mass, min(frictions), slope, count, diameter, min(drags))
    high = push_force(insertion.mass, max(frictions), slope, count, diameter, max(drags))
    return low, high


def _forces(insertion: Insertion, low: Push, high: Push, bench: Bench) -> None:
    frictions, drags = _ends(insertion.friction or 0.0), _ends(insertion.seal_drag or 0.0)

    def puts(end: Any) -> dict[str, tuple[float | str | None, str]]:
        return {
            "m": (insertion.mass, "mass"),
            "μ": (end(frictions), "number"),
            "α": (insertion.track_slope or 0.0, "angle"),
            "n": (insertion.seals, "count"),
            "D": (insertion.seal_diameter, "length"),
            "f": (end(drags) if insertion.seals else None, "line_load"),
        }

    bench.put("push_force_low", low.total, puts(min))
    bench.put("push_force_high", high.total, puts(max))
    bench.put("push_force_free", high.total - high.seals)
    bench.put("seal_force", high.seals)
    if low.friction + low.slope < 0:
        back = bench.show(-(low.friction + low.slope), "force")
        note = f"the bundle runs down by itself: a brake or a winch must hold back {back} until the seals grip"
        bench.near("hold_back", "Bundle on a falling track", "statics", note)
        bench.caution("jack", f"Falling track: fit the hold-back for {back} before the bundle is let go.")
    if high.total <= 0:
        return
    stop = stop_force(high.total)
    bench.put("stop_force", stop, {"F_high": (high.total, "force")})
    _jacks(insertion, high.total, stop, bench)


def _jacks(insertion: Insertion, high: float, stop: float, bench: Bench) -> None:
    title, basis = "Jack pressure at the greatest push force", "Pascal; greatest push force"
    needs = [name for name in ("jack_area", "jack_max_pressure") if getattr(insertion, name) is None]
    jacks = insertion.jacks
    if jacks is None:
        needs.insert(0, "jacks")
    if insertion.jack_area is not None and jacks is not None:
        puts = {"n": (jacks, "count"), "A": (insertion.jack_area, "area")}
        pressure = jack_pressure(high, insertion.jack_area, jacks)
        at_stop = jack_pressure(stop, insertion.jack_area, jacks)
        bench.put("jack_pressure", pressure, {"F_high": (high, "force")} | puts)
        bench.put("stop_pressure", at_stop, {"F_stop": (stop, "force")} | puts)
        if insertion.jack_max_pressure is not None:
            limit = insertion.jack_max_pressure
            bench.at_most("jack_pressure", title, pressure, limit, "pressure", basis)
            bench.note(
                f"Set the pump's relief valve to {bench.show(min(at_stop, limit), 'pressure')}, so that it stops by itself."
            )
            bench.caution(
                "hydraulic-energy", f"Stop and look for the cause at {bench.show(min(at_stop, limit), 'pressure')}."
            )
    if needs:
        bench.missing("jack_pressure", title, needs, basis, kind="pressure")


def _log(insertion: Insertion, high: float, bench: Bench, ctx: Context) -> None:
    """The force log, if there is one, against prediction."""
    log = ctx.observed.get(insertion.id, "force_log")
    if not log or high <= 0:
        return
    forces = tuple(counted(float(force), None, stop_force(high), "force") for force in log)
    judged = judge_log(forces, high)
    bench.extra["force_log"] = tuple(zip(forces, judged, strict=True))
    basis = f"STOP force 1.3 times the greatest prediction, or a jump of {STOP_JUMP * 100:.0f} %: {COMMON}"
    stopped = next((i for i, verdict in enumerate(judged) if verdict.stop), None)
    if stopped is None:
        bench.at_most("force_log", "Greatest logged push force", max(forces), stop_force(high), "force", basis)
    else:
        note = f"reading {stopped + 1}, {bench.show(forces[stopped], 'force')}: {judged[stopped].reason}"
        bench.fails("force_log", "Force log", basis, note)


def _tracks(insertion: Insertion, bench: Bench) -> None:
    """Reactions of the two supports, which travel with the bundle, and when it would tip over standing ones."""
    given = insertion.centre is not None and insertion.supports is not None and insertion.mass is not None
    title, basis = "Load on one support of the track", "statics, two supports that travel with the bundle"
    if not given:
        if insertion.track_capacity is not None:
            needs = [name for name in ("mass", "centre", "supports") if getattr(insertion, name) is None]
            bench.missing("tracks", title, needs, basis, kind="capacity")
        return
    assert insertion.centre is not None
    assert insertion.supports is not None
    assert insertion.mass is not None
    weight = insertion.mass * GRAVITY
    # Places count backwards from the leading end; the physics counts forwards along the track.
    front, rear = -min(insertion.supports), -max(insertion.supports)
    start = track_reactions(weight, -insertion.centre, rear, front)
    puts = {
        "W": (weight, "force"),
        "x_c": (insertion.centre, "length"),
        "x_front": (-front, "length"),
        "x_rear": (-rear, "length"),
    }
    bench.put("track_front", start.front, puts)
    bench.put("track_rear", start.rear, puts)
    if start.lifts:
        bench.fails(
            "tipping", "Bundle on its supports", "statics", "its centre of mass lies outside the two supports: it tips"
        )
        return
    bench.put("track_greatest", max(start.front, start.rear))
    if insertion.track_capacity is not None:
        greatest = max(start.front, start.rear)
        bench.at_most("tracks", title, greatest, insertion.track_capacity, "capacity", basis)
    tips_after = overhang_limit(-insertion.centre, front)
    bench.put("overhang_travel", tips_after, {"x_front": (-front, "length"), "x_c": (insertion.centre, "length")})
    if insertion.distance is not None and insertion.distance > tips_after:
        bench.note(
            f"The supports are taken to travel with the bundle. If they stand still, its centre of mass passes the front one "
            f"after {bench.show(tips_after, 'length')}: the front one then carries the whole weight, and the leading end must have "
            "landed in the casing before that."
        )
