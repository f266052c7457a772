"""Acts that make the work traceable: parts used, counts in, open points. Each stores one entry and says what was stored.

RecordError: nothing was stored, and why.
"""

from __future__ import annotations

import uuid
from datetime import date

from splitline.errors import RecordError
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
    desk: Desk, task: Task, item: str, count: int, batch: str, cured: date | None = None, text: str = ""
) -> str:
    """A part or consumable of the plan (``item`` is its id) or another one (``item`` is what it is called) was used."""
    if not item.strip():
        raise RecordError("which part it was is missing; nothing was stored")
    entry = Signed(
        uid=uuid.uuid4().hex, **stamped(desk), act="part", step=_step(task), role=item, count=count, batch=batch,
        cure_date=cured, statement=text,
    )  # fmt: skip
    desk.store(entry)
    said = f", cured {cured.isoformat()}" if cured is not None else ""
    return f"stored: {count} {desk.titles.get(item, item)}, batch {batch or 'not noted'}{said}"


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
