"""Sizes on the glass of everything a fitter touches and reads. ``python -m tests.ui.glasses`` prints the table.

The four glasses: CSS pixels, pixels per mm. Letters as the page chooses them: the largest that leave 80 columns and 30
rows, 13 px at least; the shipped font is 0.602 em wide and 1.164 em high, its capitals 0.73 em.
"""

from __future__ import annotations

import asyncio
import math
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from splitline.ui.draw.letters import ROWS
from splitline.ui.glass import PX_PER_MM
from splitline.ui.work.asking import Question
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.reasons import STOPPED
from splitline.ui.work.resume import ResumeScreen
from splitline.ui.work.target import Target
from splitline.ui.work.task import Answer, Figure, Task
from splitline.ui.work.text import TextScreen

BAR = 102  # px of the key bar


@dataclass(frozen=True)
class Glass:
    name: str
    width: int
    height: int
    px_per_mm: float

    def _cell(self, size: int) -> tuple[float, float]:
        return math.floor(0.602 * size * 2) / 2, math.ceil(1.164 * size * 2) / 2

    def _room(self, size: int) -> tuple[int, int]:
        wide, high = self._cell(size)
        return int(self.width / wide), int((self.height - BAR) / high)

    @property
    def size(self) -> int:
        size = 13
        while size < 26 and self._room(size + 1)[0] >= 80 and self._room(size + 1)[1] >= 30:
            size += 1
        return size

    @property
    def cells(self) -> tuple[int, int]:
        return self._room(self.size)

    @property
    def cell(self) -> tuple[float, float]:
        return self._cell(self.size)

    def mm(self, cells: float, rows: float) -> tuple[float, float]:
        return cells * self.cell[0] / self.px_per_mm, rows * self.cell[1] / self.px_per_mm


GLASSES = (
    Glass("10-inch across", 1280, 800, 5.9),
    Glass("10-inch upright", 800, 1280, 5.9),
    Glass("8-inch upright", 605, 963, 5.6),
    Glass("phone upright", 390, 844, 6.0),
)
_WORK = (("done", "Done", "enter"), ("reading", "Reading", "r"), ("wrong", "Wrong entry", "w"), ("stop", "Stop work", "x"),
         ("danger", "DANGER", "d"), ("more", "More", "m"))  # fmt: skip
_ANSWERS = tuple(Answer(*each) for each in _WORK)
TASKS = {
    "studs": Task("bolts", "a", "Discharge head cover", "pass 2 of 4",
                  figures=(Figure("STUDS", "12+24"), Figure("set", "290", "bar")),
                  lines=(("then 1 + 13", ""),), answers=_ANSWERS, bolts=(12, 24)),
    "stopped": Task("stopped", "b", "Discharge head cover", "STOPPED",
                    lines=(("The work is stopped.", "fails"), ("time limit over: Compound open time", "strong")),
                    answers=(Answer("accept", "Accept", "a"), *_ANSWERS[2:])),
    "hold point": Task("sign", "c", "Discharge head studs",
                       lines=(("⚑ HOLD POINT", "near"), ("To be signed by: lead", "strong")),
                       answers=(Answer("sign", "Sign", "s"), *_ANSWERS[2:])),
    "step": Task("plain", "d", "Lay the bead", lines=(("Lay the bead", "strong"),), answers=_ANSWERS),
    "mounting": Task("mounting", "e", "Thrust collar", "step 3 of 9", lines=(("Stop the pump. Fit and lock the nut.", "strong"),),
                     answers=_ANSWERS),
}  # fmt: skip
ASKED: dict[str, Callable[[], Question]] = {
    "pad": lambda: PadScreen("Gap at 3 o'clock", (("accepted up to 0.05 mm", "strong"),), ("mm", "in")),
    "names": lambda: ChoiceScreen("Who works here?", [Choice(n, n) for n in ("Ines", "Tomas", "Aiko", "Another name")]),
    "reasons": lambda: ChoiceScreen("Stop work", [Choice(why, why) for why in STOPPED]),
    "more": lambda: ChoiceScreen(
        "More",
        [
            Choice(n, n, "of this step")
            for n in (
                "Set aside",
                "Other tool",
                "Reading",
                "From paper",
                "Steps",
                "Note",
                "Record",
                "Change name",
                "Help",
                "Leave",
            )
        ],
    ),
    "sure": lambda: ChoiceScreen(
        "studs 12 + 24: pulled so soon?", [Choice("yes", "Pulled")], (("Back: nothing is stored.", ""),), 1
    ),
    "words": lambda: TextScreen("For whoever goes on"),
    "resume": lambda: ResumeScreen("Close-up", (("last stored: studs 12 + 24", "strong"),)),
}


