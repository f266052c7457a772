"""What can be added where the cursor stands, as options to pick from."""

from __future__ import annotations

from splitline.plan.edits import Path
from splitline.plan.fields import table_of
from splitline.ui.card.values import label_of
from splitline.ui.forms.fresh import NOUNS, addable
from splitline.ui.screens.picker import Option
from splitline.ui.session import Session


def choices(session: Session, path: Path, *, items_first: bool) -> list[Option]:
    """Items of the plan, and fields, tables and entries of the tables round ``path``, the nearest first."""
    items = [Option(("item", kind), label_of(kind), noun, "+") for kind, noun in NOUNS.items()]
    inner: list[Option] = []
    for table in _round(path):
        raw = session.draft.get(table, {})
        if not isinstance(raw, dict):
            continue
        inside = " ".join(label_of(s) if isinstance(s, str) else str(s + 1) for s in table[2:])
        for place, field in addable(table, raw):
            more = "another " if field.is_list and place[-1] else ""
            words = f"{inside} · {field.words}" if inside else field.words
            label = f"{more}{label_of(field.name)}"
            inner.append(Option(("path", place), label, words, "▤" if field.is_table else "·"))
    return [*items, *inner] if items_first else [*inner, *items]


def _round(path: Path) -> list[Path]:
    """The tables a place lies in, from the inside out."""
    found = []
    while path:
        whole_item = len(path) == 2 or path == ("plan",)
        if table_of(path) is not None and (isinstance(path[-1], int) or len(path) != 1 or whole_item):
            found.append(path)
        path = path[:-1]
    return [p for p in found if p == ("plan",) or len(p) > 1]
