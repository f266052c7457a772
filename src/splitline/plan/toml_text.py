"""TOML written by hand: one value, or a whole new table, as a person would type it."""

from __future__ import annotations

import datetime as dt
import json
import re
from typing import Any

from splitline.plan.edits import Path

WIDTH = 110  # a list longer than this goes on several lines
_BARE = re.compile(r"[A-Za-z0-9_-]+")


def key_text(key: str) -> str:
    return key if _BARE.fullmatch(key) else _basic(key)


def heading_text(path: Path, array: bool, eol: str = "\n") -> str:
    """``[joint.bolting]`` or ``[[joint]]``; list numbers in the path are left out."""
    name = ".".join(key_text(step) for step in path if isinstance(step, str))
    return f"[[{name}]]{eol}" if array else f"[{name}]{eol}"


def value_text(value: Any, eol: str = "\n") -> str:
    """One value. A text on several lines stands in three quotes, a long list on several lines."""
    if isinstance(value, str):
        return _long(value, eol) if "\n" in value.strip("\n") else _basic(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    if isinstance(value, list):
        cells = [value_text(cell, eol) for cell in value]
        line = f"[{', '.join(cells)}]"
        if len(line) <= WIDTH or len(cells) < 2:
            return line
        return f"[{eol}" + "".join(f"    {cell},{eol}" for cell in cells) + "]"
    if isinstance(value, dict):
        cells = [f"{key_text(key)} = {_inline(cell)}" for key, cell in value.items()]
        return f"{{ {', '.join(cells)} }}" if cells else "{}"
    raise TypeError(f"{type(value).__name__} has no place in a plan file")


def _inline(value: Any) -> str:
    """A value on one line: inside an inline table there are no line ends."""
    if isinstance(value, str):
        return _basic(value)
    if isinstance(value, list):
        return f"[{', '.join(map(_inline, value))}]"
    return value_text(value)


def is_tables(value: Any) -> bool:
    """Whether a value is written under [[headings]]."""
    return isinstance(value, list) and bool(value) and all(isinstance(entry, dict) for entry in value)


def table_text(path: Path, table: dict[str, Any], array: bool, eol: str = "\n") -> str:
    """A whole table with its heading and the tables inside it."""
    text = heading_text(path, array, eol)
    for key, value in table.items():
        if not isinstance(value, dict) and not is_tables(value):
            text += f"{key_text(key)} = {value_text(value, eol)}{eol}"
    for key, value in table.items():
        if isinstance(value, dict):
            text += eol + table_text((*path, key), value, False, eol)
        elif is_tables(value):
            text += "".join(eol + table_text((*path, key), entry, True, eol) for entry in value)
    return text


def _basic(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _long(text: str, eol: str) -> str:
    """A text on several lines: quotes that could end it are escaped."""
    last = '\\"' if text.endswith('"') else ""
    body = text.removesuffix('"').replace("\\", "\\\\")
    body = "".join(c if c in "\n\t" or (c >= " " and c != "\x7f") else f"\\u{ord(c):04x}" for c in body)
    body = body.replace('""', '"\\"')
    return '"""' + ("\n" + body + last).replace("\n", eol) + '"""'
