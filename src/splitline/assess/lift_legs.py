"""Legs of a lift from the plan: sling as hitched, stretch, fitting at the load. The lift's calculation sheet begins here."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_told import Point
from splitline.assess.sheet import Absent, Assumed, Default, Each, Row, Sheet
from splitline.errors import LibraryError
from splitline.library.fittings import Fitting, fitting
from splitline.library.rigging import ADJUSTER, SHACKLE, SLING, Tagged, tagged
from splitline.library.slings import Sling, bend_share, choke_share, sling
from splitline.lifting.rigging import sling_capacity
from splitline.plan.model.lift import Leg, Lift
from splitline.units import show

TURNS = "shackle"  # kind of fitting that turns to the pull unless the plan gives it an axis
BENT = ("wire rope", "chain")  # kinds that lose strength by the ratio D/d
CHOKER = 0.75  # of the vertical rating where no sling of the library says more
CHOKER_BASIS = "ASME B30.9, lowest of the customary values for wire rope"
FREE_CHOKE = "a free choke; a choke forced flat carries less: give its angle"
FLAT = math.radians(30.0)  # of a basket's parts where nobody says
CHAIN_BEND = ((6.0, 1.0), (5.0, 0.9), (4.0, 0.8), (3.0, 0.7), (2.0, 0.6))  # D/d from -> share
CHAIN_BEND_SOURCE = "ASME B30.9, chain bent round a load, not checked against the standard's text"
FITTING = "fitting at the load"
TENSIONS, STATICS = "Leg tensions", "statics of the hung load"

SHEET = Sheet("lift")
PART = SHEET.rows("part", "lift.part")  # of the load
LEG = SHEET.rows("leg", "lift.leg", leg="number")
READING = SHEET.rows("reading", "lift.reading")


def _trial_lift(lift: Lift) -> bool:
    return lift.tail is None or lift.tail.kind == "hook"


def _trial_turn(lift: Lift) -> bool:
    return not _trial_lift(lift)


SHEET.stands("suspended-load")
SHEET.stands("trial-lift", when=_trial_lift)
SHEET.stands("trial-turn", when=_trial_turn)
SHEET.stands("set-down")
SHEET.given("pick", "leg.pick")
SHEET.given("rated", "leg.capacity")
SHEET.given("bend_diameter", "leg.bend_diameter")
FLATTEST = "the flattest that is usual; a steeper basket carries more"
SHEET.given("basket_angle", "leg.basket_angle", default=Default(FLAT, "angle", FLATTEST, "safe"))


@dataclass(frozen=True, slots=True)
class LegData:
    """One leg as the statics want it."""

    number: int  # from 1
    plan: Leg
    pick: Point
    length: float | None
    rigidity: float | None  # EA, N; None = taken as unstretching
    axis: Point | None  # straight pull of the fitting; None where it turns to the pull

    @property
    def name(self) -> str:
        """Number and name, as in "leg 2 (rear left)"."""
        return f"leg {self.number}{self.called}"

    @property
    def called(self) -> str:
        """The name in brackets, where it says more than the number."""
        name = (self.plan.name or "").strip()
        return f" ({name})" if name and name != str(self.number) else ""


@dataclass(frozen=True, slots=True)
class Share:
    """What a sling carries of its rating as it is used, and the words of its basis."""

    value: float
    words: str = ""


@dataclass(frozen=True, slots=True)
class Hitched:
    """A sling as hitched: N, and on what basis."""

    capacity: float
    basis: str


# sling: rating and stretch


def of_kind(context: Context, tag: str | None, kind: str) -> Tagged | None:
    """The piece of the site's register under a tag, if it is of that kind."""
    found = tagged(context.library, tag) if tag else None
    return found if found is not None and found.kind == kind else None


def sling_tag(leg: Leg, number: int, lift: Lift, context: Context) -> str | None:
    """The tag read on site: it is what hangs there; else the one the plan names."""
    read: str | None = context.observed.get(lift.id, f"leg.{number}.tag")
    return read or leg.tag


@SHEET.result(LEG)
def known_tag(leg: Row[Leg], lift: Lift, context: Context) -> Tagged | None:
    return of_kind(context, sling_tag(leg.plan, leg.number, lift, context), SLING)


@SHEET.result(LEG)
def known_sling(leg: Row[Leg], context: Context, known_tag: Tagged | None = None) -> Sling | None:
    """The library's row; a name it does not know matters only where the plan gives no rating of its own."""
    name = leg.plan.sling or (known_tag.sling if known_tag is not None else None)
    if name is None:
        return None
    try:
        return sling(context.library, name)
    except LibraryError as error:
        if leg.plan.capacity is None and known_tag is None:
            raise Absent(leg.field("sling"), why=str(error)) from error
        return None


@SHEET.result(LEG, name="rated")
def rated_by_register(known_tag: Tagged) -> float:
    """The tag governs, not the table."""
    return known_tag.capacity


