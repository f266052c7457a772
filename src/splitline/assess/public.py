"""``splitline.assess`` for scripts and notebooks: today's date and the plan's own library unless others are given."""

from __future__ import annotations

import datetime as dt

from splitline.assess import assessment
from splitline.assess.context import Observed
from splitline.library.store import Library
from splitline.plan.model import Plan
from splitline.plan.opened import PlanFile
from splitline.units import System


def assess(
    plan: PlanFile | Plan,
    today: dt.date | None = None,
    *,
    library: Library | None = None,
    observed: Observed | None = None,
    units: System | None = None,
) -> assessment.Assessment:
    """Every check and result of a plan, SI; the same as ``splitline check`` and the screens show.

    ``today``: the day calibrations and inspections are judged on. ``library``: the tables to go by; by default those the
    plan was read with, for a bare ``Plan`` the shipped ones. ``observed``: what was read on site. ``units``: of the words in
    notes and cautions. A value that is absent makes its checks ``missing``, never ``ok``.
    """
    if not isinstance(plan, PlanFile | Plan):
        raise TypeError(f"assess takes what splitline.load gives, not {type(plan).__name__}")
    read = plan.plan if isinstance(plan, PlanFile) else plan
    if library is None:
        library = plan.library if isinstance(plan, PlanFile) else Library.load()
    return assessment.assess(read, library, today or dt.date.today(), observed, units)
