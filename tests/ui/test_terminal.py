"""The screens on a terminal that goes, and with what a shell redirects: on a pseudo-terminal, as a person starts them."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

pty = pytest.importorskip("pty", reason="a pseudo-terminal is a thing of POSIX")
PATIENCE = 20.0  # s


@contextmanager
def on_terminal(
    plan: Path, errors: Path | None = None, deaf: bool = False
) -> Iterator[tuple[subprocess.Popen[bytes], int]]:
    """The program on a terminal of its own; ``deaf``: a hang-up is not heard, as under nohup."""
    import fcntl
    import struct
    import termios

    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 32, 100, 0, 0))

    def own() -> None:
        os.setsid()
        fcntl.ioctl(0, termios.TIOCSCTTY, 0)
        if deaf:
            signal.signal(signal.SIGHUP, signal.SIG_IGN)

    with open(errors or os.devnull, "wb") as log:
        child = subprocess.Popen(
            [sys.executable, "-m", "splitline", str(plan)],
            stdin=slave, stdout=slave, stderr=log if errors is not None else slave, preexec_fn=own,
            env={**os.environ, "TERM": "xterm-256color", "XDG_STATE_HOME": str(plan.parent)},
        )  # fmt: skip
    os.close(slave)
    try:
        yield child, master
    finally:
        child.kill()
        child.wait(PATIENCE)


def until(master: int, words: bytes) -> bytes:
    """What the terminal was told, up to ``words``."""
    out, end = b"", time.monotonic() + PATIENCE
    while words not in out and time.monotonic() < end:
        if select.select([master], [], [], 0.1)[0]:
            out += os.read(master, 65536)
    return out


def spent(pid: int) -> float:
    """Seconds of processor time of a process."""
    fields = Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def test_errors_sent_to_a_file_leave_the_screen_where_it_was(plan_file: Path, tmp_path: Path) -> None:
    with on_terminal(plan_file, tmp_path / "log") as (_, master):
        assert b"Cover to casing" in until(master, b"Cover to casing")
    assert (tmp_path / "log").read_bytes() == b""


def test_a_terminal_that_is_closed_ends_the_program(plan_file: Path) -> None:
    with on_terminal(plan_file) as (child, master):
        until(master, b"Cover to casing")
        os.close(master)
        assert child.wait(PATIENCE) == -signal.SIGHUP


@pytest.mark.long
@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processor time is read from /proc")
def test_a_terminal_that_is_gone_unheard_ends_the_program_and_burns_nothing(plan_file: Path) -> None:
    with on_terminal(plan_file, deaf=True) as (child, master):
        until(master, b"Cover to casing")
        before = last = spent(child.pid)
        os.close(master)
        end = time.monotonic() + PATIENCE
        while child.poll() is None and time.monotonic() < end:
            last = spent(child.pid)
            time.sleep(0.05)
        assert child.returncode == 2
        assert last - before < 2.0  # a core burnt would be as many seconds as it took
