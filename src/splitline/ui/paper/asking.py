"""Questions of the table: when, a time of day, a value."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from splitline.ui.paper.table import COUNT, PaperRow, clock_of
from splitline.ui.work import asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.text import TextScreen

if TYPE_CHECKING:
    from splitline.ui.paper.screen import PaperScreen

DIGITS = "four digits: 0310 is ten past three"


async def when(screen: PaperScreen, before: datetime | None) -> datetime | None:
    """Day and time of the first line of the sheet."""
    now = screen.desk.clock()
    days = {"0": ("Today", now.date()), "1": ("Yesterday", now.date() - timedelta(days=1))}
    choices = [Choice(key, words, f"{day:%A %d %b}") for key, (words, day) in days.items()]
    if before is not None:
        choices.insert(0, Choice("same", "As before", f"{before:%d %b %H:%M}"))
    choices.append(Choice(asks.OTHER, "Another day", "by its date"))
    lines = (("The first line filled in; later lines can have their own time.", "dim"),)
    found = await screen.ask(ChoiceScreen("When it was done", choices, lines))
    if found is None or found == "same":
        return before if found else None
    day = await asks.day(screen, "Day it was done") if found == asks.OTHER else days[found][1]
    return await _time(screen, day, now) if day is not None else None


async def _time(screen: PaperScreen, day: date, now: datetime) -> datetime | None:
    noon = now.replace(year=day.year, month=day.month, day=day.day, hour=12, minute=0, second=0, microsecond=0)

    def wrong(text: str) -> str:
        at = clock_of(text, noon)
        if at is None or len(text) != 4:
            return DIGITS
        return f"{at:%H:%M %d %b} has not come yet" if at > now else ""

    text = await screen.ask(PadScreen(f"Time, {day:%A %d %B %Y}", ((DIGITS, "dim"),), check=wrong))
    return clock_of(text, noon) if text is not None else None


async def clock(screen: PaperScreen, title: str, near: datetime) -> datetime | None:
    """A time of day near another: over midnight it is the next day."""

    def wrong(text: str) -> str:
        return DIGITS if len(text) != 4 or clock_of(text, near) is None else ""

    lines = (("It holds for the lines below too, until another one.", "dim"),)
    text = await screen.ask(PadScreen(title, lines, check=wrong))
    return clock_of(text, near) if text is not None else None


async def value(screen: PaperScreen, row: PaperRow, what: str) -> str | None:
    """A value from the pad, or words; judged as it is typed."""
    if row.words.startswith(COUNT):
        return await screen.ask(PadScreen(row.label, check=lambda text: "" if text.isdecimal() else "a whole number"))
    if row.words:
        lines = (("The tag governs, not the table.", "caution"),)
        return await screen.ask(TextScreen(row.label, lines))
    limits = row.limits.get(what)
    if limits is None:
        return None
    name = f"stud {row.label}" if row.bolt is not None else row.label
    found = await asks.amount(screen, limits, f"{what}, {name}" if row.bolt is not None else name)
    return found[1] if found is not None else None
