"""The command line as a newcomer types it: slips, several plans, no terminal."""

from __future__ import annotations

import json
import os
import pty
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from splitline import __version__
from splitline.cli import main
from splitline.commands import COMMANDS

ROOT = Path(__file__).parents[2]
DEMO, WRONG = ROOT / "plans" / "k410-closeup.toml", ROOT / "plans" / "wrong-on-purpose.toml"


def test_a_slip_in_a_command_blames_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["chekc", str(DEMO)]) == 2
    said = capsys.readouterr().err
    assert '"chekc" is not a command; did you mean "splitline check"?' in said
    assert "unrecognized" not in said


def test_several_plans_and_a_pattern_no_shell_has_opened(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (DEMO, WRONG):
        shutil.copy(path, tmp_path)
    (tmp_path / "k410-closeup.record.toml").write_text("no plan", "utf-8")
    assert main(["check", str(tmp_path / "*.toml")]) == 1  # the second fails on purpose
    said = capsys.readouterr().out
    assert [line for line in said.splitlines() if line.startswith("== ")] == [
        f"== {tmp_path / name}" for name in ("k410-closeup.toml", "wrong-on-purpose.toml")
    ]
    assert main(["check", "--json", str(DEMO), str(WRONG)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert [json.loads(line)["version"] for line in lines] == [__version__] * 2
    assert main(["check", str(DEMO), str(tmp_path / "none.toml")]) == 2


@pytest.mark.parametrize("command", COMMANDS)
def test_the_plans_of_every_example_exist(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([command, "--help"])
    named = re.findall(r"plans/[\w.-]+", capsys.readouterr().out)
    assert [name for name in named if not (ROOT / name.rstrip(".")).exists()] == []


def test_a_missing_certificate_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lost = tmp_path / "site.pem"
    assert main(["serve", str(DEMO), "--cert", str(lost), "--key", str(lost)]) == 2
    assert f"--cert {lost}: there is no such file" in capsys.readouterr().err


def test_a_pitch_of_no_standard_is_told_where_torque_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = DEMO.read_text("utf-8").replace('thread = "M64x4"', 'thread = "M64x3.5"')
    assert "M64x3.5" in text
    plan = tmp_path / "odd.toml"
    plan.write_text(text, "utf-8")
    main(["check", str(plan)])
    assert "M64x3.5 is not an ISO 261 combination" in " ".join(capsys.readouterr().out.split())
    joint = re.findall(r'id = "([^"]+)"', text[: text.index("M64x3.5")])[-1]
    main(["order", str(plan), joint])
    assert "M64x3.5 is not an ISO 261 combination" in capsys.readouterr().out


@pytest.mark.parametrize("term", ["xterm-256color", "dumb"])
def test_without_a_terminal_the_screens_say_so_and_end(term: str) -> None:
    command = [sys.executable, "-m", "splitline", str(DEMO)]
    env = {**os.environ, "TERM": term}
    if term == "dumb":
        own, other = pty.openpty()
        ended = subprocess.run(
            command, stdin=other, stdout=other, stderr=subprocess.PIPE, text=True, env=env, timeout=60
        )
        os.close(own)
        os.close(other)
        assert "TERM=dumb" in ended.stderr
    else:
        ended = subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, text=True, env=env, timeout=60)
        assert "need a terminal" in ended.stderr
        assert ended.stdout == ""
    assert ended.returncode == 2
    assert "\x1b" not in ended.stderr


def test_a_check_answers_back(capsys: pytest.CaptureFixture[str]) -> None:
    demo = "plans/k410-closeup.toml"
    assert main(["check", demo, "--item", "thrust-collar", "--why-not", "grip"]) == 0
    told = capsys.readouterr().out
    for words in ("What moves it", "friction", "usage 0.90", "What would break it"):
        assert words in told
    assert main(["check", demo, "--item", "thrust-collar", "--why-not", "nonsense"]) == 2
    assert 'no check "nonsense" of thrust-collar; there are:' in capsys.readouterr().err
    assert main(["check", demo, "--why-not", "grip"]) == 2
    assert "--item ID" in capsys.readouterr().err
