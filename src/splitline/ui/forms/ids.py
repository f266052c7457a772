"""Fields that point at other items of the plan: what they may point at, so that an id is picked and not typed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from splitline.plan.edits import Path, Tree
from splitline.plan.model import KINDS
from splitline.plan.references import POINTS_AT


def ids_for(tree: Tree, path: Path) -> list[tuple[str, str]] | None:
    """(id, title) of everything a field may name; None where it names no item."""
    if len(path) != 3 or not isinstance(path[1], int):
        return None
    kind, name = path[0], path[2]
    if kind == "step" and name in POINTS_AT:
        return list(_of(tree, (str(name),)))
    if kind == "step" and name == "needs":
        return list(_of(tree, ("step",), path[1]))
    if kind == "window" and name in ("from", "to"):
        return [(f"{ident}.{when}", title) for ident, title in _of(tree, ("step",)) for when in ("start", "done")]
    if kind == "item" and name == "used_in":
        return list(_of(tree, (kind for kind in KINDS if kind not in ("item", "window"))))
    return None


def _of(tree: Tree, kinds: Iterable[str], before: int | None = None) -> Iterable[tuple[str, str]]:
    for kind in kinds:
        entries: Any = tree.get(kind)
        for entry in (entries if isinstance(entries, list) else [])[:before]:
            if isinstance(entry, dict) and isinstance(entry.get("id"), str):
                yield entry["id"], str(entry.get("title") or entry.get("text") or kind)
