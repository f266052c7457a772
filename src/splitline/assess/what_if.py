"""The plan answers back: what moves a check, what value would make it ok, and what combination of doubts would break it.

An item is assessed again with one value changed; nothing here knows what a value is for. So the answers hold for joints, lifts,
fits, clearances and insertions alike, and for whatever is added to them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import copysign, sqrt
from typing import Any

from splitline.assess.result import Check, ItemResult, Verdict
from splitline.errors import SplitlineError
from splitline.plan.declare import Dim, Num, Row, Table
from splitline.plan.fields import Declared, fields_of
from splitline.units import read

Place = tuple[str | int, ...]
Assess = Callable[[Any], ItemResult]

WANTED = 0.90  # usage at which a check is ok and no more
REACHED = 0.001  # a usage that close to it counts as reached
FAR = 4.0  # times the value up or down that are tried
TRIALS = 14  # assessments one value is given to come there
STEP = 0.01  # of the value, where its doubt is not known
# Doubt of a value, one way, where its plan says none: a share, or an amount. Common practice, no published source.
SHARES = {
    "friction": 0.15, "force": 0.03, "pressure": 0.02, "stress": 0.05, "mass": 0.03, "torque": 0.03,
    "stiffness": 0.10, "contact_stiffness": 0.30, "expansion": 0.03, "modulus": 0.02,
}  # fmt: skip
AMOUNTS = {"temperature": 5.0, "angle": 0.0175}  # K; rad: 1°
PLACE = 0.01  # m, of a place on a load
FRICTIONS = frozenset({("friction", "thread"), ("friction", "bearing"), ("friction", "nut_factor"), ("friction",)})
BASIS = "common practice, no published source"
# Facts and doubts: they move a check, and nobody plans them otherwise to make it ok.
NOT_CHOSEN = frozenset(
    {"case", "scatter", "scatter_common", "confidence", "relaxation", "measured", "centre_shift", "length_tolerance"}
)
CONSTANTS = frozenset({"modulus", "expansion", "temperature", "density"})
RANK: dict[Verdict, int] = {"ok": 0, "near": 1, "on-site": 2, "missing": 3, "fails": 4}


@dataclass(frozen=True, slots=True)
class Input:
    """One number of an item, SI. ``path`` as in the file, from the item down; ``place`` counts within a row such as [x, y, z].

    ``doubt``: how far it may be off, one way, and ``stated`` whether the plan's kind of value has such a doubt of its own (else
    one percent). ``default``: the basis it was taken on, where nobody gave it.
    """

    path: Place
    words: str
    kind: str
    value: float
    doubt: float
    stated: bool
    default: str = ""
    place: int | None = None

    @property
    def name(self) -> str:
        """As one writes it: ``bolting.clamp_length``, ``leg 2 pick y``."""
        parts: list[str] = []
        for step in self.path:
            if isinstance(step, int):
                parts[-1] = f"{parts[-1]} {step + 1}"
            else:
                parts.append(step)
        tail = f" {'xyz'[self.place]}" if self.place is not None and self.place < 3 else ""
        return ".".join(parts) + tail


@dataclass(frozen=True, slots=True)
class Moved:
    """Usage of a check with an input at the lower and the upper end of its doubt."""

    input: Input
    low: float
    high: float

    @property
    def swing(self) -> float:
        """How far the usage goes, either way."""
        return abs(self.high - self.low)


@dataclass(frozen=True, slots=True)
class Worse:
    """Another check that a change makes worse."""

    check: Check
    before: Verdict


@dataclass(frozen=True, slots=True)
class Goal:
    """The value of one input at which the check stands at ``usage`` (0.90), and which checks it makes worse."""

    input: Input
    value: float
    usage: float
    worse: tuple[Worse, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """A row of the library that would do instead of the one chosen."""

    path: Place
    words: str
    name: str
    usage: float
    worse: tuple[Worse, ...]


@dataclass(frozen=True, slots=True)
class Break:
    """The nearest combination that makes a check fail: inputs and the values they would have.

    ``share``: how much of every input's doubt that takes, together (1: the edge of the stated doubts).
    """

    check: Check
    share: float
    values: tuple[tuple[Input, float], ...]


class WhatIf:
    """One item and the way it is assessed; every answer is found by assessing it again."""

    def __init__(self, item: Any, assess: Assess) -> None:
        self.item, self._assess = item, assess
        self.result = assess(item)
        self.inputs = tuple(inputs_of(item, self.result))

    def check(self, about: tuple[Any, ...]) -> Check | None:
        """The check of this identity (``Check.about``) as it stands."""
        return _check(self.result, about)

    def with_values(self, values: Sequence[tuple[Input, float]]) -> ItemResult | None:
        """The item assessed with other values; None where they cannot be assessed."""
        changed = self.item
        for each, value in values:
            changed = _changed(changed, each.path, each.place, value)
        try:
            return self._assess(changed)
        except (SplitlineError, ArithmeticError, ValueError):
            return None

    def usage(self, about: tuple[Any, ...], values: Sequence[tuple[Input, float]]) -> float | None:
        """Usage of a check with other values; None where it has none then."""
        result = self.with_values(values)
        check = _check(result, about) if result is not None else None
        return check.usage if check is not None else None

    def movers(self, about: tuple[Any, ...]) -> tuple[Moved, ...]:
        """Every input that moves the check, the one that moves it most first."""
        found = []
        for each in self.inputs:
            ends = [self.usage(about, [(each, value)]) for value in (each.value - each.doubt, each.value + each.doubt)]
            if ends[0] is not None and ends[1] is not None and abs(ends[1] - ends[0]) > 1e-9:
                found.append(Moved(each, ends[0], ends[1]))
        return tuple(sorted(found, key=lambda moved: -moved.swing))

    def goals(self, about: tuple[Any, ...], movers: Sequence[Moved] | None = None) -> tuple[Goal, ...]:
        """For each input that can do it alone: the value at which the check stands at 0.90. Least change first."""
        found = []
        for moved in self.movers(about) if movers is None else movers:
            if moved.input.default or moved.input.kind in CONSTANTS or NOT_CHOSEN & set(moved.input.path):
                continue
            value = self._value_for(about, moved)
            if value is None:
                continue
            result = self.with_values([(moved.input, value)])
            check = _check(result, about) if result is not None else None
            if result is None or check is None or check.usage is None or abs(check.usage - WANTED) > REACHED:
                continue
            found.append(Goal(moved.input, value, check.usage, self._worse(result, about)))
        return tuple(sorted(found, key=lambda goal: (len(goal.worse), _far(goal.input, goal.value))))

    def choices(self, about: tuple[Any, ...], rows: Callable[[str], Sequence[str]]) -> tuple[Choice, ...]:
        """Rows of the library that make the check ok. ``rows``: names of a table's rows."""
        found = []
        for path, field, now in _picked(self.item, ()):
            for name in rows(field.library):
                if name == now:
                    continue
                try:
                    result = self._assess(_changed(self.item, path, None, name))
                except (SplitlineError, ArithmeticError, ValueError):
                    continue
                check = _check(result, about)
                if check is not None and check.usage is not None and check.usage <= WANTED + REACHED:
                    found.append(Choice(path, field.words, name, check.usage, self._worse(result, about)))
        return tuple(sorted(found, key=lambda choice: (len(choice.worse), -choice.usage)))

    def breaks(self, about: tuple[Any, ...] | None = None) -> Break | None:
        """The nearest combination within the doubts that makes a check fail: of one check, or of any that stands.

        By the first-order point of each check, then along its direction to where it really fails. None where the doubts
        do not reach that far, or where something fails already.
        """
        standing = [c for c in self.result.checks if c.usage is not None and c.verdict in ("ok", "near")]
        standing = [c for c in standing if about is None or c.about == about]
        if not standing:
            return None
        slopes = self._slopes()
        best: Break | None = None
        for check in standing:
            found = self._break_of(check, slopes)
            if found is not None and (best is None or found.share < best.share):
                best = found
        return best

    def grid(
        self, about: tuple[Any, ...], one: Input, ones: Sequence[float], other: Input, others: Sequence[float]
    ) -> list[list[tuple[float | None, Verdict]]]:
        """Usage of a check and the worst verdict of all, over two inputs together: rows of ``others``, columns of ``ones``."""
        table = []
        for b in others:
            row: list[tuple[float | None, Verdict]] = []
            for a in ones:
                result = self.with_values([(one, a), (other, b)])
                check = _check(result, about) if result is not None else None
                row.append(
                    (check.usage if check is not None else None, result.verdict if result is not None else "missing")
                )
            table.append(row)
        return table

    # inside

    def _worse(self, result: ItemResult, about: tuple[Any, ...]) -> tuple[Worse, ...]:
        before = {check.about: check.verdict for check in self.result.checks}
        return tuple(
            Worse(check, before.get(check.about, "ok"))
            for check in result.checks
            if check.about != about and RANK[check.verdict] > RANK[before.get(check.about, "ok")]
        )

    def _value_for(self, about: tuple[Any, ...], moved: Moved) -> float | None:
        """By bracketing and halving with a secant: usage goes one way over the range, or the value is not offered."""
        each = moved.input
        slope = (moved.high - moved.low) / (2 * each.doubt)
        check = self.check(about)
        if check is None or check.usage is None or slope == 0:
            return None
        here, miss = each.value, check.usage - WANTED
        way = -copysign(1.0, miss * slope)
        ends = (each.value / FAR, each.value * FAR) if each.value else (-100 * each.doubt, 100 * each.doubt)
        low, high = min(ends), max(ends)
        there, other = here, miss
        step = max(abs(miss / slope), each.doubt)
        for _ in range(TRIALS // 2):
            there = min(max(there + way * step, low), high)
            usage = self.usage(about, [(each, there)])
            if usage is None:
                return None
            other = usage - WANTED
            if other * miss <= 0:
                break
            here, miss = there, other
            if there in (low, high):
                return None
            step *= 2
        else:
            return None
        for _ in range(TRIALS):
            if abs(other) <= REACHED / 4:
                return there
            guess = there - other * (there - here) / (other - miss)
            if not min(here, there) < guess < max(here, there):
                guess = (here + there) / 2
            usage = self.usage(about, [(each, guess)])
            if usage is None:
                return None
            found = usage - WANTED
            if found * other <= 0:
                here, miss = there, other
            else:
                miss /= 2  # the end that stays loses weight, else a curved usage is crept up to
            there, other = guess, found
        return there if abs(other) <= REACHED else None

    def _slopes(self) -> dict[tuple[Any, ...], list[tuple[Input, float]]]:
        """Change of each check's usage per doubt of each input."""
        found: dict[tuple[Any, ...], list[tuple[Input, float]]] = {}
        for each in self.inputs:
            ends = [self.with_values([(each, each.value + side * each.doubt)]) for side in (-1, 1)]
            if ends[0] is None or ends[1] is None:
                continue
            low = {check.about: check.usage for check in ends[0].checks}
            for check in ends[1].checks:
                before = low.get(check.about)
                if check.usage is not None and before is not None and abs(check.usage - before) > 1e-9:
                    found.setdefault(check.about, []).append((each, (check.usage - before) / 2))
        return found

    def _break_of(self, check: Check, slopes: dict[tuple[Any, ...], list[tuple[Input, float]]]) -> Break | None:
        own = slopes.get(check.about, [])
        size = sqrt(sum(slope**2 for _, slope in own))
        if check.usage is None or not size:
            return None
        heads = sorted(((each, slope / size) for each, slope in own), key=lambda pair: -abs(pair[1]))
        heads = [pair for pair in heads if abs(pair[1]) > 0.1][:4]
        scale = sqrt(sum(head**2 for _, head in heads))
        heads = [(each, head / scale) for each, head in heads]

        def at(share: float) -> list[tuple[Input, float]]:
            return [(each, each.value + share * head * each.doubt) for each, head in heads]

        reach = sqrt(len(heads))  # the corner at which every doubt is used up
        edge = min(reach, 1 / max(abs(head) for _, head in heads))
        if not self._fails(check, at(edge)):
            return None
        low, high = 0.0, edge
        for _ in range(12):
            middle = (low + high) / 2
            low, high = (low, middle) if self._fails(check, at(middle)) else (middle, high)
        return Break(check, high, tuple(at(high)))

    def _fails(self, check: Check, values: Sequence[tuple[Input, float]]) -> bool:
        usage = self.usage(check.about, values)
        return usage is None or usage > 1.0


def inputs_of(item: Any, result: ItemResult) -> Iterator[Input]:
    """Every number of an item that was given, and every default that is one number of a field."""
    yield from (each for each in _numbers(item, ()) if each.doubt > 0)  # a plain 0 has no share to be off by
    for default in result.defaults:
        found = _default(item, default.field, default.said)
        if found is not None:
            path, field, value = found
            yield _input(path, field, value, None, default.basis)


def _check(result: ItemResult, about: tuple[Any, ...]) -> Check | None:
    return next((check for check in result.checks if check.about == about), None)


def _far(each: Input, value: float) -> float:
    return abs(value - each.value) / (abs(each.value) or each.doubt)


def _input(path: Place, field: Declared, value: float, place: int | None, default: str = "") -> Input:
    kind = field.kind if field.kind != "row" else "length"
    names = tuple(step for step in path if isinstance(step, str))
    share = SHARES["friction"] if names[-2:] in FRICTIONS or names in FRICTIONS else SHARES.get(kind)
    doubt = AMOUNTS[kind] if kind in AMOUNTS else abs(value) * (share if share is not None else STEP)
    if place is not None:
        doubt = PLACE
    stated = share is not None or kind in AMOUNTS or place is not None
    return Input(path, field.words, kind, value, doubt, stated, default, place)


def _numbers(table: Table, path: Place) -> Iterator[Input]:
    for name, field in fields_of(type(table)).items():
        value = getattr(table, field.attribute)
        here = (*path, name)
        if isinstance(value, Table):
            yield from _numbers(value, here)
        elif isinstance(value, tuple) and value and isinstance(value[0], Table):
            for number, each in enumerate(value):
                yield from _numbers(each, (*here, number))
        elif isinstance(field.leaf, Row) and isinstance(value, tuple):
            for place, each in enumerate(value):
                if isinstance(each, float):
                    yield _input(here, field, each, place)
        elif isinstance(value, float) and _is_number(field):
            yield _input(here, field, value, None)


def _is_number(field: Declared) -> bool:
    return isinstance(field.leaf, Dim) or (isinstance(field.leaf, Num) and not field.leaf.whole)


def _default(item: Any, said_of: str, said: str) -> tuple[Place, Declared, float] | None:
    """The field of a printed default and its value; None where it is no single number, or its table is not there."""
    *tables, last = said_of.split(".")
    table: Any = item
    for name in tables:
        table = getattr(table, name, None)
    if not isinstance(table, Table):
        return None
    field = fields_of(type(table)).get(last)
    if field is None or not _is_number(field) or getattr(table, field.attribute) is not None:
        return None
    text = said.partition(":")[0].strip()
    try:
        value = read(text, field.kind) if isinstance(field.leaf, Dim) else float(text)
    except (SplitlineError, ValueError):
        return None
    return (*tables, last), field, value


def _picked(table: Table, path: Place) -> Iterator[tuple[Place, Declared, str]]:
    """Fields that are picked from a table of the library, and what stands in them."""
    for name, field in fields_of(type(table)).items():
        value = getattr(table, field.attribute)
        here = (*path, name)
        if isinstance(value, Table):
            yield from _picked(value, here)
        elif field.library and isinstance(value, str):
            yield here, field, value


def _changed(table: Any, path: Place, place: int | None, value: Any) -> Any:
    """A copy with one value changed; everything else is shared."""
    model: type[Table] = type(table)
    attribute = fields_of(model)[str(path[0])].attribute
    now = getattr(table, attribute)
    if len(path) == 1:
        new = value if place is None else (*now[:place], value, *now[place + 1 :])
    elif isinstance(path[1], int):
        number = path[1]
        new = (*now[:number], _changed(now[number], path[2:], place, value), *now[number + 1 :])
    else:
        new = _changed(now, path[1:], place, value)
    return table.model_copy(update={attribute: new})
