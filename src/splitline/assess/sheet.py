"""Declarations of a calculation sheet: inputs, results, checks and remarks, each one function of what its argument names say.

A :class:`Sheet` computes nothing; `worksheet.py` fills it in for one item. What a declaration speaks of is its **scope**: a set of
axes. Scope ``()`` is the item itself, ``("size",)`` one of its sizes, ``("size", "case")`` one size in one load case. A function
may ask for any name whose axes are among its own; it looks over a further axis only through :class:`Each`.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from types import ModuleType
from typing import Any, Generic, Literal, TypeVar

from splitline.assess.keys import Key
from splitline.assess.result import Sense, Verdict

F = TypeVar("F", bound=Callable[..., Any])
P = TypeVar("P")
Shape = Literal["number", "list", "table"]
Scope = tuple[str, ...]  # names of axes, in the order they were declared
ITEM: Scope = ()


class Absent(Exception):
    """Raised by a declared function that finds an input absent: the fields to give, and why in words."""

    def __init__(self, *needs: str, why: str = "") -> None:
        super().__init__(why or "needs " + ", ".join(needs))
        self.needs = needs
        self.why = why


class OnSite(Absent):
    """Raised for an input that is known only on the job: what needs it is on-site, not missing."""


@dataclass(frozen=True, slots=True)
class Row(Generic[P]):
    """A row of a table of the plan as the entry of an axis (see :meth:`Sheet.rows`), numbered from 1."""

    axis: str
    number: int
    plan: P

    def field(self, below: str) -> str:
        """A field of it as the plan names it: ``leg.2.pick``."""
        return f"{self.axis}.{self.number}.{below}"


@dataclass(frozen=True, slots=True)
class Each:
    """An argument that is a tuple of one name over every place of the axes its asker has not: the only way to look down.

    ``present`` leaves out the places where the name is missing or idle; else one missing makes the whole missing.
    """

    name: str
    present: bool = False


@dataclass(frozen=True, slots=True)
class Default:
    """What is taken where a field is not given, its basis, and the side it errs on (for the page of what is assumed)."""

    value: Any
    kind: str
    basis: str
    errs: str
    text: str = ""  # how it is written, where the quantity alone is not


@dataclass(frozen=True, slots=True)
class Assumed:
    """What a declared function returns for a value nobody gave: the value, its field in the plan, its basis, and how it is shown.

    It is told as soon as the value is asked for: as a quantity of ``kind``, or in the words of ``text``. A note may return one too.
    """

    value: Any
    field: str
    basis: str
    kind: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Into:
    """Numbers of a line of working: symbol, the name on the sheet, how to read it there, and the kind.

    Of a tuple the first eight are put: ``m_i`` becomes m_1, m_2 ...
    """

    symbol: str
    name: str
    read: Callable[[Any], Any]
    kind: str


@dataclass(frozen=True, slots=True)
class Way:
    """One way to a name: the function, what it asks for, when it holds, and what goes into its line of working.

    ``after``: names that must have a value before it applies at all; their own checks say what they lack. ``cites``: the source
    its line of working names, where that depends on the item.
    """

    name: str
    scope: Scope
    function: Callable[..., Any]
    args: tuple[str, ...]
    optional: Mapping[str, Any] = field(default_factory=dict)
    each: Mapping[str, Each] = field(default_factory=dict)
    when: Way | None = None
    key: Key | None = None
    puts: tuple[Into, ...] | None = None  # None: no line of working
    path: str = ""  # of an input: its place in the plan below its owner
    default: Default | None = None
    after: tuple[str, ...] = ()
    room: str = ""  # module that declares it
    number: int = 0  # in the order of declaration
    cites: str = ""


@dataclass(frozen=True, slots=True)
class Against:
    """What a check's function found: demand against limit. ``basis`` replaces, ``note`` completes what was declared.

    ``about``: fields of the check (``tool`` ...) that the axes do not tell.
    """

    demand: float
    limit: float
    note: str = ""
    basis: str = ""
    about: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule without a number: kept, broken, worth a second look, or known only on the job."""

    verdict: Verdict
    note: str = ""
    needs: tuple[str, ...] = ()
    basis: str = ""
    about: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Compared:
    """A declared check: the function compares; key, title, sense and basis stand here and nowhere else.

    ``title``, ``basis`` and ``part`` may name results and axes in braces. ``quiet``: says nothing where its inputs are missing,
    because another check names the same fields; what physics refuses is still told. ``hint``: how to give what is missing, in
    words; ``lacking``: the whole note then. ``asks``: the fields it names instead of those at the root. ``refused``: its verdict
    where physics refuses what was given.
    """

    key: str
    title: str
    sense: Sense
    kind: str
    basis: str
    way: Way
    quiet: bool
    hint: str = ""
    lacking: str = ""
    asks: tuple[str, ...] = ()
    refused: Verdict = "missing"
    part: str = ""


@dataclass(frozen=True, slots=True)
class Warned:
    """A declared caution: its code, and the function that gives the figure of this item (None: no figure)."""

    code: str
    way: Way


