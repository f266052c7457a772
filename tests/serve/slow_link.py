"""A bad link for tests: a TCP proxy that delays every byte and stalls when told; order is never changed."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import AsyncIterator


class SlowLink:
    """Between a page and a server. ``delay`` in s each way; ``stall()`` holds everything back until ``go()``."""

    def __init__(self, port: int, delay: float = 0.0) -> None:
        self.delay = delay
        self._to = port
        self._open = asyncio.Event()
        self._open.set()
        self._tasks: set[asyncio.Task[None]] = set()

    def stall(self) -> None:
        self._open.clear()

    def go(self) -> None:
        self._open.set()

    async def stalled(self, seconds: float) -> None:
        """One stall of this length."""
        self.stall()
        await asyncio.sleep(seconds)
        self.go()

    async def accept(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            there, back = await asyncio.open_connection("127.0.0.1", self._to)
        except OSError:
            writer.close()
            return
        for source, sink in ((reader, back), (there, writer)):
            task = asyncio.create_task(self._pass(source, sink))
            self._tasks.add(task)
            task.add_done_callback(self._tasks.discard)

    async def _pass(self, source: asyncio.StreamReader, sink: asyncio.StreamWriter) -> None:
        """Bytes from one end to the other, each at its time, in their order."""
        waiting: asyncio.Queue[tuple[float, bytes]] = asyncio.Queue()

        async def send() -> None:
            while True:
                due, data = await waiting.get()
                await asyncio.sleep(max(due - time.monotonic(), 0))
                await self._open.wait()
                if not data:
                    break
                sink.write(data)
                with contextlib.suppress(ConnectionError):
                    await sink.drain()
            sink.close()

        sender = asyncio.create_task(send())
        with contextlib.suppress(ConnectionError):
            while data := await source.read(1 << 16):
                waiting.put_nowait((time.monotonic() + self.delay, data))
        waiting.put_nowait((time.monotonic() + self.delay, b""))
        with contextlib.suppress(asyncio.CancelledError):
            await sender

    def close(self) -> None:
        for task in self._tasks:
            task.cancel()


@contextlib.asynccontextmanager
async def slow_link(port: int, delay: float = 0.0) -> AsyncIterator[tuple[SlowLink, str]]:
    """A proxy before ``port``; itself, and the address to open."""
    link = SlowLink(port, delay)
    server = await asyncio.start_server(link.accept, "127.0.0.1", 0)
    try:
        yield link, f"http://127.0.0.1:{server.sockets[0].getsockname()[1]}/"
    finally:
        link.close()
        server.close()
