"""Two people edited one plan: what the second typed, put onto what the first saved. Nothing of either is lost unsaid."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from splitline.plan.align import aligned
from splitline.plan.changes import name_of, order_of
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


class _Order(list[str]):
    """Names of entries in the order of a list."""


@dataclass(frozen=True, slots=True)
class Merged:
    """Their file with my edits in it, and the places where both had a hand."""

    draft: Draft
    conflicts: tuple[Conflict, ...]


def merged(mine: Draft, theirs: Draft) -> Merged:
    """``theirs`` is the file as it stands now; ``mine`` was read before and edited. Saving the result is a plain save."""
    found: list[tuple[Path, Any, Any, Any]] = []
    tree = _table(mine.origin.tree, mine.tree, theirs.tree, (), found)
    conflicts = tuple(
        Conflict(path, base, own, other, order_of(where(tree, path)) if isinstance(base, _Order) else where(tree, path))
        for path, base, own, other in found
    )
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
    """Lists of tables entry by entry: in the order of who moved some, what I added behind the entry I put it after."""
    theirs = _ordered(base, mine, theirs, path, found)
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


def _ordered(
    base: list[Any], mine: list[Any], theirs: list[Any], path: Path, found: list[tuple[Path, Any, Any, Any]]
) -> list[Any]:
    """``theirs`` with the entries that I moved in my order; where both moved some, mine, told as a conflict."""
    own, other = aligned(base, mine, True), aligned(base, theirs)
    both = set(own) & set(other) - {None}
    as_mine = [n for n in own if n in both]
    as_theirs = [n for n in other if n in both]
    was = sorted(n for n in both if n is not None)
    if as_mine in (was, as_theirs):
        return theirs
    if as_theirs != was:
        before, here, there = (
            _Order(name_of(base[n], n) for n in order if n is not None) for order in (was, as_mine, as_theirs)
        )
        found.append((path, before, here, there))
    places = dict(zip(other, theirs, strict=True))
    turn = iter(as_mine)
    return [places[next(turn)] if n in both else entry for n, entry in zip(other, theirs, strict=True)]
