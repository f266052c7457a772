"""Where a field named in words of an assessment ("bolting.engagement", "case.design.pressure", "leg.2.length") stands."""

from __future__ import annotations

import re
from typing import Any

from splitline.plan.edits import Path

_BETWEEN = re.compile(r",? (?:or|and|with) |, ")


def fields_in(need: str) -> list[str]:
    """Fields a need names: "hub_material or hub_modulus" names two, any of which will do."""
    return _BETWEEN.split(need)


def path_of(raw: Any, root: Path, dotted: str) -> Path:
    """The path of a dotted name under ``root``, whose table is ``raw``; entries by name, by number from 1, or the first."""
    path = root
    rest = dotted.replace(" › ", ".")
    while rest:
        if isinstance(raw, list):
            number, rest = _entry(raw, rest)
            path = (*path, number)
            raw = raw[number] if number < len(raw) else {}
            continue
        step, _, rest = rest.partition(".")
        path = (*path, step)
        raw = raw.get(step, {}) if isinstance(raw, dict) else {}
    return path


def _entry(entries: list[Any], rest: str) -> tuple[int, str]:
    """Which entry is meant, and what of the name is left."""
    for number, entry in enumerate(entries):
        name = (entry.get("name") or entry.get("id")) if isinstance(entry, dict) else None
        if isinstance(name, str) and name and (rest == name or rest.startswith(name + ".")):
            return number, rest[len(name) + 1 :]
    head, _, tail = rest.partition(".")
    if head.isdigit():
        return max(int(head) - 1, 0), tail
    return 0, rest
