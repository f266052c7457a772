"""What the guides say of the screens: a missing check leads to its field; the drawings of a joint; pin and compare."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from splitline.ui.app import SplitlineApp
from splitline.ui.draw.picture import without_links
from splitline.ui.widgets.lines import LineView
from tests.docs.pictures import PICTURES, seen, settled, to_item
from tests.docs.reading import DOCS, ROOT


@pytest.fixture(autouse=True)
def own_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.delenv("NO_COLOR", raising=False)


async def test_a_missing_check_leads_to_its_field(tmp_path: Path) -> None:
    path = Path(shutil.copy(ROOT / "plans" / "wrong-on-purpose.toml", tmp_path))
    app = SplitlineApp(path)
    async with app.run_test(size=(100, 32)) as pilot:
        await to_item(pilot, "joint cover")
        plan: Any = app.screen
        plan.facts.focus()
        wanted = next(each.target for each in plan.facts.lines if _is_check(each.target, "torque"))
        plan.facts.put_cursor(wanted)
        await pilot.press("enter")
        await settled(pilot)
        why = app.screen.query_one("#why", LineView)
        assert "Why" in seen(app), seen(app)
        why.put_cursor(next(line.target for line in why.lines if line.target == ("need", "friction.lubricant")))
        await pilot.press("enter")
        await settled(pilot)
        assert app.screen is plan
        assert "needed for torque at target" in seen(app)


def _is_check(target: Any, key: str) -> bool:
    return isinstance(target, tuple) and target[:2] == ("check", key)


async def test_the_drawings_a_guide_names(tmp_path: Path) -> None:
    app = SplitlineApp(Path(shutil.copy(ROOT / "plans" / "k410-closeup.toml", tmp_path)))
    async with app.run_test(size=(132, 40)) as pilot:
        await to_item(pilot, "joint discharge-head")
        await pilot.press("v")
        await settled(pilot)
        text = seen(app)
        for title in ("map", "passes", "alternatives", "section", "diagram"):
            assert title in text
            assert title in (DOCS / "planner.md").read_text("utf-8")


@pytest.mark.parametrize("name", PICTURES)
def test_pictures_are_there_without_links(name: str) -> None:
    svg = (DOCS / f"{name}.svg").read_text("utf-8")
    assert svg.startswith("<svg")
    assert "http" not in svg.replace("http://www.w3.org/", "")
    assert "@font-face" not in svg
    assert without_links(svg) == svg
    assert {words.strip() for words in re.findall(r"font-family: ([^;]*);", svg)} == {"monospace"}
