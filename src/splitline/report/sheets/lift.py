"""The sheet of a lift: two views to scale, legs with angles both ways and tensions, fittings, crane, tilt, hold points."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from typing import Any

from splitline.assess.lift_told import LegLoad, tilt_words
from splitline.assess.result import Check, ItemResult
from splitline.library.rigging import SLING
from splitline.plan.model import Lift, Plan
from splitline.plan.model.lift import Leg
from splitline.report.blocks import (
    MISSING,
    Align,
    Beside,
    Blank,
    Block,
    Cell,
    Facts,
    Para,
    Picture,
    Sheet,
    Strong,
    Table,
    row,
)
from splitline.report.kit_lines.line import rated
from splitline.report.pictures.lift_views import DrawnLeg, Hung, Point, side_and_plan
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.units import System, show

UPRIGHT = math.pi / 2


def lift_sheet(lift: Lift, result: ItemResult, plan: Plan, options: Options) -> Sheet:
    """The sheet of one lift."""
    blocks: list[Block] = [*common.cautions_of(result), *common.broken(result, options.system)]
    blocks += [*_pictures(lift, result, options)]
    blocks += [Beside((load_facts(lift, result, options),), (hook_facts(lift, result, options),), 0.5)]
    blocks += [*_weakest(result, options), *_legs(lift, result, options), *common.to_watch(result, options.system)]
    blocks += [*_parts(lift, result, options), *_out_of_use(result), *_upend(lift, result, options)]
    blocks += [_before(lift, result, options.system)]
    blocks += common.signs(
        plan, "lift", lift.id, (f"Trial lift {_trial(options)}, level and rigging looked at", "lifting supervisor")
    )
    blocks += common.notes_of(result, lift.notes)
    return Sheet("lift", lift.id, lift.title, tuple(blocks), "Lift sheet")


def _trial(options: Options) -> str:
    """How far a trial lift goes: common practice, no published source."""
    return "20 to 50 mm" if options.system == "SI" else "1 to 2 in"


def _pictures(lift: Lift, result: ItemResult, options: Options) -> list[Block]:
    hung = hung_of(lift, result, options.system)
    if hung is None:
        why = "The views are missing: hook or pick points are not known."
        return [Facts((("Side view and plan", MISSING),)), Para(why, "strong")]
    wide = (options.room - 4) / 2
    side, plan = side_and_plan(hung, wide, 92, options.paper.zoom)
    return [
        Beside((Picture(side),), (Picture(plan),), 0.5),
        common.small("Dashed box: round pick points and parts, not the load's outline. ◆ centre of gravity, + parts."),
    ]


def hung_of(lift: Lift, result: ItemResult, system: System = "SI") -> Hung | None:
    """What the views show; None while hook, centre or pick points are not known."""
    results = result.results
    hook, centre = _point(results.get("hook")), _point(results.get("centre"))
    picks = [leg.pick for leg in lift.leg]
    hung = result.lift.picture
    if hook is None or not picks or any(pick is None for pick in picks):
        return None
    tops = hung.tops if hung is not None else (hook,) * len(picks)
    legs = tuple(
        DrawnLeg(top, pick, str(number + 1), _said(result.legs, number, system))
        for number, (top, pick) in enumerate(zip(tops, picks, strict=True))
        if pick is not None
    )
    up = hung.up if hung is not None else (0.0, 0.0, 1.0)
    parts = tuple(part.at for part in lift.part if isinstance(part.at, tuple))
    upper, beam = _spreader(result, hook)
    tail = (lift.tail.pick,) if lift.tail is not None and lift.tail.pick is not None else ()
    return Hung(hook, up, centre, legs, upper, beam, parts, lift.centre_shift or 0.0, tail, system)


def _spreader(result: ItemResult, hook: Point) -> tuple[tuple[DrawnLeg, ...], tuple[tuple[Point, Point], ...]]:
    upper = result.lift.picture.beam_upper if result.lift.picture is not None else ()
    lower = result.lift.picture.beam_lower if result.lift.picture is not None else ()
    beam = tuple(itertools.pairwise(upper)) + tuple(itertools.pairwise(lower))
    return tuple(DrawnLeg(hook, point, "") for point in upper), beam


def _point(value: Any) -> Point | None:
    return (
        (float(value[0]), float(value[1]), float(value[2]))
        if isinstance(value, list | tuple) and len(value) == 3
        else None
    )


def _points(value: Any, count: int | None = None) -> list[Point] | None:
    if value is None or (count is not None and len(value) != count):
        return None
    found = [_point(list(point)) for point in value]
    return [point for point in found if point is not None] if all(point is not None for point in found) else None


def _said(legs: Sequence[LegLoad], number: int, system: System) -> str:
    """Both tensions of a leg, named, and its angle from the horizontal, as they stand along it."""
    if number >= len(legs):
        return ""
    leg = legs[number]
    return f"{leg.governing_said(system)}\n{leg.nominal_said(system)}, {show(leg.angle, 'angle', system, digits=0)}"


def load_facts(lift: Lift, result: ItemResult, options: Options) -> Facts:
    """The load: mass, centre, tilt."""
    results, system = result.results, options.system
    basis = lift.mass_basis or (f"margin {lift.mass_margin:.0%}" if lift.mass_margin is not None else None)
    return common.facts(
        [
            ("Mass", common.strong(common.cell(results, "mass", "lift", system))),
            ("Mass known by", common.given(basis)),
            ("Centre of gravity x, y, z", _place(results.get("centre"), options)),
            (
                "Tolerance of the centre of gravity",
                common.shown(lift.centre_shift, "length", system) if lift.centre_shift else None,
            ),
            ("Hook x, y, z", _place(results.get("hook"), options)),
            ("Tilt as hung", tilt_said(results.get("tilt"), system)),
            ("Tilt at worst, with tolerances", common.strong(tilt_said(results.get("tilt_worst"), system))),
            *_spigot(lift, results, options),
        ]
    )


def _spigot(lift: Lift, results: Mapping[str, Any], options: Options) -> list[tuple[str, Cell | None]]:
    if lift.spigot is None:
        return []
    system = options.system
    return [
        ("Tilt allowed at the spigot", common.strong(tilt_said(results.get("spigot_tilt"), system))),
        ("One link or turn of an adjuster", _step(results, system)),
        ("Diametral clearance", common.shown(lift.spigot.clearance, "length", system)),
        ("Engagement", common.shown(lift.spigot.engagement, "length", system)),
        ("Guide pins beyond the face", common.shown(lift.spigot.guide_pin_length, "length", system)),
    ]


def tilt_said(value: Any, system: System) -> Cell:
    """An angle as it is computed and as a spirit level shows it."""
    return f"{show(value, 'angle', system)}, {tilt_words(value, system)}" if isinstance(value, float) else MISSING


def _step(results: Mapping[str, Any], system: System) -> Cell | None:
    steps = [tilt for tilt in results.get("step_tilt", ()) if tilt]
    return tilt_words(min(steps), system) if steps else None


def _place(value: Any, options: Options) -> Cell:
    point = _point(value)
    return MISSING if point is None else ", ".join(show(part, "length", options.system) for part in point)


def hook_facts(lift: Lift, result: ItemResult, options: Options) -> Facts:
    """Hook and crane: loads and room."""
    results, system, crane = result.results, options.system, lift.crane
    rows: list[tuple[str, Cell | None]] = [
        ("Load cell, hanging still", _still(results, system)),
        ("Hook load with margin and dynamics", common.cell(results, "hook_load", "lift", system)),
        ("Crane", (crane.name or Blank("on site")) if crane is not None else MISSING),
        ("Crane load", common.strong(common.cell(results, "crane_load", "lift", system))),
        ("Crane usage", _percent(results.get("crane_usage"))),
        ("Working radius", _radius(lift, system)),
        ("Headroom", common.cell(results, "headroom", "lift", system)),
        *_wind(lift, results, system),
        *_beam(lift, results, system),
    ]
    if crane is not None:
        rows += [
            ("Rated", common.capacity(crane.capacity, system) if crane.capacity is not None else None),
            ("Hook block", common.shown(crane.block, "mass", system) if crane.block is not None else None),
            ("Rigging", common.shown(crane.rigging, "mass", system) if crane.rigging is not None else None),
        ]
    return common.facts(rows)


def _wind(lift: Lift, results: Mapping[str, Any], system: System) -> list[tuple[str, Cell | None]]:
    """The wind it may be done in, told where the plan names one."""
    if lift.wind_force is None and lift.wind_speed is None and lift.wind_area is None:
        return []
    return [
        ("Wind at most", common.shown(lift.wind_speed, "velocity", system) if lift.wind_speed is not None else None),
        ("Line off the vertical in it", common.cell(results, "wind_angle", "lift", system)),
        ("Radius grows by", common.cell(results, "wind_radius", "lift", system)),
    ]


def _beam(lift: Lift, results: Mapping[str, Any], system: System) -> list[tuple[str, Cell | None]]:
    """Spreader or lifting beam: what is marked on it and what it carries at worst."""
    beam = lift.spreader
    if beam is None:
        return []
    worst = results.get("upper_tension_worst")
    return [
        ("Beam, rated", common.capacity(beam.capacity, system) if beam.capacity is not None else MISSING),
        ("Upper sling, governing", common.shown(max(worst) if worst else None, "force", system)),
        ("Beam pressed by up to", common.cell(results, "spreader_compression_worst", "lift", system)),
        ("Beam bent by up to", common.cell(results, "spreader_bending_worst", "lift", system)),
    ]


LACKING = ("leg_capacity", "fitting")


def _percent(value: Any) -> Cell:
    return f"{value:.0%}" if isinstance(value, int | float) else MISSING


def _radius(lift: Lift, system: Any) -> Cell | None:
    crane = lift.crane
    if crane is None or not crane.rating:
        return None if crane is None or crane.radius is None else common.shown(crane.radius, "length", system)
    return show(crane.radius, "length", system) if crane.radius is not None else Blank("on site")


RATED = (
    "leg_capacity", "spreader_rated", "spreader_upper", "spreader_compression", "spreader_bending", "hook", "upend_tail",
    "upend_fitting", "crane_usage",
)  # fmt: skip


def weakest_of(result: ItemResult) -> Check | None:
    """The check of a rated part, crane and hook included, with the highest usage; a leg without a rating leaves it open."""
    rated_parts = [check for check in result.checks if check.key in (*RATED, "fitting")]
    if any(check.verdict in ("missing", "on-site") for check in rated_parts):
        return None
    used = [check for check in rated_parts if check.usage is not None or check.verdict == "fails"]
    unrated = [check for check in used if check.usage is None]
    if unrated:
        return unrated[0]
    return max(used, key=lambda check: check.usage or 0.0, default=None)


def _weakest(result: ItemResult, options: Options) -> list[Block]:
    found = weakest_of(result)
    if found is None:
        return [Facts((("Weakest part", MISSING),))]
    usage = f", usage {found.usage:.2f}" if found.usage is not None else ""
    said = f"{found.title.replace(': weakest part,', ':')}: {common.check_said(found, options.system)}{usage}"
    return [Facts((("Weakest part", Strong(said)),))]


def _legs(lift: Lift, result: ItemResult, options: Options) -> list[Block]:
    results, system = result.results, options.system
    if not lift.leg:
        return [Facts((("Legs", MISSING),))]
    rows = []
    for number, leg in enumerate(lift.leg):
        angle = _nth(results.get("leg_angle"), number)
        sling = leg.sling or (f"capacity {rated(leg.capacity, system)}" if leg.capacity is not None else None)
        rows.append(
            (
                Strong(_called(number + 1, leg.name)),
                common.given(sling if sling is None or not leg.hitch else f"{sling}, {leg.hitch}"),
                common.strong(common.shown(_nth(results.get("leg_length"), number), "length", system)),
                common.strong(common.shown(angle, "angle", system)),
                common.shown(None if angle is None else UPRIGHT - angle, "angle", system),
                common.shown(_nth(results.get("leg_tension"), number), "force", system),
                common.shown(_nth(results.get("leg_tension_design"), number), "force", system),
                common.shown(_nth(results.get("leg_tension_worst"), number), "force", system),
                common.strong(common.shown(_nth(results.get("leg_tension_governing"), number), "force", system)),
                _tag(result, number + 1, leg),
            )
        )
    head = (
        "Leg", "Sling, hitch", "Length", "Angle from horizontal", "Angle from vertical",
        "Tension nominal", "Tension design", "Tension worst", "Tension governing", "Tag",
    )  # fmt: skip
    align: tuple[Align, ...] = ("left", "left", *(("right",) * 7), "left")
    return [
        Table(head, tuple(rows), (1.5, 2.2, 1.2, 1.2, 1.2, 1.1, 1.1, 1.1, 1.25, 1.0), align, "Legs"),
        common.small(
            "Nominal: mass as given. Design: with mass margin and dynamic factor, and the sharing rule. Worst: the design load "
            "with every leg at its length tolerance and the centre of gravity shifted. Governing: the greater of these two, "
            "what the leg's parts are checked for."
        ),
    ]


def _tag(result: ItemResult, number: int, leg: Leg) -> Cell:
    """The tag, and from the site's register the day of its next inspection."""
    found = next((each for each in result.lift.pieces if each.number == number and each.kind == SLING), None)
    if found is None:
        return leg.tag or Blank("on site")
    due = found.row.inspection_due if found.row is not None else None
    return f"{found.tag}, due {due}" if due is not None else found.tag


