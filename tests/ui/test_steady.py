"""A question is painted once, what stands is not painted again, and before it stands no touch is an answer to it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.geometry import Region
from textual.screen import Screen

from splitline.ui import app as application
from splitline.ui import steady
from splitline.ui.app import SplitlineApp
from splitline.ui.draw.rows import Row
from splitline.ui.work.body import Body
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.target import Target

TEN = [Choice(str(n), f"Answer {n}", "of this step") for n in range(10)]


class Painted(SplitlineApp):
    """Counts what would be sent to a tablet."""

    CSS_PATH = Path(str(application.__file__)).with_name("splitline.tcss")
    pictures = 0

    def _display(self, screen: Any, renderable: Any) -> None:
        self.pictures += renderable is not None
        super()._display(screen, renderable)


async def test_a_question_of_ten_boxes_is_one_picture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(steady, "PATIENCE", 60.0)
    app = Painted(tmp_path, served=True)
    app.glass.cell = (1.6, 3.0)
    async with app.run_test(size=(80, 56)) as pilot:
        await pilot.pause(0.05)
        app.pictures = 0
        app.push_screen(ChoiceScreen("More", TEN))
        await pilot.pause(0.1)
        assert len(app.screen.query(Target)) == 11
        # The whole of it, once more where the layout came with it (the link sends only its number), and the keys' box.
        assert app.pictures <= 3
        assert not app.screen.dark


async def test_what_is_touched_before_the_question_stands_answers_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(steady.Steady, "let_go", lambda self: None)
    monkeypatch.setattr(steady, "PATIENCE", 0.3)
    app = SplitlineApp(tmp_path, served=True)
    async with app.run_test(size=(80, 56)) as pilot:
        await pilot.pause(0.05)
        given: list[str | None] = []
        app.push_screen(ChoiceScreen("More", TEN), given.append)
        await pilot.pause(0.05)
        assert app.screen.dark
        app.glass.written += 10
        app.glass.seen = app.glass.written  # whatever was written meanwhile was not this question
        first = app.screen.query(Target).first()
        first.action_press()
        await pilot.pause(0.05)
        assert given == []
        await pilot.pause(0.4)  # it lets go by itself
        assert not app.screen.dark
        app.glass.written += 10
        app.glass.seen = app.glass.written
        first.action_press()
        await pilot.pause(0.05)
        assert given == ["0"]


async def test_of_the_instruction_only_rows_that_changed_are_painted(tmp_path: Path) -> None:
    painted: list[tuple[Region, ...]] = []

    class Watched(Body):
        def refresh(self, *regions: Region, **how: Any) -> Any:
            painted.append(regions)
            return super().refresh(*regions, **how)

    class Bare(SplitlineApp):
        CSS_PATH = Path(str(application.__file__)).with_name("splitline.tcss")

        def get_default_screen(self) -> Screen[Any]:
            return Screen()

        def on_mount(self) -> None:
            self.screen.mount(Watched())

    def rows(cells: int, high: int, word: str) -> list[Row]:
        return [((word if y == 3 else f"row {y}", ""),) for y in range(high)]

    app = Bare(tmp_path)
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        body = app.screen.query_one(Watched)
        body.show(lambda cells, high: rows(cells, high, "one"))
        await pilot.pause()
        painted.clear()
        body.show(lambda cells, high: rows(cells, high, "one"))
        assert painted == []
        body.show(lambda cells, high: rows(cells, high, "two"))
        assert painted == [(Region(0, 3, 38, 1),)]
