"""Will it hang upright and level enough: stability, tilt, roll, the spigot, and what the adjusters do at the trial lift."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_hang import BOX, HANG, OneHook, State, Turned
from splitline.assess.lift_legs import SHEET, STATICS, LegData
from splitline.assess.lift_told import FREE_TILT, Point, rolled_words, tilt_words
from splitline.assess.sheet import Against, Rule
from splitline.lifting.bridle import Levelled, level_with, tilt_rates
from splitline.lifting.stability import Standing, clocking, pick_line, spigot_limit, standing
from splitline.lifting.stability import axis_tilt as slope_of
from splitline.lifting.tolerance import Worst
from splitline.plan.model.lift import Lift, Spigot
from splitline.units import show

FREE_BASIS = "0027/ND Rev 11.2, 5.3.2: single-crane lift, 2 degrees without special review"
PINS = 0.100  # m, guide pins beyond the spigot (common practice)
STABLE = "least potential energy: curvature of the hung load"
HALF = "half of clearance/engagement (the whole is two-point contact)"
LEVEL = 1e-6  # rad, below which nothing is trimmed
TURNED = 5e-4  # m, below which no adjuster is touched

SHEET.given("spigot", "lift.spigot")
SHEET.given("clearance", "lift.spigot.clearance")
SHEET.given("engagement", "lift.spigot.engagement")
SHEET.given("spigot_diameter", "lift.spigot.diameter")


# upright


@SHEET.result()
def found_standing(nominal: State, legs: tuple[LegData, ...], centre: Point, frame: Turned) -> Standing:
    """The centre against picks and polygon."""
    return standing([frame.to(leg.pick) for leg in legs], frame.to(centre), frame.to(nominal.hook))


SHEET.tell(
    "below_hook", "found_standing.below_hook", "length", "Hook above the centre of gravity", "", "h_z − c_z", "geometry"
)


@SHEET.result(kind="length", title="Centre inside the picks' polygon by",
              formula="plan distance from the nearest edge", source="geometry")  # fmt: skip
def pick_margin(found_standing: Standing, legs: tuple[LegData, ...]) -> float | None:
    return found_standing.margin if len(legs) > 2 else None


@SHEET.result()
def line(legs: tuple[LegData, ...]) -> Point | None:
    """Of picks that lie on one line, its direction: the load may roll about it like a shaft in slings."""
    return pick_line([leg.pick for leg in legs])


@SHEET.check("stability", "Hangs upright", basis=STABLE, quiet=True)
def upright(
    nominal: State, found_standing: Standing, legs: tuple[LegData, ...], context: Context,
    line: Point | None = None, worst: Worst | None = None,
) -> Rule:  # fmt: skip
    """Upright, neutral or turning over."""
    if nominal.state == "turns over":
        note = "the load turns over: it comes to rest with its top downwards; raise the picks or lower the centre"
        return Rule("fails", note)
    if nominal.state == "neutral" and line is not None:
        note = "neutral: it may roll about the line through its picks; a small offset of the centre decides how far"
        return Rule("near", note)
    if nominal.state == "neutral":
        return Rule("near", "neutral: nothing turns it back; hold it with tag lines or another leg")
    lost = worst.turned + worst.unsolved if worst is not None else 0
    if worst is not None and lost:
        note = f"with the tolerances of length and centre {lost} of {worst.poses} poses do not hang upright"
        return Rule("fails", note)
    if found_standing.below_picks < 0.0:
        high = show(-found_standing.below_picks, "length", context.system)
        note = f"it stands, but its centre is {high} above its lowest pick: it tips when a leg slackens"
        return Rule("near", note)
    if len(legs) > 2 and not found_standing.inside and nominal.beam_upper == ():
        out = show(-found_standing.margin, "length", context.system)
        return Rule("near", f"the centre lies {out} outside the picks: legs go slack and it hangs tilted")
    return Rule("ok", "centre of gravity below the hook and the picks")


# tilt and roll


def _rolls(nominal: State, line: Point) -> bool:
    """Whether the centre lies on the line through all picks."""
    return nominal.state == "neutral"


def _hangs(nominal: State) -> bool:
    return nominal.state != "turns over"


UP = {f"up_{axis}": (f"nominal.up.{number}", "number") for number, axis in enumerate("xyz")}


@SHEET.result(name="tilt", when=_rolls, kind="angle", title="Tilt as hung", symbol="θ", formula="acos(up · z)", source=HANG,
              puts=UP)  # fmt: skip
def slope(nominal: State, line: Point) -> float:
    """Of a load free to roll about its picks the slope of their line counts."""
    return slope_of(nominal.up, line)


@SHEET.result(name="tilt", kind="angle", title="Tilt as hung", symbol="θ", formula="acos(up · z)", source=HANG, puts=UP)
def tilt(nominal: State) -> float:
    return nominal.tilt


WORST_TILT = "greatest over lengths and centre, roll included"


@SHEET.result(
    name="tilt_worst", when=_rolls, kind="angle", title="Tilt, worst", symbol="θ_w", formula=WORST_TILT, source=BOX
)
def slope_worst(tilt: float, line: Point, worst: Worst) -> float:
    return max([tilt, *(slope_of(up, line) for up in worst.ups.tolist())])


@SHEET.result(name="tilt_worst", kind="angle", title="Tilt, worst", symbol="θ_w", formula=WORST_TILT, source=BOX)
def tilt_worst(nominal: State, worst: Worst) -> float:
    return max(worst.tilt, nominal.tilt)


@SHEET.note(when=_rolls)
def free_to_roll() -> str:
    return "The load may roll about the line through its picks: tilt is the slope of that line."


@SHEET.result(kind="angle", title="Slope of the picks' line, worst", formula="the rest of the worst tilt is roll", source=BOX,
              when=_hangs)  # fmt: skip
def pick_line_tilt(nominal: State, line: Point, worst: Worst) -> float | None:
    """Where the picks' line slopes much less than the load's worst tilt."""
    if nominal.state == "neutral":
        return None
    found = max(slope_of(up, line) for up in worst.ups.tolist())
    return found if found <= 0.9 * worst.tilt else None


@SHEET.result()
def tilt_limit(lift: Lift) -> float:
    return lift.tilt_limit or FREE_TILT


@SHEET.result()
def tilt_basis(lift: Lift) -> str:
    return "greatest tilt given in the plan" if lift.tilt_limit else FREE_BASIS


@SHEET.check("tilt", "Tilt as hung", kind="angle", basis="{tilt_basis}", quiet=True, when=_hangs)
def hangs_level(
    tilt: float,
    tilt_limit: float,
    context: Context,
    tilt_worst: float | None = None,
    pick_line_tilt: float | None = None,
) -> Against:
    note = tilt_words(tilt, context.system)
    if tilt_worst is not None:
        note += f"; with tolerances up to {tilt_words(tilt_worst, context.system)}"
    if pick_line_tilt is not None:
        note += rolled_words(pick_line_tilt, context.system)
    return Against(tilt, tilt_limit, note)


@SHEET.result(
    kind="angle", title="Roll about the line of the picks, worst", symbol="φ",
    formula="atan(r_c / depth), r_c tolerance of the centre", source="statics of the hung load", when=_hangs,
)  # fmt: skip
def roll_worst(line: Point, worst: Worst) -> float:
    """Nothing but the centre's depth below the line turns it back, so the doubt sets the angle; no leg trims it."""
    return max((clocking(up, line) for up in worst.ups.tolist()), default=0.0)


