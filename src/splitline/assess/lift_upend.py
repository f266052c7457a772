"""Turning a load up with a second hook or on the floor: loads against angle, slack, runaway, pulls on the head's fittings."""

from __future__ import annotations

import math

from splitline.assess.context import Context
from splitline.assess.lift_hang import State
from splitline.assess.lift_legs import FITTING, LEG, SHEET, LegData
from splitline.assess.lift_load import Doubts
from splitline.assess.lift_rigging import AT_LOAD, TABLED, off_axis, untold
from splitline.assess.lift_told import Point
from splitline.assess.sheet import Against, Row, Rule
from splitline.library.fittings import Fitting
from splitline.lifting.rigging import pull_angle
from splitline.lifting.upending import Upending, upending
from splitline.plan.model.lift import Leg, Lift, Tail
from splitline.units import show

TITLE, TWO = "Loads while upending", "statics of two parallel forces"
GREATEST = "greatest tail load over the angles and the centre's tolerance, with margin and dynamic factor"

SHEET.given("tail", "lift.tail")
SHEET.given("tail_pick", "lift.tail.pick")
SHEET.given("tail_capacity", "lift.tail.capacity")


def _tailed(lift: Lift) -> bool:
    return lift.tail is not None


def _by_hook(lift: Lift) -> bool:
    return lift.tail is not None and lift.tail.kind == "hook"


def _on_floor(lift: Lift) -> bool:
    return lift.tail is not None and lift.tail.kind == "floor"


@SHEET.result(when=_tailed, after=("legs",))
def turning(legs: tuple[LegData, ...], tail_pick: Point, centre: Point, weight: float, doubts: Doubts) -> Upending:
    """Loads at every angle, the head as one point: the mean of its picks."""
    x, y, z = (sum(leg.pick[axis] for leg in legs) / len(legs) for axis in range(3))
    return upending((x, y, z), tail_pick, centre, weight, max(doubts.shift, doubts.rise))


SHEET.asks("upend_tail", TITLE, "tail_pick", kind="force", basis=TWO, when=_tailed, after=("legs", "weight"))


SHEET.asks("upend_tail", TITLE, "turning", kind="force", basis=TWO, after=("tail_pick", "weight"))


@SHEET.result(after=("mass",))
def enlarged(factor: float, dynamic: float) -> float:
    """Margin and dynamic factor together."""
    return factor * dynamic


SHIFTED, DOUBTFUL = "centre shifted", "greatest with tolerances × k_m k_d"
SHEET.tell("upend_angles", "turning.angles", "angle", "Angle turned", "θ", "0° to the end in even steps", "definition",
           shape="list")  # fmt: skip
SHEET.tell("upend_head", "turning.head", "force", "Head", "F_head", "W (x_c − x_t)/(x_h − x_t)", TWO, shape="list")
SHEET.tell("upend_head_low", "turning.head_low", "force", "Head, least", "", SHIFTED, TWO, shape="list")
SHEET.tell("upend_head_high", "turning.head_high", "force", "Head, greatest", "", SHIFTED, TWO, shape="list")
SHEET.tell("upend_tail", "turning.tail", "force", "Tail", "F_tail", "W − F_head", TWO, shape="list")
SHEET.tell("upend_tail_low", "turning.tail_low", "force", "Tail, least", "", SHIFTED, TWO, shape="list")
SHEET.tell("upend_tail_high", "turning.tail_high", "force", "Tail, greatest", "", SHIFTED, TWO, shape="list")


@SHEET.result(kind="force", title="Head, design", formula=DOUBTFUL, source=TWO, shape="list")
def upend_head_design(turning: Upending, enlarged: float) -> tuple[float, ...]:
    return tuple(enlarged * value for value in turning.head_high)


@SHEET.result(kind="force", title="Tail, design", formula=DOUBTFUL, source=TWO, shape="list")
def upend_tail_design(turning: Upending, enlarged: float) -> tuple[float, ...]:
    return tuple(enlarged * value for value in turning.tail_high)


SHEET.tell("upend_slack", "turning.tail_slack", "angle", "Tail goes slack at", "", "x_c = x_h", TWO)
SHEET.tell(
    "upend_changeover",
    "turning.changeover",
    "angle",
    "Head carries more than the tail from",
    "",
    "F_head = F_tail",
    TWO,
)
SHEET.tell("upend_runaway", "turning.runaway", "angle", "Centre passes over the tail at", "", "x_c = x_t", TWO)
SHEET.tell("upend_runaway_early", "turning.runaway_early", "angle", "Centre over the tail at the earliest, with tolerances", "",
           "x_c − r_c = x_t", TWO)  # fmt: skip


@SHEET.note()
def goes_slack(upend_slack: float, context: Context) -> str | None:
    if upend_slack >= math.pi / 2.0 - 1e-6:
        return None
    return f"The tail goes slack at {show(upend_slack, 'angle', context.system)}: the head then carries all."


