"""The editor laid over a line: checked as typed, Enter takes the value, Esc leaves it and keeps what was typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual import events
from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from splitline.plan.edits import Path

Checker = Callable[[str], Any]  # the value for a text, or ValueError with what to write instead


class FieldEditor(Input):
    """One field being edited in place."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "give_up", "Back"), ("tab,down,up", "take", "Take")]
    DEFAULT_CSS = """
    FieldEditor { layer: edit; position: absolute; height: 1; background: $panel; }
    FieldEditor.-wrong { color: $error; }
    """

    class Typed(Message):
        """The text changed; ``said`` is what is wrong with it, or nothing."""

        def __init__(self, path: Path, said: str) -> None:
            super().__init__()
            self.path = path
            self.said = said

    class Taken(Message):
        """Enter on a text that reads."""

        def __init__(self, path: Path, value: Any) -> None:
            super().__init__()
            self.path = path
            self.value = value

    class Left(Message):
        """Esc, or the keys went elsewhere; the text is kept for the next time."""

        def __init__(self, path: Path, text: str) -> None:
            super().__init__()
            self.path = path
            self.text = text

    def __init__(self, path: Path, text: str, check: Checker) -> None:
        super().__init__(text, id="editor", select_on_focus=True)
        self.path = path
        self._check = check
        self._over = False
        self._first = text

    def _reading(self) -> tuple[Any, str]:
        try:
            return self._check(self.value), ""
        except ValueError as error:
            return None, str(error)

    def on_mount(self) -> None:
        self._say()

    def _say(self) -> None:
        _, said = self._reading()
        self.set_class(bool(said), "-wrong")
        self.post_message(self.Typed(self.path, said))

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        if not self._over:
            self._say()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_take()

    def action_take(self) -> None:
        value, said = self._reading()
        if said:
            self.post_message(self.Typed(self.path, said))
            self.app.bell()
            return
        if not self._over:
            self._over = True
            self.post_message(self.Taken(self.path, value))

    def action_give_up(self) -> None:
        if not self._over:
            self._over = True
            self.post_message(self.Left(self.path, self.value))

    def on_blur(self, event: events.Blur) -> None:
        """A tap elsewhere takes what reads and keeps what does not."""
        if not self.app.app_focus or self._over:
            return
        if self._reading()[1] or self.value == self._first:
            self.action_give_up()
        else:
            self.action_take()
