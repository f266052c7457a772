"""One value of a plan file changed within its own text: comments and layout inside a long list stay."""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

from splitline.plan.canonical import normal_form
from splitline.plan.edits import same
from splitline.plan.scan import value_end
from splitline.plan.toml_text import value_text


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
