"""What changed in the plan since: digests of the whole and of each item, as written, no defaults.

The digests are those of ``plan.canonical``, so comments, order of keys and blank lines do not count, and a changed
clearance does not touch the digest of a cover.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from splitline.errors import RecordError
from splitline.plan.canonical import digest, item_digests


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


def digests(text: str) -> Digests:
    """Digests of a plan text. RecordError: not TOML."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RecordError(f"the plan is not valid TOML: {error}") from None
    return Digests(digest(table), item_digests(table))


def compare(before: Mapping[str, str], after: Mapping[str, str]) -> Changes:
    """What differs between the items of two plans."""
    return Changes(
        added=tuple(name for name in after if name not in before),
        removed=tuple(name for name in before if name not in after),
        changed=tuple(name for name, digest in after.items() if before.get(name, digest) != digest),
    )
