"""What is stored is what stood on the glass when Enter was touched, whatever the link does."""

from __future__ import annotations

import asyncio
import json
import random
import re
from pathlib import Path

import pytest

from tests.serve.conftest import Start
from tests.serve.slow_link import SlowLink, slow_link
from tests.serve.tablet import CHROMIUM, Tablet, tablet
from tests.serve.test_link import LINK, until

pytestmark = [
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed: the browser tests are skipped"),
]
SHOWN = re.compile(r"typed (\S+ mm) ends")
# What a finger sees is kept in the page, at the very moment of its touch.
EYE = """document.addEventListener('pointerdown', () => {
  const buffer = splitlineTerminal.terminal.buffer.active;
  window.atTouch = [...Array(splitlineTerminal.terminal.rows).keys()]
    .map((y) => buffer.getLine(buffer.viewportY + y).translateToString()).join('\\n');
}, { capture: true });"""
ALIVE = "splitlineLink.state() === 'alive'"


class Fingers:
    """Taps on the pad by the words on its boxes."""

    def __init__(self, page: Tablet, told: Path) -> None:
        self._page = page
        self._told = told
        self._places: dict[str, tuple[float, float]] = {}

    async def find(self) -> None:
        if not self._told.exists():
            return
        told = json.loads(self._told.read_text())
        columns, rows = await self._page.run("[splitlineTerminal.terminal.cols, splitlineTerminal.terminal.rows]")
        if told["size"] == [columns, rows]:
            for word, (x, y, wide, high) in told["keys"].items():
                self._places[word] = await self._page.cell(x + wide // 2, y + high // 2, columns, rows)

    def ready(self) -> bool:
        return set("0123456789.⌫") | {"Enter"} <= set(self._places)

    async def tap(self, word: str) -> None:
        await self._page.tap(*self._places[word])


async def enter(page: Tablet, fingers: Fingers, link: SlowLink, stored: Path, rng: random.Random, stalls: bool) -> None:
    """One number typed blind through a bad link, corrected until it stands there, stored."""
    before = stored.read_text().splitlines() if stored.exists() else []
    wanted = f"{rng.randint(0, 99)}.{rng.randint(0, 99):02d}"
    stall = asyncio.create_task(link.stalled(rng.uniform(0, 3))) if stalls else None
    for sign in wanted:
        await fingers.tap(sign)
        await asyncio.sleep(rng.uniform(0.03, 0.15))
    for _ in range(40):
        await fingers.tap("Enter")
        seen = SHOWN.search(await page.run("window.atTouch"))
        if stall is not None:
            await stall
        await until(lambda: page.run(ALIVE), 20)
        await asyncio.sleep(0.25)
        after = stored.read_text().splitlines() if stored.exists() else []
        if len(after) > len(before):
            assert len(after) == len(before) + 1
            assert seen is not None
            assert after[-1] == seen.group(1), "stored is not what was on the glass"
            return
        # asked: make it right by eye, slowly
        for _ in range(14):
            await fingers.tap("⌫")
            await asyncio.sleep(0.02)
        for sign in wanted:
            await fingers.tap(sign)
            await asyncio.sleep(0.02)
        await asyncio.sleep(0.6)
    raise AssertionError("never stored")


async def entries(
    start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, count: int, every: int, seed: int = 20
) -> None:
    stored = tmp_path / "stored"
    monkeypatch.setenv("SPLITLINE_STORED", str(stored))
    _, address = start(stub="pads")
    rng = random.Random(seed)
    async with slow_link(int(re.search(r":(\d+)/", address).group(1)), 0.02) as (link, beside), tablet() as page:  # type: ignore[union-attr]
        await page.open(beside + LINK, 800, 1280)
        await page.wait_for("Number 0 ")
        await page.run(EYE)
        fingers = Fingers(page, stored.with_suffix(".places"))

        async def found() -> bool:
            await fingers.find()
            return fingers.ready()

        await until(found, 20)
        await until(lambda: page.run(ALIVE), 20)
        for number in range(count):
            await enter(page, fingers, link, stored, rng, stalls=number % every == 0)
    assert len(stored.read_text().splitlines()) == count
    print(f"{count} numbers, 0 wrong")


async def test_numbers_typed_through_a_bad_link(start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    await entries(start, tmp_path, monkeypatch, 8, every=3)


@pytest.mark.long
@pytest.mark.parametrize("part", range(20))
async def test_two_thousand_numbers_through_a_bad_link(
    start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, part: int
) -> None:
    """Twenty parts of a hundred numbers, a few minutes each."""
    await entries(start, tmp_path, monkeypatch, 100, every=2, seed=2000 + part)