def _out_of_use(result: ItemResult) -> list[Block]:
    """What takes a piece of rigging out of use, by the kinds on this lift."""
    found = result.lift.out_of_use
    if not found:
        return []
    rows = tuple((Strong(each.kind), "; ".join(each.signs)) for each in found)
    sources = "; ".join(dict.fromkeys(each.source for each in found))
    table = Table(("Out of use", "if one of these is found"), rows, (1, 6), ("left", "left"))
    return [table, common.small(f"{sources}. The maker's limits and the site's rules govern where they are stricter.")]


def _called(number: int, name: str | None) -> str:
    """Number and name; a name that begins with the number is enough."""
    if name is None or name.strip() == str(number):
        return str(number)
    return name if name.strip().startswith(f"{number} ") else f"{number}: {name}"


def _nth(values: Sequence[float] | None, number: int) -> float | None:
    return float(values[number]) if isinstance(values, list | tuple) and number < len(values) else None


def _parts(lift: Lift, result: ItemResult, options: Options) -> list[Block]:
    """The chain of parts of each leg, from the hook down, with a place for who looked at it."""
    system = options.system
    chains = result.lift.chains
    rows: list[tuple[Cell, ...]] = []
    for number, leg in enumerate(lift.leg, 1):
        for part in chains[number - 1] if number <= len(chains) else ():
            usage: Cell = (
                MISSING if part.usage is None else f"{part.usage:.2f}" if math.isfinite(part.usage) else "not so"
            )
            capacity = common.capacity(part.capacity, system)
            rows.append(
                (Strong(str(number)), part.name, common.shown(part.demand, "force", system), capacity, usage, Blank())
            )
        if number <= len(chains):
            leg_load = result.legs[number - 1].governing if number <= len(result.legs) else None
            load = common.shown(leg_load, "force", system)
            rows += [
                row(Strong(str(number)), word, load, MISSING, MISSING, Blank()) for word in _lacking(result, number)
            ]
        else:
            rows += [row(Strong(str(number)), word, MISSING, MISSING, MISSING, Blank()) for word in _planned(leg)]
    head = ("Leg", "Part, from the hook down", "Carries", "Rated as pulled", "Usage", "Looked at by")
    align: tuple[Align, ...] = ("left", "left", "right", "right", "right", "left")
    return (
        [Table(head, tuple(rows), (0.5, 3.6, 1.2, 1.8, 0.8, 1.5), align, "Parts of each leg", tall=True)]
        if rows
        else []
    )


