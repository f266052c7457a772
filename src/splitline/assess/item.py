"""A part or consumable: how many, how old, counted out where. Declared on a calculation sheet (see `sheet.py`)."""

from __future__ import annotations

import datetime as dt
import re

from splitline.assess.assembled import item_of
from splitline.assess.context import Context
from splitline.assess.result import ItemResult
from splitline.assess.sheet import Against, Default, Rule, Sheet
from splitline.assess.worksheet import Worksheet
from splitline.library.store import Row
from splitline.plan.model import Item, Plan

DAYS = 365.25
ISO_2230 = "ISO 2230 (not checked against the standard's text)"

SHEET = Sheet("item")
SHEET.given("quantity", "item.quantity")
SHEET.given("cure_date", "item.cure_date")
SHEET.given("calibration_due", "item.calibration_due")
NO_SEAL = 'no shelf life is asked for; a seal says kind = "seal" or its compound in material'
SHEET.given(
    "kind", "item.kind", default=Default("other", "text", NO_SEAL, "a seal nobody calls one is not asked its age")
)


def assess_item(item: Item, plan: Plan, ctx: Context) -> ItemResult:
    """One item of the kit list."""
    del plan
    return item_of(Worksheet(SHEET, item, ctx), item.id, item.title, ctx.system)


def _reads(item: Item) -> bool:
    return item.kind == "instrument"


def _dated(item: Item) -> bool:
    return _reads(item) and item.calibration_due is not None


def _undated_instrument(item: Item) -> bool:
    return _reads(item) and item.calibration_due is None


@SHEET.check("calibration", "Calibration", basis="calibration certificate", when=_undated_instrument)
def read_on_its_label() -> Rule:
    return Rule("on-site", "serial and calibration are entered with the first reading", ("calibration_due",))


@SHEET.check("calibration", "Calibration", basis="calibration certificate", when=_dated, quiet=True)
def in_calibration(calibration_due: dt.date, context: Context) -> Rule:
    until, today = calibration_due.isoformat(), context.today.isoformat()
    if calibration_due < context.today:
        return Rule("fails", f"ran out on {until}, today is {today}")
    return Rule("ok", f"valid until {until}")


@SHEET.check("kit", "Quantity in the kit", sense="at least", kind="count", basis="kit list")
def in_the_kit(quantity: int) -> None:
    """Only says what is missing."""


def _counted(item: Item) -> bool:
    return bool(item.count_out) and item.used_in is None


@SHEET.check("count_out", "Where it is counted out", basis="common practice, no published source", when=_counted)
def counted_somewhere(item: Item) -> Rule:
    return Rule("missing", "say in which step or item it is used: there it is counted out before closing", ("used_in",))


@SHEET.result()
def compound(item: Item, context: Context) -> Row | None:
    """The elastomer group named in the material, by whole words."""
    text = (item.material or "").casefold()
    for row in context.library.rows("elastomers"):
        for name in (row.name, *row.get("aliases", ())):
            if re.search(rf"(?<![a-z]){re.escape(name.casefold())}(?![a-z])", text):
                return row
    return None


def _undated(item: Item) -> bool:
    return item.cure_date is None


def _aged(item: Item, compound: Row | None = None) -> bool:
    return item.cure_date is None and (compound is not None or item.kind == "seal")


def _not_asked(item: Item, compound: Row | None = None) -> bool:
    return not _aged(item, compound) and _undated(item) and item.material is None and not item.count_out


@SHEET.check("shelf_life", "Shelf life", basis=ISO_2230, when=_aged)
def read_on_the_bag() -> Rule:
    return Rule("on-site", "read the cure date on the bag", ("cure_date",))


@SHEET.result(when=_not_asked)
def ageless(kind: str) -> bool:
    """That nobody asks the age of it; without a kind that is an assumption, and printed."""
    return kind != "seal"


@SHEET.note()
def assumed_ageless(ageless: bool) -> None:
    """Asks, so that the assumption is told; says nothing more."""


@SHEET.result()
def age(cure_date: dt.date, context: Context) -> float:
    """Years since it was cured; below 0 the date lies ahead."""
    return (context.today - cure_date).days / DAYS


def _ahead(age: float) -> bool:
    return age < 0


def _nameless(age: float, compound: Row | None = None) -> bool:
    return age >= 0 and compound is None


def _known(age: float, compound: Row | None = None) -> bool:
    return age >= 0 and compound is not None


@SHEET.check("shelf_life", "Shelf life", basis="cure date", when=_ahead, quiet=True)
def cured_tomorrow(cure_date: dt.date, context: Context) -> Rule:
    ahead = f"cured on {cure_date.isoformat()}, after today ({context.today.isoformat()}): check the date"
    return Rule("fails", ahead)


@SHEET.check("shelf_life", "Shelf life", basis=ISO_2230, when=_nameless, quiet=True)
def of_what() -> Rule:
    note = "name the compound (NBR, FKM, EPDM ...) in material, so that its shelf life is known"
    return Rule("missing", note, ("material",))


@SHEET.check(
    "shelf_life", "Shelf life in years", basis="{compound.source}, not checked against the standard's text", when=_known,
    quiet=True,
)  # fmt: skip
def within_its_life(age: float, cure_date: dt.date, compound: Row) -> Against:
    years = float(compound["years"])
    ends = cure_date + dt.timedelta(days=years * DAYS)
    note = f"cured {cure_date.isoformat()}, {compound.name} group: to {ends.isoformat()}; site rules govern"
    return Against(age, years, note)
