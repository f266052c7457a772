"""The tablet server: our own page and guard round the library that pipes a Textual program into a browser."""

from __future__ import annotations

import asyncio
import contextlib
import html
import logging
import re
import signal
import ssl
from collections.abc import Awaitable, Callable, Sequence
from pathlib import Path

import textual_serve
from aiohttp import WSMsgType, web
from aiohttp.http_exceptions import HttpProcessingError
from textual_serve.server import Server, to_int

from splitline.serve.clients import PROGRAM, Client
from splitline.serve.guard import HEADERS, Guard, Role

PAGE = Path(__file__).parent / "page"
HURRY = 10.0  # s a connection has for its first request
AGAIN = 1.0  # s between two looks at the links
_LIBRARY = Path(textual_serve.__file__).parent / "static"
# Everything the page may ask for, by name: nothing is listed, nothing else can be reached.
FILES = {
    "page.css": PAGE / "page.css",
    "page.js": PAGE / "page.js",
    "socket.js": PAGE / "socket.js",
    "lost.js": PAGE / "lost.js",
    "mono.ttf": PAGE / "mono.ttf",
    "xterm.css": _LIBRARY / "css" / "xterm.css",
    "textual.js": _LIBRARY / "js" / "textual.js",
}
# What reading a message raises that our own page never sends.
_NOT_OURS = (
    AssertionError, AttributeError, KeyError, IndexError, TypeError, ValueError, OverflowError, RecursionError
)  # fmt: skip
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


def _own_font(script: str) -> str:
    """The library's script with the terminal's font set to ours: the library names its own choice in a text."""
    return re.sub(r"fontFamily:\s*\"'[^\"]*\"", "fontFamily:\"'Splitline Mono', monospace\"", script, count=1)


