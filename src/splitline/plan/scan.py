"""One pass over a TOML text that is known to be valid: where each line, heading, key and value stands.

tomllib says what a file means, not where; this says where, for messages with lines and for saving by spans.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from splitline.plan.edits import Path

Mark = Callable[[Path, int], None]
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SPACE = re.compile(r"[ \t]*")
_GAP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")  # inside arrays: spaces, line ends and comments
_BASIC = re.compile(r'"(?:[^"\\]|\\.)*"', re.S)
_LITERAL = re.compile(r"'[^']*'")
_LONG_BASIC = re.compile(r'"""(?:[^\\]|\\.)*?"""(?!")', re.S)
_LONG_LITERAL = re.compile(r"'''.*?'''(?!')", re.S)
_PLAIN = re.compile(r"[^,\]}#\r\n]*")


@dataclass(frozen=True, slots=True)
class Line:
    """One statement with its line ends: a blank or comment line, a heading, or a key with its value (maybe many lines)."""

    form: Literal["blank", "comment", "heading", "pair"]
    start: int
    end: int  # after the line end
    number: int  # from 1
    keys: tuple[str, ...] = ()
    array: bool = False  # a heading in double brackets
    value: tuple[int, int] = (0, 0)  # span of a pair's value


def scan(text: str) -> Iterator[Line]:
    """The statements of a text in order; together they are the whole text."""
    at, number = 0, 1
    while at < len(text):
        start = at
        at = _space(text, at)
        keys: tuple[str, ...] = ()
        array, value = False, (0, 0)
        form: Literal["blank", "comment", "heading", "pair"] = "blank"
        if text.startswith("#", at):
            form = "comment"
        elif text.startswith("[", at):
            form, array = "heading", text.startswith("[[", at)
            keys, at = _keys(text, at + 1 + array)
            at += 1 + array
        elif at < len(text) and text[at] not in "\r\n":
            form = "pair"
            keys, at = _keys(text, at)
            begin = _space(text, at + 1)  # after "="
            at = value_end(text, begin)
            value = (begin, at)
        end = text.find("\n", at)
        end = len(text) if end < 0 else end + 1
        yield Line(form, start, end, number, keys, array, value)
        number += text.count("\n", start, end)
        at = end


def _space(text: str, at: int) -> int:
    match = _SPACE.match(text, at)
    return match.end() if match else at


def _keys(text: str, at: int) -> tuple[tuple[str, ...], int]:
    """A dotted key and the place after it and the spaces behind it."""
    keys: list[str] = []
    while True:
        at = _space(text, at)
        if text[at] in "\"'":
            match = (_BASIC if text[at] == '"' else _LITERAL).match(text, at)
            assert match is not None
            keys.append(next(iter(tomllib.loads(f"{match.group()}=0"))))
        else:
            match = _BARE.match(text, at)
            assert match is not None
            keys.append(match.group())
        at = _space(text, match.end())
        if not text.startswith(".", at):
            return tuple(keys), at
        at += 1


def value_end(text: str, at: int, path: Path = (), mark: Mark | None = None) -> int:
    """The place after a value; tells ``mark`` where each entry and inner key starts."""
    first = text[at : at + 1]
    if first in ('"', "'"):
        patterns = (_LONG_BASIC, _BASIC) if first == '"' else (_LONG_LITERAL, _LITERAL)
        match = patterns[0 if text.startswith(first * 3, at) else 1].match(text, at)
        return match.end() if match else len(text)
    if first == "[":
        return _array_end(text, at + 1, path, mark)
    if first == "{":
        return _inline_end(text, at + 1, path, mark)
    match = _PLAIN.match(text, at)
    return at + len(match.group().rstrip()) if match else at


def _gap(text: str, at: int) -> int:
    match = _GAP.match(text, at)
    return match.end() if match else at


def _array_end(text: str, at: int, path: Path, mark: Mark | None) -> int:
    entry = 0
    while True:
        at = _gap(text, at)
        if at >= len(text) or text[at] == "]":
            return at + 1
        if text[at] == ",":
            at += 1
            continue
        if mark is not None:
            mark((*path, entry), at)
        at = value_end(text, at, (*path, entry), mark)
        entry += 1


def _inline_end(text: str, at: int, path: Path, mark: Mark | None) -> int:
    while True:
        at = _gap(text, at)
        if at >= len(text) or text[at] == "}":
            return at + 1
        if text[at] == ",":
            at += 1
            continue
        start = at
        keys, at = _keys(text, at)
        if mark is not None:
            mark((*path, *keys), start)
        at = value_end(text, _space(text, at + 1), (*path, *keys), mark)


class Places:
    """Resolves headings to paths: ``[joint.bolting]`` after the second ``[[joint]]`` is ("joint", 1, "bolting")."""

    def __init__(self) -> None:
        self._last: dict[Path, int] = {}

    def heading(self, line: Line) -> Path:
        path: Path = ()
        for depth, key in enumerate(line.keys):
            path = (*path, key)
            if line.array and depth == len(line.keys) - 1:
                self._last[path] = self._last.get(path, -1) + 1
            if path in self._last:
                path = (*path, self._last[path])
        return path
