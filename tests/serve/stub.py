"""A small program to serve in tests: it says who it is and what it was told."""

import os
import sys

from textual.app import App, ComposeResult
from textual.widgets import Button, Static


class Stub(App[None]):
    """Says "Ready", the client and the roles; a press counts."""

    CSS = "Button { height: 5; width: 30; }"
    pressed = 0

    def compose(self) -> ComposeResult:
        yield Static(f"Ready pid={os.getpid()} client={os.environ['SPLITLINE_CLIENT']} {' '.join(sys.argv[2:])} ends")
        yield Button("Done")
        yield Static("nothing", id="said")

    def on_button_pressed(self) -> None:
        self.pressed += 1
        self.query_one("#said", Static).update(f"pressed {self.pressed} times")

    def on_key(self, event: object) -> None:
        self.query_one("#said", Static).update(f"key {getattr(event, 'key', '')}")


if __name__ == "__main__":
    from splitline.serve.child import watch

    app = Stub()
    watch(app, int(os.environ["SPLITLINE_SERVER_PID"]))  # type: ignore[arg-type]
    app.run()