class TabletServer(Server):
    """Serves one plan or folder to a few tablets."""

    def __init__(
        self,
        target: Path,
        guard: Guard,
        *,
        host: str,
        port: int,
        places: Path,
        most: int = 8,
        work: bool = False,
        tls: ssl.SSLContext | None = None,
        program: Sequence[str] = PROGRAM,
        links: Callable[[Guard], Guard] = lambda guard: guard,
    ) -> None:
        """``links`` gives the guard as the links stand now; it is asked every ``AGAIN`` seconds."""
        super().__init__("splitline", host=host, port=port, title=f"Splitline · {target.name}", public_url="")
        self._target = target
        self._guard = guard
        self._most = most
        self._work = work
        self._tls = tls
        self._program = program
        self._links = links
        self._open: dict[web.WebSocketResponse, str | None] = {}  # with the cookie each came in by
        self._silent: set[object] = set()  # connections that have not asked anything yet
        self._places = places

    async def _make_app(self) -> web.Application:
        app = web.Application(middlewares=[self._admit])
        app.add_routes(
            [
                web.get("/", self.handle_page),
                web.get("/alive", self._alive),
                web.get("/ws", self.handle_websocket),
                web.get("/page/{name}", self._file),
                web.get("/download/{key}", self.handle_download, name="download"),
            ]
        )
        app.on_shutdown.append(self.on_shutdown)
        return app

    @web.middleware
    async def _admit(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Every request passes here: known host, our cookie or a link token, then our headers on the answer."""
        self._silent.discard(request.protocol)
        try:
            return await self._admitted(request, handler)
        except web.HTTPForbidden as error:
            error.force_close()  # a stranger keeps no connection
            raise

    async def _admitted(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        if not self._guard.knows_host(request.headers.get("Host")):
            raise web.HTTPForbidden(text="This server does not go by that name.", headers=HEADERS)
        offered = request.query.get("token")
        if offered is not None and request.path == "/":
            return self._welcome(request, offered, self._guard.role_of(offered))
        if self._guard.client_of(request.cookies.get(self._guard.cookie)) is None:
            raise web.HTTPForbidden(text="Open the link shown where splitline serve was started.", headers=HEADERS)
        try:
            response = await handler(request)
        except web.HTTPException as error:
            error.headers.update(HEADERS)
            raise
        if not response.prepared:
            for name, value in HEADERS.items():
                response.headers.setdefault(name, value)  # the page says more exactly where it connects to
        return response

    def _welcome(self, request: web.Request, token: str, role: Role | None) -> web.StreamResponse:
        """Exchange the link's token for a cookie, so that it stays out of the address bar and of the history."""
        if role is None:
            raise web.HTTPForbidden(text="This link is not valid. Ask for the one shown now.", headers=HEADERS)
        response = web.HTTPFound("/", headers=HEADERS)
        if not self._guard.by(request.cookies.get(self._guard.cookie), token):
            cookie = self._guard.cookie_for(token)
            response.set_cookie(
                self._guard.cookie,
                cookie,
                httponly=True,
                samesite="Lax",
                secure=self._tls is not None,
                max_age=7 * 86400,
            )
        return response

    async def handle_page(self, request: web.Request) -> web.Response:
        """The one page; its socket address follows the request, whatever name the tablet used."""
        size = max(8, min(40, to_int(request.query.get("fontsize", "16"), 16)))
        socket = f"{'wss' if self._tls else 'ws'}://{request.host}/ws"
        page = (PAGE / "index.html").read_text("utf-8")
        values = {"title": self.title, "websocket": socket, "font_size": str(size)}
        text = re.sub(r"\{\{ (\w+) \}\}", lambda m: html.escape(values[m.group(1)]), page)
        headers = {
            "Content-Security-Policy": HEADERS["Content-Security-Policy"].replace(
                "connect-src 'self'", f"connect-src 'self' {socket}"
            )
        }
        return web.Response(text=text, content_type="text/html", headers=headers)

    async def _alive(self, request: web.Request) -> web.Response:
        return web.Response(text="yes")

    async def _file(self, request: web.Request) -> web.StreamResponse:
        path = FILES.get(request.match_info["name"])
        if path is None:
            raise web.HTTPNotFound(text="There is no such file.")
        if path.name == "textual.js":
            return web.Response(text=_own_font(path.read_text("utf-8")), content_type="text/javascript")
        return web.FileResponse(path)

    async def handle_websocket(self, request: web.Request) -> web.WebSocketResponse:
        """One tablet's session: a process of its own for as long as the socket lives."""
        if not self._guard.knows_origin(request.headers.get("Origin"), request.host):
            raise web.HTTPForbidden(text="Another page may not open this.")
        cookie = request.cookies.get(self._guard.cookie)
        client = self._guard.client_of(cookie)
        assert client is not None  # the middleware let it in
        if len(self._open) >= self._most:
            raise web.HTTPServiceUnavailable(text=f"All {self._most} places are taken.")
        websocket = web.WebSocketResponse(heartbeat=15, max_msg_size=1 << 20)
        self._open[websocket] = cookie
        try:
            await websocket.prepare(request)
            await self._session(request, websocket, *client)
        finally:
            self._open.pop(websocket, None)
        return websocket

    async def _session(self, request: web.Request, websocket: web.WebSocketResponse, role: Role, name: str) -> None:
        width, height = to_int(request.query.get("width", "80"), 80), to_int(request.query.get("height", "24"), 24)
        service = Client(
            self._target, role=role, name=name, place=self._places / f"{name}.json", work=self._work,
            program=self._program,
            write_bytes=websocket.send_bytes, write_str=websocket.send_str, close=websocket.close,
            download_manager=self.download_manager,
        )  # fmt: skip
        try:
            await service.start(width, height)
            # Whichever ends first, the tablet's link or the program: a socket without a program would take taps for ever.
            messages = asyncio.create_task(self._messages(websocket, service))
            program = asyncio.create_task(service.ended())
            try:
                await asyncio.wait([messages, program], return_when=asyncio.FIRST_COMPLETED)
            finally:
                messages.cancel()
                program.cancel()
        except (ConnectionResetError, asyncio.CancelledError):
            pass
        finally:
            await asyncio.shield(service.stop())
            await websocket.close()

    async def _messages(self, websocket: web.WebSocketResponse, service: Client) -> None:
        """What the page sends, until it is gone or sends what our page never does."""
        with contextlib.suppress(*_NOT_OURS, ConnectionResetError):
            async for message in websocket:
                if message.type != WSMsgType.TEXT:
                    continue
                said = message.json()
                kind, given = said[0], said[1:]
                if kind == "stdin":
                    seen, at = (*given[1:3], None, None)[:2]
                    await service.touched(given[0], seen, at)
                elif kind == "beat":
                    await service.beat(given[0])
                elif kind == "resize":
                    await service.set_terminal_size(given[0]["width"], given[0]["height"], given[0].get("cell"))
                elif kind == "ping":
                    await websocket.send_json(["pong", given[0]])
                elif kind in ("blur", "focus"):
                    await (service.blur() if kind == "blur" else service.focus())

    async def _heed_links(self) -> None:
        """Close the tablets whose link was withdrawn while the server runs; their page then says so."""
        while True:
            await asyncio.sleep(AGAIN)
            self._guard = self._links(self._guard)
            for socket, cookie in tuple(self._open.items()):
                if self._guard.client_of(cookie) is None:
                    with contextlib.suppress(ConnectionError, TimeoutError):
                        await asyncio.wait_for(socket.close(code=1008), AGAIN)

    async def on_shutdown(self, app: web.Application) -> None:
        """Close every socket; each session then ends its own process."""
        await asyncio.gather(*(socket.close(code=1001) for socket in tuple(self._open)), return_exceptions=True)

    def run(self, ready: Callable[[int], None]) -> None:
        """Serve until Ctrl+C or SIGTERM; ``ready`` is called once with the port."""

        async def main() -> None:
            loop = asyncio.get_running_loop()
            logging.getLogger("aiohttp.server").addFilter(_no_story)
            stop = asyncio.Event()
            for number in (signal.SIGINT, signal.SIGTERM):
                try:
                    loop.add_signal_handler(number, stop.set)
                except NotImplementedError:  # not on Windows: there Ctrl+C ends the loop itself
                    break
            runner = web.AppRunner(
                await self._make_app(), access_log=None, shutdown_timeout=4.0, keepalive_timeout=75.0
            )
            await runner.setup()
            assert runner.server is not None
            listener: asyncio.Server | None = None
            links = asyncio.create_task(self._heed_links())
            try:
                listener = await loop.create_server(
                    self._watched(runner.server), self.host, self.port, ssl=self._tls,
                    ssl_handshake_timeout=HURRY if self._tls else None, reuse_address=True,
                )  # fmt: skip
                ready(listener.sockets[0].getsockname()[1])
                await stop.wait()
            finally:
                links.cancel()
                if listener is not None:
                    listener.close()
                await runner.cleanup()

        asyncio.run(main())

    def _watched(self, server: web.Server) -> Callable[[], asyncio.Protocol]:
        """Connections that say nothing are dropped: many of them would leave no place for a tablet."""

        def drop(protocol: web.RequestHandler) -> None:
            if protocol in self._silent:
                self._silent.discard(protocol)
                if protocol.transport is not None:
                    protocol.transport.abort()

        def connected() -> asyncio.Protocol:
            protocol = server()
            self._silent.add(protocol)
            asyncio.get_running_loop().call_later(HURRY, drop, protocol)
            return protocol

        return connected


def _no_story(record: logging.LogRecord) -> bool:
    """A request that is none is answered and told in one line: whoever serves has nothing to do about it."""
    error = record.exc_info[1] if record.exc_info else None
    if isinstance(error, HttpProcessingError):
        peer = str(record.args[0]) if isinstance(record.args, tuple) and record.args else "unknown"
        record.msg, record.args = f"A request from {peer} was refused: {type(error).__name__}, {error.code}.", ()
        record.exc_info, record.exc_text = None, None
    return True
