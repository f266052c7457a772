"""The lift hung on its hook or below a beam: level lengths where they are open, nominal and design load, worst over the doubts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from splitline.assess.context import Context
from splitline.assess.lift_legs import SHEET, STATICS, TENSIONS, LegData
from splitline.assess.lift_load import GRAVITY, Doubts
from splitline.assess.lift_told import LegLoad, Point
from splitline.assess.sheet import Absent, Assumed
from splitline.errors import InputError
from splitline.lifting.below import Above, level_below, worst_below
from splitline.lifting.hang import cannot_meet, hang
from splitline.lifting.levels import LevelSet, hook_above, level_lengths
from splitline.lifting.spreader import Beam, hang_below
from splitline.lifting.tolerance import Worst, worst_case
from splitline.lifting.upending import Upending
from splitline.plan.model.lift import Hook, Lift
from splitline.units import show

HOOK_MOVED = 0.005  # m, from which it is said that the given legs put the hook elsewhere
NO_MASS = "a beam has a mass: weigh it or take its plate's; 0 kg is none"
LEVELS = "give every leg's length, or where the hook stands so that level lengths can be computed"
Points = tuple[Point, ...]

SHEET.given("uppers", "lift.spreader.upper")
SHEET.given("lowers", "lift.spreader.lower")
SHEET.given("upper_length", "lift.spreader.upper_length")


@dataclass(frozen=True, slots=True)
class Turned:
    """Rotation from the drawn frame to the one the load hangs in (upended)."""

    rows: tuple[Point, Point, Point] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

    def to(self, point: Sequence[float]) -> Point:
        x, y, z = (math.fsum(a * b for a, b in zip(row, point, strict=True)) for row in self.rows)
        return (x, y, z)

    def back(self, point: Sequence[float]) -> Point:
        x, y, z = (math.fsum(row[axis] * p for row, p in zip(self.rows, point, strict=True)) for axis in range(3))
        return (x, y, z)


def turned_to(up: Point) -> Turned:
    """Frame whose z axis is ``up`` of the drawn frame."""
    x, y, z = up
    size = math.hypot(x, y)
    if size < 1e-12:
        return Turned()
    first = (z * x / size, z * y / size, -size)
    second = (-y / size, x / size, 0.0)
    return Turned((first, second, (x, y, z)))


@dataclass(frozen=True, slots=True)
class State:
    """One hung state, single hook or below a beam; load's frame."""

    hook: Point
    up: Point
    tensions: tuple[float, ...]
    angles: tuple[float, ...]
    along: Points  # pull of each leg on the load
    tops: Points  # upper end of each leg
    tilt: float
    state: str
    upper_tensions: tuple[float, ...] = ()
    compression: float = 0.0
    upper_angles: tuple[float, ...] = ()  # from the horizontal, rad
    bending: float = 0.0  # in the beam, N·m
    beam_tilt: float = 0.0
    beam_upper: Points = ()
    beam_lower: Points = ()


@dataclass(frozen=True, slots=True)
class Extremes:
    """Over the doubts: of the legs; of upper slings and beam, where there is one."""

    worst: Worst
    above: Above | None = None


@dataclass(frozen=True, slots=True)
class OneHook:
    """Legs on one hook, in the frame the load hangs in."""

    legs: tuple[LegData, ...]
    lengths: tuple[float, ...]
    centre: Point
    frame: Turned

    @property
    def picks(self) -> list[Point]:
        return [self.frame.to(leg.pick) for leg in self.legs]

    def state(self, weight: float, design: bool = False) -> State:
        found = hang(self.picks, self.lengths, [leg.rigidity for leg in self.legs], self.centre, weight)
        along = [_unit(found.hook, pick) for pick in self.picks]
        hook = self.frame.back(found.hook)
        return State(
            hook=hook, up=self.frame.back(found.up), tensions=found.tensions, angles=found.angles,
            along=tuple(self.frame.back(direction) for direction in along), tops=(hook,) * len(self.legs),
            tilt=found.tilt, state=found.state,
        )  # fmt: skip

    def extremes(self, weight: float, doubts: Doubts) -> Extremes:
        axes = [None if leg.axis is None else self.frame.to(leg.axis) for leg in self.legs]
        hard = [leg.rigidity for leg in self.legs]
        worst = worst_case(
            self.picks, self.lengths, hard, self.centre, weight, doubts.tolerance, doubts.shift, rise=doubts.rise, axes=axes
        )  # fmt: skip
        return Extremes(worst)


