"""An edited plan as text: the person's own file with only the changed spans in it changed.

Comments, order, spacing and line ends stay; a comment goes where its owner goes. tomlkit is used inside one value only:
whole tables moved with it take other tables' comments along.
"""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

from splitline.plan.align import aligned
from splitline.plan.canonical import normal_form
from splitline.plan.edits import ABSENT, Path, Tree, get, origin, same
from splitline.plan.examples import Pair, Section, sections_of, without_word
from splitline.plan.fields import fields_of, table_of
from splitline.plan.migrate import plain_lists
from splitline.plan.scan import value_end
from splitline.plan.toml_text import heading_text, is_tables, key_text, table_text, value_text


def new_value(text: str, old: Any, new: Any, eol: str = "\n") -> str:
    """The text of a value that says ``old``, changed to say ``new``."""
    if isinstance(old, list | dict) and type(old) is type(new):
        for attempt in (_cells, _tomlkit):
            changed = attempt(text, old, new)
            if changed is not None and _says(changed, new):
                return changed
    return value_text(new, eol)


def _says(text: str, value: Any) -> bool:
    try:
        return same(tomllib.loads(f"x = {text}\n"), {"x": value})
    except ValueError:
        return False


def _cells(text: str, old: Any, new: Any) -> str | None:
    """A list of the same length, or a table of the same keys: only the cells that differ are written anew."""
    if len(old) != len(new) or (isinstance(old, dict) and old.keys() != new.keys()):
        return None
    starts: dict[Any, int] = {}

    def mark(path: tuple[str | int, ...], at: int) -> None:
        if len(path) == 1:
            starts[path[0]] = at

    value_end(text, 0, (), mark)
    cells = list(old) if isinstance(old, dict) else list(range(len(old)))
    for cell in sorted(cells, key=lambda c: -starts.get(c, 0)):
        if same(old[cell], new[cell]):
            continue
        if cell not in starts:
            return None
        start = starts[cell]
        if isinstance(old, dict):
            start = text.index("=", start) + 1
            start += len(text[start:]) - len(text[start:].lstrip(" \t"))
        end = value_end(text, start)
        text = text[:start] + new_value(text[start:end], old[cell], new[cell]).replace("\n", " ") + text[end:]
    return text


def _tomlkit(text: str, old: Any, new: Any) -> str | None:
    """Entries added or taken away, by tomlkit."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(f"x = {text}\n")
        value: Any = document["x"]
        if isinstance(old, dict):
            for key in [key for key in old if key not in new]:
                value.remove(key)
            for key, cell in new.items():
                if key not in old or not same(old[key], cell):
                    value[key] = cell
        else:
            steps = difflib.SequenceMatcher(None, [normal_form(c) for c in old], [normal_form(c) for c in new])
            for what, start, end, new_start, new_end in reversed(steps.get_opcodes()):
                if what == "equal":
                    continue
                for number in reversed(range(start, end)):
                    del value[number]
                for number, cell in enumerate(new[new_start:new_end]):
                    value.insert(start + number, cell)
        return document.as_string().removeprefix("x = ").removesuffix("\n")
    except (TOMLKitError, ValueError, TypeError, IndexError, KeyError):
        return None


ORDER = ("format", "plan", "joint", "lift", "fit", "insertion", "clearance", "window", "item", "step")


def splice(text: str, old: Tree, new: Tree) -> str:
    """``text``, which means ``old``, changed to mean ``new``."""
    if same(old, new):
        return text
    eol = "\r\n" if text.count("\r\n") * 2 > text.count("\n") else "\n"
    whole = text if text.endswith("\n") or not text else text + eol
    out = _Writer(eol, origin(new) is origin(old)).section(sections_of(whole, old), old, new, ())
    return out if text.endswith("\n") or not text else out.removesuffix(eol)


class _Writer:
    """Writes sections of the old text with the values of the new tree."""

    def __init__(self, eol: str, tracked: bool) -> None:
        self.eol = eol
        self.tracked = tracked

    def section(self, section: Section, old: Tree, new: Tree, path: Path, double: bool = False) -> str:
        """A section's heading (in ``double`` brackets), lines and inner sections; ``path`` is its place in the new tree."""
        head = _doubled(section.head) if double and not section.array else section.head
        if same(old, new):
            return section.lead + head + _own(section) + _inner(section)
        held = {part.key for part in section.sections() if _fits(part, new)}
        body = self._body(section, old, new, path, held)
        inner = self._inner(section, old, new, path, held)
        if not head and path and any(line.strip() for line in body):
            head = heading_text(path, isinstance(path[-1], int), self.eol)
        return section.lead + head + "".join(body) + inner

    # A table's own lines

    def _body(self, section: Section, old: Tree, new: Tree, path: Path, held: set[str]) -> list[str]:
        rows: list[tuple[tuple[str, ...], str]] = []
        for part in section.body:
            if isinstance(part, str):
                rows.append(((), part))
                continue
            value, before = get(new, part.keys), get(old, part.keys)
            if value is ABSENT or part.keys[0] in held:
                continue
            rows.append((part.keys, part.text if same(value, before) else self._changed(part, before, value)))
        there = {keys for keys, _ in rows if keys}
        inline = {part.keys[0] for part in section.body if isinstance(part, Pair)}
        for keys, value in _uncovered(new, there, held, inline):
            line = f"{'.'.join(map(key_text, keys))} = {value_text(value, self.eol)}{self.eol}"
            rows.insert(_place(rows, keys, path), (keys, line))
        return [row for _, row in rows]

    def _changed(self, part: Pair, old: Any, new: Any) -> str:
        start, end = part.value
        return part.text[:start] + new_value(part.text[start:end], old, new, self.eol) + without_word(part.text[end:])

    # The sections inside a table

    def _inner(self, section: Section, old: Tree, new: Tree, path: Path, held: set[str]) -> str:
        slots: list[list[str]] = []  # what is written at each place of the old file
        keys: list[str] = []  # whose place it is; "" for comments that are nobody's
        groups: dict[str, list[Section]] = {}
        for part in section.inner:
            slots.append([part] if isinstance(part, str) else [])
            keys.append("" if isinstance(part, str) else part.key)
            if isinstance(part, Section):
                groups.setdefault(part.key, []).append(part)
        for key, sections in groups.items():
            if key in held:
                places = [n for n, name in enumerate(keys) if name == key]
                self._group(slots, places, sections, old[key], new[key], (*path, key))
        for key, value in new.items():
            if key in held or not (isinstance(value, dict) or is_tables(value)) or _in_body(section, key):
                continue
            entries = [((*path, key), value, False)] if isinstance(value, dict) else []
            if is_tables(value):
                entries = [((*path, key), entry, True) for entry in value]
            text = [self._gap(section) + table_text(p, entry, array, self.eol) for p, entry, array in entries]
            at = _slot(keys, key, path)
            slots.insert(at, text)
            keys.insert(at, key)
        return "".join(text for slot in slots for text in slot)

    def _gap(self, section: Section) -> str:
        """No blank line between new sections where the file's own stand close."""
        near = [part.gap for part in section.sections()]
        return "" if section.path and near and not any(near) else self.eol

    def _group(
        self,
        slots: list[list[str]],
        places: list[int],
        sections: list[Section],
        old: Any,
        new: Any,
        path: Path,
    ) -> None:
        """Write the sections of one key into their places, reordered, without the deleted, with the added."""
        if isinstance(new, dict):
            part = sections[0]
            slots[places[0]].append(part.gap + self.section(part, old, new, path))
            return
        matches = aligned(old, new, self.tracked)
        by_number = {part.path[-1]: (part, place) for part, place in zip(sections, places, strict=True)}
        kept = [number for number in matches if number is not None]
        free = sorted(by_number[number][1] for number in kept)
        at = free[0] if free else places[0]
        for place, (number, entry) in enumerate(zip(matches, new, strict=True)):
            if number is None:
                text = table_text(path, entry, True, self.eol)
                gap = self._sibling_gap(sections)
            else:
                part, own = by_number[number]
                at = free.pop(0)
                text = self.section(part, old[number], entry, (*path, place), double=len(new) > 1)
                gap = part.gap if at == own and not slots[at] else part.gap or self._sibling_gap(sections)
            slots[at].append(gap + text)

    def _sibling_gap(self, sections: list[Section]) -> str:
        gaps = [part.gap for part in sections[1:]] or [self.eol]
        return max(gaps, key=len)


