"""A check answers on screen; taking an answer is one edit, and one undo."""

from __future__ import annotations

import shutil
from pathlib import Path

from splitline.ui.app import SplitlineApp
from splitline.ui.screens.what_if import WhatIfScreen
from splitline.ui.widgets.lines import LineView
from tests.ui.conftest import opened, settled

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


async def test_an_answer_is_taken_and_undone(tmp_path: Path) -> None:
    path = Path(shutil.copy(DEMO, tmp_path))
    app = SplitlineApp(path)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.select("fit", 0)
        await settled(pilot)
        await pilot.press("h")
        await app.workers.wait_for_complete()
        await settled(pilot)
        sheet = app.screen
        assert isinstance(sheet, WhatIfScreen)
        assert [a.text[:10] for a in sheet._answers if a.style == "title"][:2] == ["What moves", "What would"]
        view = sheet.query_one("#what-if", LineView)
        place = next(n for n, a in enumerate(sheet._answers) if a.take is not None)
        path_taken, value = sheet._answers[place].take or ((), None)
        view.put_cursor(("take", place))
        await pilot.press("enter")
        await settled(pilot)
        assert app.screen is screen
        assert screen.session.draft.get(("fit", 0, *path_taken)) == value
        await pilot.press("u")
        await settled(pilot)
        assert not screen.session.changed
