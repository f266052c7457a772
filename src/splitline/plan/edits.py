"""An edit of a plan's typed tree: what stood at a place, what stands there now; its inverse undoes it.

Trees are plain dicts and lists and are never changed in place: an edit gives a new tree that shares every part it did
not touch, so the part's identity tells the saver what moved.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Any, Final

from splitline.errors import PlanError

Path = tuple[str | int, ...]
Tree = dict[str, Any]


class _Absent(Enum):
    ABSENT = "absent"


ABSENT: Final = _Absent.ABSENT  # nothing stands there


class Edited(dict[str, Any]):
    """A table after an edit; ``origin`` is the one of the file it comes from, so its comments can follow it."""

    def __init__(self, table: dict[str, Any]) -> None:
        super().__init__(table)
        self.origin = origin(table)


def origin(table: Any) -> Any:
    """The table as it was before any edit: itself if there was none."""
    return table.origin if isinstance(table, Edited) else table


@dataclass(frozen=True, slots=True)
class Edit:
    """``old`` at ``path`` becomes ``new``; in a list, ABSENT as old inserts there and as new removes."""

    path: Path
    old: Any
    new: Any

    def apply(self, tree: Tree) -> Tree:
        """The tree after the edit. PlanError: ``old`` does not stand at ``path``."""
        if not self.path:
            raise PlanError("an edit needs a path")
        changed: Tree = _changed(tree, self.path, self)
        return changed

    def inverse(self) -> Edit:
        return Edit(self.path, self.new, self.old)


@dataclass(frozen=True, slots=True)
class Move:
    """The entry of the list at ``path`` that stands at ``start`` goes to ``end``."""

    path: Path
    start: int
    end: int

    def apply(self, tree: Tree) -> Tree:
        entries = get(tree, self.path)
        if not isinstance(entries, list) or not (0 <= self.start < len(entries) and 0 <= self.end < len(entries)):
            raise PlanError(f"nothing to move at {self.path}")
        moved = list(entries)
        moved.insert(self.end, moved.pop(self.start))
        return Edit(self.path, entries, moved).apply(tree)

    def inverse(self) -> Move:
        return Move(self.path, self.end, self.start)


AnyEdit = Edit | Move


def get(tree: Any, path: Path, default: Any = ABSENT) -> Any:
    """What stands at ``path``, or ``default``."""
    for step in path:
        if isinstance(tree, dict) and isinstance(step, str):
            tree = tree.get(step, ABSENT)
        elif isinstance(tree, list) and isinstance(step, int) and 0 <= step < len(tree):
            tree = tree[step]
        else:
            return default
        if tree is ABSENT:
            return default
    return tree


def setting(tree: Tree, path: Path, new: Any) -> Edit:
    """The edit that puts ``new`` at ``path``: makes the tables on the way; the last entry taken out takes its list along."""
    for length in range(1, len(path)):
        there = get(tree, path[:length])
        if there is ABSENT and isinstance(path[length - 1], str):
            return Edit(path[:length], ABSENT, _nested(path[length:], new))
        if not isinstance(there, dict | list):
            raise PlanError(f"nothing can be put into {path[:length]}")
    old = get(tree, path)
    above = get(tree, path[:-1])
    if isinstance(path[-1], int):
        if not isinstance(above, list) or not 0 <= path[-1] <= len(above):
            raise PlanError(f"no entry at {path}")
        if new is ABSENT and len(above) == 1:
            return Edit(path[:-1], above, ABSENT)
    elif not isinstance(above, dict):
        raise PlanError(f"no table at {path[:-1]}")
    return Edit(path, old, new)


def inserting(tree: Tree, path: Path, new: Any) -> Edit:
    """The edit that puts ``new`` into a list before the entry at ``path`` (or at its end)."""
    there = get(tree, path[:-1])
    if there is ABSENT:
        return setting(tree, (*path[:-1], 0), new)
    if not isinstance(there, list) or not isinstance(path[-1], int) or not 0 <= path[-1] <= len(there):
        raise PlanError(f"no list to insert into at {path}")
    return Edit(path, ABSENT, new)


def paths_of(node: Any, path: Path = ()) -> Iterator[Path]:
    """Paths of every value of a tree that is no table."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from paths_of(value, (*path, key))
    elif isinstance(node, list) and node and all(isinstance(entry, dict) for entry in node):
        for number, entry in enumerate(node):
            yield from paths_of(entry, (*path, number))
    else:
        yield path


def _nested(path: Path, new: Any) -> Any:
    """``new`` wrapped in the tables and lists that ``path`` asks for."""
    if new is ABSENT:
        raise PlanError("nothing to take away")
    for step in reversed(path):
        if isinstance(step, int) and step != 0:
            raise PlanError("a new list starts with its first entry")
        new = {step: new} if isinstance(step, str) else [new]
    return new


def _changed(node: Any, path: Path, edit: Edit) -> Any:
    step, rest = path[0], path[1:]
    if isinstance(node, dict) and isinstance(step, str):
        table = Edited(node)
        if rest:
            table[step] = _changed(table.get(step, ABSENT), rest, edit)
            return table
        _demand(same(table.get(step, ABSENT), edit.old), edit)
        if edit.new is ABSENT:
            table.pop(step, None)
        else:
            table[step] = edit.new
        return table
    _demand(isinstance(node, list) and isinstance(step, int) and 0 <= step <= len(node), edit)
    entries = list(node)
    assert isinstance(step, int)
    if rest:
        _demand(step < len(entries), edit)
        entries[step] = _changed(entries[step], rest, edit)
    elif edit.old is ABSENT:
        entries.insert(step, edit.new)
    else:
        _demand(step < len(entries) and same(entries[step], edit.old), edit)
        entries[step : step + 1] = [] if edit.new is ABSENT else [edit.new]
    return entries


def _demand(holds: bool, edit: Edit) -> None:
    if not holds:
        raise PlanError(f"the plan has changed at {edit.path}: this edit no longer fits")


def same(a: Any, b: Any) -> bool:
    """Equal as written: 1, 1.0 and true are three different values; the order of keys does not matter."""
    if a is b:
        return True
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(same(v, b[k]) for k, v in a.items())
    if type(a) is not type(b):
        return False
    if isinstance(a, list):
        return len(a) == len(b) and all(same(x, y) for x, y in zip(a, b, strict=True))
    return bool(a == b) or (a != a and b != b)
