"""No collection in the middle of a tap; no picture sent that stands on the glass."""

from __future__ import annotations

import gc
import re
from pathlib import Path

import pytest
from textual.drivers import web_driver

from splitline.serve.driver import TabletDriver
from splitline.serve.tidy import EVERY, SETTLED, STILL, Tidy
from splitline.ui.app import SplitlineApp


def test_garbage_waits_for_a_still_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[str] = []
    monkeypatch.setattr(gc, "collect", lambda: done.append("collect"))
    monkeypatch.setattr(gc, "freeze", lambda: done.append("freeze"))
    now = [100.0]
    tidy = Tidy(lambda: now[0])
    assert not tidy.look()
    now[0] += SETTLED
    tidy.touched()
    now[0] += STILL / 2
    assert not tidy.look()  # somebody works
    now[0] += STILL
    assert tidy.look()
    assert done == ["collect", "freeze"]  # what stands by then is never walked again
    now[0] += EVERY / 2
    assert not tidy.look()
    now[0] += EVERY
    assert tidy.look()
    assert done == ["collect", "freeze", "collect"]


async def test_a_picture_that_stands_is_not_sent_again_but_numbered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gc, "set_threshold", lambda *of: None)  # of this test's own process
    monkeypatch.setattr(web_driver, "InputReader", object)  # a test run has no keys to read
    driver = TabletDriver(SplitlineApp(tmp_path, served=True), size=(80, 24))
    found: list[str] = []
    monkeypatch.setattr(driver, "_write", lambda data: found.append(data[5:].decode()))
    picture, other = "\x1b[1;1H" + "a" * 400, "\x1b[1;1H" + "b" * 400
    for data in (picture, "\x1b[?2026l", "\x1b[?2026h", picture, other, picture, "\a", "\a", picture):
        driver.write(data)
    assert [re.sub(r"\x1b\]7411;(\d+)\x07", r"<\1>", each) for each in found] == [
        f"{picture}<1>", "\x1b[?2026l<2>", "\x1b[?2026h<3>", "<4>", f"{other}<5>", f"{picture}<6>", "\a<7>", "\a<8>",
        f"{picture}<9>",
    ]  # fmt: skip
