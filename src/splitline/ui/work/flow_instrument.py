"""The question which instrument a reading is taken with."""

from __future__ import annotations

from datetime import date

from splitline.ui.work import asks
from splitline.ui.work.asks import Asker
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.instruments import NOT_NOTED, Instrument, carried, kind_of, offered
from splitline.ui.work.task import Limits
from splitline.ui.work.text import TextScreen


async def taken(screen: Asker, limits: Limits) -> bool:
    """Whether the instrument of such a reading is known, asked for where it is not; False: somebody went back."""
    desk = screen.desk
    if carried(desk, limits) is not None:
        return True
    found = await _ask(screen, limits)
    if found is None:
        return False
    desk.instruments[desk.hand, kind_of(limits)] = found
    return True


async def _ask(screen: Asker, limits: Limits) -> Instrument | None:
    desk, now = screen.desk, screen.now
    today = desk.moment().date()
    known = offered(desk.assessment.plan.items, now.alive if now is not None else (), limits.quantity)
    choices = [Choice(str(n), each.name, _note(each, today)) for n, each in enumerate(known)]
    choices += [
        Choice(asks.OTHER, "Another instrument", "name and serial"),
        Choice("none", "Not noted", "goes on record"),
    ]
    lines = (("Asked once; it holds for your further readings of this kind.", "dim"),)
    answer = await screen.ask(ChoiceScreen(f"{limits.what}: read with which instrument", choices, lines))
    if answer is None:
        return None
    if answer == "none":
        return NOT_NOTED
    found = Instrument() if answer == asks.OTHER else known[int(answer)]
    name = found.name or await screen.ask(
        TextScreen("Instrument", (("What it is: depth micrometer, load cell.", "dim"),))
    )
    serial = found.serial or (await screen.ask(TextScreen(f"Serial number of the {name}")) if name else None)
    if not name or not serial:
        return None
    due = found.due or await asks.day(screen, f"Calibration of {name} {serial} runs out on")
    if due is None:
        return None
    made = Instrument(name, serial, due)
    return made if not made.lapsed(today) or await _all_the_same(screen, made) else None


def _note(each: Instrument, today: date) -> str:
    if each.lapsed(today):
        return f"{each.serial}, CALIBRATION LAPSED {each.due}"
    return each.serial or "serial not known"


async def _all_the_same(screen: Asker, each: Instrument) -> bool:
    lines = (
        (f"The calibration of {each.said} ran out on {each.due}.", "fails"),
        ("Take another one. With this one the work stops until a named person accepts it.", "caution"),
    )
    return await asks.sure(screen, "Use it all the same?", "Use it", lines)