@SHEET.check(
    "roll", "Roll about the line of its picks, with tolerances", kind="angle", basis="{tilt_basis}", quiet=True
)
def rolls_little(lift: Lift, roll_worst: float, tilt_limit: float, context: Context) -> Against | Rule:
    if lift.rolls_freely:
        said = show(roll_worst, "angle", context.system)
        return Rule(
            "ok", f"up to {said}; the plan says that roll does no harm (rolls_freely)", basis="given in the plan"
        )
    note = "hold it with a third pick, raise the picks, or say rolls_freely where roll does no harm"
    return Against(roll_worst, tilt_limit, "" if roll_worst <= tilt_limit else note)


# the spigot


def _axis(spigot: Spigot) -> Point:
    return spigot.axis or (0.0, 0.0, 1.0)


@SHEET.result(name="axis_tilt", kind="angle", title="Tilt of the spigot's axis", symbol="θ_s",
              formula="|asin(up · a) − asin(z · a)|", source="geometry", when=_hangs)  # fmt: skip
def axis_tilt_now(spigot: Spigot, nominal: State) -> float:
    return slope_of(nominal.up, _axis(spigot))


@SHEET.result(
    kind="angle", title="Tilt of the spigot's axis, worst", formula="greatest over lengths and centre", source=BOX
)
def axis_tilt_worst(spigot: Spigot, axis_tilt: float, worst: Worst) -> float:
    return max([axis_tilt, *(slope_of(up, _axis(spigot)) for up in worst.ups.tolist())])


