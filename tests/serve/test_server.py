"""The tablet server from outside: what is refused, what is served, and that everything ends."""

from __future__ import annotations

import asyncio
import contextlib
import os
import re
import signal
import time
from collections.abc import AsyncIterator

import aiohttp
import pytest

from splitline.serve.server import HURRY
from tests.serve.conftest import Start

WORK, VIEW = "work-token-of-the-test", "view-token-of-the-test"


@contextlib.asynccontextmanager
async def client(address: str, token: str = WORK) -> AsyncIterator[aiohttp.ClientSession]:
    async with aiohttp.ClientSession(cookie_jar=aiohttp.CookieJar(unsafe=True)) as session:
        async with session.get(f"{address}?token={token}") as answer:
            assert answer.status == 200
        yield session


def socket_of(
    session: aiohttp.ClientSession, address: str, origin: str | None = None
) -> aiohttp.client._WSRequestContextManager:
    return session.ws_connect(f"{address}ws?width=80&height=24", headers={"Origin": origin or address.rstrip("/")})


async def drawn(socket: aiohttp.ClientWebSocketResponse, words: str) -> str:
    text = ""
    while words not in text:
        message = await socket.receive(timeout=15)
        assert message.type is aiohttp.WSMsgType.BINARY, f"closed before {words!r}: {text!r}"
        text += re.sub(r"\x1b\[[0-9;?<>=]*[A-Za-z$]", "", message.data.decode("utf-8", "replace"))
    return text


def alive(pid: int) -> bool:
    with contextlib.suppress(ProcessLookupError):
        os.kill(pid, 0)
        with open(f"/proc/{pid}/stat") as stat:
            return stat.read().rsplit(")", 1)[1].split()[0] != "Z"
    return False


async def gone(pid: int, seconds: float) -> bool:
    end = time.monotonic() + seconds
    while alive(pid) and time.monotonic() < end:
        await asyncio.sleep(0.1)
    return not alive(pid)


async def test_the_page_is_whole_and_asks_nothing_from_outside(start: Start) -> None:
    _, address = start()
    async with client(address) as session:
        async with session.get(address) as answer:
            page = await answer.text()
            assert answer.headers["X-Frame-Options"] == "DENY"
            assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
        assert "token" not in str(answer.url)
        assert 'name="viewport"' in page
        assert not re.findall(r"https?://", page)
        for name in set(re.findall(r"/page/([\w.]+)", page)):
            async with session.get(f"{address}page/{name}") as file:
                assert file.status == 200


async def test_strangers_are_refused_and_the_server_lives(start: Start) -> None:
    _, address = start()
    async with aiohttp.ClientSession() as stranger:
        for path in ("", "?token=wrong", "ws", "alive", "page/page.js", "download/x"):
            async with stranger.get(address + path) as answer:
                assert answer.status == 403, path
        async with stranger.get(f"{address}?token={WORK}", headers={"Host": "evil.example"}) as answer:
            assert answer.status == 403
    async with client(address) as session:
        with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
            await socket_of(session, address, origin="http://evil.example")
        assert refused.value.status == 403
        for path in (
            "page/",
            "page/..%2f..%2fserver.py",
            "page/%2e%2e/guard.py",
            "page//etc/passwd",
            "static/",
            "plans/",
        ):
            async with session.get(aiohttp.client.URL(address + path, encoded=True)) as answer:
                assert answer.status == 404, path
        async with session.get(f"{address}alive") as answer:
            assert await answer.text() == "yes"


async def test_a_tablet_gets_its_own_program_and_keeps_its_name(start: Start) -> None:
    _, address = start()
    async with client(address) as session:
        names = []
        for _ in range(2):
            async with socket_of(session, address) as socket:
                names.append(re.search(r"client=(\w+)", await drawn(socket, "ends")).group(1))  # type: ignore[union-attr]
        assert names[0] == names[1]
        async with client(address, VIEW) as viewer, socket_of(viewer, address) as socket:
            text = await drawn(socket, "ends")
            assert "--view-only" in text
            assert names[0] not in text


async def test_a_closed_tablet_ends_its_program(start: Start) -> None:
    _, address = start()
    async with client(address) as session:
        async with socket_of(session, address) as socket:
            pid = int(re.search(r"pid=(\d+)", await drawn(socket, "ends")).group(1))  # type: ignore[union-attr]
        assert await gone(pid, 8)


