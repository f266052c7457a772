"""Acts that make the work traceable: parts used, counts in, open points. Each stores one entry and says what was stored.

RecordError: nothing was stored, and why.
"""

from __future__ import annotations

import uuid
from datetime import date

from splitline.assess.context import Context
from splitline.assess.item import assess_item
from splitline.assess.result import Check
from splitline.errors import RecordError
from splitline.library.store import Library
from splitline.plan.model import Item
from splitline.record.entry import OPEN_POINT, POINT_CLOSED, Note, Signed
from splitline.record.facts import closing_note
from splitline.record.journal import Record
from splitline.record.struck import live
from splitline.ui.work.acts import stamped
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Task


def _step(task: Task) -> str:
    return task.step.plan.id if task.step else ""


def part_used(
    desk: Desk, task: Task, item: str, count: int, batch: str, cured: date | None = None, failed: tuple[Check, ...] = ()
) -> str:
    """A part or consumable of the plan (``item`` is its id) or another one (``item`` is what it is called) was used.

    ``failed``: checks of the plan it does not pass, which somebody was told of and fitted it all the same.
    """
    if not item.strip():
        raise RecordError("which part it was is missing; nothing was stored")
    entry = Signed(
        uid=uuid.uuid4().hex, **stamped(desk), act="part", step=_step(task), role=item, count=count, batch=batch,
        cure_date=cured, checks=tuple(check.key for check in failed),
        statement="; ".join(f"{check.title}: {check.note}" for check in failed),
    )  # fmt: skip
    desk.store(entry)
    said = f", cured {cured.isoformat()}" if cured is not None else ""
    return f"stored: {count} {desk.titles.get(item, item)}, batch {batch or 'not noted'}{said}"


def aged(desk: Desk, item: Item, cured: date) -> tuple[Check, ...]:
    """Checks a seal of this cure date does not pass on the day it is fitted: its shelf life, by the plan's own assessment."""
    plan = desk.assessment.plan
    context = Context(Library.load(desk.path.parent), desk.moment().date(), system="US" if plan.us else "SI")
    return assess_item(item.model_copy(update={"cure_date": cured}), plan, context).checks_of("fails")


def count_in(desk: Desk, task: Task, item: str, number: int) -> str:
    """Parts that have to come out again counted as they go in."""
    desk.store(Signed(uid=uuid.uuid4().hex, **stamped(desk), act="count-in", step=_step(task), role=item, count=number))
    return f"stored: {number} in, {desk.titles.get(item, item)}"


def open_point(desk: Desk, task: Task, text: str, owner: str, due: date | None) -> str:
    """Something left to do: what, who sees to it, by when."""
    if not text.strip() or not owner.strip():
        raise RecordError("an open point says what is to be done and who sees to it; nothing was stored")
    desk.store(
        Note(uid=uuid.uuid4().hex, **stamped(desk), topic=OPEN_POINT, item=task.item, text=text, owner=owner, due=due)
    )
    return f"open point stored: {text}, {owner}{f' by {due.isoformat()}' if due else ''}"


def close_point(desk: Desk, number: int, text: str) -> str:
    """An open point is done; ``text`` says what was done."""

    def check(record: Record) -> None:
        alive = live(record.entries)
        open_ones = {e.number for e in alive if isinstance(e, Note) and e.topic == OPEN_POINT}
        if number not in open_ones or closing_note(number, alive) is not None:
            raise RecordError(f"there is no open point in entry {number}; nothing was stored")

    entry = Note(uid=uuid.uuid4().hex, **stamped(desk), topic=POINT_CLOSED, text=text, closes=number)
    desk.store(entry, check)
    return f"open point {number} closed: {text}"
