"""Several processes on one record, and processes killed while they append."""

from __future__ import annotations

import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.entry import Recovered
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from tests.record.helpers import pull

ROOT = Path(__file__).parents[2]


def start(plan: Path, name: str, count: int, *more: str) -> subprocess.Popen[str]:
    env = os.environ | {"PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT}"}
    command = [sys.executable, "-m", "tests.record.writer", str(plan), name, str(count), *more]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env, cwd=ROOT)


def together(folder: Path, writers: int, each: int) -> None:
    plan = folder / "cover.toml"
    running = [start(plan, f"w{place}", each) for place in range(writers)]
    said = [process.communicate()[0] for process in running]
    assert [process.returncode for process in running] == [0] * writers
    entries = Journal(plan).refresh().entries
    assert [entry.number for entry in entries] == list(range(1, writers * each + 1))
    assert {entry.uid for entry in entries} == {f"w{w}-{n}" for w in range(writers) for n in range(each)}
    hashes = {entry.uid: (str(entry.number), entry.hash) for entry in entries}
    for line in "".join(said).splitlines():
        word, uid, number, digest = line.split()
        assert (word, hashes[uid]) == ("stored", (number, digest))
    assert verify(plan).ok
    assert verify(plan).remarks == ()
    assert len(tomllib.loads((folder / "cover.record.toml").read_text("utf-8"))["entry"]) == writers * each


def test_writers_together_lose_nothing(tmp_path: Path) -> None:
    together(tmp_path, 4, 40)


@pytest.mark.long
def test_eight_writers_of_five_hundred(tmp_path: Path) -> None:
    together(tmp_path, 8, 500)


def killed(folder: Path, kills: int, start_at: int) -> None:
    """Kill two writers at random moments again and again: each acknowledged entry stays, the file always reads."""
    chance = random.Random(start_at)
    plan = folder / "cover.toml"
    acknowledged: dict[str, str] = {}
    for turn in range(0, kills, 2):
        pair = [start(plan, f"k{turn + place}", 10_000) for place in range(2)]
        first = pair[0].stdout
        assert first is not None
        lines = [first.readline()]  # it is at work
        time.sleep(chance.uniform(0, 0.02))
        for process in pair:
            process.send_signal(signal.SIGKILL)
            time.sleep(chance.uniform(0, 0.004))
        for process in pair:
            lines += process.communicate()[0].splitlines()
        for line in lines:
            if line.startswith("stored ") and len(line.split()) == 4 and len(line.split()[3]) == 64:
                acknowledged[line.split()[1]] = line.split()[3]
        hashes = {entry.uid: entry.hash for entry in Journal(plan).refresh().entries}
        assert acknowledged.items() <= hashes.items()
        assert verify(plan).ok
    tomllib.loads((folder / "cover.record.toml").read_text("utf-8").rpartition("\n\n")[0])
    Journal(plan).append(pull(1))
    assert verify(plan).ok
    assert len(acknowledged) >= kills // 2


def test_writers_killed_at_random_lose_nothing_acknowledged(tmp_path: Path) -> None:
    killed(tmp_path, 10, start_at=7)


@pytest.mark.long
def test_five_hundred_kills(tmp_path: Path) -> None:
    killed(tmp_path, 500, start_at=11)


def test_a_writer_killed_between_any_two_bytes_is_recovered(tmp_path: Path) -> None:
    """The file as a killed writer may leave it: a whole record and any first part of one more block."""
    plan = tmp_path / "cover.toml"
    book = Journal(plan)
    book.append(pull(1))
    whole, head = book.paths.record.read_bytes(), book.paths.head.read_bytes()
    book.append(pull(2))
    more = book.paths.record.read_bytes()[len(whole) :]
    for size in [*range(1, len(more), 23), len(more) - 2, len(more) - 1, len(more)]:
        book.paths.record.write_bytes(whole + more[:size])
        book.paths.head.write_bytes(head)
        book.paths.seen.unlink(missing_ok=True)  # written after the head: a killed writer never came to it
        fresh = Journal(plan)
        fresh.append(pull(3))
        kept = [entry for entry in fresh.record.entries if isinstance(entry, Recovered)]
        assert len(kept) == (0 if size >= len(more) - 2 else 1)
        assert verify(plan).ok


def test_a_full_disk_is_said_and_nothing_unstored_is_acknowledged(tmp_path: Path) -> None:
    plan = tmp_path / "cover.toml"
    process = start(plan, "full", 12, "3000")
    lines = process.communicate()[0].splitlines()
    stored = [line.split()[1] for line in lines if line.startswith("stored")]
    refused = [line for line in lines if line.startswith("refused")]
    assert len(stored) + len(refused) == 12
    assert stored
    assert all("NOT stored: File too large" in line for line in refused)
    assert [entry.uid for entry in Journal(plan).refresh().entries] == stored
    assert (tmp_path / "cover.record.toml").stat().st_size <= 3000
    assert Journal(plan).refresh().torn == 0
    assert Journal(plan).append(pull(1)).number == len(stored) + 1
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] != 3000


def _drop_root(plan: str) -> None:
    os.setgid(65534)
    os.setuid(65534)
    try:
        Journal(Path(plan)).append(pull(2))
    except RecordError as error:
        os._exit(0 if "nothing was stored" in str(error) and "writable" in str(error) else 3)
    os._exit(4)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and users of a Unix system")
def test_a_folder_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    book = Journal(tmp_path / "cover.toml")
    book.append(pull(1))
    before = sorted(path.name for path in tmp_path.iterdir())
    for path in tmp_path.iterdir():
        path.chmod(0o444)
    tmp_path.chmod(0o555)
    parents = [
        folder
        for folder in tmp_path.parents
        if folder.is_relative_to(tempfile.gettempdir()) and folder != Path(tempfile.gettempdir())
    ]
    modes = [folder.stat().st_mode for folder in parents]
    try:
        if os.getuid() == 0:
            for folder in parents:
                folder.chmod(0o755)
            child = os.fork()
            if child == 0:
                _drop_root(str(tmp_path / "cover.toml"))
            assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        else:
            with pytest.raises(RecordError, match=r"nothing was stored.*writable"):
                Journal(tmp_path / "cover.toml").append(pull(2))
    finally:
        tmp_path.chmod(0o755)
        for folder, mode in zip(parents, modes, strict=True):
            folder.chmod(mode)
    assert sorted(path.name for path in tmp_path.iterdir()) == before
    assert book.refresh().count == 1


def test_a_lock_held_by_another_is_waited_for_and_said(tmp_path: Path) -> None:
    from splitline.record.lock import locked

    book = Journal(tmp_path / "cover.toml", patience=0.05)
    with locked(book.paths.lock), pytest.raises(RecordError, match="another program holds"):
        book.append(pull(1))
    assert book.append(pull(1)).number == 1
    assert book.paths.lock.exists()
