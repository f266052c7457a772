"""Links of the command itself: tablets of two servers on one host, one tablet withdrawn, requests that are none."""

from __future__ import annotations

import asyncio
import contextlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import aiohttp
import pytest

from splitline.serve.server import AGAIN
from tests.serve.test_server import socket_of

WITHDRAWN = 1008  # RFC 6455, section 7.4.1: the message violates a policy


class Serve:
    """One `splitline serve` and the links it printed, by their names."""

    def __init__(self, target: Path, *more: str) -> None:
        self.target = target
        command = [sys.executable, "-m", "splitline", "serve", str(target), "--port", "0", "--no-qr", *more]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.links: dict[str, str] = {}
        assert self.process.stdout is not None
        for line in self.process.stdout:
            found = re.match(r"(.+?): +(http\S+)$", line)
            if found is None:
                break
            self.links[found.group(1)] = found.group(2)
            if line.startswith("The link"):
                break

    @property
    def address(self) -> str:
        return self.links["Work"].partition("?")[0]


@pytest.fixture
def serve(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[type[Serve]]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    running: list[Serve] = []

    class Kept(Serve):
        def __init__(self, target: Path, *more: str) -> None:
            target.mkdir(exist_ok=True)
            super().__init__(target, *more)
            running.append(self)

    yield Kept
    for each in running:
        each.process.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            each.process.wait(8)
        each.process.kill()


def jar() -> aiohttp.CookieJar:
    return aiohttp.CookieJar(unsafe=True)  # as a browser's: one for the host, whatever the port


async def let_in(session: aiohttp.ClientSession, address: str) -> int:
    async with session.get(f"{address}alive") as answer:
        return answer.status


async def test_two_servers_on_one_host_leave_each_other_their_tablets(tmp_path: Path, serve: type[Serve]) -> None:
    one, other = serve(tmp_path / "one"), serve(tmp_path / "other")
    async with aiohttp.ClientSession(cookie_jar=jar()) as browser:
        for each in (one, other):
            async with browser.get(each.links["Work"]) as answer:
                assert answer.status == 200
        assert [await let_in(browser, each.address) for each in (one, other)] == [200, 200]
        names = [cookie.value.rpartition(".")[2] for cookie in browser.cookie_jar]
        assert len(set(names)) == 2


async def test_one_tablet_is_withdrawn_while_the_others_work_on(tmp_path: Path, serve: type[Serve]) -> None:
    server = serve(tmp_path / "plans", "--tablet", "crane bay", "--tablet", "bench")
    async with contextlib.AsyncExitStack() as stack:
        browsers, sockets = {}, {}
        for name in ("Work", "Tablet crane bay", "Tablet bench"):
            browser = await stack.enter_async_context(aiohttp.ClientSession(cookie_jar=jar()))
            async with browser.get(server.links[name]) as answer:
                assert answer.status == 200
            browsers[name] = browser
            sockets[name] = await stack.enter_async_context(socket_of(browser, server.address))
        done = await asyncio.to_thread(
            subprocess.run,
            [sys.executable, "-m", "splitline", "serve", str(server.target), "--withdraw", "crane bay"],
            capture_output=True, text=True, env=os.environ, check=True,
        )  # fmt: skip
        assert "withdrawn" in done.stdout
        async with asyncio.timeout(AGAIN + 6):
            async for _ in sockets["Tablet crane bay"]:
                pass
        assert sockets["Tablet crane bay"].close_code == WITHDRAWN
        assert await let_in(browsers["Tablet crane bay"], server.address) == 403
        async with browsers["Tablet crane bay"].get(server.links["Tablet crane bay"]) as answer:
            assert answer.status == 403
        for name in ("Work", "Tablet bench"):
            assert not sockets[name].closed
            assert await let_in(browsers[name], server.address) == 200


async def test_requests_that_are_none_are_refused_in_one_line(tmp_path: Path, serve: type[Serve]) -> None:
    server = serve(tmp_path / "plans")
    port = int(server.address.rstrip("/").rpartition(":")[2])
    asked = [b"GET /" + b"a" * 20_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n",
             b"GET /?token=" + b"a" * 200_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n",
             b"GET / HTTP/1.1\r\nHost: localhost\r\nX: " + b"a" * 20_000 + b"\r\n\r\n",
             b"\x16\x03\x01\x00not for us\r\n\r\n"]  # fmt: skip
    for request in asked:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        writer.write(request)
        assert b" 400 " in await asyncio.wait_for(reader.readline(), 5)
        writer.close()
    server.process.terminate()
    assert server.process.stderr is not None
    said = await asyncio.to_thread(server.process.stderr.read)
    assert "Traceback" not in said
    assert 1 <= len(said.splitlines()) <= len(asked)  # some are not worth a line
    assert all(line.startswith("A request from 127.0.0.1 was refused") for line in said.splitlines())
