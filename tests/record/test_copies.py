"""Copies of a record put back: told by the folder, by a running process and by comparing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from splitline.cli import main
from splitline.errors import RecordError
from splitline.record.entry import Accepted, Note
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


def put_back(folder: Path) -> Path:
    """A folder whose record of three entries was put back as it stood after the first, head and all."""
    made = journal(folder)
    made.append(note("one"))
    copied(folder, folder / "copy")
    made.append(note("two"))
    made.append(note("three"))
    copied(folder / "copy", folder)
    return folder / "cover.toml"


def test_an_older_pair_put_back_stops_a_fresh_start_until_a_named_person_accepts_it(tmp_path: Path) -> None:
    plan = put_back(tmp_path)
    fresh, other = Journal(plan), Journal(plan)
    (problem,) = fresh.refresh().problems
    assert "this folder has seen 3 entries, the record holds 1: an older copy was put back" in problem.text
    other.refresh()
    for act in (pull(1), note("four")):
        with pytest.raises(RecordError, match="older copy"):
            fresh.append(act)
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=problem.key, reason="disk restored"))
    assert fresh.append(note("three again")).number == 3
    assert fresh.record.problems == ()
    assert other.refresh().problems == ()
    assert Journal(plan).refresh().problems == ()
    assert verify(plan).ok


def test_an_acceptance_whose_writer_died_before_the_count_still_stands(tmp_path: Path) -> None:
    plan = put_back(tmp_path)
    fresh = Journal(plan)
    seen = fresh.paths.seen.read_bytes()
    (problem,) = fresh.refresh().problems
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop=problem.key, reason="disk restored"))
    fresh.paths.seen.write_bytes(seen)
    assert Journal(plan).refresh().problems == ()


def test_another_copy_put_here_is_told_on_a_fresh_start(tmp_path: Path) -> None:
    plan = put_back(tmp_path)
    (tmp_path / "cover.record.seen").unlink()
    theirs = journal(tmp_path)
    for text in ("other two", "other three", "other four"):
        theirs.append(note(text))
    copied(tmp_path, tmp_path / "theirs")
    copied(tmp_path / "copy", tmp_path)
    (tmp_path / "cover.record.seen").unlink()
    mine = journal(tmp_path)
    mine.append(note("two"))
    copied(tmp_path / "theirs", tmp_path)
    (problem,) = Journal(plan).refresh().problems
    assert "entry 2 is another one than this folder has seen" in problem.text


def test_every_command_and_screen_that_reads_the_record_tells_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from splitline.ui.listing import entry_of
    from tests.ui.work_helpers import desk, plan_file

    plan = plan_file(put_back(tmp_path).parent)
    shown = desk(plan).task()[1]
    assert shown.kind == "stopped"
    assert any("older copy was put back" in text for text, _ in shown.lines)
    assert entry_of(plan).progress == "▲ record altered or cut"
    for command, code in (
        (["record", str(plan)], 1),
        (["record", str(plan), "--verify"], 1),
        (["record", str(plan), "-o", str(tmp_path / "out.pdf")], 1),
        (["sheet", str(plan), "-o", str(tmp_path / "sheet.md")], 0),
        (["kit", str(plan)], 0),
        (["kit", str(plan), "-o", str(tmp_path / "kit.md")], 0),
    ):
        assert main(command) == code, command
        said = capsys.readouterr()
        assert "older copy was put back" in said.err + said.out, command
    assert "does NOT stand as it was written" in (tmp_path / "sheet.md").read_text("utf-8")


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