@SHEET.result(name="clocking", kind="angle", title="Turn about the spigot's axis", formula="of the stud holes",
              source="geometry", when=_hangs)  # fmt: skip
def clocking_now(spigot: Spigot, nominal: State) -> float:
    return clocking(nominal.up, _axis(spigot))


@SHEET.result(kind="length", title="Out of square across the spigot", formula="D tan θ_s", source="geometry",
              puts={"D": ("spigot_diameter", "length"), "θ_s": ("axis_tilt", "angle")})  # fmt: skip
def axis_rise(spigot_diameter: float, axis_tilt: float) -> float:
    return spigot_diameter * math.tan(axis_tilt)


@SHEET.result(kind="angle", title="Tilt allowed at the spigot", symbol="θ_a", formula="½ s/e",
              source="geometry; the whole s/e is two-point contact", after=("axis_tilt",),
              puts={"s": ("clearance", "length"), "e": ("engagement", "length")})  # fmt: skip
def spigot_tilt(clearance: float, engagement: float) -> float:
    return spigot_limit(clearance, engagement)


ENTERING = "Tilt of the axis entering the spigot"


SHEET.asks("spigot_tilt", ENTERING, "spigot_tilt", kind="angle", basis=HALF)


@SHEET.result()
def entering(
    spigot: Spigot, spigot_tilt: float, axis_tilt: float, context: Context, axis_tilt_worst: float = 0.0
) -> str:
    """What the spigot allows, in words."""
    rise = show(spigot_tilt * spigot.diameter, "length", context.system) if spigot.diameter is not None else ""
    allowed = tilt_words(spigot_tilt, context.system) + (f", {rise} across the spigot" if rise else "")
    return f"allowed {allowed}; with tolerances up to {tilt_words(max(axis_tilt, axis_tilt_worst), context.system)}"


def _adjustable(lift: Lift) -> bool:
    return any(leg.adjusts for leg in lift.leg)


def _as_it_hangs(lift: Lift, worst: Worst | None = None) -> bool:
    return _adjustable(lift) or worst is None


def _as_it_may_hang(lift: Lift, worst: Worst) -> bool:
    return not _adjustable(lift)


@SHEET.check("spigot_tilt", ENTERING, kind="angle", basis=HALF, when=_as_it_hangs, quiet=True)
def enters(axis_tilt: float, spigot_tilt: float, entering: str) -> Against:
    return Against(axis_tilt, spigot_tilt, entering)


@SHEET.check("spigot_tilt", f"{ENTERING}, worst", kind="angle", basis=HALF, when=_as_it_may_hang, quiet=True)
def enters_untrimmed(axis_tilt_worst: float, spigot_tilt: float, entering: str) -> Against:
    return Against(axis_tilt_worst, spigot_tilt, f"{entering}; no adjuster to trim it with")


