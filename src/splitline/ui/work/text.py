"""Words to type: a batch, a serial number, a reason none of the prepared ones fits."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.widgets import Input

from splitline.ui.glass import glass_of, typing
from splitline.ui.work.asking import Question
from splitline.ui.work.target import Target, TargetRow

LONGEST = 500
BY_TYPE = "Letters: touch the Type key at the foot of the page."


class TextScreen(Question):
    """Gives the text, stripped and not empty, or None."""

    def __init__(self, title: str, lines: Sequence[tuple[str, str]] = (), value: str = "") -> None:
        super().__init__(title, lines)
        self._value = value

    def compose(self) -> ComposeResult:
        if glass_of(self.app).cell[0]:
            self._lines += ((BY_TYPE, "dim"),)
        yield from super().compose()

    def answers(self) -> ComposeResult:
        yield Input(self._value, max_length=LONGEST, placeholder="type, then Enter")
        yield TargetRow(Target("store", "Store", "enter"), Target("back", "Back", "escape"))

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_screen_resume(self) -> None:
        typing(self.app, True)

    def dismiss(self, result: str | None = None) -> AwaitComplete:
        """Give the text; on a tablet the keyboard goes with the question."""
        if self.stands:
            typing(self.app, False)
        return super().dismiss(result)

    def _store(self) -> None:
        text = self.query_one(Input).value.strip()
        if text:
            self.dismiss(text)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._store()

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        if event.target.ident == "store":
            self._store()
        else:
            self.dismiss(None)
