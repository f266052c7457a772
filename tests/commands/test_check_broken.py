"""splitline check on plans that cannot be used: every mistake on stderr, exit 2, no traceback, the file untouched."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from splitline.cli import main

HEAD = b'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "A"\n'
SEVEN = (
    HEAD
    + b"""\
hiden = true
[joint.bolting]
thread = "M48x30"
kind = "studs"
clamp_length = "26,8 mm"
[joint.target]
preload = "1 200 kN"
torque = 3400
[[lift]]
id = "a"
title = "L"
"""
)


@pytest.mark.parametrize(
    ("raw", "lines"),
    [
        (SEVEN, ["line 7:", "line 9:", "line 10:", "line 11:", "line 13:", "line 14:", "line 16:"]),
        (HEAD + b"[joint.bolting]\nclamp_length = 268 mm\nkind = stud\n", ["line 8:", "line 9:"]),
        (b"", ["the file is empty"]),
        (bytes(range(256)), ["binary file"]),
        (b"#" * 5_000_000, ["5.0 MB; a plan has at most 2 MB"]),
    ],
    ids=["seven", "toml", "empty", "binary", "large"],
)
def test_exit_2_with_every_mistake(
    raw: bytes, lines: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(raw)
    assert main(["check", str(path), "--json"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert [line for line in lines if line not in said.err] == []
    assert path.read_bytes() == raw
    assert [each.name for each in tmp_path.iterdir()] == ["plan.toml"]


@pytest.mark.parametrize("target", [".", "nothing.toml"])
def test_a_folder_and_no_file(target: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path / target)]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_as_a_command_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(SEVEN)
    done = subprocess.run(
        [sys.executable, "-m", "splitline", "check", str(path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert done.stderr.count("\n") == 8
