"""A program to serve in tests: number pads, one after the other; what each gives stands in the file SPLITLINE_STORED."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from splitline.serve.child import watch
from splitline.ui import app as application
from splitline.ui.app import SplitlineApp
from splitline.ui.work.pad import PadScreen


class Pads(SplitlineApp):
    """Ask for a number for ever. The judge's line tells the number as plain text."""

    CSS_PATH = Path(str(application.__file__)).with_name("splitline.tcss")

    def on_mount(self) -> None:
        self._next(0)

    def _next(self, number: int) -> None:
        def given(text: str | None) -> None:
            if text is not None:
                with open(os.environ["SPLITLINE_STORED"], "a", encoding="utf-8") as file:
                    file.write(f"{text}\n")
            self._next(number + 1)

        pad = PadScreen(f"Number {number} ", units=("mm",), judge=lambda text: (f"typed {text} ends", "ok"))
        self.push_screen(pad, given)


if __name__ == "__main__":
    app = Pads(Path(sys.argv[1]), served=True)
    watch(app, int(os.environ["SPLITLINE_SERVER_PID"]))
    app.run()
