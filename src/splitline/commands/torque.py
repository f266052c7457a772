"""splitline torque: one bolt assessed without a plan file; prints the checks and the whole working."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.assess.assessment import assess
from splitline.assess.to_json import assessment_json
from splitline.errors import LibraryError
from splitline.library.store import Library
from splitline.library.threads import parse_designation
from splitline.outlet import print_json
from splitline.plan.draft import Draft, Origin
from splitline.plan.names import Names
from splitline.report.text import print_assessment

if TYPE_CHECKING:
    from splitline.assess.assessment import Assessment
    from splitline.library.store import Library
    from splitline.plan.problem import Problem

ITEM = "bolt"
_EPILOG = """examples:
  splitline torque --thread M36 --grade "ASTM A193 B7" --stress "345 MPa" --lubricant "molybdenum disulfide paste"
  splitline torque --thread "1 3/4-8UN" --grade B7 --stress "50 ksi" --nut-factor 0.15 --clamp "10 in"
  splitline torque --thread M24 --grade 10.9 --torque "700 N*m" --thread-friction 0.12 --bearing-friction 0.12 --json
  splitline torque --list lubricants

Every option is a field of the plan file and is written as there: a value with its unit in quotes.
Exit 0: answered, whatever was not asked for is listed as missing; 1: a check fails, or there is no torque to
tell; 2: an option cannot be read. A library.toml in this folder is used."""


@dataclass(frozen=True, slots=True)
class Option:
    """One option: the field of a joint it fills."""

    flag: str
    path: tuple[str, ...]
    words: str
    metavar: str = "VALUE"
    number: bool = False

    @property
    def name(self) -> str:
        """The attribute argparse keeps it under."""
        return self.flag.removeprefix("--").replace("-", "_")


BOLT = (
    Option("--thread", ("bolting", "thread"), 'designation, "M36", "M48x3" or "1 3/4-8UN"'),
    Option("--grade", ("bolting", "grade"), "bolt grade of the library"),
    Option("--yield-strength", ("bolting", "yield_strength"), "yield strength, where no grade fits"),
    Option("--tensile-strength", ("bolting", "tensile_strength"), "tensile strength, where no grade fits"),
    Option("--kind", ("bolting", "kind"), "stud, through-stud, bolt or cap-screw (default: through-stud)"),
    Option("--clamp", ("bolting", "clamp_length"), "clamped length; gives stretch and stiffness"),
    Option("--shank-diameter", ("bolting", "shank_diameter"), "diameter of a reduced shank"),
    Option("--shank-length", ("bolting", "shank_length"), "its length"),
    Option("--heater-bore", ("bolting", "heater_bore"), "bore for a stud heater"),
    Option("--engagement", ("bolting", "engagement"), "engaged thread of a tapped end"),
    Option("--tapped-material", ("bolting", "tapped_material"), "material of the tapped end, of the library"),
)
FACE = (
    Option("--nut", ("bolting", "nut"), "heavy-hex, hex, sleeve, cap or twelve-point"),
    Option("--hole", ("bolting", "hole_diameter"), "clearance hole (default: medium series)"),
    Option("--across-flats", ("bolting", "across_flats"), "across flats (default: from the library)"),
    Option("--bearing-diameter", ("bolting", "bearing_diameter"), "bearing face (default: from the library)"),
    Option("--bearing-material", ("bolting", "bearing_material"), "material under the nut, for its limiting pressure"),
    Option("--washer-thickness", ("bolting", "washer_thickness"), "thickness of the washer"),
    Option("--member-material", ("member", "material"), "material of the clamped parts, of the library"),
    Option("--member-diameter", ("member", "outer_diameter"), "outer diameter of the clamped parts"),
)
FRICTION = (
    Option("--lubricant", ("friction", "lubricant"), "lubricant by class of product, of the library"),
    Option("--thread-friction", ("friction", "thread"), "friction in the thread", number=True),
    Option("--bearing-friction", ("friction", "bearing"), "friction under the nut", number=True),
    Option("--nut-factor", ("friction", "nut_factor"), "K = T / (F d)", number=True),
)
TARGET = (
    Option("--stress", ("target", "bolt_stress"), "wanted stress on the stress area"),
    Option("--yield-fraction", ("target", "yield_fraction"), "wanted share of yield on the least area", number=True),
    Option("--preload", ("target", "preload"), "wanted preload"),
    Option("--torque", ("target", "torque"), "given torque: what preload does it give"),
    Option("--stretch", ("target", "stretch"), "wanted stretch"),
    Option("--maker-torque", ("target", "maker_torque"), "the maker's torque, to compare with"),
)
METHOD = (
    Option("--method", ("tightening", "method"), "torque wrench, hydraulic wrench, ... (default: torque wrench)"),
    Option("--scatter", ("tightening", "scatter"), "preload scatter, as 0.25 (default: by method)", number=True),
)
# A field that a check asks for, and the one an option fills in its place.
_BEHIND = {"member.modulus": "member.material", "bolting.bearing_limit": "bolting.bearing_material"}
LISTED = ("grades", "lubricants", "materials")
GROUPS = {
    "bolt": BOLT,
    "faces and clamped parts": FACE,
    "friction (lubricant, or two coefficients, or a nut factor)": FRICTION,
    "target (one of the first five)": TARGET,
    "tightening": METHOD,
}


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "torque",
        help="torque, preload and working of one bolt, without a plan",
        description="Torque, preload, stress and stretch of one bolt, with formula, numbers put in and source of each.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    for title, options in GROUPS.items():
        group = parser.add_argument_group(title)
        for option in options:
            group.add_argument(option.flag, help=option.words, metavar=option.metavar)
    parser.add_argument(
        "--list", dest="listed", choices=LISTED, help="print the names of one table of the library, and stop"
    )
    parser.add_argument("--json", action="store_true", help="print the assessment as JSON, SI numbers, as check does")
    parser.add_argument("--brief", action="store_true", help="print the checks without the working")
    parser.add_argument(
        "--units", choices=("SI", "US"), help="units of the print (default: US for inch threads, else SI)"
    )


def run(args: argparse.Namespace) -> int:
    """Run it."""
    library = Library.load(Path.cwd())
    if args.listed:
        _print_names(library, args.listed)
        return 0
    if args.thread is None:
        raise LibraryError('name the bolt, as in --thread M36 or --thread "1 3/4-8UN"')
    tree = tree_of(args)
    draft = Draft(tree, Origin(tree=tree), Names.of(library))
    if draft.problems:
        for problem in draft.problems:
            print(f"splitline torque: {_said(problem)}", file=sys.stderr)
        return 2
    assessment = assess(draft.plan, library, dt.date.today(), system=args.units or _system(args.thread))
    if args.json:
        print_json(json.dumps(assessment_json(assessment), ensure_ascii=False, allow_nan=False))
    else:
        print_assessment(assessment, system=args.units or _system(args.thread), working=not args.brief)
        if unasked := _unasked(assessment):
            print(f"Options that fill what is missing: {', '.join(unasked)}")
    return exit_code(assessment)


def _print_names(library: Library, table: str) -> None:
    """The rows of one table by name, with their other spellings."""
    for row in library.rows(table):
        aliases = ", ".join(row.get("aliases", ()))
        print(f"{row.name}  ({aliases})" if aliases else row.name)


def tree_of(args: argparse.Namespace) -> dict[str, Any]:
    """The plan of one joint that says what the options say."""
    joint: dict[str, Any] = {"id": ITEM, "title": _title(args), "load": {"holds_pressure": False}}
    for options in GROUPS.values():
        for option in options:
            value = getattr(args, option.name)
            if value is not None:
                table, field = option.path
                joint.setdefault(table, {})[field] = _number(value) if option.number else value
    joint["bolting"].setdefault("kind", "through-stud")
    joint.setdefault("tightening", {}).setdefault("method", "torque wrench")
    return {"format": 1, "plan": {"title": "Quick answer for one bolt"}, "joint": [joint]}


def exit_code(assessment: Assessment) -> int:
    """0 where the torque (or, without a torque method, the preload) could be told and nothing fails; else 1."""
    item = assessment.items[0]
    answered = "torque" in item.results or ("preload" in item.results and _no_torque_wanted(item.results))
    return 0 if answered and assessment.verdict != "fails" else 1


def _unasked(assessment: Assessment) -> list[str]:
    """The options behind the fields that a missing check needs."""
    needs = {need for item in assessment.items for check in item.checks_of("missing") for need in check.needs}
    paths = {_BEHIND.get(need, need) for need in needs}
    return [option.flag for options in GROUPS.values() for option in options if ".".join(option.path) in paths]


def _no_torque_wanted(results: Any) -> bool:
    return "stretch" in results or "tensioner_pressure" in results


def _title(args: argparse.Namespace) -> str:
    """Thread, grade and target, as typed."""
    words = [args.thread, args.grade or ""]
    words += [f"{option.name.replace('_', ' ')} {getattr(args, option.name)}" for option in TARGET
              if getattr(args, option.name) is not None]  # fmt: skip
    return ", ".join(" ".join(word.split()) for word in words if word.strip()) or ITEM


def _number(text: str) -> float | str:
    """A bare number; any other text is left for the plan's reader to refuse in its own words."""
    try:
        return float(text)
    except ValueError:
        return text


def _system(thread: str) -> Any:
    return "US" if parse_designation(thread).system == "inch" else "SI"


def _said(problem: Problem) -> str:
    """The mistake beside the option it was made in."""
    inner = tuple(step for step in problem.path[2:] if isinstance(step, str))
    flags = (option.flag for options in GROUPS.values() for option in options if option.path == inner)
    flag = next(flags, None)
    return f"{flag}: {problem.message}" if flag else str(problem)
