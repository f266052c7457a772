"""How far the work is, on the list of plans and in the order of work; and what the screens remember."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from splitline.record.entry import Signed
from splitline.record.journal import Journal
from splitline.ui import memory
from splitline.ui.app import SplitlineApp
from splitline.ui.listing import entry_of
from tests.ui.conftest import opened, text_of


def sign(plan: Path, act: str, step: str, role: str = "") -> None:
    now = dt.datetime.now(dt.UTC)
    entry = Signed(
        uid=f"{act}-{step}",
        done_at=now,
        done_by="A. Fitter",
        entered_at=now,
        entered_by="A. Fitter",
        act=act,
        step=step,
        role=role,
    )
    Journal(plan).append(entry)


async def test_steps_done_are_marked_in_the_order_of_work(app: SplitlineApp, plan_file: Path) -> None:
    assert entry_of(plan_file).progress == "not begun"
    sign(plan_file, "done", "lift")
    sign(plan_file, "hold", "lift", "lifting supervisor")
    assert entry_of(plan_file).progress == "1 of 2 steps done"
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        lines = text_of(screen, "contents").splitlines()
        assert any(line.startswith("✓  1") for line in lines)
        assert any(line.startswith("▸  2") for line in lines)


def test_a_record_that_cannot_be_read_is_said(plan_file: Path) -> None:
    record = plan_file.with_name("cover.record.toml")
    record.mkdir()
    assert entry_of(plan_file).progress in ("not begun", "record cannot be read")
    record.rmdir()
    record.write_bytes(b"\xff\xfe junk")
    entry = entry_of(plan_file)
    assert entry.title.startswith("Head cover")
    assert entry.progress


def test_recent_plans_are_remembered_newest_first(plan_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    other = plan_file.with_name("other.toml")
    other.write_text(plan_file.read_text("utf-8"), "utf-8")
    memory.opened(plan_file)
    memory.opened(other)
    memory.opened(plan_file)
    assert memory.recent() == (plan_file.resolve(), other.resolve())
    other.unlink()
    assert memory.recent() == (plan_file.resolve(),)
    memory.chose_theme("splitline-paper")
    assert memory.theme() == "splitline-paper"
    monkeypatch.setenv("XDG_STATE_HOME", "/proc/nowhere")
    memory.opened(plan_file)  # losing it loses nothing
    assert memory.recent() == ()
