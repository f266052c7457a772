"""The drawings of a lift: side, from above, chain of parts, upending."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Any

from splitline.assess.lift_told import LegLoad
from splitline.assess.lift_told import Picture as Hung
from splitline.assess.result import Check, ItemResult
from splitline.plan.model import Lift
from splitline.ui import marks
from splitline.ui.card.checks import usage_bar, worst_first
from splitline.ui.card.facts import Picture
from splitline.ui.draw.curves import Curve, curves
from splitline.ui.draw.lift import LiftScene, Line3, Point, box_round, lift_plan, lift_side, one_scale
from splitline.ui.draw.rows import Row, beside, clean, fit, fit_row, wrap
from splitline.ui.scenes.view import View
from splitline.units import System, show

_TURNS = 8  # an eighth of a round for each arrow


def lift_views(lift: Lift, result: ItemResult | None, system: System) -> tuple[View, ...]:
    """Views that can be drawn of what is known."""
    found: list[View] = []
    scene = lift_scene(lift, result, system)
    if scene is not None:
        found.append(
            View("s", "side and above", lambda w, h, f: _both(scene, result, system, w, h, f), _TURNS, why="hook")
        )
        found.append(View("l", "side", lambda w, h, f: lift_side(scene, w, h, _turn(f)), _TURNS, why="leg_tension"))
        found.append(View("a", "from above", lambda w, h, f: lift_plan(scene, w, h, _turn(f)), _TURNS, why="centre"))
    if result is not None and result.checks:
        many = len(result.checks) + sum(len(parts) + 1 for parts in result.lift.chains)
        found.append(
            View("c", "chain of parts", lambda w, h, f: _chain(lift, result, system, w, h, f), max(many - 8, 1))
        )
    if (result is not None) and len(result.results.get("upend_angles", ())) > 1:
        found.append(View("e", "upending", lambda w, h, f: _upending(lift, result, system, w, h), why="upend_head"))
    return tuple(found)


def lift_card(lift: Lift, result: ItemResult | None) -> Picture | None:
    """The small side view beside the results."""
    scene = lift_scene(lift, result, "SI")
    return None if scene is None else lambda w, h: lift_side(scene, w, h, words=False)


def _turn(frame: int) -> float:
    return frame * 2 * math.pi / _TURNS


def lift_scene(lift: Lift, result: ItemResult | None, system: System) -> LiftScene | None:
    """The load as it hangs; as drawn while nothing has come out. None without legs."""
    picks = [leg.pick for leg in lift.leg if leg.pick is not None]
    if not picks or len(picks) != len(lift.leg):
        return None
    results: Any = result.results if result is not None else {}
    hung = result.lift.picture if result is not None else None
    centre = _point(results.get("centre"))
    hook = _point(results.get("hook")) or _drawn_hook(lift, picks, centre)
    up = hung.up if hung is not None else (_between(centre, hook) if centre is not None else (0.0, 0.0, 1.0))
    parts = tuple(p.at for p in lift.part if p.at is not None and not isinstance(p.at, str))
    tops, beam, upper = _spreader(lift, hung, hook, len(picks))
    legs = tuple(
        Line3(
            top,
            pick,
            _said(lift, result.legs if result is not None else (), number, system),
            lift.leg[number].name or str(number + 1),
            _style(result, number),
        )
        for number, (top, pick) in enumerate(zip(tops, picks, strict=True))
    )
    return LiftScene(
        hook=hook,
        up=up,
        centre=centre,
        legs=legs,
        upper=upper,
        beam=beam,
        parts=parts if len(parts) > 1 else (),
        outline=box_round([*picks, *parts]),
        shift=lift.centre_shift or 0.0,
    )


def _point(value: Any) -> Point | None:
    if value is None or isinstance(value, str) or len(value) != 3:
        return None
    return (float(value[0]), float(value[1]), float(value[2]))


def _drawn_hook(lift: Lift, picks: Sequence[Point], centre: Point | None) -> Point:
    """Where the plan puts the hook, or two metres above the picks."""
    if lift.hook is not None and lift.hook.at is not None:
        return lift.hook.at
    above = lift.hook.above_picks if lift.hook is not None and lift.hook.above_picks else 2.0
    x = centre[0] if centre else sum(p[0] for p in picks) / len(picks)
    y = centre[1] if centre else sum(p[1] for p in picks) / len(picks)
    return (x, y, max(p[2] for p in picks) + above)


def _between(a: Point, b: Point) -> Point:
    return (b[0] - a[0], b[1] - a[1], b[2] - a[2])


_Beam = tuple[list[Point], tuple[tuple[Point, Point], ...], tuple[Line3, ...]]


def _spreader(lift: Lift, hung: Hung | None, hook: Point, legs: int) -> _Beam:
    """Upper ends of the legs, edges of the beam, slings above it."""
    upper, lower = (hung.beam_upper, hung.beam_lower) if hung is not None else ((), ())
    if lift.spreader is None or not lower:
        return [hook] * legs, (), ()
    tops = [lower[min((leg.beam_point or 1) - 1, len(lower) - 1)] for leg in lift.leg]
    edges = tuple((a, b) for points in (upper, lower) for a, b in itertools.pairwise(points))
    edges += tuple(zip(upper, lower, strict=False))
    return tops, edges, tuple(Line3(hook, top, "", "", "dim") for top in upper)


def _said(lift: Lift, legs: Sequence[LegLoad], number: int, system: System) -> str:
    """Tensions of a leg, each named, and its angle both ways, so that nobody takes one for the other."""
    if number >= len(legs):
        return ""
    name, leg = clean(lift.leg[number].name or ""), legs[number]
    name = name if 0 < len(name) <= 14 else f"leg {number + 1}"
    parts = [f"{name}  {leg.governing_said(system)}", leg.nominal_said(system)]  # what governs, where one line has room
    for angle, word in ((leg.angle, "horizontal"), (math.pi / 2 - leg.angle, "vertical")):
        parts.append(f"{math.degrees(angle):.1f}° to {word}")
    return "\n".join(parts)


def _style(result: ItemResult | None, number: int) -> str:
    """A leg wears the state of its weakest part."""
    picture = result.lift.picture if result is not None else None
    usages = picture.usage if picture is not None else ()
    usage = usages[number] if number < len(usages) else None
    if usage is None or usage <= 0.9:
        return "text"
    return "near" if usage <= 1 else "fails"


def _both(
    scene: LiftScene, result: ItemResult | None, system: System, width: int, height: int, frame: int
) -> list[Row]:
    """Side view and view from above to one scale, beside or over one another, with what matters of the hang."""
    turn = _turn(frame)
    wide = width >= 110
    left = width * 3 // 5 if wide else width // 2
    facts = _facts(result, system, width - left - 3)
    if wide:
        upper = max(min((height - len(facts) - 1) * 2 // 3, height - 2), 6)
        per = one_scale(scene, (left, height), (width - left - 2, upper), turn)
        plan = lift_plan(scene, width - left - 2, upper, turn, most=per)
        return beside(lift_side(scene, left, height, turn, most=per), [*plan, (), *facts], left)
    upper = height * 3 // 5
    per = one_scale(scene, (width, upper), (left, height - upper), turn)
    side = lift_side(scene, width, upper, turn, most=per)
    room = height - upper
    if len(facts) > room:
        facts = [*facts[: room - 1], (("… the rest stands on the card", "dim"),)]
    return [*side, *beside(lift_plan(scene, left, room, turn, most=per), facts, left)]


def _facts(result: ItemResult | None, system: System, width: int) -> list[Row]:
    if result is None:
        return []
    rows: list[Row] = []
    wanted = (
        ("mass", "mass", "mass"), ("hook_load", "hook load", "force"), ("crane_load", "crane load", "force"),
        ("tilt", "tilt", "angle"), ("tilt_worst", "tilt, worst", "angle"),
        ("pick_line_tilt", "slope of the picks", "angle"), ("spigot_tilt", "spigot allows", "angle"),
        ("headroom", "headroom", "length"),
    )  # fmt: skip
    for key, word, kind in wanted:
        value = result.results.get(key)
        if isinstance(value, int | float):
            rows.append(((fit(word, 15), "label"), (show(value, kind, system), "number")))
    if result.notes:
        rows.append(())
    rows += [((part, "dim"),) for note in result.notes for part in wrap(note, max(width, 12), 4)]
    return rows


def _chain(lift: Lift, result: ItemResult, system: System, width: int, height: int, frame: int) -> list[Row]:
    """From hook to load, leg by leg: every part with its share of what it may carry, the weakest of each leg marked."""
    rows: list[Row] = []
    bar = max(width // 6, 10)
    name = max(min(width - bar - 44, 44), 14)
    for number, parts in enumerate(result.lift.chains):
        leg = lift.leg[number].name if number < len(lift.leg) else None
        rows.append(((f" leg {number + 1}", "head"), (f"  {clean(leg)}" if leg else "", "strong")))
        weakest = max((p.usage or 0.0 for p in parts), default=0.0)
        for part in parts:
            usage = part.usage
            style = "missing" if usage is None else "fails" if usage > 1 else "near" if usage > 0.9 else "ok"
            mark = "weakest" if usage is not None and usage == weakest else ""
            figure = f"{usage:6.2f}  " if usage is not None and math.isfinite(usage) else "  none  "
            capacity = show(part.capacity, "capacity", system) if part.capacity is not None else "rating not given"
            said = f"{show(part.demand, 'force', system)} of {capacity}"
            head = ((fit(f"   {clean(part.name)}", name), "strong" if mark else ""),)
            rows.append(
                fit_row(
                    (*head, *usage_bar(usage, bar, style), (figure, style), (f"{said}  ", "dim"), (mark, style)), width
                )
            )
    rows.append(())
    rows += [
        _line(check, width, bar, name, system) for check in worst_first(result.checks) if check.key != "leg_capacity"
    ]
    start = min(frame, max(len(rows) - height + 1, 0))
    return rows[start : start + height]


def _line(check: Check, width: int, bar: int, name: int, system: System) -> Row:
    style = marks.style(check.verdict)
    usage = f"{check.usage:6.2f}  " if check.usage is not None else "        "
    said = clean(check.said(system))
    head = ((f" {marks.shape(check.verdict)} ", style), (fit(clean(check.title), name - 3), ""))
    return fit_row((*head, *usage_bar(check.usage, bar, style), (usage, style), (said, "dim")), width)


def _upending(lift: Lift, result: ItemResult, system: System, width: int, height: int) -> list[Row]:
    """Loads of head and tail from lying to standing."""
    results: Any = result.results
    angles = [float(a) for a in results["upend_angles"]]
    found = []
    for key, name, style in (("upend_head", "head", "accent"), ("upend_tail", "tail", "near")):
        values = results.get(key)
        if values:
            low, high = results.get(f"{key}_low") or (), results.get(f"{key}_high") or ()
            limit = lift.tail.capacity if lift.tail is not None and key == "upend_tail" else None
            said = f"tail capacity {show(limit, 'force', system)}" if limit else ""
            found.append(Curve(name, values, style, low, high, limit, said))
    most = max((v for c in found for v in c.values), default=1.0)
    levels = [(most * s, show(most * s, "force", system)) for s in (0.25, 0.5, 0.75, 1.0)]
    ticks = [(a, show(a, "angle", system, digits=0)) for a in angles[:: max(len(angles) // 6, 1)]]
    title = " hook loads against the angle upended"
    for curve in found:
        ends = [show(v, "force", system) for v in (curve.values[0], curve.values[-1])]
        said = f"   {curve.name} {ends[0]} to {ends[1]}"
        title += said if len(title) + len(said) < width else ""
    if any(c.low for c in found) and len(title) + 29 < width:
        title += "   dotted: with tolerances"
    return curves(angles, found, width, height, ticks=ticks, levels=levels, title=title)
