"""A lift assessed: one calculation sheet, filled by the rooms imported here in the order their results and checks are told."""

from __future__ import annotations

from dataclasses import replace

# isort: off
from splitline.assess import (
    lift_legs,
    lift_load,
    lift_hang,
    lift_rigging,
    lift_register,
    lift_level,
    lift_upend,
    lift_crane,
)

# isort: on
from splitline.assess.assembled import item_of
from splitline.assess.context import Context
from splitline.assess.details import LiftDetail
from splitline.assess.lift_hang import State
from splitline.assess.lift_legs import SHEET, LegData
from splitline.assess.lift_told import Picture, Point
from splitline.assess.result import ItemResult
from splitline.assess.worksheet import Worksheet
from splitline.plan.model.lift import Lift

ROOMS = (lift_legs, lift_load, lift_hang, lift_rigging, lift_register, lift_level, lift_upend, lift_crane)


def assess_lift(lift: Lift, ctx: Context) -> ItemResult:
    """Every result and check of one lift. No side effects; what cannot be computed is said as missing or on-site."""
    sheet = Worksheet(SHEET, lift, ctx)
    result = item_of(sheet, lift.id, lift.title, ctx.system)
    detail = LiftDetail(
        picture=sheet.of(picture),
        chains=sheet.of(lift_rigging.chains) or (),
        trimming=sheet.of(lift_level.trimming) or "",
        levelling=sheet.of(lift_level.levelling) or (),
        pieces=sheet.of(lift_register.all_piece) or (),
        out_of_use=sheet.of(lift_register.out_of_use) or (),
    )
    return replace(result, lift=detail, legs=sheet.of(lift_hang.leg_loads) or ())


@SHEET.result()
def picture(
    lift: Lift,
    nominal: State,
    centre: Point,
    legs: tuple[LegData, ...],
    doubts: lift_load.Doubts,
    usages: tuple[float, ...],
) -> Picture:
    """What the drawings need, under the names they look for."""
    return Picture(
        hook=nominal.hook, up=nominal.up, centre=centre, picks=tuple(leg.pick for leg in legs), tops=nominal.tops,
        names=tuple(leg.name for leg in legs), beam_upper=nominal.beam_upper, beam_lower=nominal.beam_lower,
        parts=tuple(part.at for part in lift.part if isinstance(part.at, tuple)),
        tail=lift.tail.pick if lift.tail is not None else None, shift=doubts.shift,
        usage=tuple(None if usage != usage else usage for usage in usages),
    )  # fmt: skip
