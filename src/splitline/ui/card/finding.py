"""Everything of a plan one can search for: items, fields with their values, commands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from splitline.plan.edits import Path
from splitline.plan.fields import declared
from splitline.plan.model import KINDS
from splitline.ui import marks
from splitline.ui.actions import Command
from splitline.ui.card.places import fields_in, path_of
from splitline.ui.card.values import label_of, list_text
from splitline.ui.forms.typed import literal
from splitline.ui.screens.picker import Option
from splitline.ui.session import Session


def everything(session: Session, commands: Sequence[Command]) -> list[Option]:
    """Options with values ("path", path) or ("command", id)."""
    out: list[Option] = []
    tree = session.draft.tree
    heading = tree.get("plan")
    if isinstance(heading, dict):
        out += _fields(("plan",), heading, "plan")
    for kind in KINDS:
        entries = tree.get(kind)
        for number, entry in enumerate(entries if isinstance(entries, list) else ()):
            if not isinstance(entry, dict):
                continue
            title = str(entry.get("title") or entry.get("text") or entry.get("id") or kind)
            out.append(
                Option(("path", (kind, number)), title, f"{label_of(kind)} {entry.get('id', '')}", "▤", "accent")
            )
            out += _fields((kind, number), entry, title)
            out += _wanted(session, kind, number, entry, title)
    out += [Option(("command", c.id), c.label, c.help, c.printed, "key") for c in commands]
    return out


def _wanted(session: Session, kind: str, number: int, raw: dict[str, Any], title: str) -> Iterator[Option]:
    """Fields that are not given and that a check waits for."""
    result = session.result(kind, number)
    for check in result.checks_of("missing") if result is not None else ():
        for need in (name for each in check.needs for name in fields_in(each)):
            words = f"not given, needed by {check.title}"
            label = " › ".join(label_of(part) for part in need.split("."))
            place = ("path", path_of(raw, (kind, number), need))
            yield Option(place, f"{title} › {label}", words, marks.shape("missing"), marks.style("missing"))


def _fields(path: Path, raw: dict[str, Any], title: str) -> Iterator[Option]:
    for key, value in raw.items():
        place = (*path, key)
        if isinstance(value, dict):
            yield from _fields(place, value, f"{title} › {label_of(key)}")
        elif isinstance(value, list) and value and all(isinstance(v, dict) for v in value):
            for number, entry in enumerate(value):
                name = entry.get("name") or number + 1
                yield from _fields((*place, number), entry, f"{title} › {label_of(key)} {name}")
        else:
            text = list_text(value) if isinstance(value, list) else value if isinstance(value, str) else literal(value)
            field = declared(place)
            words = f"{text}    {field.words}" if field is not None else text
            yield Option(("path", place), f"{title} › {label_of(key)}", words)
