"""Values of a starting plan that nobody has replaced or found right yet: the word ``example`` in the comment behind them."""

from __future__ import annotations

import re
from typing import Any

from splitline.plan.edits import ABSENT, Path, Tree, get, origin, same
from splitline.plan.spans import Pair, Section, sections_of

_WORD = re.compile(r"([ \t]*)#[ \t]*example\b[ \t]*:?[ \t]*([^\r\n]*)")


def without_word(tail: str) -> str:
    """What stands behind a value, without the word: the rest of the comment stays."""
    found = _WORD.match(tail)
    if found is None:
        return tail
    rest = found.group(2).rstrip()
    return (f"{found.group(1)}# {rest}" if rest else "") + tail[found.end() :]


def examples_in(text: str, tree: Tree) -> frozenset[Path]:
    """Paths of the values of a text (which means ``tree``) that are marked as examples."""
    if "example" not in text:
        return frozenset()
    return frozenset(path for path, _ in _marked(sections_of(text, tree)))


def owned(text: str, tree: Tree, own: frozenset[Path]) -> str:
    """The text without the word behind the values at ``own``."""
    if not own:
        return text
    root = sections_of(text, tree)
    for path, pair in _marked(root):
        if path in own:
            end = pair.value[1]
            pair.text = pair.text[:end] + without_word(pair.text[end:])
    return root.text()


def _marked(section: Section) -> list[tuple[Path, Pair]]:
    found = [
        ((*section.path, *part.keys), part)
        for part in section.body
        if isinstance(part, Pair) and _WORD.match(part.text[part.value[1] :])
    ]
    for inner in section.sections():
        found += _marked(inner)
    return found


def read_at(old: Tree, new: Tree, path: Path) -> Path | None:
    """Where the unchanged value at ``path`` of an edited tree stands in the tree as read; None: changed, or new."""
    here: Any = new
    there: Any = old
    place: Path = ()
    for step in path:
        here = get(here, (step,))
        if isinstance(step, int):
            entries = there if isinstance(there, list) else []
            # After a save the file's own tree holds edited tables: both sides go back to where they came from.
            number = next((n for n, entry in enumerate(entries) if origin(entry) is origin(here)), None)
            if number is None and not isinstance(here, dict) and same(get(there, (step,)), here):
                number = step
            if number is None:
                return None
            step = number
        there = get(there, (step,))
        place = (*place, step)
        if here is ABSENT or there is ABSENT:
            return None
    return place if same(here, there) else None
