"""The assessment as text for a terminal or a file: one block per item, one line per check."""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Iterator

from splitline.assess.assessment import Assessment
from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult, Verdict
from splitline.units import System, show

MARKS: dict[Verdict, str] = {"ok": "●", "near": "◐", "fails": "▲", "missing": "○", "on-site": "◌"}
_MAIN = {
    "joint": ("preload", "torque", "stretch", "bolt_stress"),
    "lift": ("mass", "still_load_low", "still_load_high", "hook_load", "crane_load", "headroom"),
    "fit": (
        "contact_pressure",
        "contact_pressure_at_speed",
        "expansion_pressure",
        "push_force",
        "advance",
        "heating_rise",
    ),
    "insertion": ("push_force_low", "push_force_high", "stop_force", "jack_pressure", "strokes"),
}


def print_assessment(
    assessment: Assessment, *, system: System | None = None, working: bool = False, only: str | None = None
) -> None:
    """Print the whole assessment to standard output, in the plan's units unless told otherwise."""
    units: System = system or ("US" if assessment.plan.us else "SI")
    width = max(60, min(shutil.get_terminal_size((100, 24)).columns, 140))
    print("\n".join(assessment_lines(assessment, units, width, working=working, only=only)))
    sys.stdout.flush()


def assessment_lines(
    assessment: Assessment, system: System, width: int, *, working: bool = False, only: str | None = None
) -> Iterator[str]:
    """Lines of the print."""
    info = assessment.plan.info
    yield " ".join(info.title.split()) + (f" · rev {info.revision}" if info.revision else "")
    counts = assessment.counts()
    yield "  ".join(f"{MARKS[v]} {counts[v]} {v}" for v in ("fails", "missing", "on-site", "near", "ok"))
    for item in assessment.items:
        if only is None or item.id == only:
            if not item.checks and only is None and not working:
                continue
            yield ""
            yield from _item(item, system, width, working)
    yield ""
    yield f"Overall: {MARKS[assessment.verdict]} {assessment.verdict}"


def _item(item: ItemResult, system: System, width: int, working: bool) -> Iterator[str]:
    tail = f"{MARKS[item.verdict]} {item.verdict}"
    head = " ".join(f"{item.kind} {item.id} {item.title}".split())
    room = width - len(tail) - 2
    yield f"{head if len(head) <= room else head[: room - 1] + '…':<{room}}  {tail}"
    main = [f"{k.title.lower()} {show(item.results[k.key], k.kind, system)}" for k in registry(item.kind).values()
            if k.key in _MAIN.get(item.kind, ()) and k.key in item.results and k.shape == "number"]  # fmt: skip
    if main:
        yield from textwrap.wrap("; ".join(main), width, initial_indent="  ", subsequent_indent="  ")
    for check in item.checks:
        yield from _check(check, system, width)
    for caution in item.cautions:
        yield from textwrap.wrap(f"! {caution.text}", width, initial_indent="  ", subsequent_indent="    ")
    if working:
        from splitline.report.working import working_lines

        yield from working_lines(item, system, width)


def _check(check: Check, system: System, width: int) -> Iterator[str]:
    usage = f"{check.usage:.2f}" if check.usage is not None else ("none" if check.verdict == "fails" else "")
    said = check.said(system)
    if check.note and check.demand is not None:  # else it is what was said
        said = f"{said}; {check.note}" if said else check.note
    line = f"  {MARKS[check.verdict]} {check.title}: {said}"
    wrapped = textwrap.wrap(line, width - 8, subsequent_indent="      ") or [line]
    yield f"{wrapped[0]:<{width - 8}} {usage:>6}"
    yield from wrapped[1:]
    if check.verdict != "ok" and check.basis:
        yield from textwrap.wrap(
            f"basis: {check.basis}", width - 8, initial_indent="      ", subsequent_indent="      "
        )