class Sheet:
    """Declarations of one kind of item. The modules of a room fill it with the decorators below.

    ``names_needs``: a missing check names its fields in its note as well.
    """

    def __init__(self, of: str, names_needs: bool = False) -> None:
        self.of = of
        self.names_needs = names_needs
        self.axes: dict[str, Mapping[str, str]] = {}  # fields of a check that an entry tells, and by which attribute
        self.ways: dict[str, list[Way]] = {}
        self.checks: list[Compared] = []
        self.notes: list[Way] = []
        self.cautions: list[Warned] = []
        self._rows: set[str] = set()
        self._names: dict[Callable[..., Any], str] = {}
        self._count = count()
        self._told: dict[Scope, tuple[str, ...]] = {}

    def axis(self, name: str, **tells: str) -> str:
        """A new axis. A result called ``all_<name>`` gives the sequence it runs over; ``<name>`` is one entry of it.

        ``tells``: fields of a check of this axis with the attribute of the entry that fills them, as in ``leg="number"``.
        """
        self.axes[name] = tells
        return name

    def rows(self, axis: str, path: str, **tells: str) -> str:
        """An axis over the rows of a table of the plan (``lift.leg``), each entry a :class:`Row`."""
        read = reader(path.partition(".")[2])

        def every(item: Any) -> tuple[Row[Any], ...]:
            return tuple(Row(axis, number, each) for number, each in enumerate(read(item) or (), 1))

        self._rows.add(axis)
        self.ways[f"all_{axis}"] = [Way(f"all_{axis}", ITEM, every, (self.of,), path=axis)]
        return self.axis(axis, **tells)

    def given(
        self, name: str, path: str, *, scope: Scope = ITEM, default: Default | None = None, field: str = ""
    ) -> None:
        """An input: ``owner.attribute...``, the owner being the item (``joint``) or an axis (``case``).

        Absent as soon as any part is None; another way declared after it under the same name then stands in. ``field`` is its
        place in the plan where it is written otherwise.
        """
        owner, _, below = path.partition(".")
        at = scope if scope or owner == self.of else (owner,)
        read = reader(f"plan.{below}" if owner in self._rows else below)
        way = Way(name, at, read, (owner,), path=field or below, default=default)
        self.ways.setdefault(name, []).append(way)

    def tell(
        self,
        name: str,
        path: str,
        kind: str = "",
        title: str = "",
        symbol: str = "",
        formula: str = "",
        source: str = "",
        *,
        shape: Shape = "number",
        puts: Mapping[str, tuple[str, str]] | None = None,
        after: tuple[str, ...] = (),
        cites: str = "",
    ) -> None:
        """Declare a result that is another, or an attribute of it (``turning.head``). Idle where it is None."""
        owner, read = _split(path)
        key = Key(name, kind, title, symbol, formula, source, shape) if title else None
        into = None if puts is None else _into(puts)
        room = self.ways[owner][0].room if owner in self.ways else ""
        way = Way(
            name,
            self.scope_of(owner),
            read,
            (owner,),
            key=key,
            puts=into,
            after=after,
            cites=cites,
            room=room,
            number=next(self._count),
        )
        self.ways.setdefault(name, []).append(way)
        self._told.clear()

    def result(
        self,
        *scope: str,
        name: str = "",
        when: Callable[..., bool] | None = None,
        each: Mapping[str, Each] | None = None,
        kind: str = "",
        title: str = "",
        symbol: str = "",
        formula: str = "",
        source: str = "",
        shape: Shape = "number",
        puts: Mapping[str, tuple[str, str]] | None = None,
        after: tuple[str, ...] = (),
    ) -> Callable[[F], F]:
        """Declare a result. With ``title`` it is told (JSON, card, working); without, it is a value for others.

        Several functions may be declared under one ``name``: the first whose ``when`` holds is the way. ``source`` and
        ``formula`` may name arguments in braces (``{friction.source}``). ``puts`` maps each symbol of the formula to
        (name or name.attribute on the sheet, kind of quantity).
        """

        def declare(function: F) -> F:
            called = name or function.__name__
            key = Key(called, kind, title, symbol, formula, source, shape) if title else None
            into = None if puts is None else _into(puts)
            way = replace(
                _way(called, scope, function, each, when), key=key, puts=into, after=after, number=next(self._count)
            )
            self.ways.setdefault(called, []).append(way)
            self._names[function] = called
            self._told.clear()
            return function

        return declare

    def check(
        self,
        key: str,
        title: str,
        *scope: str,
        sense: Sense = "at most",
        kind: str = "number",
        basis: str = "",
        when: Callable[..., bool] | None = None,
        each: Mapping[str, Each] | None = None,
        quiet: bool = False,
        hint: str = "",
        lacking: str = "",
        asks: tuple[str, ...] = (),
        refused: Verdict = "missing",
        part: str = "",
        after: tuple[str, ...] = (),
    ) -> Callable[[F], F]:
        """Declare a check. The function returns :class:`Against`, :class:`Rule`, or None where it does not apply."""

        def declare(function: F) -> F:
            way = replace(_way(f"check {key}: {function.__name__}", scope, function, each, when), after=after)
            self.checks.append(Compared(key, title, sense, kind, basis, way, quiet, hint, lacking, asks, refused, part))
            return function

        return declare

    def asks(
        self,
        key: str,
        title: str,
        *names: str,
        scope: Scope = ITEM,
        when: Callable[..., bool] | None = None,
        after: tuple[str, ...] = (),
        **said: Any,
    ) -> None:
        """Declare a check that only says which of these names are missing and why; ``said`` as for :meth:`check`."""

        def nothing(*values: Any) -> None:
            del values

        self.check(key, title, *scope, when=when, after=after, **said)(nothing)
        declared = self.checks[-1]
        way = replace(declared.way, name=f"check {key}: asks {names}", args=names)
        self.checks[-1] = replace(declared, way=way)

    def note(
        self, *scope: str, when: Callable[..., bool] | None = None, after: tuple[str, ...] = ()
    ) -> Callable[[F], F]:
        """Declare a remark in words: the function returns the text, or None where there is nothing to say."""

        def declare(function: F) -> F:
            self.notes.append(replace(_way(f"note {function.__name__}", scope, function, None, when), after=after))
            return function

        return declare

    def caution(self, code: str, when: Callable[..., bool] | None = None) -> Callable[[F], F]:
        """Declare a caution, standing always or where a condition holds; the function gives its figure, or None."""

        def declare(function: F) -> F:
            self.cautions.append(Warned(code, _way(f"caution {code}", ITEM, function, None, when)))
            return function

        return declare

    def stands(self, *codes: str, when: Callable[..., bool] | None = None) -> None:
        """Cautions without a figure."""
        for code in codes:
            self.caution(code, when)(_no_figure)

    def name_of(self, function: Callable[..., Any]) -> str:
        """The name a declared function stands under; KeyError for one that was not declared here."""
        return self._names[function]

    def arrange(self, *rooms: ModuleType) -> None:
        """Put the declarations in the order of these rooms, whichever was imported first; of one room they stand as written."""
        rank = {room.__name__: number for number, room in enumerate(rooms)}

        def place(way: Way) -> int:
            return rank.get(way.room, -1)

        for ways in self.ways.values():
            ways.sort(key=place)
        first = {name: (place(ways[0]), ways[0].number) for name, ways in self.ways.items()}
        self.ways = {name: self.ways[name] for name in sorted(self.ways, key=lambda name: first[name])}
        self.checks.sort(key=lambda check: place(check.way))
        self.notes.sort(key=place)
        self.cautions.sort(key=lambda caution: place(caution.way))
        self._told.clear()

    def scope_of(self, name: str) -> Scope:
        """The axes a name speaks of."""
        if name in self.axes:
            return (name,)
        ways = self.ways.get(name)
        return ways[0].scope if ways else ITEM

    def told_in(self, scope: Scope) -> tuple[str, ...]:
        """Names of the results of one scope that are told, in the order of declaration."""
        if scope not in self._told:
            self._told[scope] = tuple(
                name
                for name, ways in self.ways.items()
                if ways[0].scope == scope and any(way.key is not None for way in ways)
            )
        return self._told[scope]

    def told_keys(self) -> Iterator[Key]:
        """Every result that is told, in the order of declaration, once a name."""
        for ways in self.ways.values():
            keys = [way.key for way in ways if way.key is not None]
            if keys:
                formulas, sources = ([getattr(key, part) for key in keys] for part in ("formula", "source"))
                yield replace(keys[0], formula=_any_of(formulas), source=_any_of(sources))

    def defaults(self) -> Iterator[Way]:
        """Every input with a default, for the page of what is assumed."""
        for ways in self.ways.values():
            yield from (way for way in ways if way.default is not None)


