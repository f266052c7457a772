"""What a check answers: what moves it, what would make it ok, what would break it. Found beside the screen, line by line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.worker import get_current_worker

from splitline.assess.answers import Answer
from splitline.plan.edits import Path
from splitline.ui.draw.rows import clean, fit, rule, wrap
from splitline.ui.screens.sheet import Keys, Sheet
from splitline.ui.widgets.lines import Line, LineView

Taken = tuple[Path, Any]


class WhatIfScreen(Sheet[Taken]):
    """Gives the field and the value of the answer that was taken, or nothing."""

    FOOT: ClassVar[Keys] = (("Enter", "take it (u undoes that)", ""), ("Esc", "back", "leave"))
    BINDINGS: ClassVar[list[BindingType]] = [("escape,h,q", "leave", "Back")]
    DEFAULT_CSS = """
    WhatIfScreen .sheet { width: 124; height: 92%; }
    WhatIfScreen #what-if-title { height: 2; }
    """

    class Found(Message):
        """One more section; ``last`` when nothing more comes."""

        def __init__(self, section: tuple[Answer, ...], last: bool) -> None:
            super().__init__()
            self.section, self.last = section, last

    def __init__(self, title: str, sections: Callable[[], Iterator[tuple[Answer, ...]]], can_take: bool) -> None:
        super().__init__()
        self._title, self._sections, self._can_take = title, sections, can_take
        self._answers: list[Answer] = []
        self._waiting = True

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="what-if-title", cursor=False)
            yield LineView(id="what-if")

    def on_mount(self) -> None:
        title = self.query_one("#what-if-title", LineView)
        title.can_focus = False
        title.show(lambda cells: [Line(((part, "title"),)) for part in wrap(clean(self._title), cells)[:2]])
        self._view.focus()
        self._show()
        self.run_worker(self._ask, thread=True, exclusive=True, group="what if", exit_on_error=False)

    @property
    def _view(self) -> LineView:
        return self.query_one("#what-if", LineView)

    def _ask(self) -> None:
        worker = get_current_worker()
        for section in self._sections():
            if worker.is_cancelled:
                return
            self.post_message(self.Found(section, False))
        self.post_message(self.Found((), True))

    def on_what_if_screen_found(self, event: Found) -> None:
        self._answers += event.section
        self._waiting = not event.last
        self._show()

    def _show(self) -> None:
        self._view.show(lambda cells: list(self._lines(self._answers, cells)))

    def _lines(self, answers: Sequence[Answer], cells: int) -> Iterator[Line]:
        for number, each in enumerate(answers):
            if each.style == "title":
                yield Line(rule(cells, each.text))
                continue
            target = ("take", number) if each.take is not None and self._can_take else None
            for place, part in enumerate(wrap(clean(each.text), cells - 2, 4)):
                yield Line(((fit(f" {part}", cells), each.style),), target if place == 0 else None)
        if self._waiting:
            yield Line((("assessing the item with other values ...", "dim"),))

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        if isinstance(event.target, tuple) and event.target[0] == "take":
            self.close(self._answers[int(event.target[1])].take)

    def action_leave(self) -> None:
        self.close(None)
