"""The plan assessed for the work: an item whose assessment breaks down is left out, never the whole screen."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.assess.context import NOTHING, Observed
from splitline.plan.model import Plan

Assessor = Callable[[Plan, Path, Observed], Assessment]
_ALONE = ("joint", "lift", "fit", "insertion", "clearance")


def assessed(plan: Plan, folder: Path, observed: Observed = NOTHING) -> Assessment:
    """The plan assessed with the site's own tables, today, with what was read on the job."""
    from splitline.assess.assessment import assess
    from splitline.library.store import Library

    library, today = Library.load(folder), dt.date.today()
    try:
        return assess(plan, library, today, observed)
    except Exception:  # whatever it is, the other items must stay workable
        kept: dict[str, Any] = {f"{kind}s": () for kind in _ALONE}
        for kind in _ALONE:
            for item in plan.of_kind(kind):
                only: dict[str, Any] = {f"{kind}s": (item,)}
                try:
                    assess(Plan(info=plan.info, **only), library, today, observed)
                except Exception:  # named by ``unassessed``
                    continue
                kept[f"{kind}s"] += (item,)
        sound = replace(plan, **kept)
        try:
            found = assess(sound, library, today, observed)
        except Exception:  # a step, window or part breaks down: they carry nothing the work cannot do without
            found = assess(replace(sound, steps=(), windows=(), items=()), library, today, observed)
        return replace(found, plan=plan)


def unassessed(assessment: Assessment) -> tuple[str, ...]:
    """What could not be assessed, in words."""
    return tuple(
        f'{kind} "{item.id}": could not be assessed; it is not worked on before that is mended'
        for kind in _ALONE
        for item in assessment.plan.of_kind(kind)
        if assessment.find(kind, item.id) is None
    )