@dataclass(frozen=True, slots=True)
class BelowBeam:
    """Legs below a beam; ``lifted``: the beam as heavy as its upper slings must take it."""

    legs: tuple[LegData, ...]
    lengths: tuple[float, ...]
    centre: Point
    beam: Beam
    lifted: Beam
    points: tuple[int, ...]  # lower point of each leg, from 0

    def state(self, weight: float, design: bool = False) -> State:
        picks, hard = [leg.pick for leg in self.legs], [leg.rigidity for leg in self.legs]
        beam = self.lifted if design else self.beam
        found = hang_below(beam, picks, self.points, self.lengths, hard, self.centre, weight)
        return State(
            hook=found.hook, up=found.up, tensions=found.tensions, angles=found.angles, along=found.along,
            tops=tuple(found.beam_lower[which] for which in self.points), tilt=found.tilt, state=found.state,
            upper_tensions=found.upper_tensions, compression=found.compression, upper_angles=found.upper_angles,
            bending=found.bending, beam_tilt=found.beam_tilt, beam_upper=found.beam_upper, beam_lower=found.beam_lower,
        )  # fmt: skip

    def extremes(self, weight: float, doubts: Doubts) -> Extremes:
        picks, hard = [leg.pick for leg in self.legs], [leg.rigidity for leg in self.legs]
        worst, above = worst_below(
            self.lifted, picks, self.points, self.lengths, hard, self.centre, weight, doubts.tolerance, doubts.shift,
            rise=doubts.rise, axes=[leg.axis for leg in self.legs],
        )  # fmt: skip
        return Extremes(worst, above)


def _unit(top: Point, low: Point) -> Point:
    x, y, z = (a - b for a, b in zip(top, low, strict=True))
    size = math.sqrt(x * x + y * y + z * z) or 1.0
    return (x / size, y / size, z / size)


def _beamed(lift: Lift) -> bool:
    return lift.spreader is not None


def _plain(lift: Lift) -> bool:
    return lift.spreader is None


# where the hook stands and how long the legs are


@SHEET.result()
def frame(turning: Upending | None = None) -> Turned:
    """The load drawn is turned up by its tail before it hangs."""
    return turned_to(turning.ups[-1]) if turning is not None else Turned()


@SHEET.result()
def hook_asked(lift: Lift) -> Hook | None:
    """What says where the hook is to stand; not asked where every leg has its length."""
    if not lift.leg or all(leg.length is not None for leg in lift.leg):
        return None
    if lift.hook is None or (lift.hook.at is None and lift.hook.above_picks is None):
        raise Absent("hook.above_picks", "leg.length", why=LEVELS)
    return lift.hook


SHEET.asks("leg_tension", TENSIONS, "hook_asked", kind="force", basis=STATICS, when=_plain)


@SHEET.result(after=("legs", "weight", "centre"))
def hook_place(lift: Lift, hook_asked: Hook, legs: tuple[LegData, ...], centre: Point, frame: Turned) -> Point:
    """Place of the hook for level lengths, in the hanging frame."""
    hanging = Turned() if lift.spreader is not None else frame
    if hook_asked.at is not None:
        return hanging.to(hook_asked.at)
    return hook_above([hanging.to(leg.pick) for leg in legs], hanging.to(centre), hook_asked.above_picks or 0.0)


@SHEET.result(name="levelled", when=_beamed)
def levelled_below(
    legs: tuple[LegData, ...], hook_place: Point, beam: Beam, points: tuple[int, ...], centre: Point, weight: float
) -> tuple[float, ...]:
    picks, hard = [leg.pick for leg in legs], [leg.rigidity for leg in legs]
    return level_below(beam, picks, points, [leg.length for leg in legs], hard, centre, weight, hook_place).lengths


@SHEET.result()
def level_set(legs: tuple[LegData, ...], hook_place: Point, centre: Point, weight: float, frame: Turned) -> LevelSet:
    picks, hard = [frame.to(leg.pick) for leg in legs], [leg.rigidity for leg in legs]
    return level_lengths(picks, [leg.length for leg in legs], hard, frame.to(centre), weight, hook_place)


