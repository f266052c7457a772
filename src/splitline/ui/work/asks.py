"""Questions asked in a row: who, what, how much, why. Each gives None as soon as somebody goes back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Protocol

from splitline.errors import UnitsError
from splitline.record.judged import counted
from splitline.record.pins import pins_of
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.reasons import DANGER_FIRST
from splitline.ui.work.task import Limits
from splitline.ui.work.text import TextScreen
from splitline.units import KINDS, System, as_read, read, show

if TYPE_CHECKING:
    from splitline.record.job import Job
    from splitline.ui.work.asking import Question
    from splitline.ui.work.desk import Desk
    from splitline.ui.work.now import Now

OTHER = "\0other"


class Asker(Protocol):
    """A screen that can ask: the fitter's, and the table of a paper sheet."""

    desk: Desk
    now: Now | None

    @property
    def system(self) -> System: ...

    async def ask(self, question: Question) -> str | None:
        """Show a question and wait for its answer."""
        ...


EITHER_SIGN = ("angle", "length")  # dials and levels read both ways; a sign before a pressure is a slip
FAR = 4.0  # times beyond its limits a reading is asked about again
BACK_FIRST = 99  # the cursor stands on Back: what signs, strikes or accepts takes one deliberate move
_WHERE = ("12 o'clock", "3 o'clock", "6 o'clock", "9 o'clock")
# Units on the pad by kind of quantity, the usual one of each system first.
_UNITS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "length": (("mm", "um", "in", "mil"), ("in", "mil", "mm")),
    "torque": (("N*m", "kN*m", "ft*lbf"), ("ft*lbf", "N*m")),
    "pressure": (("bar", "MPa", "psi"), ("psi", "ksi", "bar")),
    "force": (("kN", "N", "lbf"), ("lbf", "kip", "kN")),
    "angle": (("deg", "mrad"), ("deg",)),
    "temperature": (("degC", "degF"), ("degF", "degC")),
    "time": (("s", "min", "h"), ("s", "min", "h")),
    "share": (("%",), ("%",)),
    "voltage": (("V",), ("V",)),
    "mass": (("kg", "t", "lb"), ("lb", "kg")),
}


TRIES = 3  # wrong PINs before the question closes


async def name(screen: Asker, title: str, lines: Sequence[tuple[str, str]] = (), own: bool = True) -> str | None:
    """A name from the crew list; typed only where the list has none that fits."""
    crew = screen.desk.crew
    choices = [Choice(each, each) for each in crew] + [Choice(OTHER, "Another name", "type it")]
    start = (crew.index(screen.desk.person) if screen.desk.person in crew else 0) if own else BACK_FIRST
    found = await screen.ask(ChoiceScreen(title, choices, lines, start)) if crew else OTHER
    return await screen.ask(TextScreen(title, lines)) if found == OTHER else found


async def signer(screen: Asker, title: str, lines: Sequence[tuple[str, str]] = ()) -> str | None:
    """Who signs: a name, and the PIN where that name has one beside the plans. None: nobody, or not the right PIN.

    RecordError: the PINs are there and cannot be read.
    """
    person = await name(screen, title, lines, own=False)
    if not person:
        return None
    pins = pins_of(screen.desk.path.parent)
    said: list[tuple[str, str]] = []
    for _ in range(TRIES if pins.asks(person) else 0):
        typed = await screen.ask(PadScreen(f"PIN of {person}", said, secret=True))
        if typed is None:
            return None
        owner = pins.owner(person, typed)
        if owner is not None:
            return owner  # under the name the PIN stands for, however it was typed
        said = [(f"That is not {person}'s PIN. Nothing was signed.", "fails")]
    return None if pins.asks(person) else person


ROLES = ("supervisor",)  # where the plan names none; common practice, no published source


def roles_of(job: Job) -> tuple[str, ...]:
    """Roles the plan's hold and witness points name."""
    named = [role for step in job.steps for role in (step.hold, step.witness) if role]
    return tuple(dict.fromkeys(named)) or ROLES


