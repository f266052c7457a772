"""splitline lift: one load on a symmetric set of legs assessed without a plan file."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import math
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.assess.assessment import assess
from splitline.assess.lift_told import greatest_leg
from splitline.assess.to_json import assessment_json
from splitline.errors import InputError
from splitline.library.store import Library
from splitline.outlet import print_json
from splitline.plan.draft import Draft, Origin
from splitline.plan.names import Names
from splitline.report.text import print_assessment
from splitline.units import read, show

if TYPE_CHECKING:
    from splitline.assess.assessment import Assessment
    from splitline.plan.problem import Problem

ITEM = "load"
_EPILOG = """examples:
  splitline lift --mass "6.4 t" --legs 4 --span "1800 mm" --width "1200 mm" --length "3100 mm" --sling "wire rope 28 mm 6x36 IWRC"
  splitline lift --mass "12000 lb" --legs 2 --span "8 ft" --angle "60 deg" --capacity "9000 lbf" --elongation 0.01
  splitline lift --mass "3 t" --legs 3 --ring "1400 mm" --height "2 m" --sling "alloy chain grade 80 13 mm" --json

Two legs stand --span apart, four on a rectangle --span by --width, any number on a circle of diameter --ring. One of
--length, --angle (from the horizontal) or --height (hook above the picks) fixes the legs. The centre of gravity is taken
amid the picks, --depth below them. Values carry their unit in quotes.
Exit 0: answered, what was not asked for is listed as missing; 1: a check fails, or there are no tensions to tell;
2: an option cannot be read. A library.toml in this folder is used."""

_QUANTITIES = {
    "mass": "mass", "span": "length", "width": "length", "ring": "length", "length": "length", "height": "length",
    "depth": "length", "angle": "angle",
}  # fmt: skip
# option -> (words, metavar); read by the plan's own reader, which words its mistakes
_LEG = {
    "sling": "sling of the library", "capacity": "rated capacity of one leg, straight pull", "elongation": "strain at capacity",
    "hitch": "single, choker or basket", "choke_angle": "angle of choke", "bend_diameter": "diameter the sling bends round",
    "fitting": "fitting at the load", "fitting_capacity": "its rated capacity, straight pull",
    "shackle_capacity": "rated capacity of the shackle in each leg",
}  # fmt: skip
_LIFT = {
    "mass_basis": "weighed, calculated or drawing (default: calculated)", "mass_margin": "margin as 0.08, instead",
    "dynamic": "dynamic factor (default 1.10)", "centre_shift": "radius within which the centre of gravity may lie",
    "length_tolerance": "± share of each leg's length (default 0.005)", "sharing": "two legs, three legs or all legs",
    "minimum_angle": "least angle from the horizontal (default 30 deg)",
}  # fmt: skip
_NUMBERS = ("elongation", "mass_margin", "dynamic", "length_tolerance")


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "lift",
        help="leg tensions of a symmetric lift, without a plan",
        description="Leg angles and tensions, nominal, design and worst, with usage of the slings, for a symmetric set of legs.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--mass", required=True, metavar="VALUE", help="mass of the load")
    parser.add_argument("--legs", required=True, type=int, metavar="N", help="number of legs")
    parser.add_argument("--span", metavar="VALUE", help="distance of two picks, or long side of four")
    parser.add_argument("--width", metavar="VALUE", help="short side of four picks (default: as --span)")
    parser.add_argument("--ring", metavar="VALUE", help="diameter of the circle the picks stand on")
    parser.add_argument("--length", metavar="VALUE", help="length of each leg")
    parser.add_argument("--angle", metavar="VALUE", help="angle of each leg from the horizontal")
    parser.add_argument("--height", metavar="VALUE", help="hook above the picks")
    parser.add_argument(
        "--depth", metavar="VALUE", help="centre of gravity below the picks (default: a tenth of the leg)"
    )
    for title, options in (("legs", _LEG), ("load and rules", _LIFT)):
        group = parser.add_argument_group(title)
        for name, words in options.items():
            group.add_argument("--" + name.replace("_", "-"), metavar="VALUE", help=words)
    parser.add_argument("--json", action="store_true", help="print the assessment as JSON, SI numbers, as check does")
    parser.add_argument("--brief", action="store_true", help="print the checks without the working")
    parser.add_argument("--units", choices=("SI", "US"), default="SI", help="units of the print (default: SI)")


def run(args: argparse.Namespace) -> int:
    """Run it."""
    library = Library.load(Path.cwd())
    try:
        tree = tree_of(args)
    except InputError as error:
        print(f"splitline lift: {error}", file=sys.stderr)
        return 2
    draft = Draft(tree, Origin(tree=tree), Names.of(library))
    if draft.problems:
        for said in dict.fromkeys(_said(problem) for problem in draft.problems):
            print(f"splitline lift: {said}", file=sys.stderr)
        return 2
    assessment = assess(draft.plan, library, dt.date.today(), system=args.units)
    if args.json:
        print_json(json.dumps(assessment_json(assessment), ensure_ascii=False, allow_nan=False))
    else:
        _print_legs(assessment, args.units)
        print_assessment(assessment, system=args.units, working=not args.brief)
    return exit_code(assessment)


def exit_code(assessment: Assessment) -> int:
    """0 where the tensions could be told and nothing fails; else 1."""
    item = assessment.items[0]
    return 0 if "leg_tension" in item.results and assessment.verdict != "fails" else 1


def tree_of(args: argparse.Namespace) -> dict[str, Any]:
    """The plan of one lift that says what the options say; InputError for options that do not go together."""
    known = {name: _read(name, getattr(args, name)) for name in _QUANTITIES if getattr(args, name) is not None}
    picks = picks_of(args.legs, known.get("span"), known.get("width"), known.get("ring"))
    reach = math.hypot(*picks[0])
    ways = [name for name in ("length", "angle", "height") if name in known]
    if len(ways) != 1:
        raise InputError("give exactly one of --length, --angle or --height")
    length = _length(ways[0], known[ways[0]], reach)
    depth = known.get("depth", 0.1 * length)
    leg = {name: value for name in _LEG if (value := _plain(args, name)) is not None}
    legs = [{"pick": [f"{x:.9g} m", f"{y:.9g} m", "0 m"], "length": f"{length:.9g} m", **leg} for x, y in picks]
    lift: dict[str, Any] = {
        "id": ITEM,
        "title": f"{args.mass} on {args.legs} leg" + ("s" if args.legs > 1 else ""),
        "leg": legs,
    }
    lift["part"] = [{"name": "load", "mass": args.mass, "at": ["0 m", "0 m", f"{-depth:.9g} m"]}]
    lift |= {name: value for name in _LIFT if (value := _plain(args, name)) is not None}
    if "mass_margin" not in lift:
        lift.setdefault("mass_basis", "calculated")
    return {"format": 1, "plan": {"title": "Quick answer for one lift"}, "lift": [lift]}


def picks_of(legs: int, span: float | None, width: float | None, ring: float | None) -> list[tuple[float, float]]:
    """Places of the picks round the centre, m."""
    if not 1 <= legs <= 12:
        raise InputError("--legs is from 1 to 12")
    if legs == 1:
        return [(0.0, 0.0)]
    if ring is not None:
        if span is not None or width is not None:
            raise InputError("give either --ring or --span and --width")
        return [(ring / 2 * math.cos(a), ring / 2 * math.sin(a)) for a in (2 * math.pi * i / legs for i in range(legs))]
    if span is None or legs not in (2, 4):
        raise InputError("give --span (two or four legs) or --ring (any number)")
    if legs == 2:
        return [(-span / 2, 0.0), (span / 2, 0.0)]
    half = (width if width is not None else span) / 2
    return [(-span / 2, -half), (span / 2, -half), (span / 2, half), (-span / 2, half)]


def _length(way: str, value: float, reach: float) -> float:
    if way == "height":
        return math.hypot(value, reach)
    if way == "angle":
        if not 0.0 < value < math.pi / 2 or reach == 0.0:
            raise InputError("--angle is above 0 and below 90 degrees from the horizontal, for two legs or more")
        return reach / math.cos(value)
    if value <= reach:
        raise InputError(
            f"--length: legs of {value:.4g} m do not reach a hook over picks {reach:.4g} m from the middle"
        )
    return value


def _read(name: str, text: str) -> float:
    try:
        value = read(text, _QUANTITIES[name])
    except InputError as error:
        raise InputError(f"--{name}: {error}") from error
    if value <= 0.0 and name != "depth":
        raise InputError(f"--{name} must be above 0")
    return value


def _plain(args: argparse.Namespace, name: str) -> Any:
    value = getattr(args, name)
    if value is None or name not in _NUMBERS:
        return value
    try:
        return float(value)
    except ValueError:
        return value


def _print_legs(assessment: Assessment, system: Any) -> None:
    """Tensions and angles first: what a rigger asked for."""
    item = assessment.items[0]
    results = item.results
    leg = greatest_leg(item.legs)
    if leg is None:
        return
    upright = math.pi / 2 - leg.angle
    print(
        f"Each leg: {show(results['leg_length'][0], 'length', system)} long, "
        f"{show(leg.angle, 'angle', system)} from the horizontal, "
        f"{show(upright, 'angle', system)} from the vertical"
    )
    print(f"  tension of a leg: {leg.said(system)}")
    for key, word in (
        ("leg_tension_design", "design (margin, dynamic, sharing rule)"),
        ("leg_tension_worst", "worst over lengths and centre"),
    ):
        if key in results:
            print(f"  tension of a leg, {word}: {show(max(results[key]), 'force', system)}")
    print()


def _said(problem: Problem) -> str:
    """The mistake beside the option it was made in."""
    inner = [step for step in problem.path[2:] if isinstance(step, str)]
    name = inner[-1] if inner else ""
    flag = "--" + name.replace("_", "-") if name in _LEG or name in _LIFT or name == "mass" else None
    return f"{flag}: {problem.message}" if flag else str(problem)