@SHEET.result(name="levelled")
def levelled(level_set: LevelSet) -> tuple[float, ...]:
    return level_set.lengths


@SHEET.note(when=_plain)
def hook_moved(level_set: LevelSet, hook_place: Point, nominal: State, context: Context) -> str | None:
    moved = level_set.hook[2] - hook_place[2]
    where = f"{show(abs(moved), 'length', context.system)} {'above' if moved > 0 else 'below'} where it was asked"
    return f"The legs of given length put the hook {where}." if abs(moved) > HOOK_MOVED else None


def _given(lift: Lift) -> bool:
    return all(leg.length is not None for leg in lift.leg)


SHEET.tell("lengths", "levelled")


@SHEET.result(name="lengths", when=_given)
def given_lengths(lift: Lift, legs: tuple[LegData, ...], frame: Turned, context: Context) -> tuple[float, ...]:
    lengths = tuple(leg.length or 0.0 for leg in legs)
    if lift.spreader is not None:
        return lengths
    picks = [frame.to(leg.pick) for leg in legs]
    for i, j in cannot_meet(picks, lengths):
        apart = show(math.dist(picks[i - 1], picks[j - 1]), "length", context.system)
        both = show(lengths[i - 1] + lengths[j - 1], "length", context.system)
        raise InputError(f"legs {i} and {j} cannot meet at one hook: {both} of sling over {apart} of load")
    return lengths


# the beam


@SHEET.result()
def beam_mass(lift: Lift) -> float | None:
    if lift.spreader is None:
        return None
    if not lift.spreader.mass:
        raise Absent("spreader.mass", why=NO_MASS if lift.spreader.mass == 0.0 else "")
    return lift.spreader.mass


@SHEET.result(name="beam_weight", when=_plain)
def no_beam() -> float:
    return 0.0


@SHEET.result(name="beam_weight")
def beam_weight(beam_mass: float) -> float:
    """N."""
    return beam_mass * GRAVITY


@SHEET.result(after=("beam_weight", "uppers", "lowers", "upper_length"))
def upper_rigidity(lift: Lift) -> float | Assumed | None:
    beam = lift.spreader
    if beam is None:
        return None
    if beam.upper_capacity is not None and beam.upper_elongation is not None:
        return beam.upper_capacity / beam.upper_elongation
    return Assumed(
        None, "spreader.upper_elongation", "stretch of the upper slings not known: unstretching", text="no stretch"
    )


@SHEET.result(when=_beamed, after=("legs", "weight", "centre"))
def beam(beam_weight: float, uppers: Points, lowers: Points, upper_length: float, upper_rigidity: float | None) -> Beam:
    many = len(uppers)
    return Beam(max(beam_weight, 1e-3), uppers, lowers, (upper_length,) * many, (upper_rigidity,) * many)


SHEET.asks("leg_tension", TENSIONS, "beam_mass", "uppers", "lowers", "upper_length", kind="force", basis=STATICS, when=_beamed,
           after=("legs", "weight", "centre"))  # fmt: skip


@SHEET.result()
def points(legs: tuple[LegData, ...], beam: Beam) -> tuple[int, ...] | Assumed:
    """Lower point of each leg from 0; a leg that names none takes the nearest in plan."""
    lowers = beam.lower
    found = tuple(
        leg.plan.beam_point - 1 if leg.plan.beam_point is not None
        else min(range(len(lowers)), key=lambda i: math.dist(lowers[i][:2], leg.pick[:2]))
        for leg in legs
    )  # fmt: skip
    guessed = ", ".join(str(leg.number) for leg in legs if leg.plan.beam_point is None)
    basis = f"leg {guessed}: beam over the load's origin, axes alike"
    return Assumed(found, "leg.beam_point", basis, text="nearest lower point") if guessed else found


@SHEET.result()
def beam_lifted(lift: Lift, beam: Beam, dynamic: float) -> Beam:
    """As heavy as the upper slings must take it: beam and rigging, with the dynamic factor the load has."""
    rigging = (lift.crane.rigging or 0.0) if lift.crane is not None else 0.0
    return replace(beam, weight=(beam.weight + rigging * GRAVITY) * dynamic)


