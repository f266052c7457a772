"""The tutorial, key by key, on the running program."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from splitline.plan.start import start_plan
from splitline.ui.app import SplitlineApp
from tests.docs.pictures import seen, settled
from tests.docs.reading import DOCS

NAMES = {"]": "right_square_bracket", "/": "slash"}
PARTS = re.compile(r"```keys\n(.*?)\n```|^Sees: `(.*?)`$", re.DOTALL | re.MULTILINE)


def keys(line: str) -> list[str]:
    """Keys of a block: a word is a key, or a text typed sign by sign."""
    known = {"enter", "escape", "ctrl+s", *NAMES}
    out: list[str] = []
    for word in shlex.split(line):
        out += [NAMES.get(word, word)] if word in known else list(word)
    return out


async def test_what_the_tutorial_presses_shows_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    path = tmp_path / "cover.toml"
    start_plan("barrel-head-cover", path)
    parts = PARTS.findall((DOCS / "tutorial.md").read_text("utf-8"))
    assert len(parts) >= 12
    app = SplitlineApp(path)
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        for pressed, wanted in parts:
            if pressed:
                await pilot.press(*(key if len(key) > 1 else {" ": "space"}.get(key, key) for key in keys(pressed)))
                await settled(pilot)
            else:
                assert wanted in " ".join(seen(app).split()), wanted
    assert 'title = "K-410 head cover"' in path.read_text("utf-8")
