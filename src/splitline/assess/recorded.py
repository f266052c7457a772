"""A record read by the plans that stand in it, not by the file beside it: what was told, what was done, what deviates.

Each pull is held against the plan that stood when it was made: its own size, pass and tool, by the one method that tells set
values (:class:`~splitline.assess.settings.JointSettings`).
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from splitline.assess.assessment import Assessment
from splitline.assess.each_alone import assessed
from splitline.errors import PlanError, RecordError
from splitline.plan.canonical import digest
from splitline.plan.draft import Draft
from splitline.plan.model import Joint
from splitline.plan.read import open_plan, read_text
from splitline.record.as_built import AsBuilt, build
from splitline.record.compare import differences
from splitline.record.deviations import ToldAs
from splitline.record.entry import JOINED, Planned, Tightened
from splitline.record.facts import in_one_zone, zone_of
from splitline.record.from_plan import job_of
from splitline.record.head import copy_number, read_head
from splitline.record.job import Job
from splitline.record.journal import Journal, Record
from splitline.record.paths import beside as paths_beside
from splitline.record.pins import people_of
from splitline.record.plans import in_force, standing
from splitline.units import System, show

# A set value off by more than this share of what was told is told as set otherwise: a figure of another size, pass or tool
# differs by more, the rounding of a gauge by less. Own choice, no published source.
APART = 0.01
MOST_TOLD = 12  # differences of the file beside that are told one by one


@dataclass(frozen=True, slots=True)
class PlanRead:
    """One plan, assessed, and its job."""

    draft: Draft
    assessment: Assessment
    job: Job

    @property
    def system(self) -> System:
        """Units of the plan."""
        return "US" if self.draft.plan.us else "SI"


@dataclass(frozen=True, slots=True)
class Book:
    """A record with the plan it goes by: the one that stands in it."""

    record: Record  # times in one zone
    stands: PlanRead
    built: AsBuilt
    beside: tuple[str, ...]  # how the plan file beside differs from the plan the work went by


def open_book(path: Path, now: dt.datetime, record: Record | None = None) -> Book:
    """The record beside ``path``. RecordError: there is none; PlanError: neither a plan in it nor the one beside reads."""
    if record is None:
        journal = Journal(path)
        record = journal.refresh()
        if not record.count and not record.problems:
            raise RecordError(
                f"{journal.paths.record}: there is no record yet; work is entered with `splitline {path} --work`"
            )
    record = in_one_zone(record)
    zone = zone_of(record)
    now = now if zone is None or now.tzinfo is None else now.astimezone(zone)  # so that no face mixes zones
    stands, beside = _stands(path, record)
    told = told_of(record, path, stands)
    seen = read_head(paths_beside(path).seen)
    copy = copy_number(paths_beside(path).record.parent)
    count = seen.count if seen is not None else 0
    built = build(stands.job, record, now, told, beside, count, copy, people_of(path.parent))
    return Book(record, stands, built, beside)


def _stands(path: Path, record: Record) -> tuple[PlanRead, tuple[str, ...]]:
    last = standing(record.entries)
    if last is None:
        draft = open_plan(path)
        return _read(draft, path.parent), ("no plan stands in the record: the plan file beside it is taken",)
    found = _plan_of(last.text, path)
    if found is None:
        return _read(open_plan(path), path.parent), (
            f"the plan in entry {last.number} does not read: the plan file beside it is taken",
        )
    return found, _beside(path, last)


def _beside(path: Path, last: Planned) -> tuple[str, ...]:
    """How the file beside differs from the plan that stands."""
    try:
        draft = open_plan(path)
    except PlanError as error:
        return (f"the plan file beside does not read: {error}",)
    if digest(draft.origin.tree) == last.digest:
        return ()
    said = differences(last.text, draft.origin.text)
    told = tuple(each.named for each in said[:MOST_TOLD])
    more = (f"and {len(said) - MOST_TOLD} more",) if len(said) > MOST_TOLD else ()
    head = f"the plan file beside is NOT the plan the work went by (entry {last.number}, revision {last.revision or 'not given'})"
    return (head, *told, *more)


@lru_cache(maxsize=16)
def _plan_of(text: str, path: Path) -> PlanRead | None:
    try:
        draft = read_text(text, path)
    except PlanError:
        return None
    return _read(draft, path.parent)


def _read(draft: Draft, folder: Path) -> PlanRead:
    assessment = assessed(draft.plan, folder)
    orders = {item.id: item.results.get("order_steps", ()) for item in assessment.of_kind("joint")}
    return PlanRead(draft, assessment, job_of(draft.plan, orders))


def told_of(record: Record, path: Path, stands: PlanRead) -> dict[tuple[int, int], ToldAs]:
    """What its own plan tells for each bolt of each pull, by entry and bolt."""
    found: dict[tuple[int, int], ToldAs] = {}
    by = in_force(record.entries)
    recorded = standing(record.entries)
    for entry in record.entries:
        if not isinstance(entry, Tightened):
            continue
        own = by[entry.number]
        plan = stands if recorded is None else _plan_of(own.text, path) if own is not None else None
        if plan is None:
            continue
        for bolt in entry.bolts:
            as_told = told(entry, bolt, plan)
            if own is not recorded and not as_told.otherwise:
                now = told(entry, bolt, stands)
                as_told = replace(as_told, now=now.text if now.otherwise else "")
            found[entry.number, bolt] = as_told
    return found


def told(entry: Tightened, bolt: int, plan: PlanRead) -> ToldAs:
    """What a plan tells for one bolt of a pull: by the settings of its size, its pass and the tools it was made with."""
    result = plan.assessment.find("joint", entry.joint)
    joint, whole = plan.draft.plan.find("joint", entry.joint), plan.job.joint(entry.joint)
    if result is None or result.settings is None or whole is None or not isinstance(joint, Joint):
        return ToldAs()
    own = next((each for each in whole.passes if each.name == entry.pass_), None)
    finish = own.finish if own is not None else entry.pass_.startswith("round")
    share = (own.share if own is not None else 1.0 if finish else None) or entry.share
    if share is None:
        return ToldAs()
    tools = own_tools(entry, bolt)
    hands = result.settings.in_hand(bolt, tools) or ("",)
    each = [result.settings.of_bolt(bolt, share, tool, finish) for tool in hands]
    kind = "pressure" if each[0].by == "pressure" else "torque"
    by_tool = {s.tool: s.value if s.by is not None else s.torque for s in each}
    wanted = [value for value in by_tool.values() if value is not None]
    gauge = each[0].gauge if kind == "pressure" else None
    if not wanted:
        return ToldAs(each[0].why)
    text = ", ".join(
        f"{tool} {show(value, kind, plan.system, gauge)}"
        if len(set(wanted)) > 1
        else show(value, kind, plan.system, gauge)
        for tool, value in (by_tool.items() if len(set(wanted)) > 1 else list(by_tool.items())[:1])
        if value is not None
    )
    was = entry.pressure_of(bolt) if kind == "pressure" else entry.torque
    if was is None:
        return ToldAs(text)
    otherwise = all(abs(was - value) > APART * abs(value) for value in wanted)
    return ToldAs(text, otherwise, show(was, kind, plan.system, gauge))


def own_tools(entry: Tightened, bolt: int) -> tuple[str, ...]:
    """The tool that pulled this bolt, where it is known; else every tool of the crew."""
    names = tuple(entry.tool.split(JOINED)) if entry.tool else ()
    if not entry.pulled_with:
        return names
    used = entry.pulled_with[entry.bolts.index(bolt)]
    serials = entry.serial.split(JOINED)
    own = tuple(name for name, serial in zip(names, serials, strict=False) if used in (serial, name))
    return own or names
