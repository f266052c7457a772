"""A plan's text as a tree of spans: which lines and comments belong to which table.

A comment block that stands directly above a heading belongs to that heading's table; one that follows a value
directly belongs to the table above; one with a blank line on either side belongs to nobody and stays where it is.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from splitline.plan.edits import Path, Tree, get
from splitline.plan.scan import Line, Places, scan


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
