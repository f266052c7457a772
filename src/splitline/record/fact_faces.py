"""The facts of a record as rows of a table, for CSV, and as data, for JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from splitline.record import fact_kinds as kinds
from splitline.record.fact_kinds import Fact, name_of, quantity_of
from splitline.units import KINDS, System, from_si, split

FIGURES = 6  # significant, of a measured value
# Columns that always stood, in their order; those of the other fields follow.
_FIRST = (
    "entry", "kind", "item", "pass_", "bolt", "set_torque", "set_pressure", "moved", "what", "where", "value", "unit",
    "at_least", "at_most", "verdict", "typed", "tool", "serial", "lubricant", "batch", "done_at", "done_by", "entered_at",
    "entered_by", "times in",
)  # fmt: skip
_ROUNDED = ("torque", "pressure")  # set values: rounded as on the sheet


def _names() -> tuple[str, ...]:
    every = dict.fromkeys(each.name for kind in kinds.KINDS for each in fields(kind))
    return (*_FIRST, *(name for name in every if name not in _FIRST and name != kinds.OWN))


NAMES = _names()
_UNITS = {
    each.name: each.metadata["quantity"]
    for kind in kinds.KINDS
    for each in fields(kind)
    if each.metadata.get("quantity", kinds.OWN) != kinds.OWN
}


def heads(system: System) -> tuple[str, ...]:
    """Titles of the columns, with their units."""
    return tuple(
        f"{name_of(name)} {_unit(_UNITS[name], system)}" if name in _UNITS else name_of(name) for name in NAMES
    )


def rows(facts: Sequence[Fact], system: System) -> Iterator[list[str]]:
    """A row a fact."""
    for fact in facts:
        yield [_cell(fact, name, system) for name in NAMES]


def _cell(fact: Fact, name: str, system: System) -> str:
    if name == "kind":
        return f"struck {fact.kind}" if fact.struck_by else fact.kind  # nobody adds up what was struck
    if name == "times in":
        return f"UTC{fact.done_at.isoformat(timespec='seconds')[19:]}" if fact.done_at else ""
    if name == "unit":
        quantity = str(getattr(fact, kinds.OWN, ""))
        return _unit(quantity, system) if quantity else ""
    value = getattr(fact, name, None)
    if name == "moved":
        return "moved" if value else ""
    return _text(value, quantity_of(fact, name) if hasattr(fact, name) else "", system, name)


def _text(value: Any, quantity: str, system: System, name: str) -> str:
    if value is None or value is False or (value == 0 and isinstance(value, int) and name != "count"):
        return ""
    if value is True:
        return "yes"
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M:%S}"
    if isinstance(value, tuple):
        return "; ".join(map(str, value))
    if isinstance(value, float) and quantity:
        if name.startswith("set_") and quantity in _ROUNDED:
            return split(value, quantity, system)[0]
        return figure(value, quantity, system)
    return str(value)


def _unit(quantity: str, system: System) -> str:
    return KINDS[quantity].shown[system] if quantity in KINDS else "%" if quantity == "share" else ""


def figure(value: float, quantity: str, system: System) -> str:
    """What was measured, in the shown unit of its kind, to more figures than an instrument has; no powers of ten."""
    shown = from_si(value, quantity, KINDS[quantity].shown[system]) if quantity in KINDS else value
    if quantity == "share":
        shown = value * 100
    if shown == 0 or not math.isfinite(shown):
        return f"{shown:g}"
    decimals = max(FIGURES - 1 - math.floor(math.log10(abs(shown))), 0)
    text = f"{shown:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def data(fact: Fact) -> dict[str, Any]:
    """A fact as JSON data: SI, times with their offset; what says nothing is left out."""
    found: dict[str, Any] = {"kind": fact.kind}
    for each in fields(fact):
        value = getattr(fact, each.name)
        if value is None or value == each.default:
            continue
        found[each.name.rstrip("_")] = plain_value(value)
    return found


def plain_value(value: Any) -> Any:
    """Times with their offset, numbers without the noise of their last bits."""
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, tuple):
        return list(value)
    return float(f"{value:.12g}") if isinstance(value, float) else value
