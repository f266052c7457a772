"""Random keys and edits never end the program, and undo always leads back."""

from __future__ import annotations

import os
import random

import pytest

from splitline.ui.app import SplitlineApp
from splitline.ui.screens.confirm import ConfirmScreen
from tests.ui.conftest import settled

_MOVES = "up down left right tab shift+tab enter enter enter escape escape pageup pagedown home end delete backspace"
_OTHERS = (
    "ctrl+s ctrl+p ctrl+z ctrl+y ctrl+c ctrl+a ctrl+k ctrl+u ctrl+w f1 f2 f4 f5 f6 f9 f10 shift+up shift+down ctrl+q"
)
_KEYS = [
    *"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/?.,-+=<>[]() ",
    *_MOVES.split(),
    *_OTHERS.split(),
]


async def _press(app: SplitlineApp, presses: int, seed: int) -> None:
    rng = random.Random(seed)
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        for number in range(presses):
            if isinstance(app.screen, ConfirmScreen):  # the program's own confirmed quit is not taken
                await pilot.press("escape")
                continue
            key = rng.choice(_KEYS)
            await pilot.press(key)
            assert app.is_running, f"key {key} (number {number}) ended the program"
            assert app._exception is None
            if rng.random() < 0.01:
                await pilot.resize_terminal(*rng.choice([(60, 20), (80, 24), (100, 32), (160, 50), (200, 60)]))


@pytest.mark.parametrize("seed", [1, 2])
async def test_random_keys_do_not_end_the_program(
    app: SplitlineApp, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.chdir(app.target.parent)
    await _press(app, 120, seed)


@pytest.mark.long
@pytest.mark.skipif("SPLITLINE_LONG" not in os.environ, reason="10,000 keys: set SPLITLINE_LONG=1 to run")
async def test_ten_thousand_random_keys(app: SplitlineApp, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(app.target.parent)
    await _press(app, 10_000, 7)