async def test_more_tablets_than_places_are_refused(start: Start) -> None:
    _, address = start(most=2)
    async with client(address) as session, contextlib.AsyncExitStack() as stack:
        for _ in range(2):
            await drawn(await stack.enter_async_context(socket_of(session, address)), "Ready")

        async def one_more() -> int:
            with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
                await socket_of(session, address)
            return refused.value.status

        assert set(await asyncio.gather(*(one_more() for _ in range(48)))) == {503}
        async with session.get(f"{address}alive") as answer:
            assert answer.status == 200


@pytest.mark.parametrize(
    "rubbish",
    ["", "{}", "[]", '["resize", {}]', '["stdin", 5]', "not json", '["unknown"]', "[" * 90_000,
     '["resize", {"width": Infinity, "height": "x"}]'],
)  # fmt: skip
async def test_rubbish_on_the_socket_ends_only_that_session(start: Start, rubbish: str) -> None:
    _, address = start()
    async with client(address) as session:
        async with socket_of(session, address) as socket:
            await drawn(socket, "Ready")
            await socket.send_str(rubbish)
        async with session.get(f"{address}alive") as answer:
            assert answer.status == 200


async def test_no_message_makes_a_program_paint_a_field_of_any_size(start: Start) -> None:
    _, address = start()
    async with client(address) as session, socket_of(session, address) as socket:
        await drawn(socket, "Ready")
        for size in (-5, 1e300, float("inf"), 100_000):
            await socket.send_json(["resize", {"width": size, "height": size}])
        await socket.send_json(["stdin", "k"])
        await drawn(socket, "key k")


async def test_connections_that_say_nothing_are_dropped_and_strangers_keep_none(start: Start) -> None:
    _, address = start()
    port = int(address.rstrip("/").rpartition(":")[2])

    async def dropped(said: bytes) -> bytes:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        writer.write(said)
        heard = await asyncio.wait_for(_to_the_end(reader), HURRY + 4)
        writer.close()
        return heard

    async with client(address) as session, socket_of(session, address) as socket:
        await drawn(socket, "Ready")
        slow, silent, stranger = await asyncio.gather(
            dropped(b"GET / HTTP/1.1\r\nHost: loc"), dropped(b""), dropped(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
        )
        assert (slow, silent) == (b"", b"")
        assert b" 403 " in stranger
        await socket.send_json(["stdin", "k"])
        await drawn(socket, "key k")


async def _to_the_end(reader: asyncio.StreamReader) -> bytes:
    heard = b""
    with contextlib.suppress(ConnectionResetError):
        while more := await reader.read(1000):
            heard += more
    return heard


async def test_sigterm_ends_the_server_and_its_programs_within_seconds(start: Start) -> None:
    process, address = start()
    async with client(address) as session, socket_of(session, address) as socket:
        pid = int(re.search(r"pid=(\d+)", await drawn(socket, "ends")).group(1))  # type: ignore[union-attr]
        process.send_signal(signal.SIGTERM)
        assert await asyncio.to_thread(process.wait, 8) == 0
        assert await gone(pid, 3)


async def test_programs_notice_a_killed_server(start: Start) -> None:
    process, address = start()
    async with client(address) as session, socket_of(session, address) as socket:
        pid = int(re.search(r"pid=(\d+)", await drawn(socket, "ends")).group(1))  # type: ignore[union-attr]
        process.kill()
        assert await gone(pid, 9)


async def test_the_page_keeps_its_own_word_on_where_it_connects_to(start: Start) -> None:
    _, address = start()
    async with client(address) as session, session.get(address) as answer:
        said = answer.headers["Content-Security-Policy"]
        assert f"connect-src 'self' {address.replace('http', 'ws')}ws" in said
        assert answer.headers["X-Frame-Options"] == "DENY"


async def test_a_dead_program_closes_its_socket(start: Start) -> None:
    _, address = start()
    async with client(address) as session, socket_of(session, address) as socket:
        pid = int(re.search(r"pid=(\d+)", await drawn(socket, "ends")).group(1))  # type: ignore[union-attr]
        os.kill(pid, signal.SIGKILL)
        while True:
            message = await socket.receive(timeout=3)
            if message.type in (aiohttp.WSMsgType.CLOSE, aiohttp.WSMsgType.CLOSED, aiohttp.WSMsgType.CLOSING):
                break