async def role(screen: Asker, person: str) -> str | None:
    """As whom somebody accepts; asked once a person and sitting."""
    known = screen.desk.roles.get(person)
    if known:
        return known
    lines = ((f"It goes on record beside the name; {person} answers for it in this role.", "dim"),)
    found = await reason(screen, f"{person} accepts as", roles_of(screen.desk.job), lines)
    if found:
        screen.desk.roles[person] = found
    return found


async def reason(screen: Asker, title: str, usual: Sequence[str], lines: Sequence[tuple[str, str]] = ()) -> str | None:
    """One of the usual reasons, or words of one's own."""
    choices = [Choice(each, each, style="danger" if each == DANGER_FIRST else "") for each in usual]
    choices.append(Choice(OTHER, "Other words", "type them"))
    found = await screen.ask(ChoiceScreen(title, choices, lines, BACK_FIRST))
    return await screen.ask(TextScreen(title, lines)) if found == OTHER else found


async def sure(screen: Asker, title: str, yes: str, lines: Sequence[tuple[str, str]]) -> bool:
    """A plain question; going back is the answer that has the cursor when in doubt."""
    return await screen.ask(ChoiceScreen(title, [Choice("yes", yes)], lines, start=1)) == "yes"


def value_of(text: str, quantity: str) -> float:
    """SI value of what the pad gives; a share comes in per cent. UnitsError: not such a quantity."""
    if quantity in KINDS:
        return read(text, quantity)
    figure = text.removesuffix("%").strip()
    try:
        value = float(figure)
    except ValueError:
        raise UnitsError(f'"{text}" is not a number') from None
    if not math.isfinite(value):
        raise UnitsError(f'"{text}" is not a finite number')
    if quantity != "share":
        return value
    if not 0 <= value <= 100:
        raise UnitsError(f'"{text}": a share is 0 to 100 %')
    return value / 100


def value_said(value: float, quantity: str, system: System, unit: str = "") -> str:
    """A value as the pad and its limits show it."""
    return f"{value * 100:.4g} %" if quantity == "share" else show(value, as_read(quantity), system, unit or None)


def units_of(quantity: str, system: System) -> tuple[str, ...]:
    """Units the pad offers for a kind of quantity."""
    found = _UNITS.get(quantity)
    if found is None:
        return (next(iter(KINDS[quantity].units), ""),) if quantity in KINDS else ("",)
    return found[system == "US"]


async def amount(screen: Asker, limits: Limits, title: str) -> tuple[float, str] | None:
    """A value from the pad, judged while it is typed; SI, and as typed."""
    system: System = "US" if screen.desk.assessment.plan.us else "SI"

    def wrong(text: str) -> str:
        try:
            value_of(text, limits.quantity)
        except UnitsError as error:
            return str(error)
        return ""

    def judge(text: str) -> tuple[str, str]:
        said = wrong(text)
        if said:
            return said, "dim"
        verdict = limits.judge(value_of(text, limits.quantity))
        style = {"inside": "ok", "outside": "fails"}.get(verdict, "dim")
        return {"inside": "● inside its limits", "outside": "▲ OUTSIDE its limits"}.get(verdict, "no limits"), style

    lines = [(limits_said(limits, system), "strong")]
    if limits.typical:
        lines.append((limits.typical, "dim"))
    units = tuple(dict.fromkeys([*([limits.unit] if limits.unit else []), *units_of(limits.quantity, system)]))
    while (text := await screen.ask(PadScreen(title, lines, units, judge, wrong))) is not None:
        value = value_of(text, limits.quantity)
        if not far_off(value, limits) or await sure(screen, f"Is {text} right?", f"Yes, {text}", _far(limits, system)):
            return value, text
    return None


def far_off(value: float, limits: Limits) -> bool:
    """Whether a reading is so far from its limits that a slip of the finger is likelier: a digit, a point, a sign."""
    low, high = limits.low, limits.high
    if limits.quantity in EITHER_SIGN:
        value = counted(value, low, high, limits.quantity)
    ends = [end for end in (low, high) if end is not None and end != 0]
    if not ends:
        return False
    if all(end > 0 for end in ends) and value < 0 and (low is None or low >= 0):
        return True
    if all(end < 0 for end in ends) and value > 0:
        return True
    most, least = max(map(abs, ends)), min(map(abs, ends))
    both = low is not None and high is not None and low * high > 0
    return abs(value) > FAR * most or (both and abs(value) < least / FAR)


