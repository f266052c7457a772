"""The letter overlay: a letter or two beside every line in sight; typing them goes there."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import product

from textual import events

from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import LineView

_LETTERS = "asdfghjklqwertyuiopzxcvbnm"


def labels(count: int) -> list[str]:
    """That many labels, none the start of another."""
    if count <= len(_LETTERS):
        return list(_LETTERS[:count])
    return ["".join(pair) for pair in product(_LETTERS, repeat=2)][:count]


class JumpScreen(Sheet[tuple[LineView, Hashable]]):
    """Gives the view and target chosen, or None."""

    FOOT = (("letters", "go there", ""), ("Esc", "back", "back"))

    def __init__(self, views: Sequence[LineView]) -> None:
        super().__init__()
        self._views = tuple(views)
        self._typed = ""
        places = [(view, line) for view in views for line in view.seen()]
        self._places = dict(zip(labels(len(places)), places, strict=False))

    def on_mount(self) -> None:
        self._tag()

    def _tag(self) -> None:
        for view in self._views:
            view.tag(
                {
                    line: label
                    for label, (own, line) in self._places.items()
                    if own is view and label.startswith(self._typed)
                }
            )

    def action_back(self) -> None:
        self._leave(None)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        if event.key in ("escape", "ctrl+q"):
            self._leave(None)
            return
        if event.character is None or event.character not in _LETTERS:
            return
        self._typed += event.character
        if self._typed in self._places:
            view, line = self._places[self._typed]
            self._leave((view, view.lines[line].target) if line < len(view.lines) else None)
        elif any(label.startswith(self._typed) for label in self._places):
            self._tag()
        else:
            self._leave(None)

    def on_click(self, event: events.Click) -> None:
        self._leave(None)

    def _leave(self, place: tuple[LineView, Hashable] | None) -> None:
        for view in self._views:
            view.tag({})
        self.close(place)
