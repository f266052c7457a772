"""Sizes on the glass of everything a fitter touches and reads. ``python -m tests.ui.glasses`` prints the table.

The four glasses: CSS pixels, pixels per mm. Letters as the page chooses them: the largest that leave 80 columns and 30
rows, 13 px at least; the shipped font is 0.602 em wide and 1.164 em high, its capitals 0.73 em.
"""

from __future__ import annotations

import asyncio
import math
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.record.stops import Stop
from splitline.ui.app import SplitlineApp
from splitline.ui.draw.digits import unit_rows
from splitline.ui.draw.letters import ROWS, letters
from splitline.ui.draw.rows import width as row_cells
from splitline.ui.glass import PX_PER_MM, Sized
from splitline.ui.listing import Entry
from splitline.ui.paper.rows import Look
from splitline.ui.paper.screen import PaperScreen
from splitline.ui.paper.sheets_of import offers, sheet_of
from splitline.ui.paper.table import Filled
from splitline.ui.record_screen import RecordScreen
from splitline.ui.widgets.bar import Bar
from splitline.ui.widgets.lines import LineView
from splitline.ui.work.asking import Question, Words
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.danger import Alarm, DangerScreen
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.reasons import STOPPED
from splitline.ui.work.resume import ResumeScreen
from splitline.ui.work.steps import StepsScreen
from splitline.ui.work.target import Target
from splitline.ui.work.task import Answer, Figure, Task
from splitline.ui.work.text import TextScreen

DEMOS = Path(__file__).parents[2] / "plans"
BAR = 102  # px of the key bar


@dataclass(frozen=True)
class Glass:
    name: str
    width: int
    height: int
    px_per_mm: float
    least: tuple[int, int, int] = (80, 30, 26)  # columns and rows the letters leave, and the largest of them in px

    def to_read(self) -> Glass:
        """With the letters of a page that is only read."""
        return replace(self, least=(50, 16, 40))

    def _cell(self, size: int) -> tuple[float, float]:
        return math.floor(0.602 * size * 2) / 2, math.ceil(1.164 * size * 2) / 2

    def _room(self, size: int) -> tuple[int, int]:
        wide, high = self._cell(size)
        return int(self.width / wide), int((self.height - BAR) / high)

    @property
    def size(self) -> int:
        size = 13
        columns, rows, most = self.least
        while size < most and self._room(size + 1)[0] >= columns and self._room(size + 1)[1] >= rows:
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
_WORK = (("done", "Done", "enter"), ("reading", "Reading", "r"), ("wrong", "Correction", "w"), ("stop", "Stop work", "x"),
         ("danger", "DANGER", "d"), ("more", "More", "m"))  # fmt: skip
