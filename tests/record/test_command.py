"""splitline record PLAN."""

from __future__ import annotations

import argparse
import csv
import json
from pathlib import Path

import pytest

from splitline.commands import record as command
from splitline.errors import RecordError
from splitline.output_file import OutputFileError
from splitline.record.entry import Measured, Note
from splitline.record.plans import put_plan
from tests.record.helpers import journal, pull, uid

PLAN = """format = 1
[plan]
title = "Close-up"
[[clearance]]
id = "float"
title = "Total float"
kind = "measure"
low = "0.25 mm"
high = "0.40 mm"
[[step]]
id = "measure"
text = "Measure the float"
clearance = "float"
"""


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    command.add(parser.add_subparsers(required=True))
    return command.run(parser.parse_args(["record", *words]))


@pytest.fixture(name="plan")
def plan_fixture(tmp_path: Path) -> Path:
    path = tmp_path / "cover.toml"
    path.write_text(PLAN, "utf-8")
    book = journal(tmp_path)
    put_plan(book, PLAN, "Ines")
    book.append(
        Measured(uid=uid(), done_by="Ines", item="float", what="as left", value=3e-4, quantity="length", typed="0.30 mm",
                 low=2.5e-4, high=4e-4)
    )  # fmt: skip
    book.append(Note(uid=uid(), done_by="Ines", text="dry"))
    return path


def test_verify_says_that_all_stands_and_that_it_is_evidence(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(str(plan), "--verify") == 0
    said = capsys.readouterr().out
    assert "● 3 entries stand as they were written" in said
    assert "not proof against a forger" in said
    assert run(str(plan), "--verify", "--json") == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["ok"], data["count"], len(data["head"])) == (True, 3, 64)


def test_verify_names_what_was_altered_and_exits_1(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record = plan.with_name("cover.record.toml")
    record.write_bytes(record.read_bytes().replace(b"0.30 mm", b"0.31 mm"))
    assert run(str(plan), "--verify") == 1
    assert "▲ entry 2 was altered" in capsys.readouterr().out
    assert run(str(plan), "--verify", "--json") == 1
    assert json.loads(capsys.readouterr().out)["problems"][0]["entry"] == 2
    assert run(str(plan)) == 1
    assert "entry 2 was altered" in capsys.readouterr().err


def test_printed_as_markdown_and_json(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(str(plan)) == 0
    assert "- as left 0.30 mm, inside" in capsys.readouterr().out
    assert run(str(plan), "--json") == 0
    data = json.loads(capsys.readouterr().out)
    assert data["clearances"][0]["readings"][0]["value"] == 3e-4


@pytest.mark.parametrize("ending", [".csv", ".json", ".md"])
def test_written_to_a_file_by_its_ending(plan: Path, tmp_path: Path, ending: str) -> None:
    target = tmp_path / f"out{ending}"
    assert run(str(plan), "-o", str(target)) == 0
    text = target.read_text("utf-8")
    assert {".csv": lambda: text[0] == "\ufeff" and "0.3" in {row["value"] for row in csv.DictReader(text[1:].splitlines())},
            ".json": lambda: json.loads(text)["count"] == 3,
            ".md": lambda: "# As built: Close-up" in text}[ending]()  # fmt: skip


def test_another_ending_and_a_folder_that_is_not_there_are_refused(plan: Path, tmp_path: Path) -> None:
    with pytest.raises(RecordError, match=r"\.csv, \.json, \.md, \.pdf"):
        run(str(plan), "-o", str(tmp_path / "out.xls"))
    with pytest.raises(OutputFileError, match="cannot be written"):
        run(str(plan), "-o", str(tmp_path / "nowhere" / "out.md"))


def test_without_a_record_it_says_so(tmp_path: Path) -> None:
    path = tmp_path / "other.toml"
    path.write_text(PLAN, "utf-8")
    for words in ([], ["--verify"], ["-o", str(tmp_path / "x.pdf")]):
        with pytest.raises(RecordError, match="there is no record yet"):
            run(str(path), *words)


def test_a_plan_that_is_gone_is_read_from_the_record(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.unlink()
    assert run(str(plan)) == 0
    assert "### Total float" in capsys.readouterr().out


def test_entries_of_what_the_plan_no_longer_has_stay_in_the_json(
    plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    journal(plan.parent).append(pull(1, 5))
    assert run(str(plan), "--json") == 0
    assert json.loads(capsys.readouterr().out)["entries"][-1]["bolts"] == [1, 5]