@SHEET.result(LEG, name="rated")
def rated_by_library(known_sling: Sling) -> float:
    return known_sling.capacity


@SHEET.result(LEG, name="rated")
def unrated(leg: Row[Leg]) -> float:
    why = "name a sling of the library or give its rated capacity"
    raise Absent(leg.field("sling"), leg.field("capacity"), why=why)


@SHEET.result(LEG)
def rigidity(leg: Row[Leg], rated: float, known_sling: Sling | None = None) -> float | None:
    """EA, N, from the strain at the rated capacity; a strain of the plan goes with its rating."""
    own = leg.plan.elongation
    parts = 2.0 if leg.plan.hitch == "basket" else 1.0
    if own is not None:
        return parts * rated / own
    return parts * known_sling.stiffness if known_sling is not None else None


@SHEET.result(LEG)
def as_hung(leg: Row[Leg], pick: Point, straight: Point | None = None, rigidity: float | None = None) -> LegData:
    return LegData(leg.number, leg.plan, pick, leg.plan.length, rigidity, straight)


@SHEET.result(each={"every": Each("as_hung")})
def legs(every: tuple[LegData, ...]) -> tuple[LegData, ...]:
    if not every:
        raise Absent("leg", why="no legs given")
    return every


SHEET.asks("leg_tension", TENSIONS, "legs", kind="force", basis="statics")


@SHEET.note()
def unstretching(legs: tuple[LegData, ...]) -> Assumed | None:
    soft = ", ".join(str(leg.number) for leg in legs if leg.rigidity is None)
    basis = f"stretch of leg {soft} not known: taken as unstretching, the unfavourable side"
    return Assumed(None, "leg.elongation", basis, text="no stretch") if soft else None


@SHEET.result(LEG)
def shackle_rated(leg: Row[Leg], context: Context) -> float | None:
    return _of_plan_or_register(leg, SHACKLE, leg.plan.shackle_capacity, leg.plan.shackle_tag, context)


@SHEET.result(LEG)
def adjuster_rated(leg: Row[Leg], context: Context) -> float | None:
    return _of_plan_or_register(leg, ADJUSTER, leg.plan.adjuster_capacity, leg.plan.adjuster_tag, context)


def _of_plan_or_register(
    leg: Row[Leg], kind: str, given: float | None, tag: str | None, context: Context
) -> float | None:
    """None where the leg has no such piece; one that has a tag and no rating anywhere is missing."""
    if given is not None or tag is None:
        return given
    row = of_kind(context, tag, kind)
    if row is None:
        raise Absent(leg.field(f"{kind}_capacity"), why=f"no register holds the {kind} {tag}: give its rated capacity")
    return row.capacity


SHEET.asks("leg_capacity", "Leg {leg.number}: shackle", "shackle_rated", scope=(LEG,), kind="capacity",
           basis="marking on the shackle", part=SHACKLE)  # fmt: skip


SHEET.asks("leg_capacity", "Leg {leg.number}: adjuster", "adjuster_rated", scope=(LEG,), kind="capacity",
           basis="marking on the adjuster", part=ADJUSTER)  # fmt: skip


# sling: hitch and bend


def _choked(leg: Row[Leg]) -> bool:
    return leg.plan.hitch == "choker"


def _basket(leg: Row[Leg]) -> bool:
    return leg.plan.hitch == "basket"


def _straight(leg: Row[Leg]) -> bool:
    return not _choked(leg) and not _basket(leg)


@SHEET.result(LEG)
def choker_factor(known_sling: Sling | None = None) -> float | Assumed:
    if known_sling is not None:
        return known_sling.choker
    return Assumed(CHOKER, "leg.choker", CHOKER_BASIS, text=f"{CHOKER:g} of the straight rating")


@SHEET.result(LEG)
def choke(leg: Row[Leg], context: Context, known_sling: Sling | None = None) -> Share | Assumed:
    """Of the choker rating, by the angle of choke."""
    angle = leg.plan.choke_angle
    if angle is None:
        return Assumed(Share(1.0), "leg.choke_angle", FREE_CHOKE, text="above 120°")
    found = choke_share(context.library, known_sling.kind if known_sling else "wire rope", angle)
    words = f"; choked at {math.degrees(angle):.0f}°: {found.value:.2f} of the choker rating ({found.source})"
    return Share(found.value, words)


@SHEET.result(LEG, name="hitch", when=_choked, after=("legs", "rated"))
def choker(choker_factor: float, choke: Share) -> Share:
    return Share(choker_factor * choke.value, f"; choker {choker_factor:g} of straight{choke.words}")


@SHEET.result(LEG, name="hitch", when=_basket, after=("legs", "rated"))
def basket(basket_angle: float, context: Context) -> Share:
    said = show(basket_angle, "angle", context.system)
    words = f"; basket, both parts at {said} from the horizontal"
    return Share(sling_capacity(1.0, "basket", basket_angle=basket_angle), words)


