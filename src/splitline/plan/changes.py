"""What differs between two plans of one origin, place by place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from splitline.plan.align import aligned
from splitline.plan.edits import ABSENT, Path, same
from splitline.plan.problem import where
from splitline.plan.toml_text import is_tables


@dataclass(frozen=True, slots=True)
class Changed:
    """One value put, changed or taken away; ``where`` names the place as a person would."""

    path: Path  # in the later tree; of what was taken away, in the earlier one
    old: Any
    new: Any
    where: str


def changes(before: dict[str, Any], after: dict[str, Any], tracked: bool = False) -> tuple[Changed, ...]:
    """Changes from ``before`` to ``after``, tables entered and entries of lists found again by id or name.

    ``tracked``: ``after`` was edited here from ``before``, so every entry knows the one it comes from.
    """
    return tuple(_table(before, after, (), (), (before, after), tracked))


def _table(
    old: dict[str, Any], new: dict[str, Any], was: Path, now: Path, trees: tuple[Any, Any], tracked: bool
) -> Iterator[Changed]:
    for key in [*old, *(key for key in new if key not in old)]:
        yield from _value(old.get(key, ABSENT), new.get(key, ABSENT), (*was, key), (*now, key), trees, tracked)


def _value(old: Any, new: Any, was: Path, now: Path, trees: tuple[Any, Any], tracked: bool) -> Iterator[Changed]:
    if same(old, new):
        return
    if isinstance(old, dict) and isinstance(new, dict):
        yield from _table(old, new, was, now, trees, tracked)
    elif (is_tables(old) or old is ABSENT) and (is_tables(new) or new is ABSENT):
        yield from _tables([] if old is ABSENT else old, [] if new is ABSENT else new, was, now, trees, tracked)
    else:
        gone = new is ABSENT
        yield Changed(was if gone else now, old, new, where(trees[0], was) if gone else where(trees[1], now))


def _tables(
    old: list[Any], new: list[Any], was: Path, now: Path, trees: tuple[Any, Any], tracked: bool
) -> Iterator[Changed]:
    places = aligned(old, new, tracked)
    for number, place in enumerate(places):
        if place is None:
            yield Changed((*now, number), ABSENT, new[number], where(trees[1], (*now, number)))
        else:
            yield from _value(old[place], new[number], (*was, place), (*now, number), trees, tracked)
    for place in range(len(old)):
        if place not in places:
            yield Changed((*was, place), old[place], ABSENT, where(trees[0], (*was, place)))
