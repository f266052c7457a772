"""Two tablets tighten one cover together; one is killed, then the server: no stud lost, none twice."""

from __future__ import annotations

import asyncio
import contextlib
import datetime as dt
import os
import re
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Awaitable, Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from splitline.record.entry import Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk

if TYPE_CHECKING:
    from tests.serve.tablet import Tablet

ROOT = Path(__file__).parents[2]
PLAN = """format = 1
[plan]
title = "Two tablets"
crew = ["Ines", "Tomas"]
[[joint]]
id = "head"
title = "Head cover"
[joint.load]
holds_pressure = false
[joint.bolting]
thread = "M48x3"
grade = "ASTM A193 B7"
kind = "stud"
clamp_length = "268 mm"
engagement = "70 mm"
tapped_strength = "485 MPa"
bearing_limit = "490 MPa"
[joint.member]
modulus = "200 GPa"
outer_diameter = "1330 mm"
inner_diameter = "1030 mm"
flange_thickness = "150 mm"
[joint.friction]
lubricant = "molybdenum disulfide paste"
[joint.layout]
shape = "circle"
bolts = 24
diameter = "1180 mm"
[joint.target]
bolt_stress = "345 MPa"
[joint.tightening]
method = "torque wrench"
tools_together = 2
snug = 0
passes = [1.0]
finish_rounds = 0
[[joint.tightening.tool]]
name = "T1"
torque_max = "8000 N*m"
"""


def served(plan: Path, port: int = 0, most: int = 8) -> tuple[subprocess.Popen[str], str]:
    """The real server; its work link, which a restart keeps."""
    process = subprocess.Popen(
        [sys.executable, "-m", "splitline", "serve", str(plan), "--work", "--no-qr", "--port", str(port), "--most", str(most)],
        stdout=subprocess.PIPE, text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(plan.parent / "state")},
    )  # fmt: skip
    assert process.stdout is not None
    return process, process.stdout.readline().split()[-1]


def set_up(plan: Path, person: str) -> None:
    at = Desk(plan)
    at.take_seat(person)
    at.stand_plan()
    gate = at.task()[1]
    if gate.key.startswith("gate "):  # this cover tells less than its checks ask for
        acts.accept_plan(at, gate, tuple(gate.key.split()[2:]), person, "a cover of this test")
    acts.set_up(
        at,
        at.task()[1],
        "molybdenum disulfide paste",
        "B7",
        "wrench + wrench",
        f"{person} 1 + {person} 2",
        dt.date(2099, 1, 1),
    )
    at.leave_seat()


def done(plan: Path) -> Counter[int]:
    entries = Journal(plan).refresh().entries
    return Counter(bolt for entry in entries if isinstance(entry, Tightened) for bolt in entry.bolts)


async def until(plan: Path, bolts: int, again: Callable[[], Awaitable[None]]) -> None:
    """Wait until so many bolts are done; a tap lost on a busy machine is made again."""
    for turn in range(1, 150):
        if len(done(plan)) >= bolts:
            return
        await asyncio.sleep(0.1)
        if turn % 40 == 0:
            await again()
    raise AssertionError(f"{done(plan)}, wanted {bolts}")


def in_hand(screen: str) -> list[int]:
    """Studs a screen tells its crew to tighten now."""
    return [int(number) for number in re.findall(r"▸(\d+)", screen)]


async def shows(at: Tablet, said: Callable[[str], bool], seconds: float) -> str:
    """The screen, as soon as it shows this."""
    end = time.monotonic() + seconds
    while not said(screen := await at.screen()):
        assert time.monotonic() < end, screen
        await asyncio.sleep(0.05)
    return screen


@pytest.mark.chromium
async def test_two_tablets_one_cover(tmp_path: Path) -> None:
    pytest.importorskip("textual_serve")
    from tests.serve.tablet import CHROMIUM, tablet

    if CHROMIUM is None:
        pytest.skip("needs chromium, which is not installed here")

    async def key(at: Tablet, name: str) -> None:
        found = f"[...document.querySelectorAll('button')].find(b => b.textContent.trim() == '{name}')"
        await asyncio.sleep(0.4)  # a finger never comes before the eye has seen; a touch on an older picture is refused
        await at.run(f"{found}.click()")
        await asyncio.sleep(0.6)

    async def seated(at: Tablet, address: str, *keys: str) -> None:
        await at.open(address)
        await at.wait_for("Who works here?")
        await asyncio.sleep(0.8)
        for name in (*keys, "Enter"):
            await key(at, name)
        await at.wait_for("Go on")
        await key(at, "Enter")
        await at.wait_for("STUDS")

    plan = tmp_path / "cover.toml"
    plan.write_text(PLAN, "utf-8")
    for person in ("Ines", "Tomas"):
        set_up(plan, person)
    server, address = served(plan)
    try:
        async with tablet() as first:
            await seated(first, address)
            with contextlib.suppress(OSError):
                async with tablet() as second:
                    await seated(second, address, "→")
                    for number, at in enumerate((first, second, first, second), 1):
                        await key(at, "Enter")
                        await until(plan, 2 * number, partial(key, at, "Enter"))
                        # both screens agree within two seconds
                        marks = [f"✓{bolt}" for bolt in done(plan)]
                        for screen in (first, second):
                            await shows(screen, lambda text, marks=marks: all(m in text.split() for m in marks), 2)  # type: ignore[misc]
                    await first.wait_for("taken by Tomas", 8)
                    before = in_hand(await shows(first, in_hand, 2))
                    assert not set(before) & set(in_hand(await second.screen()))
                    # the tablet falls asleep: its link goes, its studs stay its own
                    await first.run("window.drawnText = ''; window.splitlineSocket.close()")
                    await first.wait_for("Go on", 25)
                    await key(first, "Enter")
                    await shows(first, lambda text: in_hand(text) == before, 6)  # the picture may be half drawn
            server.kill()
            server.wait()
            server, _ = served(plan, urlsplit(address).port or 0)
            await first.run("window.drawnText = ''")
            await first.wait_for("Go on", 25)  # the same tablet, the same person: nothing is asked again
            await asyncio.sleep(7)  # until the killed screens are known to be gone
            for _ in range(25):
                if len(done(plan)) == 22:
                    break
                await key(first, "Enter")
            # what the killed tablet had in hand stays its crew's, until they are back on another one
            await shows(first, lambda text: "Take over" in text and "Tomas" in text, 4)
            at = Desk(plan)
            at.take_seat("Tomas")
            acts.tighten(at, at.task()[1])
    finally:
        server.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            server.wait(8)
        server.kill()
    assert done(plan) == Counter(range(1, 25))
    assert verify(plan).ok
