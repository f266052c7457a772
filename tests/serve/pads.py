"""A program to serve in tests: number pads, one after the other; what each gives stands behind its number in SPLITLINE_STORED.

Where the keys stand is told in SPLITLINE_STORED.places, since large digits are drawn and are no text.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

from splitline.serve.child import watch
from splitline.ui import app as application
from splitline.ui.app import SplitlineApp
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.target import Target


class Pads(SplitlineApp):
    """Ask for a number for ever. What is large is drawn: lines that stay small tell question and answer as plain text."""

    CSS_PATH = Path(str(application.__file__)).with_name("splitline.tcss")

    def on_mount(self) -> None:
        self._next(0)
        self.set_interval(0.2, self._tell_places)

    def _tell_places(self) -> None:
        keys = {each.label: [*each.region] for each in self.screen.query(Target) if each.region.area}
        stored = Path(os.environ["SPLITLINE_STORED"])
        beside = stored.with_suffix(".new")
        beside.write_text(json.dumps({"size": [*self.size], "keys": keys}))
        beside.replace(stored.with_suffix(".places"))

    def _next(self, number: int) -> None:
        def given(text: str | None) -> None:
            if text is not None:
                with open(os.environ["SPLITLINE_STORED"], "a", encoding="utf-8") as file:
                    file.write(f"{number} {text}\n")
            self._next(number + 1)

        pad = PadScreen(
            "Number", ((f"Number {number} ", "dim"),), units=("mm",), judge=lambda text: (f"typed {text} ends", "ok")
        )
        self.push_screen(pad, given)


if __name__ == "__main__":
    app = Pads(Path(sys.argv[1]), served=True)
    watch(app, int(os.environ["SPLITLINE_SERVER_PID"]))
    app.run()
