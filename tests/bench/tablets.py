"""What many tablets cost: time from a touch to its picture, and what a tablet costs that nobody touches.

``python -m tests.bench.tablets [COUNT ...]`` starts the real server on a cover of 120 studs, seats COUNT crews, and lets
each touch once a second: More and Back, and every sixth time Done, which is stored and seen by all the others. Aim: 95 %
within 150 ms for 8 tablets and 300 ms for 20 on two cores that do nothing else.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import random
import re
import sys
import tempfile
import time
from pathlib import Path
from urllib.parse import urlsplit

import aiohttp

from tests.ui.test_work_tablets import PLAN, served, set_up

STUDS, IDLE, SECONDS = 120, 10.0, 30.0
TOGETHER = 4  # tablets that sign on at once
AIMS = {8: 0.150, 20: 0.300}  # s, 95 %
_NUMBER = re.compile(r"\x1b\]7411;(\d+)\x07")
_CODES = re.compile(r"\x1b\[[0-9;?<>=]*[A-Za-z$]")


class Tablet:
    """One page without a browser: beats, numbers, touches."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self._socket = socket
        self._seen = 0
        self._text = ""
        self._came = asyncio.Event()
        self._tasks = [asyncio.create_task(self._listen()), asyncio.create_task(self._beat())]

    async def _listen(self) -> None:
        async for message in self._socket:
            if message.type is aiohttp.WSMsgType.BINARY:
                text = message.data.decode("utf-8", "replace")
                numbers = _NUMBER.findall(text)
                self._seen = int(numbers[-1]) if numbers else self._seen
                self._text += _CODES.sub("", text)
                self._came.set()

    async def _beat(self) -> None:
        for number in range(1, 1_000_000):
            await asyncio.sleep(0.5)
            await self._socket.send_json(["beat", number])

    async def touch(self, key: str, *words: str, seconds: float = 5) -> float:
        """Seconds until one of the words is on the glass; at most ``seconds``, where it was refused in other words."""
        self._text = ""
        begun = time.perf_counter()
        await self._socket.send_json(["stdin", key, self._seen, None])
        with contextlib.suppress(TimeoutError):
            async with asyncio.timeout(seconds):
                while not any(word in self._text for word in words):
                    self._came.clear()
                    await self._came.wait()
        return time.perf_counter() - begun

    async def named(self, person: str) -> None:
        """From the question who works here, which a plan without a crew asks in words, to the first instruction."""
        await self._shows("works here", 90)
        await asyncio.sleep(1.0)
        for sign in person:
            await self._socket.send_json(["stdin", sign, self._seen, None])
        await asyncio.sleep(1.0)
        await self.touch("\r", "Go on", seconds=60)
        await asyncio.sleep(1.0)
        await self.touch("\r", "STUD", seconds=20)

    async def _shows(self, words: str, seconds: float) -> None:
        async with asyncio.timeout(seconds):
            while words not in self._text:
                await asyncio.sleep(0.1)

    def asked(self) -> bool:
        """Whether it asks something back."""
        return "soon" in self._text

    def end(self) -> None:
        for task in self._tasks:
            task.cancel()


async def worked(tablet: Tablet, until: float, rng: random.Random) -> list[float]:
    """Times of the touches of one tablet."""
    found = []
    turn = rng.randrange(6)
    await asyncio.sleep(rng.random())
    while (begun := time.perf_counter()) < until:
        turn += 1
        if turn % 6 == 0:
            found.append(await tablet.touch("\r", "stored", "look again", "not taken", "soon"))
            if tablet.asked():
                await tablet.touch("\x1b", "STUD")
        else:
            found.append(await tablet.touch("m", "Defer"))
            await asyncio.sleep(max(begun + 1 - time.perf_counter(), 0))
            begun = time.perf_counter()
            found.append(await tablet.touch("\x1b", "STUD", "Done"))
        await asyncio.sleep(max(begun + 1 - time.perf_counter(), 0))
    return found


