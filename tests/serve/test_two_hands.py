"""Two tablets on slow links: no act is recorded against another instruction than the one under the finger."""

from __future__ import annotations

import asyncio
import contextlib
import random
import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from splitline.record.entry import Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from tests.serve.slow_link import slow_link
from tests.serve.tablet import CHROMIUM, Tablet, tablet
from tests.serve.test_entries import ALIVE, EYE
from tests.serve.test_link import until
from tests.ui.test_work_tablets import PLAN, served, set_up

pytestmark = [
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed: the browser tests are skipped"),
]
# Of every touch: which studs the glass told to tighten. Kept in the page, at the moment of the touch.
EYES = EYE.replace(
    "}, { capture",
    "(window.touched = window.touched || []).push((atTouch.match(/▸\\d+/g) || []).join(' ')); }, { capture",
)


async def tap_word(page: Tablet, word: str) -> bool:
    """Touch the lowest box that says so."""
    columns, rows = await page.run("[splitlineTerminal.terminal.cols, splitlineTerminal.terminal.rows]")
    lines = (await page.screen()).split("\n")
    for y in range(len(lines) - 1, -1, -1):
        found = re.search(rf"(?<![a-z]){word}(?![a-z])", lines[y])
        if found:
            await page.tap(*await page.cell(found.start() + 1, y, columns, rows))
            return True
    return False


async def seated(page: Tablet, address: str, person: str) -> None:
    await page.open(address, 800, 1280)
    await page.run(EYES)
    await page.wait_for("Who works here?", 25)
    await until(lambda: page.run(ALIVE), 25)
    for _ in range(30):
        await asyncio.sleep(0.7)
        screen = await page.screen()
        if "Who works here?" in screen:
            await tap_word(page, person)
        elif "Go on" in screen:
            await tap_word(page, "Go on")
        elif "Done" in screen:
            return
    raise AssertionError(await page.screen())


def pulls(plan: Path) -> list[Tightened]:
    return [entry for entry in Journal(plan).refresh().entries if isinstance(entry, Tightened)]


async def acts(tmp_path: Path, count: int, delay: float) -> None:
    """At least ``count`` taps on Done on two tablets, by hands that do not wait for the picture."""
    rng = random.Random(14)
    taps, covers = 0, 0
    while taps < count:
        covers += 1
        plan = tmp_path / str(covers) / "cover.toml"
        plan.parent.mkdir()
        plan.write_text(PLAN, "utf-8")
        for person in ("Ines", "Tomas"):
            set_up(plan, person)
        server, address = served(plan)
        parts = urlsplit(address)
        try:
            async with contextlib.AsyncExitStack() as stack:
                _, beside = await stack.enter_async_context(slow_link(parts.port or 0, delay))
                pages = {name: await stack.enter_async_context(tablet()) for name in ("Ines", "Tomas")}
                for name, page in pages.items():
                    await seated(page, f"{beside}?{parts.query}", name)
                while taps < count and len(pulls(plan)) < 10:
                    page = pages[rng.choice(("Ines", "Tomas"))]
                    for _ in range(rng.choice((1, 1, 2, 3))):  # now and then more than once, before the picture changed
                        taps += await tap_word(page, rng.choice(("Done", "Done", "Pulled")))
                        await asyncio.sleep(rng.uniform(0.05, 0.6))
                    await asyncio.sleep(rng.uniform(0.2, 1.6))
                await asyncio.sleep(2 * delay + 0.5)
                seen = {
                    name: {tuple(map(int, re.findall(r"\d+", told))) for told in await page.run("window.touched")}
                    for name, page in pages.items()
                }
        finally:
            server.terminate()
            server.wait(8)
        done = pulls(plan)
        assert done
        for entry in done:
            under = {tuple(sorted(each)) for each in seen[entry.done_by]}
            assert tuple(sorted(entry.bolts)) in under, f"{entry.bolts} by {entry.done_by}: never under the finger"
        bolts = [bolt for entry in done for bolt in entry.bolts]
        assert len(bolts) == len(set(bolts))
        assert verify(plan).ok
    print(f"{taps} taps on {covers} covers, 0 against another instruction")


async def test_two_tablets_on_slow_links(tmp_path: Path) -> None:
    await acts(tmp_path, 12, 0.4)


@pytest.mark.long
async def test_five_hundred_acts_by_two_tablets_on_slow_links(tmp_path: Path) -> None:
    await acts(tmp_path, 500, 0.9)
