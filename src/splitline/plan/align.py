"""Which entry of an edited list is which entry of the list in the file."""

from __future__ import annotations

from typing import Any

from splitline.plan.edits import origin, same


def aligned(old: list[Any], new: list[Any], tracked: bool = False) -> list[int | None]:
    """For each new entry the number of the old one it comes from, or None for one that was added.

    ``tracked``: both are of one session, so every edited table knows the one it comes from, and a copy is not taken
    for its model. Else (unsaved work of an earlier session) what is equal, or alike in half of its keys, is the same.
    """
    found: list[int | None] = [None] * len(new)
    free = dict.fromkeys(range(len(old)))
    by_identity = {id(origin(entry)): number for number, entry in enumerate(old)}

    def take(number: int, match: int | None) -> None:
        if match is not None and found[number] is None and match in free:
            found[number] = match
            del free[match]

    for number, entry in enumerate(new):
        take(number, by_identity.get(id(origin(entry))))
    for fits in (_same_id, _same_name) if tracked else (_same_id, _same_name, same, _alike):
        for number, entry in enumerate(new):
            if found[number] is None:
                take(number, next((n for n in free if fits(entry, old[n])), None))
    return found


def _same_id(a: Any, b: Any) -> bool:
    return _named(a, "id") is not None and _named(a, "id") == _named(b, "id")


def _same_name(a: Any, b: Any) -> bool:
    return _named(a, "name") is not None and _named(a, "name") == _named(b, "name")


def _named(entry: Any, key: str) -> str | None:
    name = entry.get(key) if isinstance(entry, dict) else None
    return name if isinstance(name, str) else None


def _alike(a: Any, b: Any) -> bool:
    """At least half of the keys of either hold the same; tables of another id only when nothing else can be meant."""
    if not isinstance(a, dict) or not isinstance(b, dict):
        return False
    keys = a.keys() | b.keys()
    held = sum(key in a and key in b and same(a[key], b[key]) for key in keys)
    return bool(keys) and 2 * held >= len(keys)
