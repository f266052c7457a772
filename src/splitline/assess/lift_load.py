"""What hangs: mass and centre from its parts or from the documented readings of a trial lift, with margins and doubts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_legs import PART, READING, SHEET, LegData
from splitline.assess.lift_told import Point
from splitline.assess.sheet import Absent, Against, Assumed, Default, Each, OnSite, Row, Rule
from splitline.errors import InputError
from splitline.lifting.mass import composite, mass_factor
from splitline.lifting.trial import Line, at_height, from_cells, from_tilt, hook_place, meet, miss
from splitline.plan.model.lift import Lift, Part, Reading
from splitline.units import show

GRAVITY = 9.80665
DYNAMIC = 1.10
TOLERANCE = 0.005
AGREE = 0.005  # m, how far lines of two hangs may pass one another where no doubt of the centre is given
MARINE = "0027/ND Rev 11.2, Guidelines for Marine Lifting"
CONCURRENT = "statics of concurrent forces"
BY_TRIAL = "trial lift: {trial_source}"

SHEET.given("part_mass", "part.mass")
SHEET.given("part_at", "part.at")
SHEET.given("mass_basis", "lift.mass_basis")
SLOW = (
    "0027/ND Rev 11.2, Table 5-1: single crane on land, to 100 t; taken on beam and rigging too, which is not checked "
    "against the standard's text"
)
SHEET.given("dynamic", "lift.dynamic", default=Default(DYNAMIC, "number", SLOW, "guideline", f"{DYNAMIC:.2f}"))
SHIFT = "no tolerance of the centre given: give the radius it may be off by"
SHEET.given("centre_shift", "lift.centre_shift", default=Default(0.0, "length", SHIFT, "optimistic"))
SHEET.given("centre_rise", "lift.centre_rise")
MADE_UP = "made-up slings of one set, common practice, no published source"
SHEET.given(
    "length_tolerance", "lift.length_tolerance", default=Default(TOLERANCE, "share", MADE_UP, "usual", "± 0.5 %")
)
SHEET.given("reading_source", "reading.source")


@dataclass(frozen=True, slots=True)
class Doubts:
    """What the load is hung over: radius the centre may be off by, how far it may be higher (m), share of each length."""

    shift: float
    rise: float
    tolerance: float


@dataclass(frozen=True, slots=True)
class TrialPlace:
    """Where the readings put the centre; ``met``: how far that is from the lines of several hangs, None with one line."""

    centre: Point
    met: float | None
    line: Line


# mass


@SHEET.result(PART)
def part_total(part: Row[Part], part_mass: float) -> float:
    return part_mass * (part.plan.count or 1)


@SHEET.result(each={"totals": Each("part_total")})
def masses(totals: tuple[float, ...]) -> tuple[float, ...]:
    if not totals:
        raise Absent("part")
    return totals


def _weighed(trial_mass: float, masses: tuple[float, ...] = ()) -> bool:
    return not masses


@SHEET.result(name="mass", when=_weighed)
def mass_by_trial(trial_mass: float) -> float:
    return trial_mass


@SHEET.result(name="mass", kind="mass", title="Mass", symbol="m", formula="Σ m_i", source="statics",
              puts={"m_i": ("masses", "mass")})  # fmt: skip
def mass(masses: tuple[float, ...]) -> float:
    return sum(masses)


SHEET.asks("mass", "Mass of the load", "mass", kind="mass", basis="statics",
           lacking="give every part's mass, or a documented trial lift with its load-cell reading")  # fmt: skip


@SHEET.note(when=_weighed)
def mass_weighed(trial_source: str) -> str:
    return f"Mass by the trial lift ({trial_source})."


# centre


@SHEET.result()
def entered(lift: Lift, context: Context) -> Point | None:
    """As it was found on the job."""
    told = context.observed.get(lift.id, "centre")
    return (float(told[0]), float(told[1]), float(told[2])) if told is not None else None


@SHEET.result(PART)
def part_place(part_at: Point | str) -> Point | None:
    return part_at if isinstance(part_at, tuple) else None


@SHEET.result(each={"places": Each("part_place", present=True)})
def composed(places: tuple[Point, ...], masses: tuple[float, ...] = ()) -> Point | None:
    return composite(masses, places).centre if places and len(places) == len(masses) else None


def _only_trial(trial_place: TrialPlace, entered: Point | None = None, composed: Point | None = None) -> bool:
    return entered is None and composed is None


SHEET.tell("centre_found", "entered")
SHEET.tell("centre_found", "composed")
SHEET.tell("centre_found", "trial_place.centre")


@SHEET.result()
def unplaced(all_part: tuple[Row[Part], ...], centre_found: Point | None = None) -> Rule | None:
    """What stands in the way of the centre."""
    if centre_found is not None:
        return None
    absent = tuple(part.field("at") for part in all_part if part.plan.at is None)
    unknown = tuple(part.field("at") for part in all_part if isinstance(part.plan.at, str))
    if absent or not all_part:
        return Rule("missing", "", absent or ("part",))
    if unknown:
        note = "unknown until a documented trial lift: load cells in the legs, or the hook's load and the tilt"
        return Rule("on-site", note, (*unknown, "reading"), "trial lift")
    return Rule("missing", "", ("part.mass",))


SHEET.tell(
    "centre", "centre_found", "length", "Centre of gravity", "c", "Σ m_i r_i / Σ m_i", "statics", shape="list",
    after=("mass", "centre_found"),
)  # fmt: skip


@SHEET.result(name="centre")
def centre(unplaced: Rule) -> Point:
    if unplaced.verdict == "on-site":
        raise OnSite("centre", why="the centre of gravity is not known yet")
    raise Absent(*unplaced.needs, why="the centre of gravity is not given")


def _asks_centre(all_part: tuple[Row[Part], ...], mass: float | None = None) -> bool:
    """Said with the mass, not after it, where a place was forgotten."""
    return mass is not None or any(part.plan.at is None for part in all_part)


@SHEET.check("centre", "Centre of gravity", kind="length", basis="statics", when=_asks_centre)
def centre_known(unplaced: Rule) -> Rule:
    return unplaced


@SHEET.note(when=_only_trial, after=("mass",))
def centre_weighed(trial_source: str) -> str:
    return (
        f"Centre of gravity by the trial lift ({trial_source}): on the line its readings give. A reading does not tell the "
        "height; it is taken level with the highest pick, the unfavourable side for tilt."
    )


# margins and doubts


@SHEET.result(kind="force", title="Weight", symbol="W", formula="m g, g = 9.80665 m/s²", source="standard gravity",
              puts={"m": ("mass", "mass")})  # fmt: skip
def weight(mass: float) -> float:
    return mass * GRAVITY


@SHEET.result(name="factor")
def factor_of_margin(lift: Lift) -> float | None:
    return 1.0 + lift.mass_margin if lift.mass_margin is not None else None


@SHEET.result(name="factor")
def factor_of_basis(mass_basis: str) -> float:
    return mass_factor(mass_basis)


@SHEET.result()
def margin_basis(lift: Lift) -> str:
    return f"mass {lift.mass_basis}" if lift.mass_basis else "margin given in the plan"


def _says_margin(all_part: tuple[Row[Part], ...], mass: float | None = None) -> bool:
    return bool(all_part) or mass is not None


SHEET.asks("leg_tension_design", "Mass margin", "factor", basis="marine-lift guideline style", when=_says_margin,
           asks=("mass_basis", "mass_margin"),
           lacking="say how the mass is known (weighed, calculated, drawing) or give the margin")  # fmt: skip


@SHEET.result(name="centre_rise")
def rise_as_shift(centre_shift: float) -> float | Assumed:
    basis = "as far as it may be off sideways: the safe side for tilt"
    return Assumed(centre_shift, "centre_rise", basis, "length") if centre_shift > 0.0 else centre_shift


@SHEET.result(after=("mass",))
def doubts(centre_shift: float, centre_rise: float, length_tolerance: float) -> Doubts:
    return Doubts(centre_shift, centre_rise, length_tolerance)


@SHEET.note(after=("mass",))
def assumed_doubts(dynamic: float, doubts: Doubts) -> None:
    """Asks, so that what is assumed is told."""


SHEET.tell("mass_factor", "factor", "number", "Mass factor", "k_m", "1 + margin", f"{MARINE} style",
           cites="{margin_basis}", puts={"margin": ("margin", "share")}, after=("mass",))  # fmt: skip
SHEET.tell("dynamic_factor", "dynamic", "number", "Dynamic factor", "k_d", "", f"{MARINE}, Table 5-1 (on land, to 100 t)",
           after=("weight_design",))  # fmt: skip


@SHEET.result()
def margin(factor: float) -> float:
    return factor - 1.0


@SHEET.result(kind="force", title="Design load", symbol="W_d", formula="W k_m k_d", source="mass margin and dynamic factor",
              puts={"W": ("weight", "force"), "k_m": ("factor", "number"), "k_d": ("dynamic", "number")})  # fmt: skip
def weight_design(weight: float, factor: float, dynamic: float) -> float:
    return weight * factor * dynamic


# the documented readings of a trial lift: mass and the line the centre lies on


SHEET.asks("trial", "Trial-lift reading {reading.number}", "reading_source", scope=(READING,), basis="trial lift",
           lacking="a reading counts when the document it stands in is named")  # fmt: skip


@SHEET.result()
def readings(lift: Lift) -> tuple[Reading, ...] | None:
    return tuple(reading for reading in lift.reading if reading.source) or None


@SHEET.result()
def trial_source(readings: tuple[Reading, ...]) -> str:
    return "; ".join(dict.fromkeys(reading.source or "" for reading in readings))


@SHEET.result(after=("legs",))
def lines(lift: Lift, readings: tuple[Reading, ...], legs: tuple[LegData, ...]) -> tuple[Line, ...] | None:
    """The vertical through the hook by each reading that tells it."""
    found = [_line(lift, legs, reading) for reading in readings]
    return tuple(line for line in found if line is not None) or None


@SHEET.result()
def cell_masses(readings: tuple[Reading, ...], lines: tuple[Line, ...] = ()) -> tuple[float, ...] | None:
    loads = [reading.load for reading in readings if reading.load is not None]
    return tuple(load / GRAVITY for load in (*loads, *(line.weight for line in lines)) if load is not None) or None


@SHEET.result()
def cells(cell_masses: tuple[float, ...]) -> float:
    return float(len(cell_masses))


@SHEET.result(kind="mass", title="Mass by the trial lift", formula="resultant of the load cells / g", source=CONCURRENT,
              puts={"readings": ("cells", "count")})  # fmt: skip
def trial_mass(cell_masses: tuple[float, ...]) -> float:
    return sum(cell_masses) / len(cell_masses)


@SHEET.result()
def trial_place(lines: tuple[Line, ...], legs: tuple[LegData, ...]) -> TrialPlace:
    """Where two hangs' lines meet; with one hang, on its line level with the highest pick."""
    met = meet(lines)
    if met.centre is not None:
        return TrialPlace(met.centre, met.miss, lines[0])
    places = [at_height(line, max(leg.pick[2] for leg in legs)) for line in lines]
    x, y, z = (sum(place[axis] for place in places) / len(places) for axis in range(3))
    return TrialPlace((x, y, z), None, lines[0])