def _own(section: Section) -> str:
    return "".join(part if isinstance(part, str) else part.text for part in section.body)


def _inner(section: Section) -> str:
    return "".join(part if isinstance(part, str) else part.text() for part in section.inner)


def _doubled(head: str) -> str:
    return head.replace("[", "[[", 1).replace("]", "]]", 1)


def _fits(part: Section, new: Tree) -> bool:
    """Whether the section's key is still written under headings."""
    value = new.get(part.key, ABSENT)
    return is_tables(value) if isinstance(part.path[-1], int) else isinstance(value, dict)


def _in_body(section: Section, key: str) -> bool:
    """Whether a table is written among the lines of the one above: inline, or with dotted keys."""
    return any(isinstance(part, Pair) and part.keys[0] == key for part in section.body)


def _uncovered(
    new: Tree, there: set[tuple[str, ...]], held: set[str], inline: set[str], above: tuple[str, ...] = ()
) -> list[tuple[tuple[str, ...], Any]]:
    """Keys of the new tree that no line holds yet and that are not written under a heading of their own."""
    found: list[tuple[tuple[str, ...], Any]] = []
    for key, value in new.items():
        keys = (*above, key)
        if keys in there or (not above and key in held):
            continue
        if isinstance(value, dict) and any(each[: len(keys)] == keys for each in there):
            found += _uncovered(value, there, held, inline, keys)
        elif above or key in inline or not (isinstance(value, dict) or is_tables(value)):
            found.append((keys, value))
    return found


def _declared_order(path: Path) -> list[str]:
    if not path:
        return list(ORDER)
    model = table_of(path)
    return list(fields_of(model)) if model is not None else []


def _place(rows: list[tuple[tuple[str, ...], str]], keys: tuple[str, ...], path: Path) -> int:
    """Where a new line goes: behind the last line of what is declared before it, else behind the last value."""
    order = _declared_order(path)
    rank = order.index(keys[0]) if keys[0] in order else len(order)
    values = [n for n, (each, _) in enumerate(rows) if each]
    before = [n for n in values if rows[n][0][0] in order and order.index(rows[n][0][0]) <= rank]
    if before:
        return before[-1] + 1
    return values[0] if values and rank < len(order) else values[-1] + 1 if values else 0


def _slot(keys: list[str], key: str, path: Path) -> int:
    """Where a new section goes among its siblings: behind the last that is declared before it."""
    order = _declared_order(path)
    rank = order.index(key) if key in order else len(order)
    before = [n for n, name in enumerate(keys) if name and (name not in order or order.index(name) <= rank)]
    return before[-1] + 1 if before else 0


def parses_to(text: str, tree: Tree) -> bool:
    """Whether a text means the tree: what every save asks before it writes."""
    try:
        return same(plain_lists(tomllib.loads(text)), tree)
    except ValueError:
        return False
