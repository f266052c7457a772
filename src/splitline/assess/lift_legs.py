"""Legs of a lift from the plan: capacity as hitched, stiffness, with what is missing or taken by default."""

from __future__ import annotations

import math

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_types import LegData, Point
from splitline.errors import InputError, LibraryError
from splitline.library.fittings import fitting
from splitline.library.slings import Sling, bend_share, choke_share, sling
from splitline.lifting.rigging import sling_capacity
from splitline.plan.model.lift import Leg, Lift

TURNS = "shackle"  # kind of fitting that turns to the pull unless the plan gives it an axis
BENT = ("wire rope", "chain")  # kinds that lose strength by the ratio D/d
CHOKER = 0.75  # of the vertical rating where no sling of the library says more
FLAT = math.radians(30.0)  # of a basket's parts where nobody says
CHAIN_BEND = ((6.0, 1.0), (5.0, 0.9), (4.0, 0.8), (3.0, 0.7), (2.0, 0.6))  # D/d from -> share
CHAIN_BEND_SOURCE = "ASME B30.9, chain bent round a load, not checked against the standard's text"
CHOKER_BASIS = "ASME B30.9, lowest of the customary values for wire rope"


def legs_of(bench: Bench, lift: Lift, ctx: Context) -> tuple[LegData, ...] | None:
    """All legs, or None after saying what is missing."""
    if not lift.leg:
        bench.missing("leg_tension", "Leg tensions", ("leg",), "statics", "no legs given", kind="force")
        return None
    absent = [f"leg.{n}.pick" for n, leg in enumerate(lift.leg, 1) if leg.pick is None]
    if absent:
        bench.missing("leg_tension", "Leg tensions", absent, "statics", kind="force")
        return None
    found = []
    for number, leg in enumerate(lift.leg, 1):
        with bench.about(leg=number, part="sling"):
            found.append(_leg(bench, leg, number, ctx))
    legs = tuple(found)
    soft = [leg.number for leg in legs if leg.rigidity is None]
    if soft:
        said = ", ".join(map(str, soft))
        bench.default(
            "leg.elongation",
            "no stretch",
            f"stretch of leg {said} not known: taken as unstretching, the unfavourable side",
        )
    return legs


def _leg(bench: Bench, leg: Leg, number: int, ctx: Context) -> LegData:
    assert leg.pick is not None
    known, said = _from_library(bench, leg, number, ctx)
    single = leg.capacity if leg.capacity is not None else (known.capacity if known else None)
    elongation = leg.elongation if leg.elongation is not None else (known.elongation if known else None)
    own = leg.capacity is not None
    basis = "rated capacity given in the plan" if own or known is None else known.source
    name = leg.sling or "sling"
    parts = 2.0 if leg.hitch == "basket" else 1.0
    whole = known.capacity if known is not None and leg.elongation is None else single
    rigidity = parts * whole / elongation if whole is not None and elongation is not None else None
    capacity = None
    if single is not None:
        try:
            capacity, more = _hitched(bench, leg, number, known, single, ctx)
            basis = f"{basis}{more}"
        except (InputError, LibraryError) as error:
            bench.missing(
                "leg_capacity",
                f"Leg {number}: sling",
                (f"leg.{number}.hitch",),
                note=bench.said(error),
                kind="capacity",
            )
    elif not said:
        needs = (f"leg.{number}.sling", f"leg.{number}.capacity")
        note = "name a sling of the library or give its rated capacity"
        bench.missing("leg_capacity", f"Leg {number}: sling", needs, "sling tag", note, kind="capacity")
    return LegData(number, leg, leg.pick, leg.length, capacity, rigidity, basis, name, _axis(leg, ctx))


def _axis(leg: Leg, ctx: Context) -> Point | None:
    """Direction of the fitting's straight pull; None for one that turns to the pull, or none at all."""
    if leg.pull_axis is not None:
        return leg.pull_axis
    if leg.fitting is None:
        return None
    try:
        kind = fitting(ctx.library, leg.fitting).kind
    except LibraryError:
        kind = ""
    return None if kind == TURNS else (0.0, 0.0, 1.0)


def _from_library(bench: Bench, leg: Leg, number: int, ctx: Context) -> tuple[Sling | None, bool]:
    if leg.sling is None:
        return None, False
    try:
        return sling(ctx.library, leg.sling), False
    except LibraryError as error:
        if leg.capacity is None:
            bench.missing(
                "leg_capacity",
                f"Leg {number}: sling",
                (f"leg.{number}.sling",),
                note=bench.said(error),
                kind="capacity",
            )
        return None, True


def _hitched(
    bench: Bench, leg: Leg, number: int, known: Sling | None, single: float, ctx: Context
) -> tuple[float, str]:
    """Capacity of the leg as hitched, and the words of its basis."""
    hitch, words = leg.hitch or "single", ""
    angle = leg.basket_angle if leg.basket_angle is not None else FLAT
    value = sling_capacity(single, "basket" if hitch == "basket" else "single", basket_angle=angle)
    if hitch == "choker":
        factor = known.choker if known is not None else CHOKER
        if known is None:
            bench.default("leg.choker", f"{CHOKER:g} of the straight rating", CHOKER_BASIS)
        share = 1.0
        if leg.choke_angle is None:
            bench.default(
                "leg.choke_angle", "above 120°", "a free choke; a choke forced flat carries less: give its angle"
            )
        else:
            found = choke_share(ctx.library, known.kind if known else "wire rope", leg.choke_angle)
            share = found.value
            words = (
                f"; choked at {math.degrees(leg.choke_angle):.0f}°: {share:.2f} of the choker rating ({found.source})"
            )
        value = single * factor * share
        words = f"; choker {factor:g} of straight{words}"
    elif hitch == "basket":
        said = bench.show(angle, "angle")
        words = f"; basket, both parts at {said} from the horizontal"
        if leg.basket_angle is None:
            bench.default(
                f"leg.{number}.basket_angle", said, "the flattest that is usual; a steeper basket carries more"
            )
    if leg.bend_diameter is not None and known is not None and known.kind == "chain" and known.size:
        ratio = leg.bend_diameter / known.size
        bent_to = next((factor for least, factor in CHAIN_BEND if ratio >= least), 0.0)
        value *= bent_to
        words += f"; bent at D/d = {ratio:.1f}: {bent_to:.2f} ({CHAIN_BEND_SOURCE})"
    elif leg.bend_diameter is None and hitch in ("choker", "basket") and known is not None and known.kind in BENT:
        note = f"what does the {known.kind} bend round? give bend_diameter: it loses strength on a small one"
        needs = (f"leg.{number}.bend_diameter",)
        bench.missing("bend", f"Leg {number}: bend of the sling", needs, "ASME B30.9", note, kind="length")
    elif leg.bend_diameter is not None and known is not None and known.kind not in BENT:
        bench.note(f"Leg {number}: protect the sling from edges; the least radius on its tag governs.")
    if leg.bend_diameter is not None and known is not None and known.kind == "wire rope" and known.size:
        ratio = leg.bend_diameter / known.size
        bent = bend_share(ctx.library, ratio)
        value *= bent.value
        words += f"; bent at D/d = {ratio:.1f}: {bent.value:.2f} ({bent.source})"
    elif leg.bend_diameter is not None and (known is None or known.kind == "wire rope"):
        bench.note(
            f"Leg {number} bends round {bench.show(leg.bend_diameter, 'length')}: its rope diameter is not known, so the "
            "rating given must already allow for that bend."
        )
    return value, words
