"""A tablet for tests: headless Chromium with touch, driven through its debugging protocol by plain aiohttp."""

from __future__ import annotations

import asyncio
import base64
import contextlib
import itertools
import shutil
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import aiohttp

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
_FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-dev-shm-usage",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--remote-debugging-port=0",
    "--enable-unsafe-swiftshader",
)  # fmt: skip


class Tablet:
    """One page of one browser."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self._socket = socket
        self._numbers = itertools.count(1)
        self.said: list[str] = []

    async def call(self, method: str, **params: Any) -> dict[str, Any]:
        """One command of the debugging protocol."""
        number = next(self._numbers)
        await self._socket.send_json({"id": number, "method": method, "params": params})
        while True:
            answer = await self._socket.receive_json(timeout=20)
            if answer.get("id") == number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                result: dict[str, Any] = answer.get("result", {})
                return result
            if answer.get("method") in ("Log.entryAdded", "Runtime.exceptionThrown"):
                self.said.append(str(answer["params"]))

    async def run(self, script: str) -> Any:
        """Value of a JavaScript expression."""
        answer = await self.call("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        return answer["result"].get("value")

    async def open(self, url: str, width: int = 1024, height: int = 768) -> None:
        for domain in ("Page", "Runtime", "Log"):
            await self.call(f"{domain}.enable")
        await self.call(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=True
        )
        await self.call("Emulation.setTouchEmulationEnabled", enabled=True)
        # The picture is drawn on a canvas; what was sent to it is kept as text, to be read by the tests.
        await self.call("Page.addScriptToEvaluateOnNewDocument", source=_KEEP_TEXT)
        await self.call("Page.navigate", url=url)

    async def tap(self, x: float, y: float) -> None:
        """A finger's tap at a place in CSS pixels."""
        await self.call("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
        await self.call("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    async def tap_on(self, selector: str) -> None:
        box = await self.run(
            f"(r => [r.x + r.width / 2, r.y + r.height / 2])(document.querySelector({selector!r}).getBoundingClientRect())"
        )
        await self.tap(*box)

    async def cell(self, column: float, row: float, columns: int, rows: int) -> tuple[float, float]:
        """Middle of a terminal cell in CSS pixels."""
        x, y, w, h = await self.run(
            "(r => [r.x, r.y, r.width, r.height])(document.querySelector('.xterm-screen').getBoundingClientRect())"
        )
        return x + w * (column + 0.5) / columns, y + h * (row + 0.5) / rows

    async def text(self) -> str:
        """Everything the program has drawn since the page opened, escape codes taken out."""
        return str(await self.run("window.drawnText || ''"))

    async def screen(self) -> str:
        """What stands on the terminal now, row by row."""
        return str(await self.run(_ROWS) or "")

    async def wait_for(self, words: str, seconds: float = 15) -> str:
        for _ in range(int(seconds * 10)):
            if words in (text := await self.text()):
                return text
            await asyncio.sleep(0.1)
        raise AssertionError(
            f"{words!r} did not appear; drawn so far: {(await self.text())[-2000:]!r}; said: {self.said}"
        )

    async def picture(self, path: Path) -> None:
        shot = await self.call("Page.captureScreenshot", format="png")
        path.write_bytes(base64.b64decode(shot["data"]))


_ROWS = """(() => {
  const terminal = window.splitlineTerminal && window.splitlineTerminal.terminal;
  if (!terminal) return "";
  const buffer = terminal.buffer.active;
  const rows = Array.from({ length: terminal.rows }, (_, i) => buffer.getLine(buffer.viewportY + i));
  return rows.map((row) => (row ? row.translateToString() : "")).join("\\n");
})()"""
_KEEP_TEXT = r"""
(() => {
  const Native = window.WebSocket;
  window.drawnText = "";
  window.WebSocket = class extends Native {
    constructor(...args) {
      super(...args);
      this.addEventListener("message", (event) => {
        if (typeof event.data === "string") return;
        const text = new TextDecoder().decode(event.data);
        window.drawnText = (window.drawnText + text.replace(/\x1b\[[0-9;?<>=]*[A-Za-z$]/g, " ")).slice(-200000);
      });
    }
  };
})();
"""


@contextlib.asynccontextmanager
async def tablet() -> AsyncIterator[Tablet]:
    """A fresh browser with one page."""
    assert CHROMIUM is not None
    with tempfile.TemporaryDirectory(prefix="tablet-", ignore_cleanup_errors=True) as folder:
        process = await asyncio.create_subprocess_exec(
            CHROMIUM, *_FLAGS, f"--user-data-dir={folder}", "about:blank",
            stdout=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.DEVNULL,
        )  # fmt: skip
        try:
            port = await _port(Path(folder) / "DevToolsActivePort")
            async with aiohttp.ClientSession() as session:
                async with session.get(f"http://127.0.0.1:{port}/json/list") as answer:
                    pages = [page for page in await answer.json() if page["type"] == "page"]
                async with session.ws_connect(pages[0]["webSocketDebuggerUrl"], max_msg_size=0) as socket:
                    yield Tablet(socket)
        finally:
            with contextlib.suppress(ProcessLookupError):
                process.kill()
            await process.wait()


async def _port(file: Path) -> int:
    for _ in range(200):
        with contextlib.suppress(FileNotFoundError, IndexError, ValueError):
            return int(file.read_text().splitlines()[0])
        await asyncio.sleep(0.1)
    raise AssertionError("Chromium did not open its debugging port")
