"""Why this number: the working of an item, opened at one of its results or checks."""

from __future__ import annotations

from collections.abc import Hashable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from splitline.assess.result import ItemResult
from splitline.ui.card.checks import worst_first
from splitline.ui.card.working import working_lines
from splitline.ui.draw.rows import clean, fit
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import Line, LineView
from splitline.units import System


class WhyScreen(Sheet[str]):
    """Gives the field a missing check waits for, when one is chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,w,q", "leave", "Back")]
    DEFAULT_CSS = """
    WhyScreen .sheet { width: 112; height: 92%; }
    WhyScreen #why-title { height: 1; }
    """

    def __init__(self, result: ItemResult, target: Hashable, system: System) -> None:
        super().__init__()
        self._result = result
        self._target = target
        self._system = system

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="why-title", cursor=False)
            yield LineView(id="why")

    def on_mount(self) -> None:
        title = self.query_one("#why-title", LineView)
        title.can_focus = False
        title.show(lambda cells: [Line(((fit(f"Why: {clean(self._result.title)}", cells), "title"),))])
        view = self.query_one("#why", LineView)
        view.show(lambda cells: working_lines(self._result, cells, self._system))
        view.focus()
        self.call_after_refresh(self._stand)

    def _stand(self) -> None:
        view = self.query_one("#why", LineView)
        target = self._target
        if isinstance(target, tuple) and target[0] == "check":
            # The card shows checks worst first; the working in the order they were made.
            ordered = worst_first(self._result.checks)
            if isinstance(target[2], int) and target[2] < len(ordered):
                place = self._result.checks.index(ordered[target[2]])
                target = ("check", ordered[target[2]].key, place)
        if target is not None:
            view.put_cursor(target)
            view.bring_up()

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        if isinstance(event.target, tuple) and event.target[0] == "need":
            self.close(str(event.target[1]))

    def action_leave(self) -> None:
        self.close("")