SHEET.asks("trial", "Centre of gravity by the trial lift", "trial_place", basis=CONCURRENT, quiet=True)


def _line(lift: Lift, legs: tuple[LegData, ...], reading: Reading) -> Line | None:
    loads = reading.leg_loads
    if loads is None and (reading.tilt_x is None or reading.tilt_y is None):
        return None
    lengths: tuple[float | None, ...] = reading.lengths or tuple(leg.length for leg in legs)
    if len(lengths) != len(legs):
        raise InputError(f"a hang with {len(lengths)} lengths for {len(legs)} legs")
    if reading.lengths is None and lift.hook is not None and lift.hook.at is not None:
        hook = lift.hook.at
    elif None in lengths:
        raise InputError("the legs' lengths are needed to place the hook of a trial lift")
    else:
        hook = _hook(legs, lengths, loads if loads is not None else (0.0,) * len(legs))
    if loads is not None:
        return from_cells([leg.pick for leg in legs], hook, loads)
    return from_tilt(hook, reading.tilt_x or 0.0, reading.tilt_y or 0.0)


def _hook(legs: tuple[LegData, ...], lengths: tuple[float | None, ...], pulls: tuple[float, ...]) -> Point:
    """Place of the hook from the stretched legs; slack ones say nothing where three others pull."""
    every = list(zip(legs, lengths, pulls, strict=True))
    taut = [each for each in every if each[2] > 0.0]
    used = taut if len(taut) >= 3 else every
    picks = [leg.pick for leg, _, _ in used]
    far = [(length or 0.0) * (1.0 + (pull / leg.rigidity if leg.rigidity else 0.0)) for leg, length, pull in used]
    x, y = (sum(pick[axis] for pick in picks) / len(picks) for axis in range(2))
    return hook_place(picks, far, (x, y, max(pick[2] for pick in picks) + max(far)))


