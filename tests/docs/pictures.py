"""The pictures of the docs, made from the running program on the demo plan: ``python -m tests.docs.pictures``.

Plan and record are the demo's, so that a picture changes only when the program does. The SVGs hold no outside links.
"""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from textual.pilot import Pilot
from textual.worker import WorkerCancelled

from splitline.ui.app import SplitlineApp
from splitline.ui.draw.picture import without_links

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
DEMO = ROOT / "plans" / "k410-closeup.toml"
WIDE, TABLET = (100, 32), (80, 24)

Act = Callable[[Pilot[None]], Awaitable[None]]


async def settled(pilot: Pilot[None], until: Callable[[], bool] | None = None, workers: bool = True) -> None:
    """Wait for everything beside the screen; with ``until``, for that to be so as well.

    ``workers``: not on the fitter's screen, where one of them waits for a person's answer.
    """
    for _ in range(300):
        await pilot.pause(0.02)
        if workers:
            with suppress(WorkerCancelled):  # its screen was left
                await pilot.app.workers.wait_for_complete()
        if until is None or until():
            break
    else:
        raise SystemExit(f"never came to this: {seen(pilot.app)}")
    await pilot.pause(0.05)


def seen(app: Any) -> str:
    """Text on the screen now."""
    found = re.findall(r">([^<]*)</text>", app.export_screenshot())
    return "\n".join(found).replace("&#160;", " ").replace("&#x27;", "'")


async def to_item(pilot: Pilot[None], ident: str) -> None:
    """Select an item of the plan by its id, as a search and Enter would."""
    screen: Any = pilot.app.screen
    await settled(pilot, lambda: screen.session_or_none is not None and screen.session.outcome is not None)
    kind, _, name = ident.partition(" ")
    screen.select(kind, screen.session.index_of(kind, name))
    await settled(pilot)


def item(ident: str, *keys: str) -> Act:
    """Go to an item, then press keys."""

    async def act(pilot: Pilot[None]) -> None:
        await to_item(pilot, ident)
        for key in keys:
            await pilot.press(key)
            await settled(pilot)

    return act


async def working(pilot: Pilot[None]) -> None:
    """Take a seat on the fitter's screen and go on to the instruction."""
    await settled(pilot, lambda: "Who works here?" in seen(pilot.app), workers=False)
    await pilot.press("enter")
    await settled(pilot, lambda: "Go on" in seen(pilot.app), workers=False)
    await pilot.press("enter")
    await settled(pilot, lambda: "Stop work" in seen(pilot.app), workers=False)


# name of the file: (title in its frame, size, on the fitter's screen, what is done before the picture)
PICTURES: dict[str, tuple[str, tuple[int, int], bool, Act]] = {
    "plan": ("splitline plans/k410-closeup.toml", WIDE, False, item("joint discharge-head")),
    "joint": ("drawings of a joint (v)", WIDE, False, item("joint discharge-head", "v")),
    "passes": ("passes of a joint (v, then p)", WIDE, False, item("joint discharge-head", "v", "p", *["pageup"] * 3)),
    "lift": ("drawings of a lift (v)", WIDE, False, item("lift discharge-head-lift", "v")),
    "fit": ("drawings of a fit (v)", WIDE, False, item("fit thrust-collar", "v")),
    "why": ("why a number is so (w)", WIDE, False, item("joint discharge-head", "w")),
    "work": ("splitline --work plans/k410-closeup.toml", TABLET, True, working),
}


async def picture(name: str, folder: Path) -> str:
    """One picture as SVG text."""
    title, size, work, act = PICTURES[name]
    path = folder / DEMO.name
    shutil.copy(DEMO, path)
    if work:
        from tests.docs.shift import worked

        worked(path)
    app = SplitlineApp(path, work_only=work)
    async with app.run_test(size=size) as pilot:
        await act(pilot)
        await settled(pilot, workers=not work)
        return without_links(app.export_screenshot(title=title))


def still(folder: Path) -> None:
    """What the screens remember is not that of this machine."""
    os.environ["XDG_STATE_HOME"] = str(folder / "state")
    os.environ.pop("NO_COLOR", None)
    os.environ["TZ"] = "UTC"


async def make(names: list[str], out: Path) -> list[Path]:
    """Make pictures into a folder."""
    made = []
    for name in names:
        with tempfile.TemporaryDirectory() as folder:
            still(Path(folder))
            text = await picture(name, Path(folder))
        target = out / f"{name}.svg"
        target.write_text(text, "utf-8")
        made.append(target)
    return made


if __name__ == "__main__":
    asyncio.run(make(sys.argv[1:] or list(PICTURES), DOCS))
