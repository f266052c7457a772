"""Nothing a person typed goes without being asked: long texts, comments after a save, work that cannot be kept."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from textual.widgets import TextArea

from splitline.plan import recovery
from splitline.plan.save import save
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.long_text import LongTextScreen
from splitline.ui.session import Session
from tests.ui.conftest import PLAN
from tests.ui.test_plan_screen import opened

NOTES = ("plan", "notes")


async def test_esc_and_a_tap_beside_ask_before_a_long_text_goes(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.fields.edit_at(NOTES)
        await pilot.pause()
        sheet = app.screen
        assert isinstance(sheet, LongTextScreen)
        sheet.query_one(TextArea).insert("Cold wind from the sea door.")
        await pilot.pause()
        sheet.tapped_beside()
        sheet.tapped_beside()
        await pilot.pause()
        assert app.screen is sheet
        sheet.query_one(TextArea).insert(" Close it.")
        await pilot.pause()
        sheet.keep_now()
        kept = recovery.found(screen.path)
        assert kept is not None
        assert "Cold wind from the sea door. Close it." in kept.text
        assert not screen.has_unsaved
        await pilot.press("escape")
        assert app.screen is sheet
        await pilot.press("escape")
        assert app.screen is screen
        assert screen.session.draft.get(NOTES) is None
        assert recovery.found(screen.path) is None


def test_an_undo_after_a_save_brings_the_comments_back(tmp_path: Path) -> None:
    path = tmp_path / "cover.toml"
    path.write_text(PLAN, "utf-8")
    session = Session.open(path)
    session.put(("plan", "revision"), "B")
    session.rebase(save(session.draft))
    session.change((session.draft.edit_for(("joint",), []),), ("joint",), "all joints gone")
    session.rebase(save(session.draft))
    assert "# the cover" not in path.read_text("utf-8") or "# measured" not in path.read_text("utf-8")
    session.rebase(save(session.draft))
    session.put(("plan", "tag"), "K-1")
    session.rebase(save(session.draft))
    session.undo()
    session.undo()
    session.rebase(save(session.draft))
    text = path.read_text("utf-8")
    assert "# the cover" in text
    assert "# measured" in text
    assert 'revision = "B"' in text
    session.undo()
    session.rebase(save(session.draft))
    assert path.read_text("utf-8") == PLAN


def test_work_that_cannot_be_kept_is_told_with_the_reason(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "cover.toml"
    path.write_text(PLAN, "utf-8")
    session = Session.open(path)
    session.put(("plan", "revision"), "B")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(recovery, "_write", full)
        session.keep_safe()
        assert session.unkept == "No space left on device"
    session.keep_safe()
    assert session.unkept == ""
    assert recovery.found(path) is not None


async def test_the_screen_says_it(app: SplitlineApp, monkeypatch: pytest.MonkeyPatch) -> None:
    def closed(*_: object) -> None:
        raise OSError(errno.EROFS, "Read-only file system")

    said: list[str] = []
    monkeypatch.setattr(recovery, "_write", closed)
    monkeypatch.setattr(SplitlineApp, "say", lambda _, text, **__: said.append(text))
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.changes.put(("plan", "revision"), "C")
        for _ in range(50):
            await pilot.pause(0.02)
            if said:
                break
        assert any("NOT kept" in text and "Read-only" in text for text in said)
