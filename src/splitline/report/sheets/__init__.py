"""Sheets of a plan: one file per kind of page. Everything printed comes from plan, assessment and record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from splitline.assess.assessment import Assessment
from splitline.assess.result import ItemResult
from splitline.errors import PlanError
from splitline.plan.model import Plan
from splitline.plan.numbers import number_of
from splitline.record.journal import Record
from splitline.report.blocks import Bundle, Facts, Sheet, blocks_of
from splitline.report.sheets.common import Options, cautioned

SHEETS = ("joint", "lift", "fit", "insertion", "clearance")


def sheets_of(
    plan: Plan, assessment: Assessment, record: Record | None, digest: str, options: Options, only: str | None = None
) -> Bundle:
    """Every sheet of a plan, or those of one item. PlanError: nothing has this id."""
    found = tuple(_one_item(plan, assessment, options, only) if only else _all(plan, assessment, options))
    if only and not found:
        known = [item.id for kind in SHEETS for item in plan.of_kind(kind)]
        raise PlanError(f'no sheet for "{only}"; there are: {", ".join(known) or "none"}')
    return Bundle(
        plan.info.title, found, under(plan), foot(plan, assessment, record, digest), unready(options.examples)
    )


def unready(count: int) -> str:
    """On every page while ``count`` values of a starting plan stand in it."""
    if not count:
        return ""
    words = "value is still an example" if count == 1 else "values are still examples"
    return f"NOT FOR WORK: {count} {words} of a starting plan"


def under(plan: Plan) -> tuple[str, ...]:
    """What stands under the plan's title on every page."""
    info = plan.info
    line = " · ".join(text for text in (info.tag, info.machine) if text)
    order = " · ".join(
        text for text in (info.site, info.order_no and f"order {info.order_no}", _revision(plan)) if text
    )
    return tuple(text for text in (line, order) if text)


def _revision(plan: Plan) -> str:
    return f"plan revision {plan.info.revision}" if plan.info.revision else "plan revision missing"


def altered(record: Record | None) -> tuple[str, ...]:
    """In words that a record does not stand as it was written; () where it does."""
    if record is None or not record.problems:
        return ()
    more = f", and {len(record.problems) - 1} more" if len(record.problems) > 1 else ""
    return (f"the record does NOT stand as it was written: {record.problems[0].text}{more}",)


def foot(plan: Plan, assessment: Assessment, record: Record | None, digest: str) -> tuple[str, ...]:
    """What stands at the foot of every page: drawings, revision, digests, the record as it was when printed."""
    drawings = "; ".join(plan.info.drawings or ()) or "missing"
    some = record is not None and record.count
    stands = (
        f"record code {record.head}, {record.count} entries"
        if record is not None and some
        else "record: no entries yet"
    )
    return (
        f"{_revision(plan)} · drawings: {drawings}",
        f"plan digest {digest}",
        stands,
        *(f"▲ {said}" for said in altered(record)),
        f"assessed {assessment.today.isoformat()}, library {assessment.library_version[:16]} · values are advice; drawing, "
        "maker, site rules and licensed practice govern",
    )


def _all(plan: Plan, assessment: Assessment, options: Options) -> Iterator[Sheet]:
    if plan.steps or plan.windows:
        from splitline.report.sheets.work import work_sheet

        yield work_sheet(plan, assessment, options)
    for kind in ("joint", "lift", "fit", "insertion"):
        for item in plan.of_kind(kind):
            yield from _item(plan, assessment, options, kind, item.id)
    if plan.clearances:
        yield from _clearances(plan, assessment, options, None)
    from splitline.report.kit import kit
    from splitline.report.sheets.kit import kit_sheet

    yield kit_sheet(kit(plan, assessment, options.system), options)


def _one_item(plan: Plan, assessment: Assessment, options: Options, ident: str) -> Iterator[Sheet]:
    for kind in ("joint", "lift", "fit", "insertion"):
        if plan.find(kind, ident) is not None:
            yield from _item(plan, assessment, options, kind, ident)
    if plan.find("clearance", ident) is not None:
        yield from _clearances(plan, assessment, options, ident)


def _item(plan: Plan, assessment: Assessment, options: Options, kind: str, ident: str) -> Iterator[Sheet]:
    from importlib import import_module

    from splitline.report.sheets.why import why_sheets

    item, result = plan.find(kind, ident), assessment.find(kind, ident)
    if item is None:
        return
    if result is None:
        result = ItemResult(kind, ident, item.title or ident, "missing")
    make = getattr(import_module(f"splitline.report.sheets.{kind}"), f"{kind}_sheet")
    number = number_of(kind, plan.of_kind(kind).index(item))
    sheet = cautioned(make(item, result, plan, options), plan, assessment, [(kind, ident)])
    yield replace(sheet, what=f"{sheet.what} {number}".strip())
    if result.results:
        given = Facts(tuple(row for block in blocks_of(sheet) if isinstance(block, Facts) for row in block.rows))
        for why in why_sheets(kind, ident, result.title, result, options, given):
            yield replace(why, what=f"{why.what} {number}".strip())


def _clearances(plan: Plan, assessment: Assessment, options: Options, only: str | None) -> Iterator[Sheet]:
    from splitline.report.sheets.clearance import clearance_sheet

    pairs = [
        (item, assessment.find("clearance", item.id) or ItemResult("clearance", item.id, item.title, "missing"))
        for item in plan.clearances
        if only in (None, item.id)
    ]
    shown = [("clearance", item.id) for item, _ in pairs]
    yield cautioned(clearance_sheet(pairs, plan, options), plan, assessment, shown)
