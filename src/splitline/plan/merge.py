"""Two people edited one plan: what the second typed, put onto what the first saved. Nothing of either is lost unsaid."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from splitline.plan.align import aligned
from splitline.plan.draft import Draft
from splitline.plan.edits import ABSENT, Path, same
from splitline.plan.problem import where
from splitline.plan.toml_text import is_tables


@dataclass(frozen=True, slots=True)
class Conflict:
    """Both changed the same place in different ways; the merged draft holds ``mine``."""

    path: Path  # in the merged draft
    base: Any
    mine: Any
    theirs: Any
    where: str


@dataclass(frozen=True, slots=True)
class Merged:
    """Their file with my edits in it, and the places where both had a hand."""

    draft: Draft
    conflicts: tuple[Conflict, ...]


def merged(mine: Draft, theirs: Draft) -> Merged:
    """``theirs`` is the file as it stands now; ``mine`` was read before and edited. Saving the result is a plain save."""
    found: list[tuple[Path, Any, Any, Any]] = []
    tree = _table(mine.origin.tree, mine.tree, theirs.tree, (), found)
    conflicts = tuple(Conflict(path, base, own, other, where(tree, path)) for path, base, own, other in found)
    return Merged(replace(theirs, tree=tree), conflicts)


def _value(base: Any, mine: Any, theirs: Any, path: Path, found: list[tuple[Path, Any, Any, Any]]) -> Any:
    if same(mine, theirs) or same(base, mine):
        return theirs
    if same(base, theirs):
        return mine
    if isinstance(mine, dict) and isinstance(theirs, dict):
        return _table(base if isinstance(base, dict) else {}, mine, theirs, path, found)
    if is_tables(mine) and is_tables(theirs):
        return _tables(base if is_tables(base) else [], mine, theirs, path, found)
    found.append((path, base, mine, theirs))
    return theirs if mine is ABSENT else mine  # what somebody still works on is not taken away


def _table(
    base: dict[str, Any],
    mine: dict[str, Any],
    theirs: dict[str, Any],
    path: Path,
    found: list[tuple[Path, Any, Any, Any]],
) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for key in [*theirs, *(key for key in mine if key not in theirs)]:
        value = _value(base.get(key, ABSENT), mine.get(key, ABSENT), theirs.get(key, ABSENT), (*path, key), found)
        if value is not ABSENT:
            out[key] = value
    return out


def _tables(
    base: list[Any], mine: list[Any], theirs: list[Any], path: Path, found: list[tuple[Path, Any, Any, Any]]
) -> list[Any]:
    """Lists of tables entry by entry: theirs in their order, what I added behind the entry I put it after."""
    mine_of = {number: n for n, number in enumerate(aligned(base, mine, True)) if number is not None}
    theirs_of = aligned(base, theirs)
    out: list[Any] = []
    places: dict[int, int] = {}  # entry of mine -> its place in the result
    for entry, number in zip(theirs, theirs_of, strict=True):
        own = mine_of.get(number) if number is not None else None
        old = base[number] if number is not None else ABSENT
        there = mine[own] if own is not None else ABSENT if number is not None else entry
        value = _value(old, there, entry, (*path, len(out)), found)
        if value is not ABSENT:
            if own is not None:
                places[own] = len(out)
            out.append(value)
    gone = set(range(len(base))) - {number for number in theirs_of if number is not None}
    kept = {mine_of[number]: number for number in gone if number in mine_of}
    for n, entry in enumerate(mine):
        if n in places:
            continue
        if n in mine_of.values() and n not in kept:
            continue
        if n in kept and same(entry, base[kept[n]]):
            continue  # they took it out and I left it alone
        at = places[n - 1] + 1 if n - 1 in places else len(out) if n else 0
        if n in kept:
            found.append(((*path, at), base[kept[n]], entry, ABSENT))
        out.insert(at, entry)
        places = {k: p + (p >= at) for k, p in places.items()} | {n: at}
    return out
