"""Questions of the paper table: which sheet, who did it and when, a value, lubricant and tool where the pass has none yet."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from splitline.record.entry import JOINED
from splitline.ui.paper.sheets_of import offers, sheet_of, stopped
from splitline.ui.paper.table import COUNT, Filled, PaperRow, PaperSheet, clock_of
from splitline.ui.work import asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.flow_set_up import SetUp, ask_set_up
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.task import LISTED, SWAPPED, UNKNOWN, Pairing
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


ONE_BY_ONE = "one by one"


async def tell(screen: PaperScreen, title: str, *texts: str) -> None:
    """Something that has to be seen before it goes on."""
    await screen.ask(ChoiceScreen(title, [Choice("seen", "Seen")], [(text, "strong") for text in texts]))


async def which(screen: PaperScreen, one_by_one: bool, said: str) -> str | None:
    """The key of a table, ``ONE_BY_ONE``, or None."""
    screen.now = screen.desk.refresh()
    found = offers(screen.now)
    choices = [Choice(each.key, each.label, each.note) for each in found]
    if one_by_one:
        choices.append(Choice(ONE_BY_ONE, "One by one", "on the Work screen, done before"))
    lines = [(said, "ok")] if said else []
    if stopped(screen.now):
        lines.append((f"The work is stopped: {stopped(screen.now)}", "fails"))
    if not found:
        lines.append(("Nothing can be entered now: see what Work asks for.", "near"))
    return await screen.ask(ChoiceScreen("From paper: which sheet", choices, lines))


async def opened(
    screen: PaperScreen, key: str, before: datetime | None
) -> tuple[PaperSheet, Filled, SetUp | None] | None:
    """The empty table of a sheet with what is asked once; None where somebody went back or it cannot be begun."""
    sheet = sheet_of(screen.now, key) if screen.now is not None else None
    if sheet is None or screen.now is None:
        return None
    first = sheet.task.answers[:1]
    if sheet.set_up and not (first and first[0].id == "set-up" and first[0].ready):
        wanting = [text for text, style in sheet.task.lines if text and style in ("fails", "on-site", "missing")]
        await tell(screen, "Not yet", *(wanting or ["see what Work asks for before this pass"]))
        return None
    name = f"{sheet.title}, {' '.join(sheet.middle.split())}"
    person = await asks.name(screen, f"{name}: who did it", own=False)
    at = await when(screen, before) if person else None
    if person is None or at is None:
        return None
    given: SetUp | None = None
    if sheet.set_up:
        given = await ask_set_up(screen, sheet.task)
        if given is None:
            return None
        with_tools = sheet_of(screen.now, key, tuple(given.tool.split(JOINED)))
        sheet = replace(with_tools or sheet, set_up=True, task=sheet.task)
    pairing = await _pairing(screen, sheet, given)
    return (replace(sheet, pairing=pairing), Filled(at, person), given) if pairing is not None else None


async def _pairing(screen: PaperScreen, sheet: PaperSheet, given: SetUp | None) -> Pairing | None:
    """Which of two tools was on which fastener of a step, asked where several pulled at once. None: somebody went back."""
    own = screen.now.set_up(sheet.task.joint, sheet.task.pass_) if screen.now is not None else None
    tools = (given.tool if given is not None else own.tool if own is not None else "").split(JOINED)
    steps = Counter(row.place for row in sheet.rows if row.act == "tighten")
    if len(tools) < 2 or max(steps.values(), default=0) != len(tools):
        return UNKNOWN
    listed, swapped = " + ".join(tools), " + ".join(reversed(tools))
    choices = [
        Choice(LISTED, listed, "in the order of the numbers"),
        Choice(SWAPPED, swapped, "the other way round"),
        Choice(UNKNOWN, "Not noted", "goes on record so"),
    ]
    found = await screen.ask(ChoiceScreen("Which tool on which number of a step", choices))
    return next((each for each in (LISTED, SWAPPED, UNKNOWN) if each == found), None)
