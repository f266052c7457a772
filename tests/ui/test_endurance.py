"""Random keys and edits never end the program, and undo always leads back."""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from splitline.plan.edits import ABSENT, Move, same
from splitline.plan.fields import declared
from splitline.plan.model import KINDS
from splitline.ui.app import SplitlineApp
from splitline.ui.forms.fresh import copied, fresh_item
from splitline.ui.forms.typed import nudged
from splitline.ui.screens.confirm import ConfirmScreen
from splitline.ui.session import Session
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


def _random_edit(session: Session, rng: random.Random) -> None:
    """One change a person could make anywhere in the plan."""
    places = [path for path, _ in _leaves(session.draft.tree) if path[0] != "format"]
    path = rng.choice(places)
    draft = session.draft
    entry = next((path[:n] for n in range(len(path), 1, -1) if isinstance(path[n - 1], int)), None)
    kind = rng.choice(["put", "put", "text", "remove", "copy", "move", "add"])
    if kind == "put":
        field = declared(path)
        new = nudged(field, draft.get(path), rng.choice([-1, 1])) if field is not None else None
        session.put(path, new if new is not None else draft.get(path))
    elif kind == "text":
        session.put(path, rng.choice(["12,5 mm", "", '[x] "y" 油', 7, True, [1, 2]]))
    elif kind == "remove":
        session.put(path if rng.random() < 0.5 or entry is None else entry, ABSENT)
    elif kind == "copy" and entry is not None:
        place = (*entry[:-1], int(entry[-1]) + 1)
        session.change((draft.insert_for(place, copied(entry, draft.get(entry), draft.tree)),), place, "copy")
    elif kind == "move" and entry is not None:
        count = len(draft.get(entry[:-1]))
        session.change((Move(entry[:-1], int(entry[-1]), rng.randrange(count)),), entry, "move")
    else:
        name = rng.choice(list(KINDS))
        count = len(draft.tree.get(name, []))
        session.change((draft.insert_for((name, count), fresh_item(name, draft.tree)),), (name, count), "add")


def _leaves(node: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], object]]:
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for step, child in items:
        if isinstance(child, dict) or (isinstance(child, list) and child and isinstance(child[0], dict)):
            yield from _leaves(child, (*path, step))
        else:
            yield (*path, step), child


@pytest.mark.parametrize("seed", [3, 4])
def test_two_hundred_random_edits_undone_end_where_they_began(plan_file: Path, seed: int) -> None:
    rng = random.Random(seed)
    session = Session.open(plan_file)
    before = session.draft.tree
    for _ in range(200):
        _random_edit(session, rng)
        assert session.draft.problems is not None  # whatever was typed, the plan can be looked at
    after = session.draft.tree
    while session.undo():
        pass
    assert same(session.draft.tree, before)
    assert not session.changed
    while session.redo():
        pass
    assert same(session.draft.tree, after)
