"""A dead link looks dead: within three seconds, from edge to edge, whatever died; touches then are refused, never queued."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import time
from collections.abc import Awaitable, Callable

import pytest

from tests.serve.conftest import Start
from tests.serve.slow_link import slow_link
from tests.serve.tablet import CHROMIUM, Tablet, tablet

pytestmark = [
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed: the browser tests are skipped"),
]
PID = re.compile(r"pid=(\d+)")
LINK = "?token=work-token-of-the-test"
# The banner stands over everything: what is found at nine places of the glass belongs to it.
COVERED = """[...Array(9).keys()].every((i) => {
  const found = document.elementFromPoint(innerWidth * (1 + 2 * (i % 3)) / 6, innerHeight * (1 + 2 * Math.floor(i / 3)) / 6);
  return found && found.closest('#lost');
})"""
# mm of the capitals on a 10-inch glass of 5.9 CSS px/mm; capitals are 0.73 em in the shipped font
CAPITALS = "parseFloat(getComputedStyle(document.querySelector('#lost strong')).fontSize) * 0.73 / 5.9"


async def until(said: Callable[[], Awaitable[object]], seconds: float) -> float:
    """Seconds until it is so."""
    begun = time.monotonic()
    while not await said():
        assert time.monotonic() - begun < seconds, "never came"
        await asyncio.sleep(0.05)
    return time.monotonic() - begun


async def ready(page: Tablet, address: str, width: int = 1180, height: int = 820) -> int:
    await page.open(address + LINK, width, height)
    found = PID.search(await page.wait_for("Ready"))
    assert found is not None
    await until(lambda: page.run("splitlineLink.state() === 'alive' && splitlineLink.picture > 0"), 10)
    return int(found.group(1))


def dead(page: Tablet) -> Callable[[], Awaitable[object]]:
    return lambda: page.run(COVERED)


@pytest.mark.parametrize("how", ["killed", "frozen"])
async def test_a_dead_or_frozen_program_is_told_within_three_seconds_and_comes_back(start: Start, how: str) -> None:
    _, address = start()
    async with tablet() as page:
        first = await ready(page, address)
        os.kill(first, signal.SIGKILL if how == "killed" else signal.SIGSTOP)
        assert await until(dead(page), 10) <= 3.2  # 3 s and the time to ask
        assert await page.run(CAPITALS) >= 6
        assert "NOT CONNECTED" in await page.run("document.getElementById('lost').innerText")

        async def another() -> bool:
            again = PID.search(await page.text())
            return again is not None and int(again.group(1)) != first

        await until(another, 25)
        await until(lambda: page.run(f"splitlineLink.state() === 'alive' && !({COVERED})"), 10)


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1180, 820)])
async def test_a_stalled_link_is_told_and_its_touches_are_refused_not_queued(
    start: Start, width: int, height: int
) -> None:
    _, address = start()
    async with slow_link(int(re.search(r":(\d+)/", address).group(1))) as (link, beside), tablet() as page:  # type: ignore[union-attr]
        first = await ready(page, beside, width, height)
        await page.tap(100, 50)
        await page.wait_for("pressed 1 times")
        link.stall()
        await asyncio.sleep(0.3)
        await page.tap(100, 50)  # on its way when the link stalls: it comes too late
        assert await until(dead(page), 10) <= 3.2
        assert "Done" in await page.screen()  # the last instruction stays readable
        await page.tap(100, 50)
        assert "NOT taken" in await page.run("document.getElementById('refused').innerText")
        assert await page.run("splitlineFelt") == "refused"
        await asyncio.sleep(1.0)
        link.go()
        await until(lambda: page.run(f"splitlineLink.state() === 'alive' && !({COVERED})"), 10)
        await page.tap(100, 50)
        await page.wait_for("pressed 2 times")
        assert "pressed 3 times" not in await page.text()
        assert int(PID.search(await page.text()).group(1)) == first  # type: ignore[union-attr]


async def test_a_slow_link_is_not_called_dead(start: Start) -> None:
    _, address = start()
    async with slow_link(int(re.search(r":(\d+)/", address).group(1)), 0.6) as (_, beside), tablet() as page:  # type: ignore[union-attr]
        await ready(page, beside)
        for _ in range(20):
            assert not await page.run(COVERED)
            await asyncio.sleep(0.1)
        await page.tap(100, 50)
        await page.wait_for("pressed 1 times")


async def test_a_withdrawn_link_says_so_instead_of_trying_for_ever(start: Start) -> None:
    _, address = start()
    async with tablet() as page:
        first = await ready(page, address)
        await page.call("Network.clearBrowserCookies")  # as after new links: what the tablet holds opens nothing
        os.kill(first, signal.SIGKILL)
        await until(lambda: page.run("document.getElementById('lost').innerText.includes('LINK WITHDRAWN')"), 15)
        assert await page.run(COVERED)
