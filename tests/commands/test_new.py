"""splitline new and splitline schema."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from splitline.cli import main
from splitline.plan.schema import plan_schema
from splitline.plan.starting import TEMPLATES, starting_text


@pytest.mark.parametrize("template", TEMPLATES)
def test_new_writes_a_plan(template: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "plan.toml"
    assert main(["new", template, str(path)]) == 0
    assert path.read_text("utf-8") == starting_text(template)
    said = capsys.readouterr().out
    assert f"splitline check {path}" in said
    assert "splitline schema -o" in said


def test_new_never_writes_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "plan.toml"
    path.write_text("mine", "utf-8")
    assert main(["new", "single-lift", str(path)]) == 2
    assert path.read_text("utf-8") == "mine"
    assert "is already there: nothing was written" in capsys.readouterr().err


def test_help_of_new_lists_the_templates_and_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["new", "--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    assert all(name in said for name in TEMPLATES)
    assert "splitline new barrel-head-cover" in said


def test_schema_printed_and_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == plan_schema()
    path = tmp_path / "s.json"
    assert main(["schema", "-o", str(path)]) == 0
    assert json.loads(path.read_text("utf-8")) == plan_schema()
    assert "#:schema s.json" in capsys.readouterr().out
    assert main(["schema", "-o", str(tmp_path / "no" / "s.json")]) == 2


def test_check_says_how_many_values_are_still_examples(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "cover.toml"
    main(["new", "barrel-head-cover", str(path)])
    capsys.readouterr()
    main(["check", str(path)])
    said = capsys.readouterr().out
    assert "values are still the starting plan's" in said
    path.write_text(path.read_text("utf-8").replace("# example", "# mine"), "utf-8")
    main(["check", str(path)])
    assert "starting plan" not in capsys.readouterr().out
