"""A caution under a drawing stands whole, however low the window."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from splitline.ui.app import SplitlineApp
from splitline.ui.screens.view import views_of
from tests.ui.conftest import settled

PLANS = Path(__file__).parents[2] / "plans"


@pytest.mark.parametrize("cells", [(80, 20), (100, 28), (160, 46)])
async def test_the_caution_under_the_passes(tmp_path: Path, cells: tuple[int, int]) -> None:
    app = SplitlineApp(Path(shutil.copy(PLANS / "k410-closeup.toml", tmp_path)))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        plan: Any = app.screen
        index = plan.session.index_of("joint", "bundle-joint")
        passes = next(view for view in views_of(plan.session, "joint", index) if view.key == "p")
        rows = passes.draw(*cells, 0)
        said = " ".join("".join(text for text, _ in row).strip() for row in rows)
        assert "no reason for fewer" in said
        assert "rounds go on until no nut moves." in said
        assert len(rows) <= cells[1]
