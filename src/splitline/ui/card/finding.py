"""Everything of a plan one can search for: items, fields with their values, commands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from splitline.plan.declare import Table
from splitline.plan.draft import Draft
from splitline.plan.edits import Path
from splitline.plan.fields import Declared, declared, fields_of, table_of
from splitline.plan.model import KINDS
from splitline.plan.numbers import LETTERS, number_of
from splitline.ui import marks
from splitline.ui.actions import Command
from splitline.ui.card.places import fields_in, path_of
from splitline.ui.card.values import label_of, list_text
from splitline.ui.forms.relevant import relevant
from splitline.ui.forms.typed import literal
from splitline.ui.screens.picker import Option
from splitline.ui.session import Session


def everything(session: Session, commands: Sequence[Command], here: tuple[str, int] | None = None) -> list[Option]:
    """Options with values ("path", path) or ("command", id); of the item ``here`` also fields nobody gave."""
    out: list[Option] = []
    tree = session.draft.tree
    heading = tree.get("plan")
    if isinstance(heading, dict):
        out += _fields(session, ("plan",), heading, "plan")
    for kind in KINDS:
        entries = tree.get(kind)
        for number, entry in enumerate(entries if isinstance(entries, list) else ()):
            if not isinstance(entry, dict):
                continue
            title = str(entry.get("title") or entry.get("text") or entry.get("id") or kind)
            out.append(
                Option(
                    ("path", (kind, number)),
                    title,
                    f"{number_of(kind, number)} {label_of(kind)} {entry.get('id', '')}",
                    "▤",
                    "accent",
                )
            )
            out += _fields(session, (kind, number), entry, title)
            out += _wanted(session, kind, number, entry, title)
    out += _not_given(session, here, {option.value for option in out}) if here is not None else ()
    out += [Option(("command", c.id), c.label, c.help, c.printed, "key") for c in commands]
    return out


def example_options(session: Session) -> list[Option]:
    """The starting plan's examples that are left, with what each is for; values are paths."""
    given = (o for o in everything(session, ()) if o.value[0] == "path" and session.draft.is_example(o.value[1]))
    return [Option(o.value[1], o.label, o.note, "·", "dim") for o in {o.value: o for o in given}.values()]


def numbered(session: Session) -> list[Option]:
    """Every item under the number it bears on paper; values are (kind, index)."""
    out: list[Option] = []
    for kind in LETTERS:
        entries = session.draft.tree.get(kind)
        for index, entry in enumerate(entries if isinstance(entries, list) else ()):
            there = entry if isinstance(entry, dict) else {}
            title = str(there.get("title") or there.get("text") or there.get("id") or kind)
            out.append(Option((kind, index), number_of(kind, index), title))
    return out


def items_of(draft: Draft) -> list[Option]:
    """Every item of a plan as typed, to pick one: its kind, title and id."""
    out: list[Option] = []
    for kind in KINDS:
        entries = draft.tree.get(kind)
        for index, entry in enumerate(entries if isinstance(entries, list) else ()):
            if isinstance(entry, dict):
                ident = str(entry.get("id") or "")
                title = str(entry.get("title") or entry.get("text") or ident or kind)
                out.append(Option((kind, index), title, f"{label_of(kind)} · {ident}"))
    return out


def _not_given(session: Session, item: tuple[str, int], listed: set[Any]) -> Iterator[Option]:
    """Fields of one item that can be given and are not: searched for by name, they lead to their place."""
    kind, number = item
    root: Path = ("plan",) if kind == "plan" else item
    raw, model = session.raw(kind, number), table_of(root)
    title = "plan" if kind == "plan" else str(raw.get("title") or raw.get("text") or raw.get("id") or kind)
    for place, field, trail in _absent(root, raw, model, title) if model is not None else ():
        if ("path", place) not in listed and relevant(raw, place):
            yield Option(("path", place), trail, f"not given · {field.words}", "·", "dim")


def _absent(path: Path, raw: Any, model: type[Table], title: str) -> Iterator[tuple[Path, Declared, str]]:
    there = raw if isinstance(raw, dict) else {}
    for field in fields_of(model).values():
        place, value, trail = (*path, field.name), there.get(field.name), f"{title} › {label_of(field.name)}"
        if field.model is None or (field.is_list and not value):
            if value is None:
                yield place, field, trail
        elif field.is_list:
            for number, entry in enumerate(value if isinstance(value, list) else ()):
                name = (entry.get("name") if isinstance(entry, dict) else None) or number + 1
                yield from _absent((*place, number), entry, field.model, f"{trail} {name}")
        else:
            yield from _absent(place, value, field.model, trail)


def _wanted(session: Session, kind: str, number: int, raw: dict[str, Any], title: str) -> Iterator[Option]:
    """Fields that are not given and that a check waits for."""
    result = session.result(kind, number)
    for check in result.checks_of("missing") if result is not None else ():
        for need in (name for each in check.needs for name in fields_in(each)):
            words = f"not given, needed by {check.title}"
            label = " › ".join(label_of(part) for part in need.split("."))
            place = ("path", path_of(raw, (kind, number), need))
            yield Option(place, f"{title} › {label}", words, marks.shape("missing"), marks.style("missing"))


def _fields(session: Session, path: Path, raw: dict[str, Any], title: str) -> Iterator[Option]:
    for key, value in raw.items():
        place = (*path, key)
        if isinstance(value, dict):
            yield from _fields(session, place, value, f"{title} › {label_of(key)}")
        elif isinstance(value, list) and value and all(isinstance(v, dict) for v in value):
            for number, entry in enumerate(value):
                name = entry.get("name") or number + 1
                yield from _fields(session, (*place, number), entry, f"{title} › {label_of(key)} {name}")
        else:
            text = list_text(value) if isinstance(value, list) else value if isinstance(value, str) else literal(value)
            field = declared(place)
            words = f"{text}    {field.words}" if field is not None else text
            words = f"example · {words}" if session.draft.is_example(place) else words
            yield Option(("path", place), f"{title} › {label_of(key)}", words)