@SHEET.result(LEG, name="hitch", when=_straight)
def straight_hitch() -> Share:
    return Share(1.0)


@SHEET.result(LEG)
def bend(leg: Row[Leg], context: Context, known_sling: Sling | None = None) -> Share:
    """What a rope or chain keeps round what it bends round."""
    size = known_sling.size if known_sling is not None and known_sling.kind in BENT else None
    if leg.plan.bend_diameter is None or known_sling is None or not size:
        return Share(1.0)
    ratio = leg.plan.bend_diameter / size
    if known_sling.kind == "chain":
        share, source = next((factor for least, factor in CHAIN_BEND if ratio >= least), 0.0), CHAIN_BEND_SOURCE
    else:
        found = bend_share(context.library, ratio)
        share, source = found.value, found.source
    return Share(share, f"; bent at D/d = {ratio:.1f}: {share:.2f} ({source})")


@SHEET.result(LEG)
def hitched(
    leg: Row[Leg],
    rated: float,
    hitch: Share,
    bend: Share,
    known_sling: Sling | None = None,
    known_tag: Tagged | None = None,
) -> Hitched:
    basis = "rated capacity given in the plan"
    if leg.plan.capacity is None and known_tag is not None:
        basis = f"rigging register, tag {known_tag.tag} ({known_tag.source})"
    elif leg.plan.capacity is None and known_sling is not None:
        basis = known_sling.source
    return Hitched(rated * hitch.value * bend.value, f"{basis}{hitch.words}{bend.words}")


SHEET.asks("leg_capacity", "Leg {leg.number}: sling", "rated", scope=(LEG,), kind="capacity",
           basis="sling tag", part="sling")  # fmt: skip


SHEET.asks("leg_capacity", "Leg {leg.number}: sling", "hitched", scope=(LEG,), kind="capacity", part="sling",
           quiet=True)  # fmt: skip


def _bends_unsaid(leg: Row[Leg], known_sling: Sling) -> bool:
    return leg.plan.hitch in ("choker", "basket") and known_sling.kind in BENT


SHEET.asks("bend", "Leg {leg.number}: bend of the sling", "bend_diameter", scope=(LEG,), kind="length", basis="ASME B30.9",
           part="sling", when=_bends_unsaid, after=("legs", "rated"),
           lacking="what does the {known_sling.kind} bend round? give bend_diameter: it loses strength on a small one")  # fmt: skip


@SHEET.note(LEG, after=("legs", "rated"))
def bent_unknown(leg: Row[Leg], bend_diameter: float, context: Context, known_sling: Sling | None = None) -> str | None:
    if known_sling is not None and known_sling.kind not in BENT:
        return f"Leg {leg.number}: protect the sling from edges; the least radius on its tag governs."
    if known_sling is not None and (known_sling.size or known_sling.kind == "chain"):
        return None
    return (
        f"Leg {leg.number} bends round {show(bend_diameter, 'length', context.system)}: its rope diameter is not known, so the "
        "rating given must already allow for that bend."
    )


# fitting at the load


@SHEET.result(LEG)
def known_fitting(leg: Row[Leg], context: Context) -> Fitting | None:
    if leg.plan.fitting is None:
        return None
    try:
        return fitting(context.library, leg.plan.fitting)
    except LibraryError as error:
        raise Absent(leg.field("fitting"), why=str(error)) from error


@SHEET.result(LEG)
def straight(leg: Row[Leg], known_fitting: Fitting | None = None) -> Point | None:
    """Direction of the fitting's straight pull; None for one that turns to the pull, or none at all."""
    if leg.plan.pull_axis is not None:
        return leg.plan.pull_axis
    turns = known_fitting is not None and known_fitting.kind == TURNS
    return None if leg.plan.fitting is None or turns else (0.0, 0.0, 1.0)


@SHEET.result(LEG)
def fastened(leg: Row[Leg]) -> bool | None:
    """That a fitting holds it; a basket or a choke needs none."""
    if leg.plan.fitting is None and leg.plan.fitting_capacity is None:
        if leg.plan.hitch in ("basket", "choker"):
            return None
        raise Absent(leg.field("fitting"), leg.field("fitting_capacity"), why="what holds this leg to the load?")
    return True


def _named(leg: Row[Leg]) -> bool:
    return leg.plan.fitting is not None


@SHEET.result(LEG, name="fitting_rating", when=_named)
def rating_of_named(leg: Row[Leg], known_fitting: Fitting) -> float:
    """Along its axis, N."""
    rating = leg.plan.fitting_capacity if leg.plan.fitting_capacity is not None else known_fitting.capacity
    if rating is None:
        raise Absent(leg.field("fitting_capacity"), why="its rating is stamped on it")
    return rating


@SHEET.result(LEG, name="fitting_rating")
def rating_given(leg: Row[Leg], fastened: bool) -> float | None:
    return leg.plan.fitting_capacity
