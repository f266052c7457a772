"""Random edits of a draft for property tests: values, new keys, items added, removed, moved, copied; also inside items."""

from __future__ import annotations

from random import Random
from typing import Any

from splitline.plan.draft import Draft
from splitline.plan.edits import ABSENT, AnyEdit, Move
from splitline.plan.fields import copy_of, fields_of, new_entry, new_item, table_of
from splitline.plan.model import KINDS

VALUES = [
    "1 mm",
    "new text",
    'with "quotes" and \\',
    "two\nlines",
    7,
    0.25,
    True,
    [1, 2],
    ["0 mm", "1 mm"],
    "äöü ✓ שלום",
    "",
]


def random_edit(rnd: Random, draft: Draft) -> AnyEdit:
    """One edit that fits the draft."""
    makers = [_value, _value, _key, _take_key, _add_item, _drop_item, _move_item, _copy_item, _nested, _nested]
    while True:
        edit = rnd.choice(makers)(rnd, draft)
        if edit is not None:
            return edit


def items(draft: Draft) -> list[tuple[str, int]]:
    return [(kind, n) for kind in KINDS for n in range(len(draft.tree.get(kind, ())))]


def _some_item(rnd: Random, draft: Draft) -> tuple[str, int] | None:
    there = items(draft)
    return rnd.choice(there) if there else None


def _keys(table: dict[str, Any]) -> list[str]:
    """Keys a random edit may touch: never those that say which item it is."""
    return [k for k, v in table.items() if k not in ("id", "name", "title") and not isinstance(v, dict | list)]


def _value(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    if at is None:
        return None
    paths = [(*at, key) for key in _keys(draft.get(at))]
    for key, inner in draft.get(at).items():
        if isinstance(inner, dict):
            paths += [(*at, key, k) for k in _keys(inner)]
    return draft.edit_for(rnd.choice(paths), rnd.choice(VALUES)) if paths else None


def _key(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    if at is None:
        return None
    model = table_of(at)
    assert model is not None
    free = [f for f in fields_of(model).values() if f.name not in draft.get(at) and not f.is_list]
    if not free:
        return None
    field = rnd.choice(free)
    value = new_entry((*at, field.name)) if field.is_table else rnd.choice(VALUES)
    return draft.edit_for((*at, field.name), value)


def _take_key(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    keys = [k for k in draft.get(at) if k not in ("id", "title")] if at else []
    return draft.edit_for((*at, rnd.choice(keys)), ABSENT) if at and keys else None


def _add_item(rnd: Random, draft: Draft) -> AnyEdit:
    kind = rnd.choice(list(KINDS))
    ids = {draft.get((*at, "id")) for at in items(draft)}
    place = rnd.randint(0, len(draft.tree.get(kind, ())))
    return draft.insert_for((kind, place), new_item(kind, ids))


def _drop_item(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    return draft.edit_for(at, ABSENT) if at else None


def _move_item(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    return Move(at[:1], at[1], rnd.randrange(len(draft.tree[at[0]]))) if at else None


def _copy_item(rnd: Random, draft: Draft) -> AnyEdit | None:
    at = _some_item(rnd, draft)
    if at is None:
        return None
    copied = copy_of(draft.get(at), draft.tree)
    copied["id"] = f"copy-{rnd.randrange(10**9)}"  # never the id of one that was deleted: its comments went with it
    return draft.insert_for((at[0], at[1] + 1), copied)


def _nested(rnd: Random, draft: Draft) -> AnyEdit | None:
    """Add, remove, move or change an entry of a list of tables inside an item."""
    lists = [
        (kind, n, key)
        for kind, n in items(draft)
        for key, value in draft.get((kind, n)).items()
        if isinstance(value, list) and value and isinstance(value[0], dict)
    ]
    if not lists:
        return None
    path = rnd.choice(lists)
    count = len(draft.get(path))
    what = rnd.choice(["add", "drop", "move", "change"])
    place = rnd.randrange(count)
    if what == "add":
        entry = new_entry((*path, 0))
        if "name" in entry:
            entry["name"] = f"new {rnd.randrange(10**9)}"
        return draft.insert_for((*path, rnd.randint(0, count)), entry)
    if what == "drop":
        return draft.edit_for((*path, place), ABSENT)
    if what == "move":
        return Move(path, place, rnd.randrange(count))
    keys = _keys(draft.get((*path, place)))
    return draft.edit_for((*path, place, rnd.choice(keys)), rnd.choice(VALUES)) if keys else None
