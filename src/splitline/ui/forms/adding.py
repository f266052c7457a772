"""What can be added where the cursor stands, and fields that point at other items: ids are picked, never typed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from splitline.plan.edits import Path, Tree
from splitline.plan.fields import table_of
from splitline.plan.model import KINDS
from splitline.plan.references import POINTS_AT
from splitline.ui import marks
from splitline.ui.card.inputs import needed_of
from splitline.ui.card.values import label_of
from splitline.ui.forms.fresh import NOUNS, addable
from splitline.ui.forms.relevant import relevant
from splitline.ui.screens.picker import Option
from splitline.ui.session import Session


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


def choices(session: Session, path: Path, *, items_first: bool) -> list[Option]:
    """Items of the plan, and fields, tables and entries of the tables round ``path``.

    What a check waits for comes first, then the nearest tables; what says nothing under the choices made comes last.
    """
    items = [Option(("item", kind), label_of(kind), noun, "+") for kind, noun in NOUNS.items()]
    inner: list[tuple[int, Option]] = []
    kind, index = (str(path[0]), path[1]) if len(path) > 1 and isinstance(path[1], int) else ("plan", 0)
    needed, item = needed_of(session, kind, index), session.raw(kind, index)
    for table in _round(path):
        raw = session.draft.get(table, {})
        if not isinstance(raw, dict):
            continue
        inside = " ".join(label_of(s) if isinstance(s, str) else str(s + 1) for s in table[2:])
        for place, field in addable(table, raw):
            more = "another " if field.is_list and place[-1] else ""
            words = f"{inside} · {field.words}" if inside else field.words
            label = f"{more}{label_of(field.name)}"
            plain = _plain(place)
            waiting = [(need, v) for need, v in needed.items() if need[: len(plain)] == plain]
            if more:  # what is missing in an entry that is there asks for no other entry
                waiting = [(need, v) for need, v in waiting if need == plain]
            verdict = waiting[0][1] if waiting else ""
            mark = marks.shape(verdict) if verdict else "▤" if field.is_table else "·"
            rank = (
                0 if verdict else 1 if relevant(item, place) and field.needed_by else 2 if relevant(item, place) else 3
            )
            inner.append((rank, Option(("path", place), label, words, mark, verdict)))
    ranked = [option for _, option in sorted(inner, key=lambda entry: entry[0])]
    return [*items, *ranked] if items_first else [*ranked, *items]


def _plain(place: Path) -> Path:
    """A place without the number of the entry that would be added."""
    return place[:-1] if place and isinstance(place[-1], int) and len(place) > 2 else place


def _round(path: Path) -> list[Path]:
    """The tables a place lies in, from the inside out."""
    found = []
    while path:
        whole_item = len(path) == 2 or path == ("plan",)
        if table_of(path) is not None and (isinstance(path[-1], int) or len(path) != 1 or whole_item):
            found.append(path)
        path = path[:-1]
    return [p for p in found if p == ("plan",) or len(p) > 1]
