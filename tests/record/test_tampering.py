"""What people, editors and copying tools do to a record: found, named, and nothing is stored on top of it unseen."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.chain import OPENING
from splitline.record.entry import Accepted
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from tests.record.helpers import journal, pull, uid


def fill(folder: Path, count: int = 8, who: str = "A. Fitter") -> Journal:
    folder.mkdir(exist_ok=True)
    book = journal(folder)
    for bolt in range(1, count + 1):
        book.append(pull(bolt, torque=1000.0 + bolt, done_by=who))
    return book


def blocks(book: Journal) -> list[bytes]:
    return book.paths.record.read_bytes().split(b"\n\n")[:-1]


def put(book: Journal, found: list[bytes]) -> None:
    book.paths.record.write_bytes(b"\n\n".join([*found, b""]))


def in_place(book: Journal, old: bytes, new: bytes) -> None:
    at = book.paths.record.read_bytes().index(old)
    with book.paths.record.open("r+b") as file:
        file.seek(at)
        file.write(new)


def test_an_entry_altered_under_an_open_screen_is_seen_before_the_next_one_is_stored(tmp_path: Path) -> None:
    book = fill(tmp_path)
    in_place(book, b"1003.0", b"1009.0")
    with pytest.raises(RecordError, match="entry 3 was altered"):
        book.append(pull(9))
    assert len(blocks(book)) == 8


def test_entries_swapped_under_an_open_screen_are_seen(tmp_path: Path) -> None:
    book = fill(tmp_path)
    found = blocks(book)
    found[2], found[3] = found[3], found[2]
    put(book, found)
    with pytest.raises(RecordError, match="entry 3 was altered"):
        book.append(pull(9))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda head: head.unlink(),
        lambda head: head.write_bytes(b""),
        lambda head: head.write_bytes(b"\xff\x00garbage"),
    ],
    ids=["removed", "empty", "garbage"],
)
@pytest.mark.parametrize("left", [8, 5])
def test_without_its_head_file_a_record_is_not_gone_on_with_unseen(
    tmp_path: Path, spoil: Callable[[Path], None], left: int
) -> None:
    book = fill(tmp_path)
    put(book, blocks(book)[:left])
    spoil(book.paths.head)
    found = verify(tmp_path / "cover.toml").problems
    assert [problem.key for problem in found] == [f"no head file after entry {left}"]
    fresh = journal(tmp_path)
    with pytest.raises(RecordError, match="head file is gone or does not read"):
        fresh.append(pull(9))
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=found[0].key, reason="copied without it"))
    assert fresh.append(pull(9)).number == left + 2
    assert verify(tmp_path / "cover.toml").ok


def test_a_head_file_of_another_record_is_told(tmp_path: Path) -> None:
    here, other = fill(tmp_path / "here", 5), fill(tmp_path / "other", 8, "B. Fitter")
    shutil.copy(other.paths.record, here.paths.record)
    found = verify(tmp_path / "here" / "cover.toml").problems
    assert [problem.key for problem in found] == ["another head file after entry 8"]
    with pytest.raises(RecordError, match="do not belong together at entry 5"):
        journal(tmp_path / "here").append(pull(9))


def test_a_last_entry_forged_with_its_hash_shows_at_the_head_file(tmp_path: Path) -> None:
    book = fill(tmp_path)
    other = fill(tmp_path / "other", 7)
    other.append(pull(8, torque=5.0))
    put(book, [*blocks(book)[:7], blocks(other)[7]])
    assert not verify(tmp_path / "cover.toml").ok


def test_an_open_screen_knows_a_record_that_went_with_its_head_file(tmp_path: Path) -> None:
    book = fill(tmp_path)
    book.refresh()
    book.paths.record.unlink()
    book.paths.head.unlink()
    with pytest.raises(RecordError, match="entries 1 to 8: missing"):
        book.append(pull(9))
    assert not book.paths.record.exists()


def test_a_record_that_is_gone_from_beside_its_head_file_is_missing_not_new(tmp_path: Path) -> None:
    book = fill(tmp_path)
    book.paths.record.unlink()
    assert [problem.key for problem in verify(tmp_path / "cover.toml").problems] == ["missing entries 1 to 8"]


def test_line_ends_changed_in_the_only_entry_are_no_torn_tail(tmp_path: Path) -> None:
    book = fill(tmp_path, 1)
    book.paths.head.unlink()
    book.paths.record.write_bytes(book.paths.record.read_bytes().replace(b"\n", b"\r\n"))
    assert book.paths.record.read_bytes().startswith(OPENING[:-1])
    with pytest.raises(RecordError, match="line ends"):
        journal(tmp_path).append(pull(9))
    assert verify(tmp_path / "cover.toml").remarks == (
        "no readable head file: compare count and head with the printed ones",
    )


def test_a_cut_end_is_accepted_before_an_altered_entry_so_that_neither_is_passed_over(tmp_path: Path) -> None:
    book = fill(tmp_path)
    left = blocks(book)[:5]
    left[1] = left[1].replace(b"1002.0", b"1020.0")
    put(book, left)
    fresh = journal(tmp_path)
    altered, cut = (problem.key for problem in fresh.refresh().problems)
    with pytest.raises(RecordError, match="6 to 8: missing"):
        fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=altered, reason="slip"))
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=cut, reason="disk restored"))
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=altered, reason="slip"))
    assert fresh.append(pull(9)).number == 8


def test_a_persons_word_for_an_altered_entry_is_not_for_its_next_alteration(tmp_path: Path) -> None:
    book = fill(tmp_path)
    in_place(book, b"1002.0", b"1020.0")
    key = book.refresh().problems[0].key
    book.append(Accepted(uid=uid(), done_by="D. Lead", stop=key, reason="slip"))
    book.append(pull(9))
    in_place(book, b"1020.0", b"5020.0")
    with pytest.raises(RecordError, match="entry 2 was altered"):
        book.append(pull(10))


def test_reading_beside_a_writer_at_work_raises_no_alarm(tmp_path: Path) -> None:
    plan = tmp_path / "cover.toml"
    command = [sys.executable, "-m", "tests.record.writer", str(plan), "w", "150"]
    writer = subprocess.Popen(command, stdout=subprocess.DEVNULL, cwd=Path(__file__).parents[2], env=dict(os.environ))
    reader = Journal(plan)
    while writer.poll() is None:
        assert reader.refresh().problems == ()
    assert reader.refresh().count == 150
