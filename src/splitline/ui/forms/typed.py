"""Between a field's declaration, the value as it stands in the file, and the text in an editor."""

from __future__ import annotations

import datetime as dt
import json
import math
import re
import tomllib
from dataclasses import dataclass
from typing import Any, cast

from pydantic_core import PydanticCustomError

from splitline.plan.fields import Declared
from splitline.plan.names import Names

_TEXT = ("text", "choice", "id")
_NUMBER = ("number", "count")
_BARE = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?")
_FIGURE = re.compile(rf"{_BARE.pattern}(?:\s*[^\W\d_][^\s,;\[\]\"]*)?")  # "1160 N*m", "0.25"


@dataclass(frozen=True, slots=True)
class _Info:
    """The part of pydantic's validation context that leaf types look at."""

    context: dict[str, Any]


def _check(field: Declared, raw: Any, names: Any) -> Any:
    """The value of what was typed, by the field's own leaf type. PydanticCustomError: it is none."""
    assert field.leaf is not None, "tables are not typed"
    return field.leaf.check(raw, cast("Any", _Info({"names": names})))


class Refused(ValueError):
    """What was typed is no value of this field; the message says what to write."""


def shown(value: Any) -> str:
    """A value of the file as the text an editor starts with; rows of figures without brackets and quotes."""
    if isinstance(value, str):
        return value
    if _are_rows(value):
        return "; ".join(", ".join(str(part) for part in row) for row in value)
    return literal(value)


def _are_rows(value: Any) -> bool:
    """Whether a value is a list of rows of figures, each with or without a unit."""
    return (
        isinstance(value, list)
        and bool(value)
        and all(isinstance(row, list) and row and all(_is_figure(part) for part in row) for row in value)
    )


def _is_figure(part: Any) -> bool:
    return _FIGURE.fullmatch(part) is not None if isinstance(part, str) else type(part) in (int, float)