_ANSWERS = tuple(Answer(*each) for each in _WORK)
TASKS = {
    "studs": Task("bolts", "a", "Discharge head cover", "pass 2 of 4",
                  figures=(Figure("STUDS", "12+24"), Figure("set pump to", "290", "bar")),
                  lines=(("then 1 + 13", ""),), answers=_ANSWERS, bolts=(12, 24)),
    "stopped": Task("stopped", "b", "Discharge head cover", "STOPPED",
                    lines=(("The work is stopped.", "fails"), ("time limit over: Compound open time", "strong")),
                    answers=(Answer("accept", "Accept", "a"), *_ANSWERS[2:])),
    "hold point": Task("sign", "c", "Discharge head studs",
                       lines=(("H HOLD POINT", "near"), ("To be signed by: lead", "strong")),
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
                "Defer",
                "Tool, parts",
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
    "steps": lambda: StepsScreen(
        [
            StepState(StepPlan(f"s{n}", "Tighten the discharge head studs to the second pass"), "open")
            for n in range(40)
        ],
        "s3",
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


def _lists(app: Any, glass: Glass) -> tuple[list[tuple[float, float]], list[str]]:
    """Sizes of the entries of lists in sight and of the bars that scroll them; lines cut."""
    sizes, cut = [], []
    for view in app.screen.query(LineView):
        if not isinstance(view, Words) and view.display:
            targets = [line.target for line in view.lines if line.target is not None]
            for target in targets:
                own = sum(target in (line.target, line.belongs) for line in view.lines)
                sizes.append(glass.mm(view.content_width, own))
            bar = view.styles.scrollbar_size_vertical
            if len(view.lines) > view.size.height:
                sizes.append(glass.mm(bar, view.size.height))
            cut += [text for line in view.lines if (text := _told(line.row, view.content_width))]
    for bar in app.screen.query(Bar):
        at: dict[str, int] = {}
        for piece in bar._laid_out():
            at[piece.action] = at.get(piece.action, 0) + len(piece.text)
        sizes += [glass.mm(cells, bar.size.height) for action, cells in at.items() if action]
    return sizes, cut


def _told(row: Any, cells: int) -> str:
    """The text of a row, where some of it does not stand there."""
    text = "".join(text for text, _ in row)
    return text if row_cells(text) > cells or "…" in text else ""


def _measured(app: Any, glass: Glass, name: str, task: Task | None) -> Measured:
    found = [target for target in app.screen.query(Target) if target.display]
    sizes = [glass.mm(target.size.width, target.size.height) for target in found]
    more, lines = _lists(app, glass)
    sizes += more
    whole = app.screen.region
    outside = tuple(t.label for t in found if not whole.contains_region(t.region) or not t.region)
    capitals = 0.0
    if task is not None:
        shown = ["".join(text for text, _ in row) for row in app.work.query_one("#body")._rows]
        blocks = [row for row in shown if any(sign in row for sign in "█▀▄▌▐")]
        rows = 5 if task.kind == "bolts" else ROWS * 5 / 6
        capitals = glass.mm(0, rows)[1] if len(blocks) >= 3 else glass.size * 0.73 / glass.px_per_mm
    for alarm in app.screen.query(Alarm):
        loud = [row for row in alarm.rows(alarm.size.width, alarm.size.height) if any(sign in row for sign in "▀▄▌▐")]
        capitals = glass.mm(0, ROWS * 5 / 6)[1] if len(loud) >= 3 else glass.size * 0.73 / glass.px_per_mm
    if isinstance(app.screen, PadScreen):  # its limits, its unit, the labels of its keys: the smallest of them
        said = ["".join(text for text, _ in line.row) for line in app.screen.query_one("#typed", LineView).lines]
        cells = app.screen.query_one("#typed", LineView).content_width
        limits = letters(app.screen._lines[0][0], cells, 3)
        unit = [row.strip() for row in unit_rows("mm", 40)]
        drawn = bool(limits) and set(limits) <= set(said) and all(any(row in line for line in said) for row in unit)
        drawn = drawn and all(t._large(t.label, t.size.width - 2, t.size.height - 2) for t in found)
        capitals = glass.mm(0, ROWS * 5 / 6)[1] if drawn else glass.size * 0.73 / glass.px_per_mm
    if isinstance(app.screen, RecordScreen):
        capitals = glass.size * 0.73 / glass.px_per_mm
    high, wide = min(high for _, high in sizes), min(wide for wide, _ in sizes)
    cut = (*(target.label for target in found if _cut(target)), *lines)
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
            app.push_screen(RecordScreen(app.work._path))
            await pilot.pause(0.1)
            large = glass.to_read()
            await _resized(app, pilot, large)
            for page in ("summary", "joint head", "items", "deviations", "entries"):
                app.screen.page = page
                app.screen._show(keep=False)
                await pilot.pause()
                found.append(_measured(app, large, f"record {page}", None))
            app.pop_screen()
            await _resized(app, pilot, glass)
            await pilot.pause()
            at.person = "Ines"
            paper = PaperScreen(app.work._path, at)
            app.push_screen(paper)
            await pilot.pause(0.05)
            for key in [offer.key for offer in offers(at.refresh())]:
                found.append(await _paper(app, pilot, glass, paper, key))
            app.pop_screen()
            found.append(await _danger(app, pilot, glass))
    for glass in glasses:
        plans = SplitlineApp(DEMOS, served=True)
        plans.glass.cell = (glass.cell[0] / PX_PER_MM, glass.cell[1] / PX_PER_MM)
        async with plans.run_test(size=glass.cells) as pilot:
            await pilot.pause(0.05)
            counts = (("fails", 1), ("missing", 12), ("ok", 104))
            plans.screen.entries = {
                each: Entry(
                    each,
                    "Recycle machine close-up after the second inspection",
                    "B",
                    "fails",
                    counts,
                    0,
                    "3 of 41 steps",
                )
                for each in plans.screen.entries
            }
            plans.screen.view.rebuild()
            found.append(_measured(plans, glass, "plans", None))
    return found


async def _resized(app: Any, pilot: Any, glass: Glass) -> None:
    """The page has chosen other letters."""
    app.glass.cell = (glass.cell[0] / PX_PER_MM, glass.cell[1] / PX_PER_MM)
    await pilot.resize_terminal(*glass.cells)
    app.post_message(Sized())
    await pilot.pause(0.05)


async def _paper(app: Any, pilot: Any, glass: Glass, paper: PaperScreen, key: str) -> Measured:
    """The table of one sheet, as it stands before anything is filled in."""
    while app.screen is not paper:
        app.pop_screen()
        await pilot.pause()
    sheet = sheet_of(paper.desk.refresh(), key)
    assert sheet is not None
    paper.sheet, paper.filled = sheet, Filled(paper.desk.clock(), "Ines")
    paper.look = Look(next(iter(sheet.columns), ""), "value", sheet.rows[0].key)
    paper._show()
    await pilot.pause()
    return _measured(app, glass, f"paper {key}", None)


async def _danger(app: Any, pilot: Any, glass: Glass) -> Measured:
    """The red screen."""
    stop = Stop("danger, entry 1", "DANGER: a hose of pump 2 has burst at the discharge head", "head", 1)
    now = replace(app.work.now, stops=(stop,))
    app.work.desk.task = lambda: (now, TASKS["stopped"])
    await app.work.update()
    await pilot.pause(0.05)
    assert isinstance(app.screen, DangerScreen)
    found = _measured(app, glass, "danger", None)
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
