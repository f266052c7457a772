"""Copies of a record put back: told by the folder, by a running process and by comparing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from splitline.cli import main
from splitline.errors import RecordError
from splitline.record.entry import Note
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from tests.record.helpers import journal, pull, uid

PAIR = ("cover.record.toml", "cover.record.head")


def note(text: str) -> Note:
    return Note(uid=uid(), done_by="A. Fitter", text=text)


def copied(folder: Path, to: Path) -> None:
    to.mkdir(exist_ok=True)
    for name in PAIR:
        shutil.copy(folder / name, to / name)


def test_an_older_pair_put_back_is_told_by_the_folder(tmp_path: Path) -> None:
    made = journal(tmp_path)
    made.append(note("one"))
    copied(tmp_path, tmp_path / "copy")
    made.append(note("two"))
    made.append(note("three"))
    assert verify(tmp_path / "cover.toml").seen == 3
    copied(tmp_path / "copy", tmp_path)
    found = verify(tmp_path / "cover.toml")
    assert not found.ok
    assert "this folder has seen 3 entries, the record holds 1" in found.problems[0].text


def test_an_older_pair_put_back_under_a_running_process_stops_it(tmp_path: Path) -> None:
    made = journal(tmp_path)
    made.append(note("one"))
    copied(tmp_path, tmp_path / "copy")
    made.append(note("two"))
    copied(tmp_path / "copy", tmp_path)
    assert [problem.key for problem in made.refresh().problems] == ["missing entry 2"]
    with pytest.raises(RecordError, match="missing"):
        made.append(pull(1))


def test_compare_names_what_each_copy_has_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made = journal(tmp_path)
    made.append(note("both"))
    copied(tmp_path, tmp_path / "copy")
    made.append(note("here only"))
    journal(tmp_path / "copy").append(note("there only"))
    pair = [str(tmp_path / "cover.toml"), "--compare", str(tmp_path / "copy" / "cover.toml")]
    assert main(["record", *pair]) == 1
    said = capsys.readouterr().out
    assert "alike up to entry 1" in said
    first, second = said.split("copy")[0], said.split("copy")[1]
    assert "here only" in first
    assert "there only" in second
    assert main(["record", pair[0], "--compare", pair[0]]) == 0


def test_a_trimmed_last_line_end_is_told_as_that(tmp_path: Path) -> None:
    made = journal(tmp_path)
    made.append(note("one"))
    made.append(note("two"))
    path = tmp_path / PAIR[0]
    path.write_bytes(path.read_bytes().rstrip(b"\n"))
    found = verify(tmp_path / "cover.toml")
    assert found.ok
    assert any("the last line end is trimmed" in remark for remark in found.remarks)
    assert Journal(tmp_path / "cover.toml").refresh().count == 1
