"""A running server for the tests of this room."""

from __future__ import annotations

import contextlib
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

Start = Callable[..., tuple[subprocess.Popen[str], str]]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """start(target=..., port=0, most=8, real=False) -> (process, address); everything is ended afterwards."""
    running: list[subprocess.Popen[str]] = []

    def run(
        target: Path | None = None, port: int = 0, most: int = 8, real: bool = False, stub: str = "stub"
    ) -> tuple[subprocess.Popen[str], str]:
        script = Path(__file__).parent / "run_server.py"
        process = subprocess.Popen(
            [sys.executable, str(script), str(target or tmp_path), str(port), str(most), "real" if real else stub],
            stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        running.append(process)
        assert process.stdout is not None
        return process, process.stdout.readline().strip()

    yield run
    for process in running:
        process.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(8)
        process.kill()
