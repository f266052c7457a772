"""What changed in the plan since: digests of the whole and of each item, as written, no defaults.

The digests are those of ``plan.canonical``, so comments, order of keys and blank lines do not count, and a changed
clearance does not touch the digest of a cover.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

from splitline.errors import RecordError
from splitline.plan.canonical import HEADING, canonical, digest, item_digests
from splitline.plan.changes import Changed, changes, moved
from splitline.plan.edits import ABSENT
from splitline.toml_bounds import bounded

LONGEST = 48  # characters of a value that are told


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
    moved: tuple[str, ...] = ()  # "order of step: was lift, bead; now bead, lift"

    def __bool__(self) -> bool:
        return bool(self.added or self.removed or self.changed or self.moved)


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that differs between two plans, as written in them."""

    item: str  # "joint discharge-head"; "plan" for all that is no item
    place: str  # "tightening › passes"; "" for an item that came or went whole
    old: str
    new: str

    @property
    def said(self) -> str:
        """``tightening › passes: was [0.5,1.0], now [0.4,1.0]``."""
        return f"{self.place or self.item}: {self.whole}"

    @property
    def named(self) -> str:
        """With the item it is of, once."""
        return f"{self.item}, {self.said}" if self.place and self.item != HEADING else self.said

    @property
    def whole(self) -> str:
        """Without its place."""
        return f"was {self.old}, now {self.new}"


@lru_cache(maxsize=32)
def differences(before: str, after: str) -> tuple[Difference, ...]:
    """Every value that differs, old and new, in the order of the file; () where one of the texts is not TOML."""
    try:
        old, new = bounded(before), bounded(after)
    except ValueError:
        return ()
    return tuple(_difference(each, old, new) for each in changes(old, new))


def _difference(changed: Changed, old: dict[str, Any], new: dict[str, Any]) -> Difference:
    tree = old if changed.new is ABSENT else new
    kind, *rest = changed.path
    item = tree[str(kind)][rest[0]] if rest and isinstance(tree.get(str(kind)), list) else None
    if isinstance(item, dict) and "id" in item:
        place = changed.where.split(" › ", 1)
        return Difference(
            f"{kind} {item['id']}", place[1] if len(rest) > 1 else "", _told(changed.old), _told(changed.new)
        )
    return Difference(HEADING, changed.where, _told(changed.old), _told(changed.new))


def _told(value: Any) -> str:
    """A value as it is written, within ``LONGEST``."""
    if value is ABSENT:
        return "not given"
    if isinstance(value, dict):
        return "given"
    text = " ".join(value.split()) if isinstance(value, str) else canonical(value)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"


def digests(text: str) -> Digests:
    """Digests of a plan text. RecordError: not TOML."""
    try:
        table = bounded(text)
    except ValueError as error:
        raise RecordError(f"the plan is not valid TOML: {error}") from None
    return Digests(digest(table), item_digests(table))


def compare(before: Mapping[str, str], after: Mapping[str, str]) -> Changes:
    """What differs between the items of two plans, each by name in the order of its file."""
    return Changes(
        added=tuple(name for name in after if name not in before),
        removed=tuple(name for name in before if name not in after),
        changed=tuple(name for name, digest in after.items() if before.get(name, digest) != digest),
        moved=tuple(said for said in map(partial(order_change, before, after), _kinds(before)) if said),
    )


def order_change(before: Iterable[str], after: Iterable[str], kind: str) -> str:
    """How the items of one kind stand in another order than before, in words; "" where they do not.

    ``before``, ``after``: names of items in the order of the file, as :func:`digests` gives them.
    """
    order = moved(_of_kind(before, kind), _of_kind(after, kind))
    return f"order of {kind}: was {', '.join(order[0])}; now {', '.join(order[1])}" if order else ""


def _kinds(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(kind for kind, gap, _ in (name.partition(" ") for name in names) if gap))


def _of_kind(names: Iterable[str], kind: str) -> list[str]:
    return [name.removeprefix(f"{kind} ") for name in names if name.startswith(f"{kind} ")]
