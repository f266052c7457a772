"""What a tablet costs that nobody touches, and what one question costs: twenty of them share two cores."""

from __future__ import annotations

import asyncio
import re
from pathlib import Path

import aiohttp

from splitline.ui.app import SplitlineApp
from splitline.ui.work.choice import Choice, ChoiceScreen
from tests.serve.test_server import client, socket_of
from tests.ui.test_work_tablets import PLAN, served, set_up

NUMBER = re.compile(r"\x1b\]7411;(\d+)\x07")


async def test_a_tablet_that_nobody_touches_answers_and_paints_nothing(tmp_path: Path) -> None:
    plan = tmp_path / "cover.toml"
    plan.write_text(PLAN, "utf-8")
    set_up(plan, "Ines")
    server, address = served(plan)
    base, _, token = address.partition("?token=")
    try:
        async with client(base, token) as session, socket_of(session, base) as socket:
            text, number = "", 0
            for key, words in (("1", "works here"), ("\r", "Go on"), ("", "STUDS")):
                while words not in text:
                    message = await socket.receive(timeout=20)
                    if message.type is aiohttp.WSMsgType.BINARY:
                        text += message.data.decode("utf-8", "replace")
                        number = int((NUMBER.findall(text) or ["0"])[-1])
                await asyncio.sleep(0.6)  # an eye before a finger
                await socket.send_json(["stdin", key, number + 9, None])
            for _ in range(100):  # until everything is painted
                try:
                    await socket.receive(timeout=1.2)
                except TimeoutError:
                    break
            answers, pictures = 0, 0
            while answers < 5:
                await socket.send_json(["beat", answers])
                await asyncio.sleep(0.4)
                message = await socket.receive(timeout=5)
                answers += message.type is aiohttp.WSMsgType.TEXT
                pictures += message.type is aiohttp.WSMsgType.BINARY
            assert pictures == 0
    finally:
        server.terminate()
        server.wait(8)


async def test_nothing_shines_through_a_question_on_a_tablet(tmp_path: Path) -> None:
    """Mixing the picture below into every frame of a question took more time than the question itself."""
    for on_tablet in (True, False):
        app = SplitlineApp(tmp_path, served=on_tablet)
        async with app.run_test(size=(80, 40)) as pilot:
            app.push_screen(ChoiceScreen("Which", [Choice("a", "A")]))
            await pilot.pause()
            assert (app.screen.styles.background.a == 1) == on_tablet
