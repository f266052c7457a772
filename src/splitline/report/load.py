"""A plan opened, assessed and held beside its record: what every print starts from."""

from __future__ import annotations

import datetime as dt
import sys
from dataclasses import dataclass
from pathlib import Path

from splitline.assess.assessment import Assessment, assess
from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.plan.canonical import digest
from splitline.plan.draft import Draft
from splitline.plan.model import Plan
from splitline.plan.read import open_plan
from splitline.record.journal import Journal, Record
from splitline.units import System


@dataclass(frozen=True, slots=True)
class Opened:
    """A plan that reads, what came out of it, its digest, and its record (None: none yet)."""

    plan: Plan
    assessment: Assessment
    digest: str
    record: Record | None
    examples: int = 0  # values that are still a starting plan's


def opened(path: Path, today: dt.date | None = None, system: System | None = None) -> Opened | None:
    """The plan at ``path``; None with all mistakes on stderr where it does not read."""
    draft = open_plan(path)
    if draft.problems:
        print(f"{path} cannot be printed as it stands:", file=sys.stderr)
        for problem in draft.problems:
            line = f"line {problem.line}: " if problem.line else ""
            print(f"  {line}{problem.where}: {problem.message}", file=sys.stderr)
        return None
    return _of(path, draft, today, system)


def read_for_print(path: Path) -> Opened:
    """The plan at ``path``. PlanError, with the first mistake, where it does not read."""
    draft = open_plan(path)
    if draft.problems:
        first = draft.problems[0]
        line = f"line {first.line}: " if first.line else ""
        more = f" (and {len(draft.problems) - 1} more)" if len(draft.problems) > 1 else ""
        raise PlanError(f"{path.name} cannot be printed as it stands: {line}{first.where}: {first.message}{more}")
    return _of(path, draft, None, None)


def _of(path: Path, draft: Draft, today: dt.date | None, system: System | None) -> Opened:
    assessment = assess(draft.plan, Library.load(path.parent), today or dt.date.today(), system=system)
    record = record_of(path)
    for said in record.problems if record is not None else ():
        print(f"{path}: {said.text}", file=sys.stderr)
    return Opened(draft.plan, assessment, digest(draft.tree), record, draft.examples)


def record_of(path: Path) -> Record | None:
    """The record beside a plan, None where there is none."""
    record = Journal(path).refresh()
    return record if record.count or record.problems else None
