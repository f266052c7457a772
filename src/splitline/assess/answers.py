"""What a check answers in words: what moves it, what would make it ok, what would break it, which rows would do."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from splitline.assess.result import Check
from splitline.assess.what_if import BASIS, WANTED, Break, Choice, Goal, Input, Moved, Place, WhatIf, Worse
from splitline.units import KINDS, System, from_si, show, split, text_of

MOST = 8  # inputs told
BAR = 24  # signs of the longest bar


@dataclass(frozen=True, slots=True)
class Answer:
    """One line. ``take``: the field and the text or name that taking it puts there; None: nothing to take."""

    text: str
    style: str = ""
    take: tuple[Place, Any] | None = None


Rows = Callable[[str], Sequence[str]]


def answers(what_if: WhatIf, check: Check, rows: Rows, system: System) -> Iterator[tuple[Answer, ...]]:
    """Section after section, each as soon as it is found."""
    movers = what_if.movers(check.about)
    yield tuple(_movers(check, movers, system))
    yield tuple(_goals(what_if, check, movers, system))
    if check.verdict in ("fails", "near"):
        yield tuple(_choices(what_if, check, rows))
    yield tuple(_breaks(what_if, check, system))


def value_text(each: Input, value: float, system: System) -> str:
    """A value of an input as one says it."""
    if each.kind not in KINDS or each.kind == "number":
        return f"{value:.4g}"
    _, unit = split(value, each.kind, system)
    return f"{from_si(value, each.kind, unit):.5g} {unit}"


def written(each: Input, value: float) -> Any:
    """The same as it stands in the file: text with its unit, or a plain number."""
    if each.kind not in KINDS or each.kind == "number":
        return float(f"{value:.6g}")
    return text_of(float(f"{value:.6g}") if each.kind != "temperature" else value, each.kind)


def _movers(check: Check, movers: Sequence[Moved], system: System) -> Iterator[Answer]:
    yield Answer("What moves it: usage with each input at the ends of its uncertainty", "title")
    if not movers:
        yield Answer("No number of this item moves it.", "dim")
        return
    top = movers[0].swing
    for each in movers[:MOST]:
        own = each.input
        ends = f"{each.low:6.3f} to {each.high:6.3f}"
        bar = "█" * max(round(BAR * each.swing / top), 1)
        how = f"±{_doubt(own, system)}{'' if own.stated else ' taken'}"
        tail = "   DEFAULT, nobody gave it" if own.default else ""
        yield Answer(
            f"{own.name:<34.34} {value_text(own, own.value, system):>12} {how:<14} {ends}  {bar}{tail}",
            "near" if own.default else "",
        )
    if len(movers) > MOST:
        yield Answer(f"and {len(movers) - MOST} that move it less", "dim")
    yield Answer(f"Uncertainties: shares and amounts usual for such values, else 1 % ({BASIS}).", "dim")


def _doubt(each: Input, system: System) -> str:
    if each.place is not None or each.kind in ("temperature", "angle"):
        amount = each.doubt
        if each.kind == "temperature":
            return f"{amount:.0f} K" if system == "SI" else f"{amount * 1.8:.0f} °F"
        return show(amount, each.kind, system)
    return f"{100 * each.doubt / abs(each.value):.0f} %"


def _goals(what_if: WhatIf, check: Check, movers: Sequence[Moved], system: System) -> Iterator[Answer]:
    word = "What would make it ok" if check.verdict in ("fails", "near") else "What would bring it to the limit of ok"
    yield Answer(f"{word}: one value changed, usage {WANTED:.2f}", "title")
    goals = what_if.goals(check.about, movers)
    for goal in goals[:MOST]:
        yield _goal(goal, system)
    if not goals:
        yield Answer("No single value of the plan does it.", "dim")


def _goal(goal: Goal, system: System) -> Answer:
    own = goal.input
    now, then = value_text(own, own.value, system), value_text(own, goal.value, system)
    text = f"{own.name:<34.34} {now:>12} to {then:<12}  {_worse(goal.worse)}"
    take = None if own.place is not None else (own.path, written(own, goal.value))
    return Answer(text, "near" if goal.worse else "ok", take)


def _worse(worse: Sequence[Worse]) -> str:
    if not worse:
        return "no other check gets worse"
    named = ", ".join(f"{each.check.title} ({each.check.verdict})" for each in worse[:2])
    return f"worse: {named}{f' and {len(worse) - 2} more' if len(worse) > 2 else ''}"


def _choices(what_if: WhatIf, check: Check, rows: Rows) -> Iterator[Answer]:
    yield Answer("What else would do: rows of the library", "title")
    found = what_if.choices(check.about, rows)
    for choice in found[:MOST]:
        yield _choice(choice)
    if not found:
        yield Answer("No other row makes it ok.", "dim")
    elif len(found) > MOST:
        yield Answer(f"and {len(found) - MOST} more", "dim")


def _choice(choice: Choice) -> Answer:
    words = f"{'.'.join(map(str, choice.path))} = {choice.name}   usage {choice.usage:.2f}   {_worse(choice.worse)}"
    return Answer(words, "near" if choice.worse else "ok", (choice.path, choice.name))


def _breaks(what_if: WhatIf, check: Check, system: System) -> Iterator[Answer]:
    yield Answer("What would break it: the nearest combination within the uncertainties", "title")
    if check.verdict == "fails":
        yield Answer("It fails as it stands.", "fails")
        return
    told: Break | None = None
    for own, said in ((check.about, "this check"), (None, "any check of the item")):
        found = what_if.breaks(own)
        if told is not None and found is not None and found.check.about == told.check.about:
            yield Answer("No other check of the item breaks sooner.", "dim")
            continue
        told = found
        if found is None:
            yield Answer(f"Nothing within the uncertainties makes {said} fail.", "ok")
            continue
        values = " and ".join(
            f"{each.name} {value_text(each, value, system)} instead of {value_text(each, each.value, system)}"
            for each, value in found.values
        )
        whose = said if own is not None else f"{found.check.title}"
        yield Answer(f"{whose} fails with {values} ({100 * found.share:.0f} % of the uncertainties).", "near")