@SHEET.note()
def rigging_below(lift: Lift, beam_lifted: Beam, points: tuple[int, ...]) -> str | None:
    if lift.crane is None or not lift.crane.rigging:
        return None
    return "All the rigging is taken to hang below the upper slings: the safe side for them."


@SHEET.note(when=_beamed, after=("legs", "weight", "centre"))
def hung_as_drawn(lift: Lift) -> str | None:
    if lift.tail is None:
        return None
    return "Below a spreader the legs are hung as the load is drawn, not as it is upended."


# the hung states


@SHEET.result(name="rigged", when=_beamed, after=("legs", "weight"))
def below_beam(
    legs: tuple[LegData, ...], lengths: tuple[float, ...], centre: Point, beam: Beam, beam_lifted: Beam,
    points: tuple[int, ...],
) -> BelowBeam:  # fmt: skip
    return BelowBeam(legs, lengths, centre, beam, beam_lifted, points)


@SHEET.result(name="rigged", after=("legs", "weight"))
def on_one_hook(legs: tuple[LegData, ...], lengths: tuple[float, ...], centre: Point, frame: Turned) -> OneHook:
    return OneHook(legs, lengths, frame.to(centre), frame)


@SHEET.result()
def nominal(rigged: OneHook | BelowBeam, weight: float) -> State:
    """At its mass as given."""
    return rigged.state(weight)


@SHEET.result()
def at_design(rigged: OneHook | BelowBeam, weight_design: float) -> State:
    """With margin and dynamic factor."""
    return rigged.state(weight_design, design=True)


@SHEET.result()
def extremes(rigged: OneHook | BelowBeam, weight_design: float, doubts: Doubts) -> Extremes:
    return rigged.extremes(weight_design, doubts)


SHEET.tell("worst", "extremes.worst", after=("at_design",))
SHEET.tell("above", "extremes.above", after=("at_design",))


SHEET.asks("leg_tension", TENSIONS, "centre", kind="force", basis=STATICS, quiet=True, after=("legs", "weight"))


SHEET.asks("leg_tension", TENSIONS, "nominal", kind="force", basis=STATICS, refused="fails", quiet=True,
           after=("legs", "weight"))  # fmt: skip


SHEET.asks("leg_tension", TENSIONS, "at_design", "worst", kind="force", basis=STATICS, refused="fails", quiet=True,
           after=("nominal",))  # fmt: skip


HANG = "least potential energy of load and legs on one hook (statics)"
BOX = "all length corners × 8 directions of the centre's shift + 500 samples, each hung"
SHEET.tell(
    "hook", "nominal.hook", "length", "Hook", "h", "least of Σ ½(EA/L)(|h − p| − L)₊² − W |h − c|", HANG, shape="list"
)
SHEET.tell("leg_length", "lengths", "length", "Leg length, unstretched", "L", "as given, or |h − p|/(1 + T/EA)", HANG,
           shape="list", after=("nominal",))  # fmt: skip
SHEET.tell("leg_angle", "nominal.angles", "angle", "Leg angle from the horizontal", "α", "asin(u · up)",
           "geometry of the hung load", shape="list")  # fmt: skip
SHEET.tell("leg_angle_worst", "worst.angles", "angle", "Leg angle from the horizontal, flattest", "", "least with tolerances",
           BOX, shape="list")  # fmt: skip
SHEET.tell("leg_tension", "nominal.tensions", "force", "Leg tension, nominal", "T", "Σ T u = W up, T = EA (l − L)/L", HANG,
           shape="list")  # fmt: skip


@SHEET.result()
def leg_loads(
    nominal: State, leg_tension_governing: tuple[float, ...] | None = None, worst: Worst | None = None
) -> tuple[LegLoad, ...]:
    """What screen, paper, card, list and JSON tell of each leg."""
    open_ = (None,) * len(nominal.tensions)
    rows = zip(
        nominal.tensions, leg_tension_governing or open_, nominal.angles, worst.angles if worst else open_, strict=True
    )
    return tuple(LegLoad(number, *row) for number, row in enumerate(rows, 1))