@SHEET.note()
def changes_over(upend_changeover: float, context: Context) -> str:
    return f"From {show(upend_changeover, 'angle', context.system)} on the head carries more than the tail."


# what must not happen


@SHEET.check("upend_runaway", "Centre over the tail", basis=TWO, quiet=True)
def runs_away(turning: Upending, context: Context) -> Rule:
    """Where the centre passes over the support: as given, else with tolerances."""
    if turning.runaway == 0.0:
        note = (
            "as it lies the centre is already over the tail or beyond it: no pull at the head upends it; move the tail"
        )
        return Rule("fails", note)
    if turning.runaway_early is None:
        return Rule("ok", "the centre never passes over the tail, its tolerance included")
    early = show(turning.runaway_early, "angle", context.system)
    if turning.runaway is None:
        note = f"with tolerances the centre passes over the tail from {early} on: the load may run away, hold it back"
        return Rule("near", note)
    at = show(turning.runaway, "angle", context.system)
    over = f"at {at}, with tolerances from {early} on, the centre passes over the tail"
    return Rule("near", f"{over}: the load runs away unless it is held back")


@SHEET.result()
def tail_greatest(turning: Upending, enlarged: float) -> float:
    return max(turning.tail_high) * enlarged


@SHEET.check(
    "upend_tail", "Tail hook: rigging", kind="capacity", basis=GREATEST, when=_by_hook, after=("tail_greatest",)
)
def tail_hook_carries(tail_greatest: float, tail_capacity: float) -> Against:
    return Against(tail_greatest, tail_capacity)


@SHEET.check("upend_tail", "Floor pivot", kind="capacity", basis=GREATEST, when=_on_floor, quiet=True)
def pivot_carries(tail_greatest: float, tail_capacity: float) -> Against:
    return Against(tail_greatest, tail_capacity)


@SHEET.note(when=_on_floor)
def floor_bears(tail: Tail, tail_greatest: float, context: Context) -> str | None:
    if tail.capacity is not None:
        return None
    most = show(tail_greatest, "force", context.system)
    return f"Load on the floor under the pivot: up to {most}. Ask whether the floor bears it."


@SHEET.check("upend_crane", "Second crane", kind="capacity", basis=GREATEST, quiet=True)
def second_crane(tail: Tail, tail_greatest: float) -> Against | None:
    return Against(tail_greatest, tail.crane_capacity) if tail.crane_capacity is not None else None


@SHEET.result()
def spread(
    nominal: State, weight: float, leg_tension_governing: tuple[float, ...] | None = None, weight_design: float = 1.0
) -> float:
    """Greatest leg tension per force on the head."""
    if leg_tension_governing is None:
        return max(nominal.tensions) / weight
    return max(leg_tension_governing) / weight_design


@SHEET.result(LEG)
def pulled_turning(
    leg: Row[Leg], known_fitting: Fitting, fitting_rating: float, straight: Point, turning: Upending, enlarged: float,
    spread: float, context: Context,
) -> Against:  # fmt: skip
    """The head's fitting at its worst angle of turn, pulled along the hoist line."""
    found: list[Against] = []
    for angle, force, up in zip(turning.angles, turning.head_high, turning.ups, strict=True):
        off = pull_angle(straight, up)
        pulled = off_axis(leg.plan, known_fitting, fitting_rating, off, context)
        if pulled is None:
            raise untold(leg, off, context)
        note = f"turned {show(angle, 'angle', context.system)}: {pulled.name}"
        found.append(Against(force * enlarged * spread, pulled.capacity, note))
    return max(found, key=lambda each: each.demand / each.limit if each.limit > 0.0 else math.inf)


SHEET.asks("fitting", AT_LOAD, "pulled_turning", scope=(LEG,), kind="capacity", basis=TABLED, part=FITTING, quiet=True,
           after=("spread",))  # fmt: skip


@SHEET.check(
    "upend_fitting", "Leg {leg.number}: fitting while upending", LEG, kind="capacity", part=FITTING, quiet=True, after=("spread",),
    basis="pull along the hoist line as the load turns, the head's force over the centre's tolerance",
)  # fmt: skip
def fitting_turns(pulled_turning: Against) -> Against:
    return pulled_turning


# cautions


@SHEET.result()
def runaway_said(turning: Upending, context: Context) -> str | None:
    if turning.runaway == 0.0:
        return "As it lies its centre is already beyond the support."
    if turning.runaway_early is None:
        return None
    return f"Here the centre may pass over from {show(turning.runaway_early, 'angle', context.system)} on."


@SHEET.caution("upending-hooks", when=_by_hook)
def turned_by_hooks(runaway_said: str) -> str:
    return runaway_said


@SHEET.caution("upending", when=_on_floor)
def turned_on_floor(runaway_said: str = "Block the pivot so that it cannot slide.") -> str:
    return runaway_said
