"""The working: for every result the formula, the numbers put in, the result with its unit and the source, line by line."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from splitline.assess.keys import Key, registry
from splitline.assess.result import Group, ItemResult, Put, Working
from splitline.units import System, show, split

ROUNDING = 1e-15
LISTED = 12  # a longer list is told by its ends
_INDENT = "    "
_EQUATION = re.compile(r"[^\s()]{1,12} = ")  # a formula written with its left side
_BARE = ("number", "share")


def working_lines(item: ItemResult, system: System, width: int) -> Iterator[str]:
    """Lines of one item's working: the item, its bolts of another size, its load cases, then what was taken by default."""
    keys = registry(item.kind)
    yield from _block("Working", keys, item.results, item.working, system, width)
    for group in (*item.sizes, *item.cases):
        yield from _block(f"Working of {_name(group)}", keys, group.results, group.working, system, width)
    if item.defaults:
        yield ""
        yield "  Taken by default"
        for default in item.defaults:
            yield from _wrap(f"{default.field}: {default.said}", width, _INDENT)
            yield from _wrap(f"basis: {default.basis}", width, _INDENT + "  ")
    if item.notes:
        yield ""
        yield "  Notes"
        for note in item.notes:
            yield from _wrap(note, width, _INDENT)


def _name(group: Group) -> str:
    if group.bolts:
        return ("bolt " if len(group.bolts) == 1 else "bolts ") + ", ".join(str(bolt) for bolt in group.bolts)
    return f"case {group.name}"


def _block(
    title: str,
    keys: Mapping[str, Key],
    results: Mapping[str, Any],
    working: Sequence[Working],
    system: System,
    width: int,
) -> Iterator[str]:
    lines = {line.key: line for line in working}
    shown = [key for key in keys.values() if key.key in results and key.shape != "table"]
    if not shown:
        return
    yield ""
    yield f"  {title}"
    for key in shown:
        formula, put_in, source = worked(key, lines.get(key.key), system)
        yield from _wrap(key.title, width, _INDENT)
        symbol = key.symbol or key.title.lower()
        for said in (formula, put_in and f"put in: {put_in}"):
            if said:
                yield from _wrap(said, width, _INDENT + "  ")
        yield from _wrap(f"{symbol} = {value_said(results[key.key], key.kind, system)}", width, _INDENT + "  ")
        if source:
            yield from _wrap(f"source: {source}", width, _INDENT + "  ")


def worked(key: Key, line: Working | None, system: System) -> tuple[str, str, str]:
    """One result's formula with its left side, the numbers put in, and the source; empty where there is none."""
    formula, source = (line.formula, line.source) if line is not None else (key.formula, key.source)
    if formula and not _EQUATION.match(formula):
        formula = f"{key.symbol or key.title.lower()} = {formula}"
    return formula, ", ".join(_put(put, system) for put in line.puts) if line is not None else "", source


def _put(put: Put, system: System) -> str:
    value = put.value if isinstance(put.value, str) else _figure(put.value, put.kind, system)
    return f"{put.symbol} = {value}"


def _figure(value: float, kind: str, system: System) -> str:
    """A value with its unit; a bare number keeps four figures, small as it may be (a lead angle, a film's friction).

    Below what double precision leaves of a sum of ordinary numbers it is nothing but rounding, and said as 0.
    """
    if kind in _BARE and abs(value) < ROUNDING:
        return "0"
    return f"{value:.4g}" if kind in _BARE else show(value, kind, system)


def value_said(value: Any, kind: str, system: System) -> str:
    """A result with its unit; a long list by its ends."""
    if not isinstance(value, list):
        return _figure(value, kind, system)
    if not value or any(isinstance(part, list) for part in value):
        return f"{len(value)} steps"
    if len(value) > LISTED:
        return f"{len(value)} values, {show(min(value), kind, system)} to {show(max(value), kind, system)}"
    figures = [split(part, kind, system) for part in value]
    unit = f" {figures[0][1]}" if figures[0][1] else ""
    return ", ".join(number for number, _ in figures) + unit


def _wrap(text: str, width: int, indent: str) -> list[str]:
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + "    ")
