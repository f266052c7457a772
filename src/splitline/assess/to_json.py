"""The assessment as the JSON that outside tools read: SI numbers under declared keys, never strings, NaN or infinity."""

from __future__ import annotations

from typing import Any

from splitline import __version__
from splitline.assess.assessment import Assessment
from splitline.assess.result import Check, ItemResult

FORMAT = 1
_LISTS = {
    "joint": "joints", "lift": "lifts", "fit": "fits", "insertion": "insertions", "clearance": "clearances",
    "window": "windows", "step": "steps", "item": "items",
}  # fmt: skip


def assessment_json(assessment: Assessment) -> dict[str, Any]:
    """The whole object of `splitline check --json`."""
    info = assessment.plan.info.model_dump(exclude_none=True)
    out: dict[str, Any] = {
        "format": FORMAT,
        "version": __version__,
        "plan": {key: list(value) if isinstance(value, tuple) else value for key, value in info.items()},
        "verdict": assessment.verdict,
        "library": assessment.library_version,
        "date": assessment.today.isoformat(),
    }
    for kind, name in _LISTS.items():
        out[name] = [item_json(item) for item in assessment.of_kind(kind)]
    return out


def item_json(item: ItemResult) -> dict[str, Any]:
    """One item."""
    out: dict[str, Any] = {"id": item.id, "title": item.title, "verdict": item.verdict, "results": dict(item.results)}
    if item.kind == "joint":
        out["sizes"] = [{"bolts": list(g.bolts), "results": dict(g.results)} for g in item.sizes]
        out["cases"] = [{"name": g.name, "results": dict(g.results)} for g in item.cases]
    out["checks"] = [check_json(check) for check in item.checks]
    out["cautions"] = [c.text for c in item.cautions]
    out["defaults"] = [{"field": d.field, "value": d.said, "basis": d.basis} for d in item.defaults]
    out["notes"] = list(item.notes)
    return out


def check_json(check: Check) -> dict[str, Any]:
    """One check."""
    return {
        "key": check.key,
        "title": check.title,
        "sense": check.sense,
        "demand": check.demand,
        "limit": check.limit,
        "unit": check.unit,
        "usage": check.usage,
        "verdict": check.verdict,
        "basis": check.basis,
        "note": check.note,
        "needs": list(check.needs),
        "case": check.case,
        "size": None if check.size is None else list(check.size),
        "leg": check.leg,
        "part": check.part,
        "tool": check.tool,
        "pass": check.pass_,
    }
