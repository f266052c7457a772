"""Two tablets on slow links: no act is recorded against another instruction than the one under the finger."""

from __future__ import annotations

import asyncio
import contextlib
import random
import re
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from splitline.record.entry import Signed, Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from splitline.ui.work.desk import Desk
from tests.serve.slow_link import slow_link
from tests.serve.tablet import CHROMIUM, Tablet, tablet
from tests.serve.test_entries import ALIVE, EYE
from tests.serve.test_link import until
from tests.ui.test_work_tablets import PLAN, served, set_up

pytestmark = [
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed: the browser tests are skipped"),
]
# Of every touch what the glass showed, and when. Kept in the page, at the moment of the touch.
EYES = EYE.replace(
    "}, { capture", "(window.touched = window.touched || []).push([Date.now() / 1000, atTouch]); }, { capture"
)
STEPS = 30
STEP = re.compile(r"Clean face no\. (\d+)")
STEP_PLAN = PLAN + "".join(f"""[[step]]
id = "face-{n}"
text = "Clean face no. {n}"
""" for n in range(1, STEPS + 1))  # fmt: skip
Act = tuple[float, str, tuple[int, ...]]  # when, by whom, on what


def shown(glass: str) -> tuple[int, ...]:
    """What a glass tells to do: the step, else the studs in hand, in the instruction or in the question about it."""
    step = STEP.search(glass)
    if step:
        return (int(step.group(1)),)
    asked = re.search(r"studs? ([\d +]+): pulled", glass)
    found = re.findall(r"\d+", asked.group(1)) if asked else re.findall(r"▸(\d+)", glass)
    return tuple(sorted(map(int, found)))


def unexplained(acts: list[Act], touches: list[Act], delay: float, longest: float = 4.0) -> list[Act]:
    """Acts without a touch of their own, by that person, on that instruction, that can have been their cause.

    A touch is on its way for ``delay`` s at least and ``longest`` at most, and causes one act. Times agree to 0.2 s.
    """
    left, found = list(touches), []
    for act in sorted(acts):
        at, by, what = act
        own = [t for t in left if t[1:] == (by, what) and -longest <= t[0] - at <= 0.2 - delay]
        if own:
            left.remove(min(own))
        else:
            found.append(act)
    return found


def test_the_oracle_finds_an_act_on_another_instruction() -> None:
    touches = [(10.0, "Ines", (1,)), (10.6, "Tomas", (1,)), (20.0, "Ines", (2,))]
    assert unexplained([(10.9, "Ines", (1,)), (20.9, "Ines", (2,))], touches, 0.9) == []
    other = (11.5, "Tomas", (2,))  # touched when the glass still told 1; Ines saw 2, later
    assert unexplained([(10.9, "Ines", (1,)), other], touches, 0.9) == [other]
    twice = (11.2, "Ines", (1,))
    assert unexplained([(10.9, "Ines", (1,)), twice], touches, 0.9) == [twice]
    early = (20.3, "Ines", (2,))  # before its touch can have arrived
    assert unexplained([early], touches, 0.9) == [early]


async def tap_word(page: Tablet, word: str) -> bool:
    """Touch the lowest box that says so."""
    columns, rows = await page.run("[splitlineTerminal.terminal.cols, splitlineTerminal.terminal.rows]")
    lines = (await page.screen()).split("\n")
    for y in range(len(lines) - 1, -1, -1):
        found = re.search(rf"(?<![a-z]){word}(?![a-z])", lines[y])
        if found:
            await page.tap(*await page.cell(found.start() + 1, y, columns, rows))
            return True
    return False


async def seated(page: Tablet, address: str, person: str) -> None:
    await page.open(address, 800, 1280)
    await page.run(EYES)
    await page.wait_for("Who works here?", 25)
    await until(lambda: page.run(ALIVE), 25)
    for _ in range(30):
        await asyncio.sleep(0.7)
        screen = await page.screen()
        if "Who works here?" in screen:
            await tap_word(page, person)
        elif "Go on" in screen:
            await tap_word(page, "Go on")
        elif "Done" in screen:
            return
    raise AssertionError(await page.screen())


