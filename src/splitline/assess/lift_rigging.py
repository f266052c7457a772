"""What each leg is rated for and whether its parts and the beam carry it: tensions, angles, the chain of parts, upper slings."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_hang import BOX, HANG, State
from splitline.assess.lift_legs import FITTING, LEG, SHEET, Hitched, LegData, of_kind
from splitline.assess.sheet import Absent, Against, Assumed, Default, Each, Row, Rule
from splitline.library.fittings import Fitting
from splitline.library.rigging import SLING, Tagged, registered
from splitline.lifting.below import Above
from splitline.lifting.bridle import sharing_tension
from splitline.lifting.rigging import Part, Table, angled_factor, pull_angle
from splitline.lifting.tolerance import Worst
from splitline.plan.model.lift import Leg, Lift, Spreader
from splitline.units import show

MINIMUM = math.radians(30.0)
MINIMUM_BASIS = "ASME B30.9: below 30 degrees from the horizontal only by a qualified person"
SLANT = math.radians(5.0)  # a pull this far off a fitting's axis is an angled pull
RULES = "two legs: NAVEDTRA 14251, AS 3775; three legs: OSHA chain tables; authorities differ"
RATED = "marked on the beam; ASME BTH-1 and B30.20: it holds for the points and sling angles marked with it"
WORST = "with margin and dynamic factor of load, beam and rigging; greatest over lengths and centre"
NEXT_TO_NOTHING = 0.01  # share of the load below: a lifting beam, which is bent and not pressed
BEAM, UPPER = "beam", "upper sling"
TAG = "29 CFR 1910.184: the tag governs"
MARKED = "marking on the fitting"
AT_LOAD = f"Leg {{leg.number}}: {FITTING}"
TABLED = "the fitting's own drawing or table"

DOUBLED = SHEET.axis("doubled")  # sling tags that stand on two legs
SHEET.given("sharing", "lift.sharing")
SHEET.given("minimum_angle", "lift.minimum_angle", default=Default(MINIMUM, "angle", MINIMUM_BASIS, "usual least"))
SHEET.given("spreader", "lift.spreader")
SHEET.given("beam_capacity", "lift.spreader.capacity")


@SHEET.result()
def known_beam(spreader: Spreader, context: Context) -> Tagged | None:
    return of_kind(context, spreader.tag, BEAM)


@SHEET.result(name="beam_capacity")
def beam_in_register(known_beam: Tagged) -> float:
    return known_beam.capacity


@SHEET.result(name="beam_capacity")
def beam_unrated(spreader: Spreader) -> float:
    raise Absent("spreader.capacity")


SHEET.given("compression_capacity", "lift.spreader.compression_capacity")
SHEET.given("upper_capacity", "lift.spreader.upper_capacity")


# tensions


@SHEET.result(name="sharing")
def usual_sharing(legs: tuple[LegData, ...]) -> str | Assumed:
    basis = "the stricter of the customary rules: NAVEDTRA 14251, AS 3775"
    return Assumed("two legs", "sharing", basis) if len(legs) > 3 else "two legs"


@SHEET.result(
    kind="force", title="Leg tension, design", symbol="T_d", formula="hung at W_d, not under W_d/(k sin α)",
    source=f"{HANG}; sharing rule: {RULES}", shape="list", after=("worst",),
)  # fmt: skip
def leg_tension_design(nominal: State, at_design: State, weight_design: float, sharing: str) -> tuple[float, ...]:
    least = (sharing_tension(weight_design, len(nominal.angles), sharing, angle) for angle in nominal.angles)
    return tuple(max(tension, rule or 0.0) for tension, rule in zip(at_design.tensions, least, strict=True))


SHEET.tell("leg_tension_worst", "worst.tensions", "force", "Leg tension, worst", "T_w",
           "greatest over lengths and centre at W_d", BOX, shape="list")  # fmt: skip


@SHEET.result(kind="force", title="Leg tension, governing", symbol="T_g", formula="max(T_d, T_w)",
              source="what its parts are rated for", shape="list")  # fmt: skip
def leg_tension_governing(leg_tension_design: tuple[float, ...], worst: Worst) -> tuple[float, ...]:
    return tuple(map(max, leg_tension_design, worst.tensions))


SHEET.tell("leg_tension_least", "worst.lowest", "force", "Leg tension, least", "T_min", "least over lengths and centre at W_d",
           BOX, shape="list")  # fmt: skip


def _without(pulls: tuple[float, ...]) -> list[str]:
    """Numbers of the legs that pull nothing."""
    return [str(number) for number, pull in enumerate(pulls, 1) if pull <= 0.0]


@SHEET.note()
def slack(nominal: State) -> str | None:
    legs = ", ".join(_without(nominal.tensions))
    return f"Leg {legs} hangs slack at the nominal lengths." if legs else None


@SHEET.note()
def slack_in_doubt(nominal: State, worst: Worst) -> str | None:
    legs = _without(worst.lowest)
    if len(legs) <= len(_without(nominal.tensions)):
        return None
    return f"Within the length tolerance leg {', '.join(legs)} may hang slack and leave its share to others."


# angles


@dataclass(frozen=True, slots=True)
class Flattest:
    """The leg that stands flattest of those that carry, in the worst pose of the doubts."""

    angle: float
    leg: LegData


@SHEET.result()
def flattest(nominal: State, legs: tuple[LegData, ...], worst: Worst | None = None) -> Flattest | None:
    now = zip(nominal.angles, legs, nominal.tensions, strict=True)
    carrying = [Flattest(angle, leg) for angle, leg, pull in now if pull > 0.0]
    if worst is not None:
        carrying += map(Flattest, worst.angles, legs)
    return min(carrying, key=lambda each: each.angle, default=None)


def _steep_enough(lift: Lift, context: Context, least: float, angle: float, name: str) -> Against:
    """The flattest angle of slings against the least, both told from the vertical too."""
    upright, most = (show(math.pi / 2.0 - each, "angle", context.system) for each in (angle, least))
    note = f"{name} is {upright} from the vertical with tolerances, at most {most}"
    basis = MINIMUM_BASIS if lift.minimum_angle is None else "minimum angle given in the plan"
    return Against(least, angle, note, basis)


@SHEET.check(
    "leg_angle",
    "Leg {flattest.leg.number}: flattest angle from the horizontal",
    sense="at least",
    kind="angle",
    quiet=True,
)
def legs_steep(lift: Lift, context: Context, minimum_angle: float, flattest: Flattest) -> Against:
    found = _steep_enough(lift, context, minimum_angle, flattest.angle, flattest.leg.name)
    return Against(found.demand, found.limit, found.note, found.basis, {"leg": flattest.leg.number})


# the chain of parts of every leg from hook to load, its weakest named


@dataclass(frozen=True, slots=True)
class Pulled:
    """A fitting as it is pulled: N, by its name and on what basis."""

    name: str
    capacity: float
    basis: str


SHEET.asks("fitting", AT_LOAD, "fastened", scope=(LEG,), kind="capacity", basis=MARKED, part=FITTING)


@SHEET.result(name="pull_angle", kind="angle", title="Pull off the fitting's axis", symbol="β", formula="acos(a · u)",
              source="geometry of the hung load", shape="list")  # fmt: skip
def pull_angles(nominal: State, legs: tuple[LegData, ...], worst: Worst | None = None) -> tuple[float, ...]:
    """Greatest angle of each leg's pull off its fitting's axis: as hung and over the doubts."""
    now = [
        0.0 if leg.axis is None else pull_angle(leg.axis, along) for leg, along in zip(legs, nominal.along, strict=True)
    ]
    return tuple(map(max, now, worst.pulls)) if worst is not None and worst.pulls else tuple(now)


def off_axis(leg: Leg, known: Fitting | None, rating: float, angle: float, context: Context) -> Pulled | None:
    """A fitting pulled at an angle (rad) off its axis; None where no table says what it carries so."""
    table: Table | None = leg.reduction
    source = leg.reduction_source or "angled-pull table given in the plan"
    if table is None and known is not None and known.angled is not None:
        table, source = known.angled.points, known.angled.source
    name = leg.fitting or "fitting"
    if table is None:
        basis = "rated capacity of the fitting, pulled along its axis"
        return None if angle > SLANT else Pulled(name, rating, basis)
    share, said = angled_factor(table, angle) or 0.0, show(angle, "angle", context.system)
    basis = f"{share:.2f} of its rating at {said} off its axis ({source})" if angle > 0.0 else source
    return Pulled(f"{name} pulled {said} off its axis" if angle > math.radians(1.0) else name, rating * share, basis)


@SHEET.result(LEG)
def pulled(
    leg: Row[Leg], fitting_rating: float, pull_angle: tuple[float, ...], context: Context, known_fitting: Fitting | None = None
) -> Pulled:  # fmt: skip
    angle = pull_angle[leg.number - 1]
    found = off_axis(leg.plan, known_fitting, fitting_rating, angle, context)
    if found is not None:
        return found
    raise untold(leg, angle, context)


def untold(leg: Row[Leg], angle: float, context: Context) -> Absent:
    """That no table says what a fitting carries at an angle off its axis."""
    axis = "the axis given" if leg.plan.pull_axis is not None else "the vertical"
    return Absent(
        leg.field("pull_axis"), leg.field("reduction"),
        why=f"{leg.plan.fitting or 'fitting'} is pulled {show(angle, 'angle', context.system)} off {axis}, and no table says "
        "what it carries so: give pull_axis as its drawing has it, or reduction",
    )  # fmt: skip


SHEET.asks("fitting", AT_LOAD, "fitting_rating", scope=(LEG,), kind="capacity", basis=MARKED, part=FITTING, quiet=True,
           after=("nominal",))  # fmt: skip


SHEET.asks("fitting", AT_LOAD, "pulled", scope=(LEG,), kind="capacity", basis=TABLED, part=FITTING, quiet=True,
           after=("nominal",))  # fmt: skip


@SHEET.note(LEG, after=("nominal", "fitting_rating"))
def shouldered(leg: Row[Leg], known_fitting: Fitting) -> tuple[str, ...]:
    if known_fitting.kind != "eyebolt, shouldered" or leg.plan.reduction is not None or known_fitting.angled is None:
        return ()
    return tuple(f"Shouldered eyebolts: {note}." for note in (known_fitting.angled.note, known_fitting.note) if note)


@SHEET.result(LEG)
def chain(
    leg: Row[Leg],
    nominal: State,
    hitched: Hitched | None = None,
    pulled: Pulled | None = None,
    leg_tension_governing: tuple[float, ...] | None = None,
    adjuster_rated: float | None = None,
    shackle_rated: float | None = None,
) -> tuple[Part, ...]:
    """Adjuster, sling, shackle and fitting, as far as their ratings are known."""
    plan, found = leg.plan, []
    demand = leg_tension_governing[leg.number - 1] if leg_tension_governing else 0.0
    for name, given, capacity, tag in (
        ("adjuster", plan.adjuster_capacity, adjuster_rated, plan.adjuster_tag),
        ("shackle", plan.shackle_capacity, shackle_rated, plan.shackle_tag),
    ):
        if capacity is not None:
            own = f"rated capacity of the {name} given in the plan"
            found.append(Part(name, demand, capacity, own if given is not None else f"rigging register, tag {tag}"))
    if hitched is not None:
        sling = Part(plan.sling or "sling", demand, hitched.capacity, hitched.basis)
        found.insert(int(adjuster_rated is not None), sling)
    if pulled is not None:
        found.append(Part(pulled.name, demand, pulled.capacity, pulled.basis))
    return tuple(found)


@SHEET.result(each={"every": Each("chain")})
def chains(every: tuple[tuple[Part, ...], ...]) -> tuple[tuple[Part, ...], ...]:
    return every


@SHEET.result(LEG, after=("leg_tension_governing",))
def weakest(chain: tuple[Part, ...]) -> Part | None:
    return max(chain, key=lambda part: part.usage or 0.0, default=None)


@SHEET.check(
    "leg_capacity", "Leg {leg.number}{as_hung.called}: weakest part, {weakest.name}", LEG, kind="capacity",
    basis="{weakest.basis}; greatest of design and worst tension", part="{weakest.name}", quiet=True,
)  # fmt: skip
def leg_carries(weakest: Part) -> Against:
    capacity = weakest.capacity or 0.0
    return Against(weakest.demand, capacity, "" if capacity > 0.0 else "not allowed to be pulled at this angle")


@SHEET.result(each={"every": Each("weakest")}, kind="capacity", title="Capacity of the weakest part",
              source="chain of parts, see the checks", shape="list")  # fmt: skip
def leg_capacity(every: tuple[Part, ...], legs: tuple[LegData, ...]) -> tuple[float | None, ...] | None:
    return tuple(part.capacity for part in every) if len(every) == len(legs) else None


@SHEET.result(LEG)
def weakest_usage(chain: tuple[Part, ...], weakest: Part | None = None) -> float:
    """Not a number where it cannot be told."""
    capacity = weakest.capacity if weakest is not None else None
    return weakest.demand / capacity if weakest is not None and capacity else math.nan


@SHEET.result(each={"every": Each("weakest_usage")})
def usages(every: tuple[float, ...]) -> tuple[float, ...]:
    return every


SHEET.tell("leg_usage", "usages", "share", "Usage of the weakest part", "", "T/capacity", "chain of parts", shape="list",
           after=("leg_capacity",))  # fmt: skip


# the beam and its upper slings; what has no rating is missing, whatever else is known


def _beamed(spreader: Spreader) -> bool:
    return True


@SHEET.result(when=_beamed)
def beamed(nominal: State, at_design: State | None = None) -> State:
    return at_design or nominal


LEAST, GREATEST = "least over lengths and centre", "greatest over lengths and centre"
SHEET.tell("upper_tension", "beamed.upper_tensions", "force", "Upper sling tension, design", "",
           "hung at W_d + k_d (spreader + rigging)", HANG, shape="list")  # fmt: skip
SHEET.tell(
    "upper_tension_worst", "above.tensions", "force", "Upper sling tension, worst", "", GREATEST, BOX, shape="list"
)
SHEET.tell("upper_angle", "nominal.upper_angles", "angle", "Upper sling angle from the horizontal", "", "", HANG, shape="list",
           after=("beamed",))  # fmt: skip
SHEET.tell("upper_angle_worst", "above.angles", "angle", "Upper sling angle, flattest", "", LEAST, BOX, shape="list")


@SHEET.result(kind="force", title="Compression in the spreader, design", formula="greatest over its cuts", source=HANG)
def spreader_compression(beamed: State) -> float:
    return abs(beamed.compression)


@SHEET.result(kind="force", title="Compression in the spreader, worst", formula=GREATEST, source=BOX)
def spreader_compression_worst(above: Above) -> float:
    return abs(above.compression)


SHEET.tell("spreader_bending", "beamed.bending", "torque", "Bending of the spreader, design", "",
           "Σ r × F beyond each cut, own weight spread", HANG)  # fmt: skip
SHEET.tell("spreader_bending_worst", "above.bending", "torque", "Bending of the spreader, worst", "", GREATEST, BOX)
SHEET.tell("spreader_tilt", "nominal.beam_tilt", "angle", "Tilt of the spreader", "", "", HANG, after=("beamed",))


@SHEET.result()
def bent(above: Above, context: Context) -> str:
    return show(above.bending, "torque", context.system)


@SHEET.check(
    "spreader_rated", "Spreader: rated load", kind="capacity", basis=RATED, part=BEAM, after=("bent",),
    lacking="its rated load is marked on it; here it is bent by up to {bent}",
)  # fmt: skip
def beam_rated(weight_design: float, beam_capacity: float, bent: str) -> Against:
    return Against(weight_design, beam_capacity, f"bent by up to {bent}", f"design load below it; {RATED}")


@SHEET.result()
def pressing(above: Above) -> str:
    return "Spreader: compression" if above.compression >= 0.0 else "Spreader: pull along the beam"


def _bends_only(spreader: Spreader, above: Above, weight_design: float) -> bool:
    unrated = spreader.compression_capacity is None
    return unrated and abs(above.compression) <= NEXT_TO_NOTHING * weight_design


def _presses(spreader: Spreader, above: Above, weight_design: float) -> bool:
    return not _bends_only(spreader, above, weight_design)


@SHEET.check("spreader_compression", "{pressing}", basis=WORST, part=BEAM, when=_bends_only, quiet=True)
def beam_bends(spreader_compression_worst: float, context: Context) -> Rule:
    along = show(spreader_compression_worst, "force", context.system)
    return Rule("ok", f"no more than {along} along it: it bends, its rated load governs")


@SHEET.check(
    "spreader_compression", "{pressing}", kind="capacity", basis="marking on the beam", part=BEAM, when=_presses,
    after=("bent",),
)  # fmt: skip
def beam_pressed(spreader_compression_worst: float, compression_capacity: float) -> Against:
    basis = f"rated compression given in the plan; {WORST}"
    return Against(spreader_compression_worst, compression_capacity, basis=basis)


@SHEET.check(
    "spreader_bending", "Spreader: bending", kind="torque", basis=f"rated bending moment given in the plan; {WORST}",
    part=BEAM, quiet=True,
)  # fmt: skip
def beam_bent(spreader: Spreader, above: Above) -> Against | None:
    rated = spreader.bending_capacity
    return Against(above.bending, rated) if rated is not None else None


@SHEET.check("spreader_upper", "Spreader: upper sling", kind="capacity", basis="sling tag", part=UPPER, after=("bent",))
def uppers_carry(above: Above, upper_capacity: float) -> Against:
    return Against(max(above.tensions), upper_capacity, basis=f"rated capacity given in the plan; {WORST}")


@SHEET.check(
    "upper_angle",
    "Upper slings: flattest angle from the horizontal",
    sense="at least",
    kind="angle",
    part=UPPER,
    quiet=True,
)
def uppers_steep(lift: Lift, context: Context, minimum_angle: float, above: Above) -> Against:
    return _steep_enough(lift, context, minimum_angle, min(above.angles), UPPER)


# tags


@SHEET.result()
def all_doubled(lift: Lift, context: Context) -> tuple[str, ...]:
    """Where the site keeps a register, that says how many legs a tag has."""
    if any(each.kind == SLING for each in registered(context.library)):
        return ()
    tags = [leg.tag for leg in lift.leg if leg.tag]
    return tuple(dict.fromkeys(tag for tag in tags if tags.count(tag) > 1))


@SHEET.check("sling_tag_twice", "Sling tag {doubled}", DOUBLED, basis=TAG, after=("legs", "weight"))
def one_tag_one_sling(doubled: str, legs: tuple[LegData, ...]) -> Rule:
    on = ", ".join(str(leg.number) for leg in legs if leg.plan.tag == doubled)
    note = f"tag {doubled} stands on legs {on}: one tag is one sling, unless one sling makes both legs"
    return Rule("near", note)


@SHEET.check("sling_tag", "Sling tags", basis=TAG, quiet=True, after=("weight",))
def tags_read(lift: Lift, legs: tuple[LegData, ...], context: Context) -> Rule | None:
    untold = [
        leg.number for leg in legs
        if not (leg.plan.tag or context.observed.get(lift.id, f"leg.{leg.number}.tag"))
    ]  # fmt: skip
    said = ", ".join(map(str, untold))
    note = f"read the tag on the sling of leg {said}: the tag governs, not the table"
    return Rule("on-site", note, tuple(f"leg.{number}.tag" for number in untold)) if untold else None