def literal(value: Any) -> str:
    """A value as TOML writes it on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, list):
        return "[" + ", ".join(literal(v) for v in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {literal(v)}" for k, v in value.items()) + " }"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    return repr(value)


def raw_of(field: Declared, text: str) -> Any:
    """The value of the file for a text typed into this field, not yet checked."""
    text = text.strip() if "\n" not in text else text
    form = field.leaf.form if field.leaf is not None else "text"
    if form == "either":
        return _first_that_reads(field, text)
    if form in _TEXT or field.kind in _TEXT:
        return text
    if field.kind in _NUMBER and not text.startswith("["):
        return _number(text)
    if (rows := _rows(field, text)) is not None:
        return rows
    if text.startswith("[") or form in ("list", "row") or field.kind in ("list", "row"):
        return _list(text, _of_quantities(field))
    if form == "yes/no":
        return {"true": True, "yes": True, "y": True, "false": False, "no": False, "n": False}.get(
            text.casefold(), text
        )
    if form == "date":
        try:
            return dt.date.fromisoformat(text)
        except ValueError:
            return text
    if form == "minutes" and _BARE.fullmatch(text):
        return _number(text)
    return text


def _first_that_reads(field: Declared, text: str) -> Any:
    """For a field of several forms: the text as it is, as a number or as a list, whichever the field takes."""
    entries = _list(text, _of_quantities(field))
    forms = (text, _number(text), entries) if not text.startswith("[") else (entries, text)
    for raw in forms:
        try:
            _check(field, raw, None)
        except PydanticCustomError:
            continue
        return raw
    return entries if "," in text or field.kind in ("row", "list") else text


def _number(text: str) -> Any:
    try:
        return int(text) if re.fullmatch(r"[+-]?\d+", text) else float(text)
    except ValueError:
        return text


def _rows(field: Declared, text: str) -> list[Any] | None:
    """Rows of figures as one writes them by hand, "50 bar 600 N*m, 700 bar 5000 N*m"; None where the field or text is none."""
    if not field.example.startswith("[[") or "[" in text:
        return None
    cells = len(tomllib.loads(f"v = {field.example}")["v"][0])
    rows = [_figures(row) for row in text.split(";") if row.strip()]
    if not rows or not all(rows):
        return None
    if len(rows) == 1 and len(rows[0]) % cells == 0:  # no row ends with a semicolon: so many figures make one
        rows = [rows[0][at : at + cells] for at in range(0, len(rows[0]), cells)]
    return [[_number(part) if _BARE.fullmatch(part) else part for part in _with_units(row)] for row in rows]


def _figures(row: str) -> list[str]:
    """The figures of a text with their units; none where anything else stands between."""
    return [] if _FIGURE.sub("", row).strip(" ,\t") else [found.group().strip() for found in _FIGURE.finditer(row)]


def _of_quantities(field: Declared) -> bool:
    """Whether the entries of a list are figures with units."""
    found = _QUANTITY.fullmatch(spoken_example(field).partition(",")[0].strip())
    return found is not None and bool(found.group(6))


def _list(text: str, quantities: bool) -> Any:
    """A list; the brackets and, round simple parts, the quotes may be left off."""
    body = text if text.startswith("[") else f"[{text}]"
    try:
        return tomllib.loads(f"v = {body}")["v"]
    except tomllib.TOMLDecodeError:
        pass
    inner = text.strip("[] ")
    if "[" in inner:
        return text
    parts = [p.strip().strip('"') for p in inner.split(",") if p.strip()]
    return [_number(p) if _BARE.fullmatch(p) else p for p in (_with_units(parts) if quantities else parts)]


def _with_units(parts: list[str]) -> list[str]:
    """As one writes a place by hand, "0, 0, 210 mm": where one unit alone is said, and last, the figures before it have it."""
    units = {found.group(6) for part in parts if (found := _QUANTITY.fullmatch(part)) and found.group(6)}
    if len(units) != 1 or not parts or _BARE.fullmatch(parts[-1]):
        return parts
    unit = units.pop()
    return [f"{part} {unit}" if _BARE.fullmatch(part) else part for part in parts]


def spoken_example(field: Declared) -> str:
    """The example as one would type it: brackets and quotes may be left off."""
    text = field.example
    if text.startswith("[["):
        return shown(tomllib.loads(f"v = {text}")["v"])
    simple = text.startswith("[") and "[" not in text[1:] and "{" not in text
    return text[1:-1].replace('"', "") if simple else text


def checked(field: Declared, text: str, names: Names) -> Any:
    """The value of the file for a text; Refused says what to write instead."""
    raw = raw_of(field, text)
    if field.leaf is None:
        return raw
    if raw == [] and field.example:
        raise Refused(f"empty: as in {spoken_example(field)}")
    if isinstance(raw, str) and field.kind in _NUMBER and "," in raw:
        raise Refused(f'"{raw}": use a point for decimals and no thousands separators')
    try:
        _check(field, raw, names)
    except PydanticCustomError as error:
        raise Refused(error.message()) from None
    return raw


def si_of(field: Declared, raw: Any) -> float | None:
    """SI value of a single dimensional or plain number; None for anything else or a mistake."""
    if field.leaf is None or isinstance(raw, list):
        return None
    try:
        value = _check(field, raw, None)
    except (PydanticCustomError, ValueError, TypeError):
        return None
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


_QUANTITY = re.compile(rf"({_BARE.pattern})(\s*)(\S.*)?")


def nudged(field: Declared, raw: Any, by: int, large: bool = False) -> Any:
    """The value one step up or down, in the unit it was typed in and its own rounding; None if it has no steps."""
    if field.choices:
        texts = list(field.choices)
        place = texts.index(str(raw)) if str(raw) in texts else -1
        chosen = texts[(place + by) % len(texts)]
        return int(chosen) if isinstance(raw, int) and not isinstance(raw, bool) else chosen
    if isinstance(raw, bool):
        return not raw
    if isinstance(raw, int):
        return raw + by * (10 if large else 1)
    if isinstance(raw, float):
        return _stepped(raw, by, large)
    if isinstance(raw, str) and field.units and (match := _QUANTITY.fullmatch(raw.strip())):
        number = float(match.group(1))
        return f"{_written(_stepped(number, by, large))}{match.group(5) or ' '}{match.group(6) or ''}".rstrip()
    return None


def _stepped(value: float, by: int, large: bool) -> float:
    """About one part in a hundred, on a round step: 1, 2 or 5 times a power of ten."""
    size = abs(value) or 1.0
    power = 10.0 ** int(f"{size / 100:e}".partition("e")[2])
    step = next(power * n for n in (1, 2, 5, 10) if power * n >= size / 100 * 0.999)
    step *= 10 if large else 1
    whole = value / step
    place = math.floor(whole + 1e-9) + 1 if by > 0 else math.ceil(whole - 1e-9) - 1
    return round(place * step, 12)


def _written(value: float) -> str:
    text = f"{value:.10g}"
    return text if "e" not in text else repr(value)