def _far(limits: Limits, system: System) -> tuple[tuple[str, str], ...]:
    said = f"{limits_said(limits, system)}. A digit too many, the point, or another unit?"
    return ((said, "strong"), ("Back goes to the number again.", "dim"))


def limits_said(limits: Limits, system: System) -> str:
    """Limits in words."""
    low = value_said(limits.low, limits.quantity, system, limits.unit) if limits.low is not None else ""
    high = value_said(limits.high, limits.quantity, system, limits.unit) if limits.high is not None else ""
    if low and high:
        return f"accepted {low} to {high}"
    return f"accepted at least {low}" if low else f"accepted up to {high}" if high else "no limits in the plan"


async def bolt(
    screen: Asker, here: tuple[int, ...], every: int, stored: tuple[int, ...] = (), noun: str = "stud"
) -> int | None:
    """Which one of a joint: one just stored, one in hand, or any by its number."""
    choices = [Choice(str(each), f"{noun} {each}", "just stored") for each in stored]
    choices += [Choice(str(each), f"{noun} {each}", "in hand" if stored else "") for each in here if each not in stored]
    choices.append(Choice(OTHER, f"Another {noun}", "by number"))
    found = await screen.ask(ChoiceScreen(f"Which {noun}", choices)) if len(choices) > 1 else OTHER
    if found != OTHER:
        return int(found) if found else None

    def wrong(text: str) -> str:
        return "" if text.isdecimal() and 1 <= int(text) <= every else f"a {noun} number from 1 to {every}"

    text = await screen.ask(PadScreen(f"Number of the {noun}", check=wrong))
    return int(text) if text else None


async def leg(screen: Asker, legs: int) -> int | None:
    """Which leg of a lift."""
    found = await screen.ask(ChoiceScreen("Which leg", [Choice(str(n), f"Leg {n}") for n in range(1, legs + 1)]))
    return int(found) if found else None


async def where(screen: Asker, title: str) -> str | None:
    """A place round a joint or along a way."""
    choices = [Choice(each, each) for each in _WHERE] + [Choice(OTHER, "Elsewhere", "type it")]
    found = await screen.ask(ChoiceScreen(title, choices))
    return await screen.ask(TextScreen(title)) if found == OTHER else found


async def moment(screen: Asker, title: str) -> datetime | None:
    """When it was done: some time ago, or by the clock."""
    ago = {
        "15": "15 min ago",
        "30": "30 min ago",
        "60": "1 h ago",
        "120": "2 h ago",
        "240": "4 h ago",
        "480": "8 h ago",
    }
    choices = [Choice(key, label) for key, label in ago.items()] + [Choice(OTHER, "By the clock", "four digits")]
    found = await screen.ask(ChoiceScreen(title, choices))
    now = screen.desk.clock()
    if found is None:
        return None
    if found != OTHER:
        return now - timedelta(minutes=int(found))

    def wrong(text: str) -> str:
        ok = len(text) == 4 and text.isdecimal() and int(text[:2]) < 24 and int(text[2:]) < 60
        return "" if ok else "four digits: 0310 is ten past three"

    text = await screen.ask(PadScreen(title, (("the last such time before now", "dim"),), check=wrong))
    if text is None:
        return None
    at = now.replace(hour=int(text[:2]), minute=int(text[2:]), second=0)
    return at if at <= now else at - timedelta(days=1)


async def day(screen: Asker, title: str) -> date | None:
    """A date from the pad: year, month, day."""

    def parsed(text: str) -> date | None:
        try:
            return date(int(text[:4]), int(text[4:6]), int(text[6:])) if len(text) == 8 else None
        except ValueError:
            return None

    def wrong(text: str) -> str:
        return "" if text.isdecimal() and parsed(text) else "eight digits: 20270301 is 1 March 2027"

    text = await screen.ask(PadScreen(title, (("eight digits: year, month, day", "dim"),), check=wrong))
    return parsed(text) if text else None
