"""What is stored is what stood on the glass when Enter was touched, whatever the link does."""

from __future__ import annotations

import asyncio
import json
import random
import re
from collections import Counter
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
NUMBER = re.compile(r"Number (\d+) ")
Entry = tuple[int, str]  # number of the question, its answer
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


def stored_in(stored: Path) -> list[Entry]:
    """Every question answered so far with its answer."""
    lines = stored.read_text().splitlines() if stored.exists() else []
    return [(int(number), text) for number, _, text in (line.partition(" ") for line in lines)]


def wrong(found: list[Entry], touched: list[Entry]) -> list[Entry]:
    """Answers that did not stand under that question on the glass when an Enter was touched; an Enter answers once."""
    left = Counter(touched)
    out = [each for place, each in enumerate(found) if each[0] != place]  # each question once, in their order
    for each in found:
        if left[each] == 0:
            out.append(each)
        left[each] -= 1
    return out


def test_the_oracle_finds_an_answer_that_was_not_on_the_glass() -> None:
    touched = [(0, "1.35 mm"), (0, "1.35 mm"), (1, "0.15 mm"), (2, "5.13 mm")]
    assert wrong([(0, "1.35 mm"), (1, "0.15 mm")], touched) == []
    assert wrong([(0, "1.35 mm"), (1, "0 mm")], touched) == [(1, "0 mm")]
    assert wrong([(0, "1.35 mm"), (1, "1.35 mm")], touched) == [(1, "1.35 mm")]  # of the question before
    assert wrong([(0, "1.35 mm"), (0, "1.35 mm")], touched) == [(0, "1.35 mm")]
    assert wrong([(0, "1.35 mm"), (2, "5.13 mm")], touched) == [(2, "5.13 mm")]  # question 1 was never answered


async def enter(
    page: Tablet,
    fingers: Fingers,
    link: SlowLink,
    stored: Path,
    rng: random.Random,
    stalls: bool,
    touched: list[Entry],
) -> None:
    """One number typed blind through a bad link, corrected until it stands there, stored.

    A touch may be on its way for longer than a hand waits: then the number is stored while it is being corrected.
    """
    before = len(stored_in(stored))
    wanted = f"{rng.randint(0, 99)}.{rng.randint(0, 99):02d}"
    stall = asyncio.create_task(link.stalled(rng.uniform(0, 3))) if stalls else None
    for sign in wanted:
        await fingers.tap(sign)
        await asyncio.sleep(rng.uniform(0.03, 0.15))
    for _ in range(40):
        await fingers.tap("Enter")
        glass = await page.run("window.atTouch")
        number, typed = NUMBER.search(glass), SHOWN.search(glass)
        if number and typed:
            touched.append((int(number.group(1)), typed.group(1)))
        if stall is not None:
            await stall
        await until(lambda: page.run(ALIVE), 20)
        await asyncio.sleep(0.25)
        if len(stored_in(stored)) > before:
            assert wrong(stored_in(stored), touched) == [], "stored is not what was on the glass"
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
        touched: list[Entry] = []
        for number in range(count):
            await enter(page, fingers, link, stored, rng, number % every == 0, touched)
        await asyncio.sleep(0.5)
    found = stored_in(stored)
    assert len(found) >= count
    assert wrong(found, touched) == []
    print(f"{len(found)} numbers, 0 wrong")


async def test_numbers_typed_through_a_bad_link(start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    await entries(start, tmp_path, monkeypatch, 8, every=3)


@pytest.mark.long
@pytest.mark.parametrize("part", range(20))
async def test_two_thousand_numbers_through_a_bad_link(
    start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, part: int
) -> None:
    """Twenty parts of a hundred numbers, a few minutes each."""
    await entries(start, tmp_path, monkeypatch, 100, every=2, seed=2000 + part)
