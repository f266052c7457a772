"""splitline studs PLAN JOINT: what is in every stud now, by plan and record, and which to measure next."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

from splitline import __version__
from splitline.assess.each_alone import assessed
from splitline.assess.recorded import open_book
from splitline.assess.stud_loads import TOLD, StudLoads, advice, sentence, stud_loads
from splitline.errors import PlanError, RecordError
from splitline.outlet import print_json
from splitline.plan.model import Joint
from splitline.plan.read import open_plan
from splitline.record.clock import wall
from splitline.record.entry import Entry
from splitline.record.from_plan import noun_of
from splitline.record.paths import beside
from splitline.record.struck import live
from splitline.units import System, show

_EPILOG = """example:
  splitline studs plans/k410-closeup.toml discharge-head

Without a record: as it would be after all planned passes. Exit 0: told; 1: the plan lacks an input;
2: not found or not readable."""


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "studs",
        help="what is in every stud now, and which to measure next",
        description="Preload of every stud of a joint with its doubt: by set values, order and readings of the record.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file")
    parser.add_argument("joint", metavar="JOINT", help="id of the joint")
    parser.add_argument("--json", action="store_true", help="print as JSON, SI numbers")
    parser.add_argument("--units", choices=("SI", "US"), help="units of the print; default: as the plan says")


def run(args: argparse.Namespace) -> int:
    """Run it."""
    entries: tuple[Entry, ...] = ()
    if beside(args.plan).record.is_file():
        book = open_book(args.plan, wall())
        plan, assessment, entries = book.stands.draft.plan, book.stands.assessment, live(book.record.entries)
    else:
        draft = open_plan(args.plan)
        if draft.plan is None:
            raise PlanError(f"{args.plan} cannot be used as it stands: see splitline check {args.plan}")
        plan, assessment = draft.plan, assessed(draft.plan, args.plan.parent)
    joint, result = plan.find("joint", args.joint), assessment.find("joint", args.joint)
    if not isinstance(joint, Joint) or result is None:
        known = ", ".join(each.id for each in plan.joints) or "none"
        raise RecordError(f'no joint "{args.joint}" in {args.plan}; there are: {known}')
    system: System = args.units or ("US" if plan.us else "SI")
    found = stud_loads(result, joint, entries)
    if found is None:
        lacking = next(
            (c.note for c in result.checks if c.verdict == "missing" and c.key in ("interaction", "predicted")), ""
        )
        print(
            f"{joint.title}: not known; the tightening of this joint is not predicted{f': {lacking}' if lacking else ''}"
        )
        return 1
    if args.json:
        print_json(json.dumps(as_json(joint.id, found), ensure_ascii=False, allow_nan=False))
        return 0
    print("\n".join(_lines(joint, found, system)))
    return 0


def _lines(joint: Joint, found: StudLoads, system: System) -> list[str]:
    noun = noun_of(joint)
    out = [joint.title, TOLD, ""]
    for each in found.studs:
        chance = "" if each.below_need is None else f"   under need {100 * each.below_need:5.1f} %"
        read = "   read" if each.read else ""
        band = f"{show(each.low, 'force', system)} to {show(each.high, 'force', system)}"
        out.append(f"  {each.stud:>3}  {show(each.load, 'force', system):>10}   {band:<24}{chance}{read}")
    out += ["", sentence(found, noun, system).capitalize() + ".", *advice(found, noun, system), ""]
    out += [f"Taken: {what} = {value} ({basis})" for what, value, basis in found.defaults]
    return out


def as_json(joint: str, found: StudLoads) -> dict[str, Any]:
    """SI numbers; chances as shares."""
    return {
        "format": 1,
        "splitline": __version__,
        "joint": joint,
        "basis": "as planned" if found.planned else "set values" if found.prior else "set values and readings",
        "need": found.need,
        "limit": found.limit,
        "chance": found.chance,
        "confidence": found.confidence,
        "advice": found.advice,
        "chance_after": found.after,
        "studs": [
            {
                "stud": each.stud, "preload": each.load, "low": each.low, "high": each.high,
                "chance_below_need": each.below_need, "read": each.read,
            }
            for each in found.studs
        ],
        "measure_next": [
            {"studs": list(each.studs), "lowest": each.lowest, "deviation": each.before, "deviation_after": each.after}
            for each in found.next
        ],
        "set_to": [{"stud": stud, "share": share} for stud, share in found.set_to],
        "not_explained": [{"entry": each.entry, "stud": each.stud, "deviations": each.apart} for each in found.asked],
        "defaults": [{"what": what, "value": value, "basis": basis} for what, value, basis in found.defaults],
    }  # fmt: skip
