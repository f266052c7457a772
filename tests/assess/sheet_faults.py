"""What is wrong with the declarations of a calculation sheet, without filling it in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from splitline.assess.sheet import Scope, Sheet, Way


def faults(sheet: Sheet) -> list[str]:
    """What is wrong with the declarations themselves: unknown names, scopes that part, looking down, circles."""
    said: list[str] = []
    for ways in sheet.ways.values():
        if any(way.scope != ways[0].scope for way in ways):
            said.append(f"{ways[0].name} is declared in two scopes")
    for way in _all_ways(sheet):
        for arg in way.args:
            said += _fault(sheet, way, arg)
        named = dict.fromkeys((*(put.name for put in way.puts or ()), *way.after))
        for name in named:
            said += _fault(sheet, replace(way, each={}), name) if name not in way.each else []
    return said + _circles(sheet.ways)


def _all_ways(sheet: Sheet) -> Iterator[Way]:
    for ways in sheet.ways.values():
        for way in ways:
            yield way
            yield from (way.when,) if way.when is not None else ()
    for way in (*(check.way for check in sheet.checks), *sheet.notes, *(each.way for each in sheet.cautions)):
        yield way
        yield from (way.when,) if way.when is not None else ()


def _fault(sheet: Sheet, way: Way, arg: str) -> list[str]:
    name = way.each[arg].name if arg in way.each else arg
    if name in (sheet.of, "context"):
        return []
    if name in sheet.axes:
        wide: Scope = (name,)
    elif name in sheet.ways:
        wide = sheet.ways[name][0].scope
    else:
        return [f"{way.name}: nothing is called {name}"]
    further = [axis for axis in wide if axis not in way.scope]
    if bool(further) == (arg in way.each):
        return []
    return [f"{way.name}: {arg} needs Each over {', '.join(further)}" if further else f"{way.name}: no axis to {arg}"]


def _circles(ways: Mapping[str, Sequence[Way]]) -> list[str]:
    """Names that need one another, by argument names."""
    said: list[str] = []
    done: set[str] = set()

    def walk(name: str, trail: tuple[str, ...]) -> None:
        if name in trail:
            said.append("results that need one another: " + " > ".join((*trail[trail.index(name) :], name)))
            return
        if name in done or name not in ways:
            return
        for way in ways[name]:
            wanted = [way.each[arg].name if arg in way.each else arg for arg in way.args]
            for arg in (*wanted, *(way.when.args if way.when is not None else ())):
                walk(arg, (*trail, name))
        done.add(name)

    for name in ways:
        walk(name, ())
    return said