def reader(path: str) -> Callable[[Any], Any]:
    """Reads a dotted attribute; None as soon as any part is None."""
    parts = path.split(".") if path else []

    def read(value: Any) -> Any:
        for part in parts:
            if value is None:
                return None
            value = value[int(part)] if part.isdigit() else getattr(value, part)
        return value

    return read


def _no_figure() -> None:
    """Of a caution that has none."""


def _any_of(texts: Sequence[str]) -> str:
    """What several ways to one name are written as; what is filled in for an item is printed with it."""
    return " or ".join(dict.fromkeys(re.sub(r"{.*?}", "as printed", text) for text in texts))


def _into(puts: Mapping[str, tuple[str, str]]) -> tuple[Into, ...]:
    return tuple(Into(symbol, *_split(path), kind) for symbol, (path, kind) in puts.items())


def _split(path: str) -> tuple[str, Callable[[Any], Any]]:
    arg, _, rest = path.partition(".")
    return arg, reader(rest)


def _way(
    name: str,
    scope: Scope,
    function: Callable[..., Any],
    each: Mapping[str, Each] | None,
    when: Callable[..., bool] | None,
) -> Way:
    parameters = inspect.signature(function).parameters
    optional = {n: p.default for n, p in parameters.items() if p.default is not inspect.Parameter.empty}
    held = _way(f"when {when.__module__}.{when.__qualname__}", scope, when, None, None) if when is not None else None
    return Way(name, scope, function, tuple(parameters), optional, each or {}, held, room=function.__module__)