def _lacking(result: ItemResult, number: int) -> list[str]:
    """Parts of a leg the plan does not rate: an empty frame for each, not a line less."""
    return [
        check.part
        for check in result.checks
        if check.verdict == "missing" and check.key in LACKING and check.leg == number
    ]


def _planned(leg: Leg) -> list[str]:
    """Parts of a leg as the plan names them, where nothing could be computed."""
    words = [leg.sling or "sling", leg.fitting or "fitting"]
    words += ["shackle"] if leg.shackled else []
    return words + (["adjuster"] if leg.adjusts else [])


def _still(results: Mapping[str, Any], system: System) -> Cell:
    return common.strong(still_words(results, system)) if results.get("still_load_low") is not None else MISSING


def still_words(results: Mapping[str, Any], system: System) -> str:
    """What the load cell is expected to show while the load hangs still."""
    low, high = results.get("still_load_low"), results.get("still_load_high")
    if low is None or high is None:
        return "missing: the plan does not say what hangs on it"
    return f"{show(low, 'force', system)} to {show(high, 'force', system)}"


def _upend(lift: Lift, result: ItemResult, options: Options) -> list[Block]:
    """Loads of both supports while the load is turned."""
    if lift.tail is None:
        return []
    results, system = result.results, options.system
    angles = results.get("upend_angles")
    if not isinstance(angles, list) or not angles:
        return [Facts((("Loads while upending", MISSING),))]
    places = sorted({round(place * (len(angles) - 1) / 10) for place in range(11)})
    rows = []
    for place in places:
        row: list[Cell] = [show(angles[place], "angle", system)]
        for key in ("upend_head", "upend_tail"):
            row.append(common.shown(_nth(results.get(key), place), "force", system))
            low, high = _nth(results.get(f"{key}_low"), place), _nth(results.get(f"{key}_high"), place)
            row.append(common.band(low, high, "force", system))
            row.append(common.strong(common.shown(_nth(results.get(f"{key}_design"), place), "force", system)))
        rows.append(tuple(row))
    head = (
        "Turned by",
        "Hook, nominal",
        "over the centre's tolerance",
        "design",
        "Tail, nominal" if lift.tail.kind == "hook" else "Floor, nominal",
        "over the centre's tolerance",
        "design",
    )
    align: tuple[Align, ...] = ("right",) * 7
    said = "Loads while upending; design: greatest within the tolerance, with mass margin and dynamic factor"
    return [Table(head, tuple(rows), (1, 1, 1.6, 1, 1, 1.6, 1), align, said)]


def _before(lift: Lift, result: ItemResult, system: System) -> Table:
    texts = [
        "Slings, shackles and fittings as in the table, tags read, no damage",
        "Exclusion zone, tag lines, signals agreed, path and laydown clear",
        f"Load cell while it hangs still: {still_words(result.results, system)}",
        "Every bolt, dowel and jack bolt that holds the load is out",
    ]
    texts += ["Jack bolts backed off, guide pins in, spigot clean and greased"] if lift.spigot is not None else []
    return Table(("Before the lift", "Reading, name"), tuple((text, Blank()) for text in texts), (4, 1.4), tall=True)