@SHEET.check(
    "guide_pins", "Guide pins beyond the face", sense="at least", kind="length", quiet=True, after=("spigot_tilt",)
)
def pins_guide(spigot: Spigot, context: Context) -> Against | None:
    longer = show(PINS, "length", context.system)
    basis = f"guide pins {longer} longer than the spigot (common practice, no published source)"
    if spigot.guide_pin_length is None:
        return None
    return Against((spigot.engagement or 0.0) + PINS, spigot.guide_pin_length, basis=basis)


# trimming at the trial lift


@dataclass(frozen=True, slots=True)
class ToLevel:
    """A tilt that has to be kept: allowed, as hung, and within the doubts of length and centre."""

    spigot: bool
    limit: float
    now: float
    worst: float


def _hooked(lift: Lift) -> bool:
    return lift.tail is None


def _enters(lift: Lift, spigot_tilt: float | None = None) -> bool:
    return lift.tail is None and spigot_tilt is not None


def _free(lift: Lift, spigot_tilt: float | None = None, line: Point | None = None) -> bool:
    """Of a load with its picks on one line the worst tilt is mostly roll, which no leg can trim."""
    return lift.tail is None and spigot_tilt is None and line is None


@SHEET.result(name="to_level", when=_enters)
def spigot_to_level(spigot_tilt: float, axis_tilt: float, axis_tilt_worst: float) -> ToLevel:
    return ToLevel(True, spigot_tilt, axis_tilt, axis_tilt_worst)


@SHEET.result(name="to_level", when=_free)
def load_to_level(tilt: float, tilt_worst: float, tilt_limit: float) -> ToLevel:
    return ToLevel(False, tilt_limit, tilt, tilt_worst)


@SHEET.result(when=_hangs)
def untrimmed(to_level: ToLevel, lift: Lift) -> ToLevel | None:
    """Level as drawn, but not certainly within the doubts. Without an adjuster the spigot's own check fails."""
    doubtful = to_level.now <= to_level.limit < to_level.worst
    return to_level if doubtful and (_adjustable(lift) or not to_level.spigot) else None


@SHEET.result()
def trimming(untrimmed: ToLevel, legs: tuple[LegData, ...], context: Context, step_tilt: tuple[float, ...] = ()) -> str:
    """What to trim with, and where the nearest link or turn of the finest adjuster can leave more than is allowed."""
    able = " or ".join(leg.name for leg in [leg for leg in legs if leg.plan.adjusts][:3])
    how = f"trim with the adjuster of {able} at the trial lift" if able else "look at it at the trial lift"
    said = f"{how}, spirit level on the face" if untrimmed.spigot else how
    steps = [
        step for leg, step in zip(legs, step_tilt, strict=False)
        if leg.plan.adjusts and leg.plan.adjuster_step and step > 0.0
    ]  # fmt: skip
    if not steps or min(steps) / 2.0 <= untrimmed.limit:
        return said
    step, left = (tilt_words(each, context.system) for each in (min(steps), min(steps) / 2.0))
    return f"{said}. One link or turn moves it {step}: the nearest may leave {left}, so a finer adjuster is needed to be sure"


@SHEET.result()
def untrimmed_said(untrimmed: ToLevel, trimming: str, context: Context) -> str:
    worst, limit = (tilt_words(each, context.system) for each in (untrimmed.worst, untrimmed.limit))
    return f"with tolerances up to {worst}, allowed {limit}: {trimming}"


@SHEET.check(
    "spigot_trim", "Trimming before the spigot", basis="worst pose with tolerances against half of clearance/engagement",
    quiet=True,
)  # fmt: skip
def trim_for_the_spigot(untrimmed: ToLevel, untrimmed_said: str) -> Rule | None:
    return Rule("near", untrimmed_said) if untrimmed.spigot else None


@SHEET.check("tilt_trim", "Tilt with tolerances", basis=FREE_BASIS, quiet=True)
def trim_the_tilt(untrimmed: ToLevel, untrimmed_said: str) -> Rule | None:
    return None if untrimmed.spigot else Rule("near", untrimmed_said)


# what the adjusters do: advice for the trial lift


