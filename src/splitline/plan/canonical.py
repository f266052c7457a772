"""Canonical form of a plan as typed, and the digests the record keeps of it.

Canonical JSON: keys sorted, no spaces, UTF-8, no defaults filled in, dates as ISO text. Two files with the same values
in another order or with other comments have one digest.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

HEADING = "plan"  # the plan's own table, and whatever else is no item


def canonical(value: Any) -> str:
    """Canonical JSON of a value as TOML gives it."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=_dated)


def _dated(value: Any) -> str:
    return str(value.isoformat())  # date, time or datetime: all that TOML knows beside JSON


def normal_form(value: Any) -> str:
    """As :func:`canonical`, but a date and a text that looks like one differ: what caches go by."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), default=lambda date: {"$": date.isoformat()})


def digest(value: Any) -> str:
    """SHA-256 of the canonical JSON, 64 hexadecimal digits."""
    return hashlib.sha256(canonical(value).encode("utf-8", "surrogatepass")).hexdigest()


def item_digests(tree: dict[str, Any]) -> tuple[tuple[str, str], ...]:
    """("plan", digest) of all that is no item, then ("joint discharge-head", digest) of every item in file order."""
    items: list[tuple[str, str]] = []
    rest: dict[str, Any] = {}
    for kind, value in tree.items():
        if isinstance(value, list) and value and all(isinstance(each, dict) and "id" in each for each in value):
            items += [(f"{kind} {each['id']}", digest(each)) for each in value]
        else:
            rest[kind] = value
    return ((HEADING, digest(rest)), *items)
