"""The lines of the record: a small, strict subset of TOML.

One ``key = value`` a line. A value is a one-line basic string, an integer, a finite float, a boolean, a date, a time
with offset, or an array of strings, numbers and arrays. Each value has exactly one spelling, and the reader accepts
only that one, so reading a line and writing it again gives the same bytes. Any TOML reader reads it too.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable
from datetime import date, datetime

from splitline.errors import RecordError

Value = str | int | float | bool | date | datetime | tuple["Value", ...]

_KEY = re.compile(r"[a-z][a-z0-9_]*\Z")
_UNIQUE = frozenset(("number", "uid"))  # never the same line twice: not worth keeping
_USUAL = frozenset(("number", "uid", "done_at", "entered_at"))
# Beyond what TOML demands (controls, quote, backslash): line separators and direction marks, so that an entry
# cannot be made to look like something else in an editor.
_ESCAPE = re.compile('[\\x00-\\x1f"\\\\\\x7f-\\x9f\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069\\ufeff]')
_SHORT = {"\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r", '"': '\\"', "\\": "\\\\"}


def _escaped(match: re.Match[str]) -> str:
    char = match.group()
    return _SHORT.get(char) or f"\\u{ord(char):04x}"


def write_value(value: Value) -> str:
    """The one spelling of a value. RecordError: not finite, a time without offset, text with half a character."""
    if isinstance(value, str):
        if not value.isascii() and any("\ud800" <= char <= "\udfff" for char in value):
            raise RecordError(f"{value!r}: not valid text (a broken character); type it again")
        return f'"{_ESCAPE.sub(_escaped, value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        if not math.isfinite(value):
            raise RecordError(f"{value}: only finite numbers can be recorded")
        return repr(value)
    if isinstance(value, datetime):
        offset = value.utcoffset()
        if offset is None or offset.total_seconds() % 60:
            raise RecordError(f"{value}: a time in the record needs its offset from UTC, in whole minutes")
        return value.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    return f"[{', '.join(write_value(each) for each in value)}]"


def write_lines(pairs: Iterable[tuple[str, Value]]) -> str:
    """Lines ``key = value``, each ended by LF."""
    return "".join(f"{key} = {write_value(value)}\n" for key, value in pairs)


class _Seen(dict[str, tuple[str, Value]]):
    def __missing__(self, line: str) -> tuple[str, Value]:
        found = _parse(line)
        if found[0] not in _UNIQUE:
            self[line] = found
        return found


class LineReader:
    """Reads lines; most lines of a record repeat, so each spelling is parsed once."""

    def __init__(self) -> None:
        self._pair = _Seen().__getitem__

    def pair(self, line: str) -> tuple[str, Value]:
        """Key and value of one line. RecordError: anything but the one spelling."""
        return self._pair(line)

    def table(self, text: str) -> dict[str, Value]:
        """All lines of a block (each ended by LF) as one table. RecordError: a key twice."""
        lines = text.split("\n")
        if lines.pop() != "":
            raise RecordError("the last line does not end")
        table = dict(map(self._pair, lines))
        if len(table) != len(lines):
            raise RecordError("a key stands twice")
        return table


def _parse(line: str) -> tuple[str, Value]:
    key, equals, raw = line.partition(" = ")
    if not equals or not (key in _USUAL or _KEY.match(key)):
        raise RecordError(f"{line[:60]!r}: not `key = value`")
    if raw[:1] == raw[-1:] == '"' and len(raw) > 1 and not _ESCAPE.search(raw, 1, len(raw) - 1):
        return key, raw[1:-1]  # by far the most
    if len(raw) < 19 and raw.isdecimal() and raw.isascii() and (raw[0] != "0" or raw == "0"):
        return key, int(raw)
    try:
        value = _value(raw)
        if write_value(value) == raw:
            return key, value
    except (ValueError, RecursionError, RecordError):
        pass
    raise RecordError(f"{key}: {raw[:60]!r} is not as the record writes it")


def _value(raw: str) -> Value:
    first = raw[:1]
    if first in '"[':
        return _tuples(json.loads(raw))  # the subset's strings and arrays are JSON too
    if raw in ("true", "false"):
        return raw == "true"
    if raw[4:5] == "-" and raw[:4].isdecimal():
        return datetime.fromisoformat(raw) if "T" in raw else date.fromisoformat(raw)
    return float(raw) if any(mark in raw for mark in ".en") else int(raw)


def _tuples(value: object) -> Value:
    if isinstance(value, list):
        return tuple(_tuples(each) for each in value)
    if isinstance(value, (str, int, float)):
        return value
    raise ValueError("not a value of the record")
