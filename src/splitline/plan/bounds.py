"""How large a plan's parts may be: what is far beyond any plan is refused with its line before anything chokes on it."""

from __future__ import annotations

import re
from typing import Any

from splitline.plan.problem import Problem

DIGITS = 300  # of one number; a float has at most 308 before its point
DEPTH = 24  # of tables and lists in one another; a plan's own go to 6
KEY = 200  # characters of one key
_NUMBER = re.compile(rf"(?<![\w.])[+-]?(?:0x[0-9a-fA-F_]|[0-9])[0-9a-fA-F_.]{{{DIGITS},}}")
_QUOTED = re.compile(r"\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|#[^\n]*")


def too_long(text: str) -> Problem | None:
    """A number of more digits than any number has, before the parser takes it; None where there is none."""
    if _NUMBER.search(text) is None:
        return None
    for line, row in enumerate(text.split("\n"), 1):
        if len(row) > DIGITS and _NUMBER.search(_QUOTED.sub('""', row)):
            return Problem((), f'a number of more than {DIGITS} digits: write it with its unit, as in "268 mm"', line)
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
