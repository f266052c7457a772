"""Values as they stand on a card: a number to align, its unit to dim."""

from __future__ import annotations

import re
from typing import Any

from splitline.assess.speak import PLACE
from splitline.plan.fields import Declared
from splitline.ui.draw.rows import Seg, clean, right, width
from splitline.ui.forms.typed import literal, si_of
from splitline.units import KINDS, System, split

_PARTS = re.compile(r"\s*([+-]?[\d.]+(?:[eE][+-]?\d+)?)\s*(\S.*)?")


def typed_parts(value: Any) -> tuple[str, str] | None:
    """Number and unit of a quantity as typed, or None."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return repr(value), ""
    if isinstance(value, str) and (match := _PARTS.fullmatch(value)):
        return match.group(1), match.group(2) or ""
    return None


def list_text(values: list[Any]) -> str:
    """A list on one line; a unit that all share is said once."""
    parts = [typed_parts(v) for v in values]
    known = [p for p in parts if p is not None]
    if values and len(known) == len(values) and len({unit for _, unit in known}) == 1:
        return "  ".join(number for number, _ in known) + f" {known[0][1]}".rstrip()
    rows = any(isinstance(v, list) for v in values)
    return ("; " if rows else ", ").join(
        list_text(v) if isinstance(v, list) else v if isinstance(v, str) else literal(v) for v in values
    )


def value_segs(field: Declared | None, value: Any, system: System, convert: bool, numbers: int) -> tuple[Seg, ...]:
    """A value of the file: number set right in ``numbers`` cells, unit dimmed; converted for the eye where asked."""
    if isinstance(value, list):
        return ((clean(list_text(value)), "value"),)
    if isinstance(value, dict):
        return ((clean(literal(value)), "value"),)
    if convert and field is not None and field.kind in KINDS and (si := si_of(field, value)) is not None:
        number, unit = split(si, field.kind, system)
        return ((right(number, numbers), "number"), (f" {unit}", "unit"), (f"  typed {clean(str(value))}", "dim"))
    quantity = field is None or field.kind in KINDS or field.kind in ("number", "count", "setting", "minutes")
    if quantity and (parts := typed_parts(value)) is not None:
        number, unit = parts
        return ((right(number, numbers), "number"), (f" {clean(unit)}" if unit else "", "unit"))
    text = clean(value if isinstance(value, str) else literal(value))
    return ((text, "value"),)


def result_segs(si: float, kind: str, system: System, numbers: int) -> tuple[Seg, ...]:
    """A result: number set right, unit dimmed."""
    number, unit = shown_parts(si, kind, system)
    return ((right(number, max(numbers, width(number))), "number"), (f" {unit}" if unit else "", "unit"))


def shown_parts(si: float, kind: str, system: System) -> tuple[str, str]:
    """Figure and unit of a result; a share is said in percent."""
    if kind == "share":
        return f"{100 * si:.3g}" if abs(si) >= 5e-6 else "0", "%"
    return split(si, kind, system)


def said_value(si: float, kind: str, system: System) -> str:
    """A result as text."""
    number, unit = shown_parts(si, kind, system)
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}".rstrip()


def label_of(name: str) -> str:
    """A key of the file as it is shown: as it is written there, so that a person finds it in both."""
    return PLACE if name == "at" else name
