"""splitline order: the list a fitter prints, and its JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from splitline.cli import main

DEMO = "plans/k410-closeup.toml"
BARE = """format = 1
[plan]
title = "One joint"
[[joint]]
id = "head"
title = "Head cover"
[joint.bolting]
thread = "M36"
kind = "stud"
"""


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(["order", *arguments])
    out = capsys.readouterr()
    return code, out.out, out.err


def test_every_pass_with_torque_and_boxes(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, DEMO, "discharge-head")
    assert code == 0
    lines = out.splitlines()
    assert "seen from outside, facing the cover" in lines
    steps = [line for line in lines if line.endswith("[  ]")]
    assert len(steps) == 12
    assert steps[0].split()[:4] == ["1", "1", "+", "13"]
    assert steps[0].count("[  ]") == 5
    assert any(line.startswith("3 ") and "100%" in line and "bar" in line for line in lines)
    assert "until no nut moves" in out
    assert "Never tighten or loosen under pressure" in out


def test_one_pass_and_us_units(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, DEMO, "discharge-head", "--pass", "2", "--units", "US")
    assert code == 0
    assert "ft·lbf" in out
    assert "snug" not in out
    assert all(line.count("[  ]") == 1 for line in out.splitlines() if line.endswith("[  ]"))


def test_json_is_si_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, DEMO, "discharge-head", "--json")
    data = json.loads(out)
    assert code == 0
    assert [one["name"] for one in data["passes"]] == ["snug", "1", "2", "3", "round 1"]
    full = data["passes"][3]["steps"]
    assert full[0]["bolts"] == [1, 13]
    assert full[0]["set_kind"] == "pressure"
    assert data["passes"][1]["steps"][0]["torque"] == pytest.approx(0.3 * full[0]["torque"])
    assert sorted(bolt for step in full for bolt in step["bolts"]) == list(range(1, 25))
    assert data["passes"][4]["steps"][0]["set_value"] == full[0]["set_value"]


def test_each_size_has_its_own_torque(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, DEMO, "bundle-joint", "--json", "--pass", "2")
    (one,) = json.loads(out)["passes"]
    torques = {tuple(step["bolts"]): step["torque"] for step in one["steps"]}
    assert code == 0
    assert torques[(8,)] > torques[(5,)]
    assert [step["bolts"] for step in one["steps"][:4]] == [[8], [9], [1], [16]]
    _, text, _ = told(capsys, DEMO, "bundle-joint", "--pass", "2")
    assert "M36" in text


def test_a_tensioner_has_pressures_and_no_torque(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = told(capsys, DEMO, "suction-head")
    assert "N·m" not in out
    assert "bar" in out
    assert "nobody in line with the studs" in out


def test_names_that_are_nearly_right(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = told(capsys, DEMO, "discharge-hed")
    assert code == 2
    assert 'did you mean "discharge-head"?' in err
    code, _, err = told(capsys, DEMO, "discharge-head", "--pass", "9")
    assert code == 2
    assert '"round 1"' in err


def test_a_joint_without_a_layout_says_what_it_needs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "bare.toml"
    plan.write_text(BARE, encoding="utf-8")
    code, out, err = told(capsys, str(plan), "head")
    assert (code, out) == (1, "")
    assert "needs layout" in err


def test_a_plan_with_mistakes_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "wrong.toml"
    plan.write_text(BARE + 'clamp_length = "268"\n', encoding="utf-8")
    code, out, err = told(capsys, str(plan), "head")
    assert (code, out) == (2, "")
    assert "clamp_length" in err


@pytest.mark.parametrize("order", ["quadrant", "round", "cross"])
def test_only_the_plan_decides_the_order(order: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "plan.toml"
    text = (
        BARE
        + f"""
[joint.layout]
shape = "circle"
bolts = 12
[joint.tightening]
method = "torque wrench"
order = "{order}"
"""
    )
    plan.write_text(text, encoding="utf-8")
    code, out, _ = told(capsys, str(plan), "head", "--json", "--pass", "1")
    second = json.loads(out)["passes"][0]["steps"][1]["bolts"]
    assert code == 0
    assert second == {"quadrant": [7], "round": [2], "cross": [7]}[order]
