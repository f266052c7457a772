"""What changed in the plan since: digests of the whole and of each item, as written, no defaults.

The digest is SHA-256 of the canonical JSON of the TOML (keys sorted, no spaces, dates as ISO text), so comments,
order of keys and blank lines do not count, and a changed clearance does not touch the digest of a cover.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time

from splitline.errors import RecordError

PLAN = "plan"  # the plan's own table, and whatever is no item


@dataclass(frozen=True, slots=True)
class Digests:
    """Of one plan text."""

    whole: str
    items: tuple[tuple[str, str], ...]  # "joint discharge-head" -> digest, in the order of the file


@dataclass(frozen=True, slots=True)
class Changes:
    """Names of items that differ."""

    added: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.added or self.removed or self.changed)


def _plain(value: object) -> str:
    if isinstance(value, (date, datetime, time)):
        return value.isoformat()
    raise TypeError(type(value).__name__)


def canonical(value: object) -> str:
    """Canonical JSON of parsed TOML."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=_plain)


def _sha(value: object) -> str:
    return hashlib.sha256(canonical(value).encode("utf-8", "surrogatepass")).hexdigest()


def digests(text: str) -> Digests:
    """Digests of a plan text. RecordError: not TOML."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RecordError(f"the plan is not valid TOML: {error}") from None
    items: list[tuple[str, str]] = []
    rest: dict[str, object] = {}
    for kind, value in table.items():
        if isinstance(value, list) and value and all(isinstance(each, dict) and "id" in each for each in value):
            items += [(f"{kind} {each['id']}", _sha(each)) for each in value]
        else:
            rest[kind] = value
    return Digests(_sha(table), ((PLAN, _sha(rest)), *items))


def compare(before: Mapping[str, str], after: Mapping[str, str]) -> Changes:
    """What differs between the items of two plans."""
    return Changes(
        added=tuple(name for name in after if name not in before),
        removed=tuple(name for name in before if name not in after),
        changed=tuple(name for name, digest in after.items() if before.get(name, digest) != digest),
    )
