"""One list to pick from, with a search line: library rows, commands, problems, findings, what to add."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input

from splitline.ui.draw.rows import Row, clean, fit, width, wrap
from splitline.ui.screens.sheet import BACK, Sheet
from splitline.ui.widgets.lines import Line, LineView

_SHOWN = 400
_SPLIT = re.compile(r"[^\w./+-]+")
# A year stands alone or behind a standard's number; figures of a plan have a unit behind them.
_YEAR = re.compile(r"(?<![\w.])(?:19|20)\d\d(?![\w.]| ?(?:[a-zµ°%·/²³]+\b))|(?<=[-:])(?:19|20)\d\d\b")
_NAMED = 11  # cells kept for the start of an item's name, with its sign, before a long way to a field


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to pick: ``value`` is given back, ``label`` and ``note`` are shown and searched."""

    value: Any
    label: str
    note: str = ""
    mark: str = ""
    style: str = ""


def matching(options: Sequence[Option], typed: str) -> list[Option]:
    """Options that hold every word typed, best first: the whole label, its start, then word by word.

    A word that is one of the label's stands before one that starts a word of it, before one inside it; the note comes
    after the label, and of the note the year of a source counts for nothing. A field's name is found with or without its "_".
    """
    words = typed.casefold().replace("_", " ").split()
    if not words:
        return list(options)
    whole = " ".join(words)
    found = [(rank, o) for o in options if (rank := _rank(o, words, whole)) is not None]
    return [o for _, o in sorted(found, key=lambda each: each[0])]


def _rank(option: Option, words: Sequence[str], whole: str) -> tuple[bool, bool, int, int] | None:
    """How well an option fits, least first; None where a word is nowhere in it."""
    label = option.label.casefold().replace("_", " ")
    note = _YEAR.sub(" ", option.note.casefold())
    own, said = set(_SPLIT.split(label)), set(_SPLIT.split(note))
    places = [_place(word, label, own, note, said) for word in words]
    if None in places:
        return None
    ranks = [place for place in places if place is not None]
    return label != whole, not label.startswith(whole), max(ranks), sum(ranks)


def _place(word: str, label: str, own: set[str], note: str, said: set[str]) -> int | None:
    for level, (text, parts) in enumerate(((label, own), (note, said))):
        if word in parts:
            return 3 * level
        if any(part.startswith(word) for part in parts):
            return 3 * level + 1
        if word in text:
            return 3 * level + 2
    return None


class PickerScreen(Sheet[Any]):
    """Gives the value picked, or None. With ``free``, text that matches nothing can be taken as it is."""

    FOOT = (("type", "search", ""), ("↑ ↓", "move", ""), ("Enter", "pick", ""), *BACK)
    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape", "leave", "Back"),
        ("down", "move(1)", "Down"),
        ("up", "move(-1)", "Up"),
        ("pagedown", "page(1)", "Page down"),
        ("pageup", "page(-1)", "Page up"),
    ]
    DEFAULT_CSS = """
    PickerScreen .sheet { width: 92; height: 80%; }
    PickerScreen Input { margin: 0 0 1 0; }
    PickerScreen #picker-list { height: 1fr; }
    PickerScreen #picker-whole { height: 4; border-top: solid $rule; scrollbar-size-vertical: 0; }
    """

    def __init__(
        self, title: str, options: Sequence[Option], *, typed: str = "", chosen: Any = None, free: bool = False
    ) -> None:
        super().__init__()
        self._title = title
        self._options = tuple(options)
        self._typed = typed
        self._chosen = chosen
        self._free = free
        self._found: list[Option] = []

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="picker-title", cursor=False)
            yield Input(self._typed, placeholder="type to search, arrows and Enter to pick", id="picker-search")
            yield LineView(id="picker-list")
            yield LineView(id="picker-whole", cursor=False)

    def on_mount(self) -> None:
        title = self.query_one("#picker-title", LineView)
        title.can_focus = False
        title.styles.height = 1
        title.show(lambda w: [Line(((fit(clean(self._title), w), "title"),))])
        for name in ("#picker-list", "#picker-whole"):
            self.query_one(name, LineView).can_focus = False
        self.query_one("#picker-list", LineView).driven = True
        self.query_one("#picker-whole").display = any(o.note for o in self._options)
        self.query_one(Input).focus()
        self._search(self._typed)

    def _search(self, typed: str) -> None:
        self._found = matching(self._options, typed)
        view = self.query_one("#picker-list", LineView)
        view.show(self._lines, keep=False)
        if self._chosen is not None and not typed:
            place = next((i for i, o in enumerate(self._found) if o.value == self._chosen), None)
            if place is not None:
                view.put_cursor(place)
        self.call_after_refresh(lambda: self._show_whole(view.target))

    def _lines(self, cells: int) -> list[Line]:
        most = max((width(o.label) + (width(o.mark) + 1 if o.mark else 0) for o in self._found[:_SHOWN]), default=0)
        label = min(most + 1, cells // 2 if any(o.note for o in self._found) else cells)
        out = [Line(_row(o, cells, label), i) for i, o in enumerate(self._found[:_SHOWN])]
        if len(self._found) > _SHOWN:
            out.append(Line(((f"and {len(self._found) - _SHOWN} more: type to narrow down", "dim"),)))
        if not out:
            typed = self.query_one(Input).value.strip()
            said = f'Nothing holds "{typed}".' if typed else "Nothing here."
            out.append(Line(((clean(said), "dim"),)))
            if self._free and typed:
                out.append(Line(((f'Take "{clean(typed)}" as it is', "strong"),), -1))
        return out

    def on_line_view_moved(self, event: LineView.Moved) -> None:
        event.stop()
        self._show_whole(event.target)

    def _show_whole(self, index: Any) -> None:
        """What stands under the cursor, in full: the list cuts it."""
        here = self._found[index] if isinstance(index, int) and 0 <= index < len(self._found) else None
        text = f"{here.label}: {here.note}" if here is not None and here.note else ""
        self.query_one("#picker-whole", LineView).show(
            lambda cells: [Line(((part, ""),)) for part in wrap(text, max(cells - 1, 8), 3)], keep=False
        )

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self._search(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._take(self.query_one("#picker-list", LineView).target)

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        event.stop()
        self._take(event.target)

    def _take(self, index: Any) -> None:
        if index == -1:
            self.close(self.query_one(Input).value.strip())
        elif isinstance(index, int) and 0 <= index < len(self._found):
            self.close(self._found[index].value)

    def action_move(self, by: int) -> None:
        self.query_one("#picker-list", LineView).action_move(by)

    def action_page(self, by: int) -> None:
        self.query_one("#picker-list", LineView).action_page(by)


def _row(option: Option, cells: int, label: int) -> Row:
    mark = f"{option.mark} " if option.mark else ""
    left = fit(_trail(clean(option.label), max(label - width(mark), 4)), max(label - width(mark), 4))
    return (
        (mark, option.style),
        (left, "strong"),
        (" ", ""),
        (fit(clean(option.note), max(cells - label - 1, 0)), "dim"),
    )


def _trail(label: str, cells: int) -> str:
    """Of a long way to a field the start of the item's name and the end, where the field's own name stands."""
    item, *way = label.split(" › ")
    if not way or width(label) <= cells:
        return label
    while len(way) > 1 and width(" › ".join(way)) + _NAMED > cells and way[:-1] != ["…"]:
        way = ["…", *(way[2:] if way[0] == "…" else way[1:])]
    tail = " › ".join(way)
    room = cells - width(tail) - 3
    return f"{fit(item, room).rstrip()} › {tail}" if room >= 4 else f"… › {way[-1]}"