def stored(plan: Path) -> list[Act]:
    """What was stored by a touch on Done, in the time of the pages."""
    offset = time.time() - time.clock_gettime(time.CLOCK_BOOTTIME)
    found: list[Act] = []
    for entry in Journal(plan).refresh().entries:
        if isinstance(entry, Tightened):
            found.append(((entry.tick or 0) + offset, entry.done_by, tuple(sorted(entry.bolts))))
        elif isinstance(entry, Signed) and entry.act == "done":
            found.append(((entry.tick or 0) + offset, entry.done_by, (int(entry.step.rpartition("-")[2]),)))
    return found


async def acts(tmp_path: Path, count: int, delay: float, text: str, enough: int, seed: int = 14) -> None:
    """At least ``count`` taps on Done on two tablets, by hands that do not wait for the picture."""
    rng = random.Random(seed)
    taps, jobs = 0, 0
    while taps < count:
        jobs += 1
        plan = tmp_path / str(jobs) / "cover.toml"
        plan.parent.mkdir()
        plan.write_text(text, "utf-8")
        for person in ("Ines", "Tomas"):
            stand(plan, person)
        server, address = served(plan)
        parts = urlsplit(address)
        try:
            async with contextlib.AsyncExitStack() as stack:
                _, beside = await stack.enter_async_context(slow_link(parts.port or 0, delay))
                pages = {name: await stack.enter_async_context(tablet()) for name in ("Ines", "Tomas")}
                for name, page in pages.items():
                    await seated(page, f"{beside}?{parts.query}", name)
                while taps < count and len(stored(plan)) < enough:
                    first, second = rng.sample(("Ines", "Tomas"), 2)
                    for name in (first, second, second, first)[
                        : rng.choice((1, 2, 2, 3, 4))
                    ]:  # before a picture changed
                        taps += await tap_word(pages[name], rng.choice(("Done", "Done", "Pulled")))
                        await asyncio.sleep(rng.uniform(0.05, 0.6))
                    await asyncio.sleep(rng.uniform(0.2, 1.6))
                await asyncio.sleep(2 * delay + 0.5)
                touches = [
                    (at, name, shown(glass))
                    for name, page in pages.items()
                    for at, glass in await page.run("window.touched")
                ]
        finally:
            server.terminate()
            server.wait(8)
        found = stored(plan)
        assert found
        assert unexplained(found, touches, delay) == [], (
            "stored against another instruction than the one under the finger"
        )
        done = [what for _, _, each in found for what in each]
        assert len(done) == len(set(done))
        assert verify(plan).ok
    print(f"{taps} taps on {jobs} jobs, 0 against another instruction")


def stand(plan: Path, person: str) -> None:
    """The plan in the record and, where it is a joint alone, a tool in hand."""
    if plan.read_text("utf-8") == STEP_PLAN:
        at = Desk(plan)
        at.take_seat(person)
        at.stand_plan()
        at.leave_seat()
    else:
        set_up(plan, person)


JOBS = pytest.mark.parametrize(("text", "enough"), [(PLAN, 10), (STEP_PLAN, STEPS - 6)], ids=["studs", "steps"])


@JOBS
async def test_two_tablets_on_slow_links(tmp_path: Path, text: str, enough: int) -> None:
    await acts(tmp_path, 12, 0.4, text, enough)


@pytest.mark.long
@pytest.mark.parametrize("part", range(5))
@JOBS
async def test_five_hundred_acts_by_two_tablets_on_slow_links(
    tmp_path: Path, text: str, enough: int, part: int
) -> None:
    """Ten parts of fifty taps, a few minutes each."""
    await acts(tmp_path, 50, 0.9, text, enough, part)