@SHEET.result(when=_hooked)
def adjusters(legs: tuple[LegData, ...], nominal: State) -> tuple[int, ...] | None:
    """Places of the legs that have one, from 0."""
    if nominal.beam_upper or nominal.state == "turns over":
        return None
    return tuple(place for place, leg in enumerate(legs) if leg.plan.adjusts) or None


@SHEET.result()
def tilt_per_metre(adjusters: tuple[int, ...], rigged: OneHook, weight: float, nominal: State) -> tuple[float, ...]:
    """What each leg's lengthening tilts, rad/m."""
    hard = [leg.rigidity for leg in rigged.legs]
    rates = tilt_rates(rigged.picks, rigged.lengths, hard, rigged.centre, weight, nominal.hook)
    return tuple(math.hypot(*row) for row in rates.tolist())


@SHEET.result(
    kind="angle", title="Tilt by one link or turn of each leg", formula="∂θ/∂L × step", source=HANG, shape="list"
)
def step_tilt(tilt_per_metre: tuple[float, ...], legs: tuple[LegData, ...]) -> tuple[float, ...]:
    return tuple(rate * (leg.plan.adjuster_step or 0.0) for rate, leg in zip(tilt_per_metre, legs, strict=True))


@SHEET.result()
def relevelled(adjusters: tuple[int, ...], rigged: OneHook, weight: float, nominal: State) -> Levelled | None:
    if nominal.tilt < LEVEL:
        return None
    hard = [leg.rigidity for leg in rigged.legs]
    return level_with(rigged.picks, rigged.lengths, hard, rigged.centre, weight, adjusters)


SHEET.asks("adjust", "Levelling by the adjusters", "tilt_per_metre", "relevelled", basis=STATICS, quiet=True)


SHEET.tell("adjust", "relevelled.changes", "length", "Change of each adjustable leg that levels", "ΔL",
           "least change, + longer", HANG, shape="list")  # fmt: skip
SHEET.tell("adjusted_tilt", "relevelled.after.tilt", "angle", "Tilt after adjusting", "", "", HANG)


@SHEET.result()
def levelling(
    adjusters: tuple[int, ...], tilt_per_metre: tuple[float, ...], step_tilt: tuple[float, ...], legs: tuple[LegData, ...],
    context: Context, relevelled: Levelled | None = None,
) -> tuple[str, ...]:  # fmt: skip
    """What one link or turn does, and which adjuster to turn by how much."""
    said = []
    for place in adjusters:
        leg, rate = legs[place], tilt_words(tilt_per_metre[place] * 0.01, context.system)
        line = f"Adjuster of {leg.name}: {rate} by {show(0.01, 'length', context.system)}"
        if leg.plan.adjuster_step:
            step = show(leg.plan.adjuster_step, "length", context.system)
            line += f", {tilt_words(step_tilt[place], context.system)} by one link or turn ({step})"
        said.append(f"{line}.")
    turns = [
        _turn(legs[place], relevelled.changes[place], context) for place in adjusters
        if relevelled is not None and abs(relevelled.changes[place]) >= TURNED
    ]  # fmt: skip
    if relevelled is not None and turns:
        left = tilt_words(relevelled.after.tilt, context.system)
        said.append(f"To level: {'; '.join(turns)}; leaves {left}.")
    return tuple(said)


def _turn(leg: LegData, change: float, context: Context) -> str:
    step = leg.plan.adjuster_step
    count = f" ({abs(change) / step:.1f} links or turns)" if step else ""
    word = "let out" if change > 0.0 else "take in"
    return f"{word} {leg.name} {show(abs(change), 'length', context.system)}{count}"


@SHEET.note()
def advised(levelling: tuple[str, ...]) -> tuple[str, ...]:
    return levelling


# cautions


def _fits(spigot_tilt: float | None = None) -> bool:
    return spigot_tilt is not None


@SHEET.caution("pinch", when=_fits)
def jams() -> str:
    return "A cover out of level jams on its spigot and then drops: level it before it enters."


SHEET.stands("hidden-bolts", when=_fits)