@dataclass(frozen=True)
class Measured:
    """One screen on one glass. ``capitals`` in mm of its largest letters or figures; 0 where it has none."""

    glass: str
    screen: str
    targets: int
    high: float
    wide: float
    cut: tuple[str, ...]
    outside: tuple[str, ...]
    capitals: float


def _cut(target: Target) -> bool:
    rows = target._middle(target.size.width - 4, target.size.height - 2)
    return any("…" in text for row in rows for text, _ in row)


def _measured(app: Any, glass: Glass, name: str, task: Task | None) -> Measured:
    found = [target for target in app.screen.query(Target) if target.display]
    sizes = [glass.mm(target.size.width, target.size.height) for target in found]
    whole = app.screen.region
    outside = tuple(t.label for t in found if not whole.contains_region(t.region) or not t.region)
    capitals = 0.0
    if task is not None:
        shown = ["".join(text for text, _ in row) for row in app.work.query_one("#body")._rows]
        blocks = [row for row in shown if any(sign in row for sign in "█▀▄▌▐")]
        rows = 5 if task.kind == "bolts" else ROWS * 5 / 6
        capitals = glass.mm(0, rows)[1] if len(blocks) >= 3 else glass.size * 0.73 / glass.px_per_mm
    high, wide = min(high for _, high in sizes), min(wide for wide, _ in sizes)
    cut = tuple(target.label for target in found if _cut(target))
    return Measured(glass.name, name, len(found), high, wide, cut, outside, capitals)


async def measure(folder: Path, glasses: tuple[Glass, ...] = GLASSES) -> list[Measured]:
    """Every screen on every glass."""
    from tests.ui.test_work_desk import started
    from tests.ui.test_work_screen import app_for

    at = started(folder)
    at.leave_seat()
    found = []
    for glass in glasses:
        app = app_for(at.path)
        app.glass.cell = (glass.cell[0] / PX_PER_MM, glass.cell[1] / PX_PER_MM)
        async with app.run_test(size=glass.cells) as pilot:
            await pilot.pause(0.2)
            while app.screen is not app.work:
                app.screen.dismiss("Ines" if isinstance(app.screen, ChoiceScreen) else "go")
                await pilot.pause(0.1)
            for name, task in TASKS.items():
                now = app.work.now
                app.work.desk.task = lambda now=now, task=task: (now, task)  # type: ignore[method-assign]
                await app.work.update()
                await pilot.pause()
                found.append(_measured(app, glass, name, task))
            for name, question in ASKED.items():
                app.push_screen(question())
                await pilot.pause(0.05)
                found.append(_measured(app, glass, name, None))
                app.pop_screen()
                await pilot.pause()
    return found


def table(found: list[Measured]) -> str:
    """The table of the script."""
    lines = [
        f"{'glass':<16} {'screen':<11} {'targets':>7} {'high mm':>8} {'wide mm':>8} {'capitals mm':>11}  cut, or off the glass"
    ]
    for each in found:
        capitals = f"{each.capitals:.1f}" if each.capitals else ""
        said = ", ".join((*each.cut, *each.outside)) or "none"
        lines.append(
            f"{each.glass:<16} {each.screen:<11} {each.targets:>7} {each.high:>8.1f} {each.wide:>8.1f} {capitals:>11}  {said}"
        )
    return "\n".join(lines)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        print(table(asyncio.run(measure(Path(place)))))
