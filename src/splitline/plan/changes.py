"""What differs between two plans of one origin, place by place, the order of tables included.

The one answer to "what changed": the merge view, two variants side by side, the record's new plan and the stop it makes ask here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from splitline.plan.align import aligned
from splitline.plan.edits import ABSENT, Path, same
from splitline.plan.problem import where
from splitline.plan.toml_text import is_tables


@dataclass(frozen=True, slots=True)
class Changed:
    """One value put, changed or taken away; ``where`` names the place as a person would.

    Of a list whose entries stand in another order: its path, and the names from the first to the last that moved.
    """

    path: Path  # in the later tree; of what was taken away, in the earlier one
    old: Any
    new: Any
    where: str


def changes(before: dict[str, Any], after: dict[str, Any], tracked: bool = False) -> tuple[Changed, ...]:
    """Changes from ``before`` to ``after``, tables entered and entries of lists found again by id or name.

    ``tracked``: ``after`` was edited here from ``before``, so every entry knows the one it comes from.
    """
    return tuple(_table(before, after, (), (), (before, after), tracked))


def moved(before: Sequence[str], after: Sequence[str]) -> tuple[list[str], list[str]] | None:
    """Names in both, from the first place to the last where their order differs, as before and as after; else None."""
    both = {*before} & {*after}
    old, new = ([name for name in dict.fromkeys(side) if name in both] for side in (before, after))
    places = [n for n, (one, other) in enumerate(zip(old, new, strict=True)) if one != other]
    return (old[places[0] : places[-1] + 1], new[places[0] : places[-1] + 1]) if places else None


def order_of(place: str) -> str:
    """``joint "head" › case`` as the place of the order of its entries: ``joint "head" › order of case``."""
    above, arrow, last = place.rpartition(" › ")
    return f"{above}{arrow}order of {last}"


def name_of(entry: Any, number: int) -> str:
    """An entry by its id or name, else by its ``number`` in the earlier list, from 0."""
    name = (entry.get("id") or entry.get("name")) if isinstance(entry, dict) else None
    return name if isinstance(name, str) else f"number {number + 1}"


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
    stays = [place for place in places if place is not None]
    if (order := moved([str(place) for place in sorted(stays)], [str(place) for place in stays])) is not None:
        before, after = ([name_of(old[int(place)], int(place)) for place in side] for side in order)
        yield Changed(now, before, after, order_of(where(trees[1], now)))
