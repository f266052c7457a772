"""The processes behind the tablets: started without a shell, told who they are, ended for certain."""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from textual_serve.app_service import AppService

from splitline.serve.child import CLIENT, PARENT, PLACE
from splitline.serve.guard import Role

PROGRAM = (sys.executable, "-m", "splitline.serve.child")
COLUMNS, ROWS = (20, 500), (5, 300)  # a terminal may have: no message makes a program paint a field of any size
DRIVER = "splitline.serve.driver:TabletDriver"
GRACE = 3.0  # seconds a program has to store and leave before it is ended


class Client(AppService):
    """One tablet's process."""

    def __init__(
        self,
        target: Path,
        *,
        role: Role,
        name: str,
        place: Path,
        work: bool,
        program: Sequence[str] = PROGRAM,
        **pipes: Any,
    ) -> None:
        super().__init__("", **pipes)
        self._arguments = [*program, str(target)]
        if work:
            self._arguments.append("--work")
        if role == "view":
            self._arguments.append("--view-only")
        self._told = {PARENT: str(os.getpid()), CLIENT: name, PLACE: str(place)}

    async def _open_app_process(self, width: int = 80, height: int = 24) -> asyncio.subprocess.Process:
        environment = self._build_environment(width=width, height=height) | self._told | {"TEXTUAL_DRIVER": DRIVER}
        pipe = asyncio.subprocess.PIPE
        self._process = await asyncio.create_subprocess_exec(
            *self._arguments, stdin=pipe, stdout=pipe, stderr=pipe, env=environment
        )
        self._stdin = self._process.stdin
        return self._process

    async def start(self, width: int, height: int) -> None:
        """Begin, no smaller and no larger than a screen may be."""
        await super().start(*_size(width, height))

    async def set_terminal_size(self, width: int, height: int, cell: object = None) -> None:
        """The tablet was turned; ``cell`` width and height in CSS pixels."""
        cells, rows = _size(width, height)
        told: dict[str, Any] = {"type": "resize", "width": cells, "height": rows}
        if isinstance(cell, list) and len(cell) == 2 and all(isinstance(each, (int, float)) for each in cell):
            told |= {"cell_width": cell[0], "cell_height": cell[1]}
        await self.send_meta(told)

    async def touched(self, text: str, seen: object, at: object) -> None:
        """Keys or a touch, with the picture it was on and when, as the page says."""
        told: dict[str, Any] = {"type": "touch", "seen": seen if isinstance(seen, int) else None, "at": None}
        if isinstance(at, (int, float)) and abs(at) < float("inf"):
            told["at"] = at
        await self.send_meta(told)
        await self.send_bytes(text.encode("utf-8"))

    async def beat(self, number: object) -> None:
        """The page asks whether the program lives; only the program itself answers."""
        await self.send_meta({"type": "beat", "n": int(number) if isinstance(number, (int, float)) else 0})

    async def on_meta(self, data: bytes) -> None:
        """What the program says beside its picture."""
        said = json.loads(data)
        if said.get("type") in ("beat", "feel", "typing", "reading"):
            await self.remote_write_str(json.dumps([said["type"], said]))
        else:
            await super().on_meta(data)

    async def ended(self) -> None:
        """Return when the program has ended, whatever ended it."""
        if self._task is not None:
            await asyncio.wait([self._task])

    async def stop(self) -> None:
        """Ask the program to leave; end it after the grace time."""
        process = self._process
        if process is None:
            return
        with contextlib.suppress(TimeoutError, asyncio.CancelledError):
            await asyncio.wait_for(super().stop(), GRACE)
        if process.returncode is None:
            with contextlib.suppress(ProcessLookupError):
                process.kill()
        await process.wait()


def _size(width: object, height: object) -> tuple[int, int]:
    """Within what a terminal may have. TypeError: not numbers."""
    if not (isinstance(width, (int, float)) and isinstance(height, (int, float))):
        raise TypeError("a size is two numbers")
    return int(max(COLUMNS[0], min(COLUMNS[1], width))), int(max(ROWS[0], min(ROWS[1], height)))
