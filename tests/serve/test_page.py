"""Our page in a real browser with touch: drawn in the shipped font, typed into by the key bar, back after a lost link."""

from __future__ import annotations

import asyncio
import re

import pytest

from tests.serve.conftest import Start
from tests.serve.tablet import CHROMIUM, tablet

pytestmark = [
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed: the browser tests are skipped"),
]
NAME, PID = re.compile(r"client=(\w+)"), re.compile(r"pid=(\d+)")
LINK = "?token=work-token-of-the-test"


async def test_touch_alone_works_the_page(start: Start) -> None:
    _, address = start()
    async with tablet() as page:
        await page.open(address + LINK)
        await page.wait_for("Ready")
        assert await page.run("document.querySelector('.xterm-helper-textarea').inputMode") == "none"
        assert await page.run("document.fonts.check(\"16px 'Splitline Mono'\")")
        assert "token" not in await page.run("location.href")
        await page.tap(100, 50)
        await page.wait_for("pressed 1 times")
        await page.tap_on('[data-send$="[A"]')
        await page.wait_for("key up")
        await page.tap_on("[aria-label^=light]")  # light for the sun
        await page.wait_for("key f2")
        await page.tap_on("#type")
        assert await page.run("document.querySelector('.xterm-helper-textarea').inputMode") == "text"
        link = "window.splitlineLink.onTyping"
        asked = "document.getElementById('type').classList.contains('-asked')"
        assert await page.run(f"{link}(true), {asked}")  # letters are asked for: the key says so
        assert not await page.run(f"{link}(false), {asked}")  # no longer: the keyboard goes by itself
        assert await page.run("document.querySelector('.xterm-helper-textarea').inputMode") == "none"
        assert await page.run("document.activeElement.className") != "xterm-helper-textarea"
        heights = await page.run(
            "[...document.querySelectorAll('#bar button:not([hidden])')].map((b) => b.getBoundingClientRect())"
            ".map((r) => Math.min(r.height, r.width))"
        )
        assert min(heights) >= 90
        assert page.said == []


async def test_a_smear_under_six_millimetres_is_one_tap_and_a_swipe_is_none(start: Start) -> None:
    _, address = start()
    async with tablet() as page:
        await page.open(address + LINK)
        await page.wait_for("Ready")
        for _ in range(50):
            if await page.run("splitlineLink.state() === 'alive'"):
                break
            await asyncio.sleep(0.1)

        async def drag(far: float) -> None:
            await page.call("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": 100, "y": 50}])
            for part in (0.5, 1.0):
                at = {"x": 100 + far * part, "y": 50 + far * part / 4}
                await page.call("Input.dispatchTouchEvent", type="touchMove", touchPoints=[at])
            await page.call("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
            await asyncio.sleep(0.8)

        for number, far in enumerate((4, 18, 30), 1):  # within what the browser takes for a tap, and beyond it
            await drag(far)
            await page.wait_for(f"pressed {number} times")
            assert f"pressed {number + 1} times" not in await page.text()
        await drag(60)
        assert "pressed 4 times" not in await page.text()


async def test_the_page_comes_back_by_itself_after_the_server_was_killed(start: Start) -> None:
    process, address = start()
    async with tablet() as page:
        await page.open(address + LINK)
        first = await page.wait_for("Ready")
        process.kill()
        process.wait()
        for _ in range(100):
            if await page.run("getComputedStyle(document.getElementById('lost')).display") == "block":
                break
            await asyncio.sleep(0.1)
        start(port=int(re.search(r":(\d+)/", address).group(1)))  # type: ignore[union-attr]
        for _ in range(200):
            second = await page.text()
            if (again := NAME.search(second)) and PID.search(second).group(1) != PID.search(first).group(1):  # type: ignore[union-attr]
                break
            await asyncio.sleep(0.1)
        assert again is not None
        assert again.group(1) == NAME.search(first).group(1)  # type: ignore[union-attr]
        assert await page.run("getComputedStyle(document.getElementById('lost')).display") == "none"


SIZE = "[splitlineTerminal.terminal.cols, splitlineTerminal.terminal.rows, Number(splitlineTerminal.terminal.options.fontSize)]"


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1180, 820), (1024, 768), (800, 1280)])
async def test_the_text_is_as_large_as_the_tablet_allows_and_follows_its_turning(
    start: Start, width: int, height: int
) -> None:
    _, address = start()
    async with tablet() as page:
        await page.open(address + LINK, width, height)
        await page.wait_for("Ready")
        columns, rows, size = await page.run(SIZE)
        assert 80 <= columns <= 110
        assert 30 <= rows <= 60
        assert size >= 17
        before = PID.search(await page.text())
        await page.call(
            "Emulation.setDeviceMetricsOverride", width=height, height=width, deviceScaleFactor=1, mobile=True
        )
        for _ in range(50):
            turned = await page.run(SIZE)
            if (turned[0] > columns) == (height > width) and turned[1] != rows:
                break
            await asyncio.sleep(0.1)
        assert turned[0] >= 80
        assert turned[1] >= 30
        await page.tap_on("#larger")
        for _ in range(50):  # the click follows its touch
            if (await page.run(SIZE))[2] != turned[2]:
                break
            await asyncio.sleep(0.1)
        assert (await page.run(SIZE))[2] == turned[2] + 1
        assert PID.search(await page.text()).group(1) == before.group(1)  # type: ignore[union-attr] # nothing began anew
        assert page.said == []


async def test_a_tablet_that_wakes_asks_whether_its_link_still_lives(start: Start) -> None:
    _, address = start()
    async with tablet() as page:
        await page.open(address + LINK)
        first = PID.search(await page.wait_for("Ready"))
        await page.run("document.dispatchEvent(new Event('visibilitychange'))")
        await asyncio.sleep(3.5)
        assert await page.run("getComputedStyle(document.getElementById('lost')).display") == "none"
        assert PID.search(await page.text()).group(1) == first.group(1)  # type: ignore[union-attr]
        # a link that died without a word: nothing sent arrives, nothing comes back
        await page.run("splitlineSocket.send = () => {}; document.dispatchEvent(new Event('visibilitychange'))")
        for _ in range(120):
            again = PID.search(await page.text())
            if again and again.group(1) != first.group(1):  # type: ignore[union-attr]
                break
            await asyncio.sleep(0.1)
        assert again is not None
        assert again.group(1) != first.group(1)  # type: ignore[union-attr]