def processes(server: int) -> set[int]:
    """A server and all that came of it."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            parents[int(stat.parent.name)] = int(stat.read_text().rsplit(")", 1)[1].split()[1])
    found = {server}
    while more := {own for own, parent in parents.items() if parent in found} - found:
        found |= more
    return found


def spent(server: int) -> float:
    """CPU seconds of a server and its programs so far."""
    found = 0.0
    for own in processes(server):
        with contextlib.suppress(OSError):
            fields = Path(f"/proc/{own}/stat").read_text().rsplit(")", 1)[1].split()
            found += (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
    return found


def memory(server: int) -> float:
    """MB a server and its programs take; what several share is counted once, shared out among them."""
    found = 0
    for own in processes(server):
        with contextlib.suppress(OSError):
            text = Path(f"/proc/{own}/smaps_rollup").read_text()
            found += int(re.search(r"^Pss:\s+(\d+)", text, re.MULTILINE).group(1))  # type: ignore[union-attr]
    return found / 1024


async def measured(count: int, folder: Path) -> str:
    """One line of the table."""
    crew = [f"Fitter {n}" for n in range(1, count + 1)]
    plan = folder / "cover.toml"
    text = PLAN.replace('crew = ["Ines", "Tomas"]', "").replace("bolts = 24", f"bolts = {STUDS}")
    text = text.replace("1180 mm", "9800 mm").replace("1330 mm", "9950 mm").replace("1030 mm", "9650 mm")
    text = text.replace("tools_together = 2", "tools_together = 1")
    plan.write_text(text, "utf-8")
    for person in crew:
        set_up(plan, person)
    server, address = served(plan, most=count)
    base = f"http://{urlsplit(address).netloc}/"
    try:
        async with contextlib.AsyncExitStack() as stack:
            tablets = []
            for _ in crew:
                jar = aiohttp.CookieJar(unsafe=True)
                session = await stack.enter_async_context(aiohttp.ClientSession(cookie_jar=jar))
                async with session.get(address) as answer:
                    assert answer.status == 200
                socket = await session.ws_connect(f"{base}ws?width=80&height=40", headers={"Origin": base.rstrip("/")})
                stack.push_async_callback(socket.close)
                tablet = Tablet(socket)
                stack.callback(tablet.end)
                tablets.append(tablet)
                if len(tablets) % TOGETHER == 0 or len(tablets) == count:
                    pairs = list(zip(tablets, crew, strict=False))[(len(tablets) - 1) // TOGETHER * TOGETHER :]
                    await asyncio.gather(*(each.named(name) for each, name in pairs))
            await asyncio.sleep(3)
            before, begun = spent(server.pid), time.perf_counter()
            await asyncio.sleep(IDLE)
            idle = (spent(server.pid) - before) / (time.perf_counter() - begun) / count
            before, begun = spent(server.pid), time.perf_counter()
            rng = random.Random(count)
            until = begun + SECONDS
            every = await asyncio.gather(*(worked(each, until, rng) for each in tablets))
            times = sorted(each for own in every for each in own)
            touch = (spent(server.pid) - before - idle * count * (time.perf_counter() - begun)) / len(times)
            each = memory(server.pid) / count
    finally:
        server.terminate()
        with contextlib.suppress(Exception):
            server.wait(10)
    p50, p95 = times[len(times) // 2], times[int(len(times) * 0.95)]
    aim = f"{AIMS[count] * 1e3:.0f}" if count in AIMS else ""
    load = os.getloadavg()[0]
    at_work = f"{count:>7} {len(times):>7} {p50 * 1e3:>9.0f} {p95 * 1e3:>8.0f} {aim:>7}"
    return f"{at_work} {idle * 1e3:>13.1f} {touch * 1e3:>13.1f} {each:>9.0f} {load:>6.1f}"


if __name__ == "__main__":
    print("tablets touches 50 % in ms 95 % ms  aim ms  idle CPU ms/s  CPU ms/touch MB/tablet   load of the machine")
    for number in [int(each) for each in sys.argv[1:]] or [8, 20]:
        with tempfile.TemporaryDirectory() as place:
            print(asyncio.run(measured(number, Path(place))), flush=True)
