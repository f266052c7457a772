"""From a worksheet to the frozen result of one item: titles, words and units are made here, once, for every room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from splitline.assess.bench import capital, clean
from splitline.assess.cautions import caution
from splitline.assess.result import Check, Default, Group, ItemResult, Put, Working, verdict_of, worst
from splitline.assess.sheet import ITEM, Absent, Against, Rule, Scope
from splitline.assess.speak import said
from splitline.assess.worksheet import HERE, Cell, Found, Place, Worksheet
from splitline.errors import InputError
from splitline.units import System, show


def results_of(sheet: Worksheet, scope: Scope, place: Place = HERE) -> dict[str, Any]:
    """Every result of one scope that is told, SI, by key. What is not finite is left off."""
    return {cell.name: value for cell in sheet.told(scope, place) if (value := clean(cell.value)) is not None}


def working_of(sheet: Worksheet, scope: Scope, place: Place = HERE) -> tuple[Working, ...]:
    """Formula, numbers put in and source of every result of one scope that declares what goes in."""
    return tuple(line for cell in sheet.told(scope, place) if (line := _line(sheet, cell)) is not None)


def group_of(sheet: Worksheet, *scopes: Scope, place: Place, name: str = "", bolts: tuple[int, ...] = ()) -> Group:
    """Results and working of one place in these scopes as a group of the item: a size, a load case."""
    results: dict[str, Any] = {}
    working: list[Working] = []
    for scope in scopes:
        results |= results_of(sheet, scope, place)
        working += working_of(sheet, scope, place)
    return Group(name, bolts, results, tuple(working))


def checks_of(sheet: Worksheet, system: System) -> tuple[Check, ...]:
    """Every check that applies, in words and units of the reader."""
    return tuple(_check(sheet, found, system) for found in sheet.found())


def defaults_of(sheet: Worksheet, system: System) -> tuple[Default, ...]:
    """The values nobody gave that were really taken."""
    return tuple(_defaults(sheet, system))


def item_of(
    sheet: Worksheet, ident: str, title: str, system: System, *further: Scope, place: Place = HERE
) -> ItemResult:
    """The frozen result of an item; ``further`` scopes at a place speak for it too (a joint's main size)."""
    checks = checks_of(sheet, system)
    own = group_of(sheet, ITEM, *further, place=place)
    notes = tuple(dict.fromkeys(sheet.remarks()))
    cautions = tuple(caution(code, figure, system) for code, figure in sheet.warned())
    return ItemResult(
        kind=sheet.sheet.of,
        id=ident,
        title=title,
        verdict=worst(check.verdict for check in checks),
        results=own.results,
        checks=checks,
        cautions=cautions,
        working=own.working,
        defaults=defaults_of(sheet, system),  # last: only now is it known what was asked for
        notes=notes,
    )


def _line(sheet: Worksheet, cell: Cell) -> Working | None:
    way, value = cell.way, clean(cell.value)
    if way is None or way.key is None or way.puts is None or not isinstance(value, int | float):
        return None
    into = tuple(Put(symbol, put, kind) for symbol, put, kind in sheet.puts(cell))
    names = _Names(sheet, cell.place, cell.into)
    return Working(
        cell.name, float(value), into, _filled(way.cites or way.key.source, names), _filled(way.key.formula, names)
    )


class _Names(Mapping[str, Any]):
    """Every name of a sheet that has a value at one place, for the words in braces."""

    def __init__(self, sheet: Worksheet, place: Place, into: Mapping[str, Any]) -> None:
        self._sheet, self._place, self._into = sheet, place, into

    def __getitem__(self, name: str) -> Any:
        value = self._sheet.named(name, self._place, self._into)
        if value is None:
            raise KeyError(name)
        return value

    def __iter__(self) -> Iterator[str]:
        return iter(self._into)

    def __len__(self) -> int:
        return len(self._into)


def _filled(text: str, names: Mapping[str, Any]) -> str:
    """A declared text with names of the sheet; empty where one has no value, as the basis of a missing check may be."""
    if "{" not in text:
        return text
    try:
        return text.format_map(names)
    except KeyError:
        return ""


def _check(sheet: Worksheet, found: Found, system: System) -> Check:
    declared, outcome = found.declared, found.outcome
    names = _Names(sheet, found.place, found.into)
    about = {
        name: getattr(names[axis], attribute)
        for axis, _ in found.place
        for name, attribute in sheet.sheet.axes[axis].items()
    }
    if declared.part:
        about["part"] = _filled(declared.part, names)
    title, basis = capital(_filled(declared.title, names)), _filled(declared.basis, names)
    if isinstance(outcome, Against | Rule):
        about |= outcome.about
    if isinstance(outcome, Against):
        usage = usage_of(outcome.demand, outcome.limit, declared.sense == "at most")
        if math.isfinite(outcome.demand) and math.isfinite(outcome.limit):
            demand, limit = float(outcome.demand), float(outcome.limit)
            return Check(
                declared.key, title, declared.sense, demand, limit, declared.kind, usage, verdict_of(usage),
                outcome.basis or basis, outcome.note, **about,
            )  # fmt: skip
        outcome = Rule("missing", outcome.note or "cannot be computed from the values given", (), outcome.basis)
    if isinstance(outcome, Rule):
        absent = outcome.verdict in ("missing", "on-site")
        kind = declared.kind if absent else "number"
        note, needs, basis, verdict = outcome.note, outcome.needs, outcome.basis or basis, outcome.verdict
    else:
        told = [error for error in outcome.because if not declared.lacking or not isinstance(error, Absent)]
        note = "; ".join(said(error, system) for error in told) or _filled(declared.lacking, names)
        needs = tuple(_filled(field, names) for field in declared.asks) or outcome.needs
        kind, verdict = declared.kind, "on-site" if outcome.on_site else "missing"
        if declared.refused != "missing" and any(isinstance(error, InputError) for error in outcome.because):
            needs, kind, verdict = (), "number", declared.refused
        if not note and needs and (declared.hint or sheet.sheet.names_needs):
            note = f"needs {', '.join(needs)}" + (f"; {declared.hint}" if declared.hint else "")
    return Check(declared.key, title, declared.sense, None, None, kind, None, verdict, basis, note, needs, **about)


def usage_of(demand: float, limit: float, at_most: bool) -> float | None:
    """Demand over limit in both senses, None where nothing is there to divide by (and something is needed)."""
    if limit > 0:
        share = (demand if at_most else max(demand, 0.0)) / limit
        return share if math.isfinite(share) else None
    if at_most:
        return None
    return None if demand > 0 or limit < 0 else 0.0


def _defaults(sheet: Worksheet, system: System) -> Iterator[Default]:
    for taken in {taken.field: taken for taken in sheet.assumed()}.values():  # once a field
        value = taken.value
        shown = show(value, taken.kind, system) if taken.kind and isinstance(value, float) else str(value)
        yield Default(taken.field, taken.text or shown, taken.basis)
