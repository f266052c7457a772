"""How large the parts of a TOML text may be: what is far beyond any of ours is refused before anything chokes on it."""

from __future__ import annotations

import re
import tomllib
from typing import Any

DIGITS = 300  # of one number; a float has at most 308 before its point
DEPTH = 24  # of tables and lists in one another; a plan's own go to 6
KEY = 200  # characters of one key
DOTTED = 200  # parts of a dotted key, before it is parsed: the parser keeps every beginning of it, as tuples
_NUMBER = re.compile(rf"(?<![\w.])[+-]?(?:0x[0-9a-fA-F_]|[0-9])[0-9a-fA-F_.]{{{DIGITS},}}")
_QUOTED = re.compile(r"\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|#[^\n]*")
# Up to its = or ], from where no part stands before it: each sign is looked at once, however long the row.
_PARTS = re.compile(rf"(?<![\w\"\-. \t])[ \t]*+[\w\"-]++(?:[ \t]*+\.[ \t]*+[\w\"-]++){{{DOTTED},}}+[ \t]*+[=\]]")

LONG_NUMBER = f'a number of more than {DIGITS} digits: write it with its unit, as in "268 mm"'
LONG_KEY = f"a dotted key of more than {DOTTED} parts"


def too_long(text: str) -> tuple[int, str] | None:
    """Line and words of a number or a dotted key beyond all there are; None where there is none. Before the parser."""
    if _NUMBER.search(text) is None and text.count(".") < DOTTED:
        return None
    for line, row in enumerate(text.split("\n"), 1):
        if len(row) <= min(DIGITS, 2 * DOTTED):
            continue
        bare = _QUOTED.sub('""', row)
        if _NUMBER.search(bare):
            return line, LONG_NUMBER
        if bare.count(".") >= DOTTED and _PARTS.search(bare):
            return line, LONG_KEY
    return None


def too_deep(tree: Any) -> str:
    """What is wrong with the shape of a tree, "" if nothing; walks without recursion."""
    left: list[tuple[Any, int]] = [(tree, 0)]
    while left:
        value, depth = left.pop()
        if depth > DEPTH:
            return f"tables or lists stand more than {DEPTH} deep in one another"
        if isinstance(value, dict):
            for key in value:
                if len(key) > KEY:
                    return f'a key of {len(key)} characters, "{key[:20]}...": a key has {KEY} at most'
            left += [(inner, depth + 1) for inner in value.values()]
        elif isinstance(value, list):
            left += [(inner, depth + 1) for inner in value]
    return ""


def bounded(text: str) -> dict[str, Any]:
    """The tree of a TOML text. ValueError in words: it is none, or beyond the bounds."""
    long = too_long(text)
    if long is not None:
        raise ValueError(f"line {long[0]}: {long[1]}")
    try:
        tree = tomllib.loads(text)
    except RecursionError:
        raise ValueError("brackets are nested too deep") from None
    if deep := too_deep(tree):
        raise ValueError(deep)
    return tree
