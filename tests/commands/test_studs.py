"""splitline studs: what is in every stud, told and as JSON."""

from __future__ import annotations

import json

import pytest

from splitline.cli import main

DEMO = "plans/k410-closeup.toml"


def test_told_as_planned_without_a_record(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["studs", DEMO, "discharge-head"]) == 0
    text = capsys.readouterr().out
    assert text.count("under need") >= 24
    assert "as planned" in text
    assert "Taken: tightening.confidence = 0.95" in text


def test_json_has_every_stud(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["studs", DEMO, "suction-head", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [each["stud"] for each in told["studs"]] == list(range(1, 21))
    assert all(each["low"] < each["preload"] < each["high"] for each in told["studs"])
    assert told["basis"] == "as planned"


def test_a_joint_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["studs", DEMO, "nobody"]) == 2
    assert "there are: discharge-head" in capsys.readouterr().err
