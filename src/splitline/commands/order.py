"""splitline order PLAN JOINT: the steps of tightening as a list a fitter can print, with torque and set value."""

from __future__ import annotations

import argparse
import datetime as dt
import difflib
import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from splitline.assess.tightening_list import order_list
from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.outlet import print_json
from splitline.plan.read import open_plan
from splitline.units import show

if TYPE_CHECKING:
    from splitline.assess.settings import Setting
    from splitline.assess.tightening_list import ListedPass, OrderList
    from splitline.plan.model import Joint, Plan
    from splitline.units import System

_EPILOG = """examples:
  splitline order plans/k410-closeup.toml discharge-head            every pass, with boxes to tick
  splitline order plans/k410-closeup.toml discharge-head --pass 2   one pass
  splitline order plans/k410-closeup.toml discharge-head --pass "round 1" --json

Exit 0: told; 1: the order needs something the plan does not say; 2: plan, joint or pass cannot be found or read."""


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "order",
        help="the tightening order of one joint, pass by pass",
        description="Steps of tightening one joint: bolts pulled together, torque and set value of each pass.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", type=Path, metavar="PLAN", help="the plan file")
    parser.add_argument("joint", metavar="JOINT", help="id of the joint")
    parser.add_argument("--pass", dest="pass_name", metavar="N", help='one pass: snug, 1, 2 ... or "round 1"')
    parser.add_argument("--json", action="store_true", help="print as JSON, SI numbers")
    parser.add_argument("--units", choices=("SI", "US"), help="units of the print; default: as the plan says")
    parser.add_argument(
        "--date", type=dt.date.fromisoformat, metavar="YYYY-MM-DD", help="assess as on this day; default: today"
    )


def run(args: argparse.Namespace) -> int:
    """Run it."""
    draft = open_plan(args.plan)
    if draft.problems:
        print(f"{args.plan} cannot be used as it stands:", file=sys.stderr)
        for problem in draft.problems:
            print(f"  {problem.where}: {problem.message}", file=sys.stderr)
        return 2
    joint = _joint(draft.plan, args.joint, args.plan)
    result = assess_joint(joint, Context(Library.load(args.plan.parent), args.date or dt.date.today()))
    listed = order_list(joint, result)
    if not listed.passes:
        why = next((check.note for check in result.checks if check.key == "order"), "the plan does not say enough")
        print(f"{args.joint}: no order: {why}", file=sys.stderr)
        return 1
    if args.pass_name is not None:
        listed = listed.only(args.pass_name)
    if args.json:
        print_json(json.dumps(listed.as_json(), ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(order_lines(listed, args.units or ("US" if draft.plan.us else "SI"))))
        odd = [check.note for check in result.checks if check.key == "thread_listed"]
        print("".join(f"\n! {note}" for note in odd), end="\n" if odd else "")
    return 0


def order_lines(listed: OrderList, system: System) -> Iterator[str]:
    """Lines of the print: what, settings of each pass, then the steps with a box for each pass."""
    yield f"{listed.title} ({listed.joint})"
    yield from listed.about
    yield ""
    yield from _settings(listed, system)
    yield ""
    yield from _steps(listed)
    if listed.max_rounds is not None and len(listed.passes) > 1:
        yield ""
        yield f"Rounds at 100 % until no nut moves; after {listed.max_rounds} rounds ask."
    if listed.cautions:
        yield ""
        yield from listed.cautions


def _settings(listed: OrderList, system: System) -> Iterator[str]:
    """One line for each pass and size, a column for each tool's own set value."""
    tools = tuple(dict.fromkeys(each.tool for one in listed.passes for size in one.by_tool for each in size)) or ("",)
    heads = ["set"] if len(tools) == 1 else [f"set {tool}" for tool in tools]
    rows = [("pass", "share", "size", "torque", "heat by", "turn from snug", *heads, "preload", "stretch")]
    for one in listed.passes:
        for place, (size, first) in enumerate(zip(listed.sizes, one.settings, strict=True)):
            own = {each.tool: each for each in (one.by_tool[place] if one.by_tool else ())}
            sets = [own.get(tool, first if len(tools) == 1 else None) for tool in tools]
            rows.append((one.name, f"{one.share:.0%}", size, *_shown(first, sets, system)))
    yield from _table(_without_empty(rows))


def _shown(setting: Setting, sets: Sequence[Setting | None], system: System) -> tuple[str, ...]:
    def text(value: float | None, kind: str) -> str:
        return "-" if value is None else show(value, kind, system)

    return (
        text(setting.torque, "torque"),
        text(setting.heat, "temperature_difference"),
        text(setting.turn, "angle"),
        *("-" if each is None else each.text(system) or "-" for each in sets),
        text(setting.preload, "force"),
        text(setting.stretch, "length"),
    )


def _without_empty(rows: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The rows without columns in which nothing is known."""
    kept = [at for at in range(len(rows[0])) if any(row[at] != "-" for row in rows[1:])]
    return [tuple(row[at] for at in kept) for row in rows]


def _steps(listed: OrderList) -> Iterator[str]:
    """Step, bolts together, size where there are several, and a box to tick for each pass."""
    several = len(listed.sizes) > 1
    rows = [("step", "bolts", *(("size",) if several else ()), *(_head(one) for one in listed.passes))]
    for number, (step, size) in enumerate(zip(listed.steps, listed.size_of, strict=True), 1):
        boxes = ("[  ]",) * len(listed.passes)
        rows.append((str(number), " + ".join(map(str, step)), *((listed.sizes[size],) if several else ()), *boxes))
    yield from _table(rows)


def _head(one: ListedPass) -> str:
    return one.name if not one.name.isdigit() else f"pass {one.name}"


def _table(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()


def _joint(plan: Plan, ident: str, path: Path) -> Joint:
    """The joint of this id; PlanError with the nearest when the plan has none."""
    for joint in plan.joints:
        if joint.id == ident:
            return joint

    known = [joint.id for joint in plan.joints]
    near = difflib.get_close_matches(ident, known, 1)
    hint = f', did you mean "{near[0]}"?' if near else f"; there are: {', '.join(known)}" if known else "; it has none"
    raise PlanError(f'no joint "{ident}" in {path}{hint}')
