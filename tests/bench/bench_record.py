"""What an entry and an opening cost. ``pytest tests/bench/bench_record.py`` (pytest-benchmark), on demand."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

from splitline.errors import RecordError
from splitline.record.entry import Tightened
from splitline.record.journal import Journal
from splitline.record.progress import check_bolts, joint_progress
from tests.record.helpers import joint
from tests.record.test_writers import start

ROOT = Path(__file__).parents[2]


def long_record(folder: Path, count: int = 20_000) -> Path:
    plan = folder / "cover.toml"
    book = Journal(plan, sync=lambda fd: None)
    for place in range(count):
        book.append(
            Tightened(
                uid=f"{place:032x}", done_by="A. Fitter", joint="head", pass_="1", step=place % 24 + 1,
                bolts=(place % 24 + 1,), share=0.3, torque=1020.0 + place % 7, pressure=88e5, tool="wrench W2",
                serial="4711", lubricant="molybdenum disulfide paste", batch="B1", library="0123abcd", crew="A",
            )
        )  # fmt: skip
    return plan


def test_open_20_000_entries(benchmark: Any, tmp_path: Path) -> None:
    """Aim: under 0.5 s."""
    plan = long_record(tmp_path)

    def opened() -> int:
        return Journal(plan).refresh().count

    assert benchmark.pedantic(opened, rounds=5) == 20_000
    assert benchmark.stats.stats.median < 0.5


def test_acknowledge_with_a_check(benchmark: Any, tmp_path: Path) -> None:
    """One writer, fsync taken out, after 1000 entries, the bolt checked against the whole record."""
    plan = long_record(tmp_path, 1000)
    book = Journal(plan, sync=lambda fd: None)
    book.refresh()
    head = joint(8)
    names = iter(range(10**9))

    def one() -> None:
        act = Tightened(uid=f"b{next(names)}", done_by="x", joint="head", pass_="snug", bolts=(1,))
        with suppress(RecordError):  # all but the first are refused, at the same cost
            book.append(act, lambda now: check_bolts(head, now, act))

    benchmark.pedantic(one, rounds=200)
    assert benchmark.stats.stats.median < 0.02


def test_progress_of_20_000_entries(benchmark: Any, tmp_path: Path) -> None:
    entries = Journal(long_record(tmp_path)).refresh().entries
    benchmark.pedantic(lambda: joint_progress(joint(24), entries), rounds=5)


CODE = """
import sys, time, os
from pathlib import Path
from splitline.record.entry import Note
from splitline.record.journal import Journal
spent = [0.0]
def sync(fd):
    t = time.perf_counter(); os.fsync(fd); spent[0] += time.perf_counter() - t
book = Journal(Path(sys.argv[1]), sync=sync)
for place in range(200):
    spent[0] = 0.0
    t = time.perf_counter()
    book.append(Note(uid=f"me-{place}", done_by="me", text="x" * 300))
    print(time.perf_counter() - t, spent[0])
    time.sleep(0.05)
"""


def measure(plan: Path) -> tuple[list[float], list[float]]:
    env = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    said = subprocess.run([sys.executable, "-c", CODE, str(plan)], capture_output=True, text=True, check=True, env=env)
    pairs = [tuple(map(float, line.split())) for line in said.stdout.splitlines()]
    return sorted(total - sync for total, sync in pairs), sorted(sync for _, sync in pairs)


def test_acknowledge_with_four_writers(tmp_path: Path) -> None:
    """Four writers at once (three without a pause, the fourth every 50 ms): time beyond its own fsync, aim 20 ms."""
    plan = tmp_path / "cover.toml"
    others = [start(plan, f"w{place}", 100_000) for place in range(3)]
    try:
        time.sleep(0.5)
        beyond, sync = measure(plan)
    finally:
        for process in others:
            process.kill()
            process.communicate()
    print(f"\nbeyond fsync: median {beyond[100] * 1e3:.1f} ms, 95 % {beyond[190] * 1e3:.1f} ms; "
          f"fsync median {sync[100] * 1e3:.1f} ms")  # fmt: skip
    assert beyond[100] < 0.02
