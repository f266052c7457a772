"""One of a few: names, reasons, steps. Large targets, in pages; digits pick too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical

from splitline.ui.glass import glass_of
from splitline.ui.work.asking import Question
from splitline.ui.work.target import Target, TargetRow


@dataclass(frozen=True, slots=True)
class Choice:
    """What is given back, and its words."""

    value: str
    label: str
    note: str = ""
    style: str = ""  # of the box, where it is not one like the others


NEXT_PAGE = Choice("\0next", "More …")
BACK = Choice("\0back", "Back")


class ChoiceScreen(Question):
    """Gives the value chosen, or None."""

    PER_ROW = 2

    def __init__(
        self, title: str, choices: Sequence[Choice], lines: Sequence[tuple[str, str]] = (), start: int = 0
    ) -> None:
        super().__init__(title, lines)
        self._choices = tuple(choices)
        self._page = 0
        self._start = start

    def answers(self) -> ComposeResult:
        yield Vertical(id="pages")

    async def on_mount(self) -> None:
        self.query_one("#pages").styles.height = "auto"
        await self._show()

    def _room(self) -> int:
        """Targets on one page."""
        rows = (self.app.size.height - 4 - sum(1 + len(text) // 74 for text, _ in self._lines)) // glass_of(
            self.app
        ).glove_rows()
        return max(rows, 2) * 2

    def _shown(self) -> list[Choice]:
        room = self._room()
        if len(self._choices) + 1 <= room:
            return [*self._choices, BACK]
        each = room - 2
        first = self._page * each
        return [*self._choices[first : first + each], NEXT_PAGE, BACK]

    async def _show(self) -> None:
        if not self.is_attached:
            return  # answered while a page was being turned
        pages = self.query_one("#pages", Vertical)
        await pages.remove_children()
        shown = self._shown()
        rows = -(-len(shown) // self.PER_ROW)
        lines = sum(1 + len(text) // 74 for text, _ in self._lines)
        tall = 4 if rows * 4 + lines + 3 <= self.app.size.height and any(c.note for c in shown) else 3
        own = [Target(c.value, c.label, str(n), note=c.note, look=c.style) for n, c in enumerate(shown, 1)]
        for target in own:
            target.styles.height = tall
        await pages.mount(TargetRow(*own, across=self.PER_ROW))
        if self.is_attached:  # else answered while the page was being built
            own[min(self._start, len(own) - 1)].focus()
        self._start = 0

    async def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        if event.target.ident == NEXT_PAGE.value:
            each = self._room() - 2
            self._page = (self._page + 1) % -(-len(self._choices) // each)
            await self._show()
        else:
            self.dismiss(None if event.target.ident == BACK.value else event.target.ident)

    def on_key(self, event: events.Key) -> None:
        if event.key.isdecimal() and event.key != "0":
            own = list(self.query(Target))
            if int(event.key) <= len(own):
                event.stop()
                own[int(event.key) - 1].action_press()