# the plan held against the readings


@SHEET.check("trial_mass", "Mass by the trial lift within the margin", kind="mass", basis=BY_TRIAL, quiet=True)
def not_heavier(trial_mass: float, mass: float, factor: float) -> Against:
    return Against(trial_mass, mass * factor)


@SHEET.check(
    "trial_mass_low", "Mass by the trial lift not below what was planned", sense="at least", kind="mass", basis=BY_TRIAL,
    quiet=True,
)  # fmt: skip
def not_lighter(trial_mass: float, mass: float, factor: float) -> Against:
    note = "a load far too light still stands on something, or is not the load that was planned"
    return Against(mass * (2.0 - factor), trial_mass, note)


SHEET.tell("trial_met", "trial_place.met")
SHEET.tell("trial_centre", "trial_place.centre", "length", "Centre where the hangs of the trial lift meet", "",
           "point nearest the hook's verticals", "statics; least squares", shape="list", after=("trial_met",))  # fmt: skip


@SHEET.check("trial_hangs", "Hangs of the trial lift agree on one centre", kind="length", basis=BY_TRIAL, quiet=True)
def hangs_agree(trial_met: float, doubts: Doubts, centre: Point) -> Against:
    return Against(trial_met, max(doubts.shift, AGREE))


@SHEET.result(kind="length", title="Planned centre off the trial lift's line", formula="distance from the hook's vertical",
              source="statics", after=("mass",))  # fmt: skip
def trial_miss(trial_place: TrialPlace, centre: Point) -> float:
    if trial_place.met is not None:
        return math.dist(trial_place.centre, centre)
    return miss(trial_place.line, centre)


@SHEET.check("trial_centre", "Planned centre against the trial lift", kind="length", basis=BY_TRIAL, quiet=True)
def centre_agrees(trial_miss: float, doubts: Doubts, context: Context) -> Against | Rule | None:
    if doubts.shift > 0.0:
        return Against(trial_miss, doubts.shift)
    far = show(trial_miss, "length", context.system)
    note = f"the trial lift puts the centre {far} from the plan's: give centre_shift or correct the centre"
    return Rule("near", note) if trial_miss > AGREE else None
