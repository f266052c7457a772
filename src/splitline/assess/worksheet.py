"""One calculation sheet filled in for one item: each declared function called at most once, its value kept with what went in.

A name resolves to one of three things. A **value**. **Missing**: an argument is absent, and the fields at the root are known.
**Idle**: it does not apply (its condition does not hold, or its function returned None). A function is called only when every
argument without a default of its own has a value; the others then get their default. From the cells follow the working, the
defaults taken, the missing inputs and what an edit changes; no function of a room says any of them by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from splitline.assess.sheet import Absent, Against, Assumed, Compared, Each, OnSite, Rule, Scope, Sheet, Way
from splitline.errors import InputError, LibraryError

T = TypeVar("T")
Place = tuple[tuple[str, int], ...]  # (axis, number) in the order of the sheet's axes; () is the item itself
HERE: Place = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """Why a name has no value: the fields at the root, and what physics or library said of those that are there."""

    needs: tuple[str, ...]
    because: tuple[Exception, ...] = ()
    on_site: bool = False  # nothing of it can be known before the job


@dataclass(frozen=True, slots=True)
class Idle:
    """A name that does not apply to this item."""


IDLE = Idle()
NOTHING = (Missing, Idle)


@dataclass(slots=True)
class Cell:
    """One name at one place, with the way taken and what went in. Written once."""

    name: str
    place: Place
    value: Any  # or Missing, or IDLE
    way: Way | None = None
    into: Mapping[str, Any] = field(default_factory=dict)
    assumed: Assumed | None = None  # nobody gave it: this was taken

    @property
    def there(self) -> bool:
        return not isinstance(self.value, NOTHING)


@dataclass(frozen=True, slots=True)
class Found:
    """One check as resolved at one place."""

    declared: Compared
    place: Place
    outcome: Against | Rule | Missing
    into: Mapping[str, Any]


class Worksheet:
    """One sheet filled in for one item.

    ``context`` is what functions may ask for besides the item (library, date, what was entered on the job). ``before`` is the
    worksheet of the same item before an edit: a cell whose way and arguments are what they were keeps its value.
    """

    def __init__(self, sheet: Sheet, item: Any, context: Any = None, before: Worksheet | None = None) -> None:
        self.sheet = sheet
        self.item = item
        self.context = context
        self.computed = 0  # functions really called: what an edit cost
        self._before: Mapping[tuple[str, Place], Cell] = before._cells if before is not None else {}
        self._cells: dict[tuple[str, Place], Cell] = {}
        self._scopes: dict[str, Scope] = {}
        self._narrowed: dict[tuple[Place, Scope], Place] = {}
        self._places: dict[tuple[Scope, Place], tuple[Place, ...]] = {}
        self._went_in: set[tuple[str, Place]] = set()  # defaults some function was really called with
        self._under_way: dict[tuple[str, Place], None] = {}  # in the order they were asked for

    def of(self, function: Callable[..., T | Assumed | None], place: Place = HERE) -> T | None:
        """The value of a declared function at a place, None where it is missing or idle: the typed way to a number."""
        cell = self.cell(self.sheet.name_of(function), place)
        return cell.value if cell.there else None

    def cell(self, name: str, place: Place = HERE) -> Cell:
        """A name at a place; axes of the place that the name does not speak of are left out."""
        scope = self._scopes.get(name)
        if scope is None:
            scope = self._scopes[name] = self.sheet.scope_of(name)
        if not scope:
            place = HERE
        elif len(scope) != len(place):
            place = self._narrow(place, scope)
        found = self._cells.get((name, place))
        if found is None:
            found = self._cells[name, place] = self._resolve(name, place)
        return found

    def places(self, scope: Scope, under: Place = HERE) -> tuple[Place, ...]:
        """Every place of a scope that agrees with ``under``, in the order of the axes."""
        found = self._places.get((scope, under))
        if found is None:
            found = self._places[scope, under] = tuple(self._all_places(scope, dict(under)))
        return found

    def _all_places(self, scope: Scope, fixed: Mapping[str, int]) -> list[Place]:
        found: list[Place] = [()]
        for axis in self.sheet.axes:
            if axis not in scope:
                continue
            wider = found
            found = []
            for place in wider:
                if axis in fixed:
                    found.append((*place, (axis, fixed[axis])))
                    continue
                every = self.cell(f"all_{axis}", place)
                found += [(*place, (axis, number)) for number in range(len(every.value) if every.there else 0)]
        return found

    def told(self, scope: Scope, place: Place = HERE) -> Iterator[Cell]:
        """Cells of every result of one scope that is told, in the order of declaration, where they have a value."""
        for name in self.sheet.told_in(scope):
            cell = self.cell(name, place)
            if cell.there:
                yield cell

    def found(self) -> Iterator[Found]:
        """Every check that applies, in the order of declaration; of one check, in the order of places.

        A quiet check tells only reasons that no other has given.
        """
        given: set[int] = set()
        for check in self.sheet.checks:
            for place in self.places(check.way.scope):
                cell = self._call(check.way, place)
                value = cell.value
                if isinstance(value, Idle):
                    continue
                if isinstance(value, Missing):
                    fresh = [error for error in value.because if id(error) not in given]
                    if check.quiet and not fresh:
                        continue
                    given.update(map(id, fresh))
                    value = _told_of(fresh) if check.quiet else value
                yield Found(check, place, value, cell.into)

    def remarks(self) -> Iterator[str]:
        """Every note that has something to say."""
        for way in self.sheet.notes:
            for place in self.places(way.scope):
                cell = self._noted(way, place)
                if cell.there and cell.assumed is None:
                    yield from (cell.value,) if isinstance(cell.value, str) else cell.value

    def _noted(self, way: Way, place: Place) -> Cell:
        """A note, kept: what it assumes is told among the defaults."""
        found = self._cells.get((way.name, place))
        if found is None:
            found = self._cells[way.name, place] = self._call(way, place)
        return found

    def warned(self) -> Iterator[tuple[str, str]]:
        """Code of every caution that stands, with the figure that belongs to it where there is one."""
        for each in self.sheet.cautions:
            if each.way.when is not None:
                held = self._held(each.way.when, HERE)
                if not held.there or not held.value:
                    continue
            cell = self._call(each.way, HERE)
            yield each.code, cell.value if cell.there else ""

    def assumed(self) -> Iterator[Assumed]:
        """What nobody gave and was taken, in the order it was asked for: a default only where it went into something."""
        for key, cell in self._cells.items():
            declared = cell.way is not None and cell.way.default is not None
            if cell.assumed is not None and (not declared or key in self._went_in):
                yield cell.assumed

    def named(self, name: str, place: Place, into: Mapping[str, Any]) -> Any:
        """What a name stands for beside a function that was called with ``into``; None where it has no value."""
        if name in into:
            return into[name]
        cell = self.cell(name, place)
        return cell.value if cell.there else None

    def puts(self, cell: Cell) -> Iterator[tuple[str, float | str, str]]:
        """What its formula is written with, as (symbol, SI value, kind), for its line of working."""
        for put in (cell.way.puts or ()) if cell.way is not None else ():
            value = put.read(self.named(put.name, cell.place, cell.into))
            if isinstance(value, tuple):
                stem = put.symbol.removesuffix("_i")
                yield from ((f"{stem}_{number}", each, put.kind) for number, each in enumerate(value[:8], 1))
            elif value is not None:
                yield put.symbol, value, put.kind

    def field(self, way: Way, place: Place) -> str:
        """Where an input stands in the plan. An entry of an axis that has a method ``field`` names its own."""
        owner = way.args[0]
        if owner == self.sheet.of:
            return way.path
        own = self.cell(owner, place).value
        if hasattr(own, "field"):
            return str(own.field(way.path))
        return f"{owner}.{dict(place)[owner]}.{way.path}"

    def _resolve(self, name: str, at: Place) -> Cell:
        if name == self.sheet.of:
            return Cell(name, at, self.item)
        if name == "context":
            return Cell(name, at, self.context)
        if name in self.sheet.axes:
            every = self.cell(f"all_{name}", at)
            return Cell(name, at, every.value[dict(at)[name]] if every.there else every.value)
        if (name, at) in self._under_way:
            names = [under for under, _ in self._under_way]
            circle = " > ".join(names[names.index(name) :])
            raise RuntimeError(f"results that need one another: {circle} > {name}")
        self._under_way[name, at] = None
        try:
            for way in self.sheet.ways[name]:
                cell = self._call(way, at)
                if not isinstance(cell.value, Idle) or (
                    way.when is not None and self._held(way.when, at).value is True
                ):
                    return cell  # where its condition holds no other way is tried: it is the way, even an idle one
            return Cell(name, at, IDLE)
        finally:
            del self._under_way[name, at]

    def _call(self, way: Way, at: Place) -> Cell:
        """One way taken at a place."""
        for name in way.after:
            if not self.cell(name, at).there:
                return Cell(way.name, at, IDLE)
        if way.when is not None:
            held = self._held(way.when, at)
            if not held.there or not held.value:
                return Cell(way.name, at, IDLE if held.there else held.value, way)
        into, lacking = self._arguments(way, at)
        if lacking is not None:
            return Cell(way.name, at, lacking, way, into)
        before = self._before.get((way.name, at)) if self._before else None
        if before is not None and before.way is way and _same(before.into, into):
            return Cell(way.name, at, before.value, way, into, before.assumed)
        return self._computed(way, at, into)

    def _narrow(self, place: Place, scope: Scope) -> Place:
        """A place without the axes that are not of this scope."""
        found = self._narrowed.get((place, scope))
        if found is None:
            found = self._narrowed[place, scope] = tuple(part for part in place if part[0] in scope)
        return found

    def _held(self, when: Way, at: Place) -> Cell:
        """A condition: kept like a result, at the place its arguments speak of, since many ways may share it."""
        scope = self._scopes.get(when.name)
        if scope is None:
            asked = {axis for arg in when.args for axis in self.sheet.scope_of(arg)}
            scope = self._scopes[when.name] = tuple(axis for axis in self.sheet.axes if axis in asked)
        at = self._narrow(at, scope) if scope else HERE
        found = self._cells.get((when.name, at))
        if found is None:
            found = self._cells[when.name, at] = self._call(when, at)
        return found

    def _arguments(self, way: Way, at: Place) -> tuple[dict[str, Any], Missing | Idle | None]:
        into: dict[str, Any] = {}
        lacking: list[Missing] = []
        idle = assumed = False
        for arg in way.args:
            if way.each and arg in way.each:
                value = self._each(way.each[arg], at)
            else:
                cell = self.cell(arg, at)
                value = cell.value
                assumed = assumed or cell.assumed is not None
            if not isinstance(value, NOTHING):
                into[arg] = value
            elif arg in way.optional:
                into[arg] = way.optional[arg]
            elif isinstance(value, Idle):
                idle = True
            else:
                lacking.append(value)
        if idle:
            return into, IDLE
        if lacking:
            return into, _together(lacking)
        if assumed:
            cells = (self.cell(arg, at) for arg in way.args if arg not in way.each)
            self._went_in.update((cell.name, cell.place) for cell in cells if cell.assumed is not None)
        return into, None

    def _each(self, each: Each, at: Place) -> Any:
        cells = [self.cell(each.name, place) for place in self.places(self.sheet.scope_of(each.name), at)]
        lacking = [cell.value for cell in cells if isinstance(cell.value, Missing)]
        if lacking and not each.present:
            return _together(lacking)
        return tuple(cell.value for cell in cells if cell.there)

    def _computed(self, way: Way, at: Place, into: Mapping[str, Any]) -> Cell:
        self.computed += 1
        value: Any
        assumed: Assumed | None = None
        try:
            value = way.function(*into.values())
        except Absent as absent:
            value = Missing(absent.needs, (absent,) if absent.why else (), isinstance(absent, OnSite))
        except (InputError, LibraryError) as error:
            value = Missing((), (error,))
        if isinstance(value, Assumed):
            value, assumed = value.value, value
        elif value is None and way.default is not None:
            value = way.default.value
            default = way.default
            assumed = Assumed(value, self.field(way, at), default.basis, default.kind, default.text)
        elif value is None:
            last = way.path and way is self.sheet.ways[way.name][-1]
            value = Missing((self.field(way, at),)) if last else IDLE
        return Cell(way.name, at, value, way, into, assumed)


def _told_of(reasons: Sequence[Exception]) -> Missing:
    """What only these reasons make missing."""
    needs = [need for each in reasons if isinstance(each, Absent) for need in each.needs]
    return Missing(tuple(dict.fromkeys(needs)), tuple(reasons), all(isinstance(each, OnSite) for each in reasons))


def _together(lacking: Iterable[Missing]) -> Missing:
    """All fields and reasons of several missing arguments, each once, in order."""
    needs: dict[str, None] = {}
    because: dict[int, Exception] = {}
    on_site = True
    for missing in lacking:
        on_site = on_site and missing.on_site
        needs.update(dict.fromkeys(missing.needs))
        because.update({id(error): error for error in missing.because})
    return Missing(tuple(needs), tuple(because.values()), on_site)


def _same(before: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether a function was given the same arguments. Arrays are the same only when they are the same object."""
    if before.keys() != now.keys():
        return False
    for name, value in now.items():
        old = before[name]
        if old is value:
            continue
        if type(old) is not type(value) or hasattr(value, "__array__"):
            return False
        try:
            if bool(old != value):
                return False
        except ValueError:  # an array somewhere inside: its truth is ambiguous
            return False
    return True
