"""The chain of parts of every leg from hook to load, its weakest named; angles; pulls on fittings; the beam."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_types import Hung, LegData, Load
from splitline.errors import InputError, LibraryError
from splitline.library.fittings import fitting
from splitline.lifting.bridle import sharing_tension
from splitline.lifting.rigging import Part, Table, angled_factor, pull_angle
from splitline.plan.model.lift import Leg, Lift

MINIMUM = math.radians(30.0)
MINIMUM_BASIS = "ASME B30.9: below 30 degrees from the horizontal only by a qualified person"
SLANT = math.radians(5.0)  # a pull this far off a fitting's axis is an angled pull
FITTING = "fitting at the load"
DEMAND = "greatest of design and worst tension"


def put_tensions(
    bench: Bench, lift: Lift, legs: tuple[LegData, ...], load: Load, hung: Hung
) -> tuple[float, ...] | None:
    """Angles and tensions on the bench; returns what each leg's parts are checked with, N."""
    bench.put("leg_length", list(hung.lengths))
    bench.put("leg_angle", list(hung.nominal.angles))
    bench.put("leg_tension", list(hung.nominal.tensions))
    slack = [leg.number for leg, pull in zip(legs, hung.nominal.tensions, strict=True) if pull <= 0.0]
    if slack:
        bench.note(f"Leg {', '.join(map(str, slack))} hangs slack at the nominal lengths.")
    if hung.design is None or hung.worst is None or load.design is None:
        return None
    rule = _rule(bench, lift, len(legs))
    design = []
    for angle, tension in zip(hung.nominal.angles, hung.design.tensions, strict=True):
        least = sharing_tension(load.design, len(legs), rule, angle)
        design.append(max(tension, least or 0.0))
    bench.put("leg_tension_design", design)
    bench.put("leg_tension_worst", list(hung.worst.tensions))
    bench.put("leg_tension_least", list(hung.worst.lowest))
    loose = [leg.number for leg, least in zip(legs, hung.worst.lowest, strict=True) if least <= 0.0]
    if loose and len(loose) > len(slack):
        bench.note(
            f"Within the length tolerance leg {', '.join(map(str, loose))} may hang slack and leave its share to others."
        )
    governing = tuple(max(a, b) for a, b in zip(design, hung.worst.tensions, strict=True))
    bench.put("leg_tension_governing", list(governing))
    return governing


def _rule(bench: Bench, lift: Lift, legs: int) -> str:
    if lift.sharing is not None:
        return lift.sharing
    if legs > 3:
        bench.default("sharing", "two legs", "the stricter of the customary rules: NAVEDTRA 14251, AS 3775")
    return "two legs"


def check_angles(bench: Bench, lift: Lift, legs: tuple[LegData, ...], hung: Hung) -> None:
    """The flattest leg that carries, in the worst pose of the doubts, against the least angle."""
    carrying = [
        (angle, leg)
        for angle, leg, pull in zip(hung.nominal.angles, legs, hung.nominal.tensions, strict=True)
        if pull > 0.0
    ]
    if hung.worst is not None:
        bench.put("leg_angle_worst", list(hung.worst.angles))
        carrying += [*zip(hung.worst.angles, legs, strict=True)]
    if not carrying:
        return
    angle, leg = min(carrying, key=lambda pair: pair[0])
    with bench.about(leg=leg.number):
        flattest_check(
            bench, lift, "leg_angle", f"Leg {leg.number}: flattest angle from the horizontal", leg.name, angle
        )


def flattest_check(bench: Bench, lift: Lift, key: str, title: str, name: str, angle: float) -> None:
    """The flattest angle of slings against the least, both told from the vertical too."""
    least, basis = lift.minimum_angle, "minimum angle given in the plan"
    if least is None:
        least, basis = MINIMUM, MINIMUM_BASIS
        bench.default("minimum_angle", bench.show(MINIMUM, "angle"), MINIMUM_BASIS)
    upright = bench.show(math.pi / 2.0 - angle, "angle"), bench.show(math.pi / 2.0 - least, "angle")
    note = f"{name} is {upright[0]} from the vertical with tolerances, at most {upright[1]}"
    bench.at_least(key, title, least, angle, "angle", basis, note)


def check_chains(
    bench: Bench, lift: Lift, legs: tuple[LegData, ...], hung: Hung, demands: Sequence[float] | None, ctx: Context
) -> list[float | None]:
    """One check per leg, of its weakest part; missing where a part's rating is not known. Usage of each leg."""
    chains: list[tuple[Part, ...]] = []
    usages: list[float | None] = []
    capacities: list[float | None] = []
    upright = _pull_angles(legs, hung)
    bench.put("pull_angle", upright)
    for place, leg in enumerate(legs):
        demand = demands[place] if demands is not None else 0.0
        with bench.about(leg=leg.number):
            parts = _parts(bench, leg, demand, upright[place], ctx)
        chains.append(tuple(parts))
        known = [part for part in parts if part.capacity is not None]
        if demands is None or not known:
            usages.append(None)
            continue
        weakest = max(known, key=lambda part: part.usage or 0.0)
        assert weakest.capacity is not None
        note = "" if weakest.capacity > 0.0 else "not allowed to be pulled at this angle"
        with bench.about(leg=leg.number, part=weakest.name):
            bench.at_most(
                "leg_capacity", f"Leg {leg.number}{leg.called}: weakest part, {weakest.name}", demand, weakest.capacity,
                "capacity", f"{weakest.basis}; {DEMAND}", note,
            )  # fmt: skip
        usages.append(demand / weakest.capacity if weakest.capacity > 0.0 else None)
        capacities.append(weakest.capacity)
    bench.lift = replace(bench.lift, chains=tuple(chains))
    if len(capacities) == len(legs):
        bench.put("leg_capacity", capacities)
        bench.put("leg_usage", usages)
    return usages


