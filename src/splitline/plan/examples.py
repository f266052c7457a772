"""Values of a starting plan that nobody has replaced or found right yet: the word ``example`` in the comment behind them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from splitline.plan.edits import ABSENT, Path, Tree, get, origin, same
from splitline.plan.scan import Line, Places, scan

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


@dataclass(slots=True)
class Pair:
    """A key with its value inside a table's own lines; ``text`` is the whole line or lines."""

    keys: tuple[str, ...]
    text: str
    value: tuple[int, int]  # span of the value inside ``text``


@dataclass(slots=True)
class Section:
    """A table's span: blank lines before it, its comment block, heading, own lines, and the sections inside it."""

    path: Path
    array: bool = False
    gap: str = ""
    lead: str = ""
    head: str = ""
    body: list[Pair | str] = field(default_factory=list)
    inner: list[Section | str] = field(default_factory=list)

    @property
    def key(self) -> str:
        """The last name of its path."""
        return next(step for step in reversed(self.path) if isinstance(step, str))

    def sections(self) -> list[Section]:
        return [part for part in self.inner if isinstance(part, Section)]

    def text(self) -> str:
        """The whole span."""
        own = "".join(part if isinstance(part, str) else part.text for part in self.body)
        inner = "".join(part if isinstance(part, str) else part.text() for part in self.inner)
        return self.gap + self.lead + self.head + own + inner


def sections_of(text: str, tree: Tree) -> Section:
    """The span tree of a valid TOML text that means ``tree``; the root is the file itself."""
    root = Section(())
    places, current = Places(), root
    known: dict[Path, Section] = {(): root}
    waiting: list[Line] = []
    for line in scan(text):
        if line.form in ("blank", "comment"):
            waiting.append(line)
            continue
        if line.form == "pair":
            current.body += [text[each.start : each.end] for each in waiting]
            offset = line.start
            span = (line.value[0] - offset, line.value[1] - offset)
            current.body.append(Pair(line.keys, text[offset : line.end], span))
        else:
            path = places.heading(line)
            if isinstance(get(tree, path), list):  # one table where several may stand
                path = (*path, 0)
            below = Section(path, line.array, head=text[line.start : line.end])
            floating = _share_out(waiting, text, current, below)
            if floating:
                _common(known, current.path, path).inner.append(floating)
            current = _put(below, known)
        waiting = []
    floating = _share_out(waiting, text, current, None)
    if floating:
        root.inner.append(floating)
    return root


def _common(known: dict[Path, Section], a: Path, b: Path) -> Section:
    """The innermost table that holds both."""
    length = 0
    while length < min(len(a), len(b)) and a[length] == b[length]:
        length += 1
    while a[:length] not in known or a[:length] in (a, b):
        if length == 0:
            break
        length -= 1
    return known[a[:length]]


def _put(section: Section, known: dict[Path, Section]) -> Section:
    """Hang a section into the one above; a table named only by its inner tables gets a span without heading."""
    path = section.path
    above = path[:-2] if isinstance(path[-1], int) else path[:-1]
    if above not in known:
        _put(Section(above), known)
    if path in known:  # its inner tables came first
        implied = known[path]
        implied.gap, implied.lead, implied.head = section.gap, section.lead, section.head
        return implied
    known[path] = section
    known[above].inner.append(section)
    return section


def _share_out(waiting: list[Line], text: str, above: Section, below: Section | None) -> str:
    """Give the comment and blank lines between two sections to their owners; what is nobody's is returned."""
    rows = [text[line.start : line.end] for line in waiting]
    blank = [line.form == "blank" for line in waiting]
    start, end = 0, len(rows)
    if below is not None:
        while end > 0 and not blank[end - 1]:
            end -= 1
        below.lead = "".join(rows[end:])
        top = end
        while end > 0 and blank[end - 1]:
            end -= 1
        below.gap = "".join(rows[end:top])
    if above.head or above.body:
        while start < end and not blank[start]:
            start += 1
    above.body += rows[:start]
    return "".join(rows[start:end])
