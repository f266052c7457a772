"""A part or consumable: how many, how old, counted out where."""

from __future__ import annotations

import datetime as dt
import re

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.result import ItemResult
from splitline.library.store import Row
from splitline.plan.model import Item, Plan

DAYS = 365.25


def assess_item(item: Item, plan: Plan, ctx: Context) -> ItemResult:
    """One item of the kit list."""
    del plan
    bench = Bench("item", item.id, item.title, ctx.system)
    if item.quantity is None:
        bench.missing("kit", "Quantity in the kit", ("quantity",), "kit list", kind="count", sense="at least")
    if item.count_out and item.used_in is None:
        note = "say in which step or item it is used: there it is counted out before closing"
        bench.missing(
            "count_out", "Where it is counted out", ("used_in",), "common practice, no published source", note
        )
    _age(item, bench, ctx)
    return bench.done()


def _age(item: Item, bench: Bench, ctx: Context) -> None:
    """Shelf life of an elastomer, from its cure date and compound."""
    compound = _compound(item, ctx)
    if item.cure_date is None:
        if compound is not None or item.kind == "seal":
            title, basis = "Shelf life", "ISO 2230 (from memory)"
            bench.on_site("shelf_life", title, ("cure_date",), basis, "read the cure date on the bag", kind="number")
        elif item.kind is None and item.material is None and not item.count_out:
            bench.default(
                "kind", "other", 'no shelf life is asked for; a seal says kind = "seal" or its compound in material'
            )
        return
    age = (ctx.today - item.cure_date).days / DAYS
    if age < 0:
        note = f"cured on {item.cure_date.isoformat()}, after today ({ctx.today.isoformat()}): check the date"
        bench.fails("shelf_life", "Shelf life", "cure date", note)
        return
    if compound is None:
        note = "name the compound (NBR, FKM, EPDM ...) in material, so that its shelf life is known"
        bench.missing("shelf_life", "Shelf life", ("material",), "ISO 2230 (from memory)", note)
        return
    years = float(compound["years"])
    ends = item.cure_date + dt.timedelta(days=years * DAYS)
    note = f"cured {item.cure_date.isoformat()}, {compound.name} group: to {ends.isoformat()}; site rules govern"
    bench.at_most("shelf_life", "Shelf life in years", age, years, "number", compound.source + ", from memory", note)


def _compound(item: Item, ctx: Context) -> Row | None:
    """The elastomer group named in the material, by whole words."""
    text = (item.material or "").casefold()
    for row in ctx.library.rows("elastomers"):
        for name in (row.name, *row.get("aliases", ())):
            if re.search(rf"(?<![a-z]){re.escape(name.casefold())}(?![a-z])", text):
                return row
    return None