def _pull_angles(legs: tuple[LegData, ...], hung: Hung) -> list[float]:
    """Greatest angle of each leg's pull off its fitting's axis: as hung and over the doubts, rad."""
    found = []
    for place, (leg, along) in enumerate(zip(legs, hung.nominal.along, strict=True)):
        now = 0.0 if leg.axis is None else pull_angle(leg.axis, along)
        worst = hung.worst.pulls[place] if hung.worst is not None and hung.worst.pulls else 0.0
        found.append(max(now, worst))
    return found


def _parts(bench: Bench, data: LegData, demand: float, angle: float, ctx: Context) -> list[Part]:
    leg, parts = data.leg, []
    if leg.adjuster_capacity is not None:
        parts.append(
            Part("adjuster", demand, leg.adjuster_capacity, "rated capacity of the adjuster given in the plan")
        )
    if data.capacity is not None:
        parts.append(Part(data.sling, demand, data.capacity, data.basis))
    if leg.shackle_capacity is not None:
        parts.append(Part("shackle", demand, leg.shackle_capacity, "rated capacity of the shackle given in the plan"))
    try:
        with bench.about(part=FITTING):
            last = fitting_part(bench, leg, data.number, demand, angle, ctx)
    except (InputError, LibraryError) as error:
        with bench.about(part="fitting"):
            needs = (f"leg.{data.number}.fitting",)
            bench.missing("fitting", f"Leg {data.number}: fitting", needs, note=bench.said(error))
        last = None
    return parts if last is None else [*parts, last]


def fitting_part(bench: Bench, leg: Leg, number: int, demand: float, angle: float, ctx: Context) -> Part | None:
    """The fitting at the pick point as it is pulled; None where there is none or after saying what is missing."""
    title = f"Leg {number}: {FITTING}"
    if leg.fitting is None and leg.fitting_capacity is None:
        if leg.hitch not in ("basket", "choker"):
            needs = (f"leg.{number}.fitting", f"leg.{number}.fitting_capacity")
            bench.missing(
                "fitting", title, needs, "marking on the fitting", "what holds this leg to the load?", kind="capacity"
            )
        return None
    known = fitting(ctx.library, leg.fitting) if leg.fitting is not None else None
    capacity = leg.fitting_capacity if leg.fitting_capacity is not None else (known.capacity if known else None)
    if capacity is None:
        note, rating = "its rating is stamped on it", (f"leg.{number}.fitting_capacity",)
        bench.missing("fitting", title, rating, "marking on the fitting", note, kind="capacity")
        return None
    table: Table | None = leg.reduction
    source = leg.reduction_source or "angled-pull table given in the plan"
    if table is None and known is not None and known.angled is not None:
        table, source = known.angled.points, known.angled.source
    if known is not None and known.kind == "eyebolt, shouldered" and leg.reduction is None and known.angled is not None:
        if known.angled.note:
            bench.note(f"Shouldered eyebolts: {known.angled.note}.")
        if known.note:
            bench.note(f"Shouldered eyebolts: {known.note}.")
    factor = 1.0 if table is None else angled_factor(table, angle)
    name = leg.fitting or "fitting"
    if table is None and angle > SLANT:
        note = (
            f"{name} is pulled {bench.show(angle, 'angle')} off "
            f"{'the axis given' if leg.pull_axis is not None else 'the vertical'}, and no table says what it carries so: "
            "give pull_axis as its drawing has it, or reduction"
        )
        needs = (f"leg.{number}.pull_axis", f"leg.{number}.reduction")
        bench.missing("fitting", title, needs, "the fitting's own drawing or table", note, kind="capacity")
        return None
    if table is None:
        return Part(name, demand, capacity, "rated capacity of the fitting, pulled along its axis")
    said = f"{name} pulled {bench.show(angle, 'angle')} off its axis"
    share = 0.0 if factor is None else factor
    basis = (
        f"{share:.2f} of its rating at {bench.show(angle, 'angle')} off its axis ({source})" if angle > 0.0 else source
    )
    return Part(said if angle > math.radians(1.0) else name, demand, capacity * share, basis)


def check_tags(bench: Bench, lift: Lift, legs: tuple[LegData, ...], ctx: Context) -> None:
    """Sling tags not written down yet."""
    absent = [
        n
        for n, leg in ((leg.number, leg.leg) for leg in legs)
        if not (leg.tag or ctx.observed.get(lift.id, f"leg.{n}.tag"))
    ]
    written = [leg.leg.tag for leg in legs if leg.leg.tag]
    for tag in dict.fromkeys(tag for tag in written if written.count(tag) > 1):
        on = ", ".join(str(leg.number) for leg in legs if leg.leg.tag == tag)
        note = f"tag {tag} stands on legs {on}: one tag is one sling, unless one sling makes both legs"
        bench.near("sling_tag_twice", f"Sling tag {tag}", "29 CFR 1910.184: the tag governs", note)
    if absent:
        note = f"read the tag on the sling of leg {', '.join(map(str, absent))}: the tag governs, not the table"
        bench.on_site(
            "sling_tag", "Sling tags", [f"leg.{n}.tag" for n in absent], "29 CFR 1910.184: the tag governs", note
        )
