"""Every command with every output: a sentence and exit code 2 where the output cannot take it; 1 is for verdicts only."""

from __future__ import annotations

import errno
import json
import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from splitline.commands import COMMANDS
from tests.commands.drive import ENCODINGS, closed_pipe, full, ran
from tests.record.helpers import Ticking
from tests.ui.work_helpers import plan_file

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
PLAN, RECORD, FOLDER = "PLAN", "RECORD", "FOLDER"
# Command -> arguments that print something; PLAN, RECORD and FOLDER stand for what a test has there.
PRINTS: dict[str, list[str]] = {
    "check": ["check", PLAN],
    "new": ["new", "single-lift", f"{FOLDER}/fresh.toml"],
    "torque": ["torque", "--help"],
    "lift": ["lift", "--help"],
    "order": ["order", PLAN, "discharge-head"],
    "sheet": ["sheet", PLAN, "--item", "total-float", "-o", f"{FOLDER}/float.md"],
    "kit": ["kit", PLAN],
    "record": ["record", RECORD, "--verify"],
    "studs": ["studs", PLAN, "discharge-head"],
    "serve": ["serve", "--help"],
    "pin": ["pin", "--help"],
    "schema": ["schema"],
}
PRINTS_TOO = PRINTS | {"--help": ["--help"], "--version": ["--version"]}
JSON = [
    ["check", PLAN, "--json"],
    ["kit", PLAN, "--json"],
    ["order", PLAN, "discharge-head", "--json"],
    ["studs", PLAN, "discharge-head", "--json"],
    ["schema"],
]
FILES = {
    "sheet": ["sheet", PLAN, "--item", "total-float", "-o"],
    "kit": ["kit", PLAN, "-o"],
    "record": ["record", RECORD, "-o"],
    "schema": ["schema", "-o"],
}


@pytest.fixture
def there(tmp_path: Path) -> dict[str, str]:
    plan = shutil.copy(DEMO, tmp_path)
    record = plan_file(tmp_path)
    from splitline.ui.work.desk import Desk

    at = Desk(record, Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    return {PLAN: str(plan), RECORD: str(record), FOLDER: str(tmp_path)}


def filled(arguments: list[str], there: dict[str, str]) -> list[str]:
    return [re.sub("PLAN|RECORD|FOLDER", lambda found: there[found.group()], each) for each in arguments]


def test_the_table_knows_every_command() -> None:
    assert set(PRINTS) == set(COMMANDS)


@pytest.mark.parametrize("encoding", ENCODINGS)
@pytest.mark.parametrize("command", PRINTS)
def test_every_encoding_takes_what_a_command_prints(command: str, encoding: str, there: dict[str, str]) -> None:
    told = ran(filled(PRINTS[command], there), encoding)
    assert told.code in ((0, 1) if command == "check" else (0,)), told.err
    assert told.out
    assert "fault" not in told.err


@pytest.mark.parametrize("encoding", ["ascii", "utf-8"])
@pytest.mark.parametrize("command", PRINTS_TOO)
@pytest.mark.parametrize("output", [full, closed_pipe])
def test_an_output_that_takes_no_more_is_two_and_a_sentence(
    command: str, encoding: str, output: Callable[[], int], there: dict[str, str]
) -> None:
    told = ran(filled(PRINTS_TOO[command], there), encoding, output())
    assert told.code == 2
    assert told.err.startswith("splitline: the output ")
    assert told.err.count("\n") == 1


@pytest.mark.parametrize("encoding", ENCODINGS)
@pytest.mark.parametrize("arguments", JSON, ids=lambda each: each[0])
def test_json_says_the_same_in_every_encoding(arguments: list[str], encoding: str, there: dict[str, str]) -> None:
    wanted = ran(filled(arguments, there), "utf-8")
    told = ran(filled(arguments, there), encoding)
    assert json.loads(told.out) == json.loads(wanted.out)


@pytest.mark.parametrize("encoding", ENCODINGS)
@pytest.mark.parametrize("command", FILES)
def test_files_are_whole_or_not_there(command: str, encoding: str, there: dict[str, str]) -> None:
    folder = Path(there[FOLDER])
    suffix = ".json" if command == "schema" else ".md"
    inside = [*filled(FILES[command], there), f"{folder}/no such folder/x{suffix}"]
    told = ran(inside, encoding)
    assert (told.code, told.err.count("\n")) == (2, 1)
    assert "no such folder" in told.err
    target = folder / f"made{suffix}"
    wanted = [*filled(FILES[command], there), str(target)]
    assert ran(wanted, encoding).code == 0
    whole = target.read_bytes()
    target.write_bytes(b"mine")
    told = ran(wanted, encoding)
    assert told.code == 2
    assert "already there" in told.err
    assert target.read_bytes() == b"mine"
    assert ran([*wanted, "--force"], encoding).code == 0
    assert abs(len(target.read_bytes()) - len(whole)) < 50
    assert [p.name for p in folder.iterdir() if p.name.endswith(".tmp")] == []


@pytest.mark.parametrize("command", FILES)
@pytest.mark.parametrize(
    "name", ["k410-closeup.toml", "library.toml", "cover.record.toml", "cover.record.head", "other.toml"]
)
def test_no_output_is_ever_a_plan_a_record_or_a_library(command: str, name: str, there: dict[str, str]) -> None:
    target = Path(there[FOLDER]) / name
    before = target.read_bytes() if target.exists() else None
    told = ran([*filled(FILES[command], there), str(target), "--force"])
    assert told.code == 2
    assert (target.read_bytes() if target.exists() else None) == before


@pytest.mark.skipif(not os.path.isdir("/sys/kernel"), reason="a folder not even root may write in")
@pytest.mark.parametrize("command", FILES)
def test_a_read_only_folder_is_a_sentence(command: str, there: dict[str, str]) -> None:
    told = ran([*filled(FILES[command], there), f"/sys/kernel/x{'.json' if command == 'schema' else '.md'}"])
    assert (told.code, told.err.count("\n")) == (2, 1)
    assert "cannot be written" in told.err


@pytest.mark.parametrize("command", FILES)
def test_a_full_disk_leaves_the_older_file_as_it_was(
    command: str, there: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full_disk(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    target = Path(there[FOLDER]) / f"older{'.json' if command == 'schema' else '.md'}"
    target.write_text("mine")
    monkeypatch.setattr(os, "fsync", full_disk)
    told = ran([*filled(FILES[command], there), str(target), "--force"])
    assert told.code == 2
    assert "no room left" in told.err
    assert target.read_text() == "mine"
    assert not [path for path in target.parent.iterdir() if path.name.endswith(".tmp")]


def test_a_fault_of_the_program_is_no_verdict(there: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("nothing to share")

    monkeypatch.setattr("splitline.commands.check.assess", broken)
    told = ran(["check", there[PLAN]])
    assert told.code == 2
    assert "fault of this program" in told.err
    assert "Traceback" not in told.err


# A title with everything that moves a cursor, rings, hides, or turns the direction; C0, C1, bidi, zero width, tags.
NASTY = "\\u001b[2J\\u0007\\u009b31m\\u202eover\\u2066\\u200b\\U000E0041"
HIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b\u200e\u200f\u202a-\u202e\u2066-\u2069\U000e0000-\U000e007f]")


@pytest.mark.parametrize("command", ["check", "kit", "order", "record"])
def test_control_and_direction_signs_are_shown_as_what_they_are(command: str, tmp_path: Path) -> None:
    text = DEMO.read_text("utf-8").replace('title = "', f'title = "{NASTY}')
    (tmp_path / "plan.toml").write_text(text, "utf-8")
    arguments = {"order": ["order", str(tmp_path / "plan.toml"), "discharge-head"]}
    if command == "record":
        from splitline.ui.work.desk import Desk

        at = Desk(tmp_path / "plan.toml", Ticking())
        at.take_seat("Ines")
        at.stand_plan()
    told = ran(arguments.get(command, [command, str(tmp_path / "plan.toml")]))
    assert told.out
    assert not HIDDEN.search(told.out)
    assert "\\u001b[2J\\u0007" in told.out.replace("\\[", "[")  # Markdown guards its bracket


def test_lists_of_mistakes_show_them_too_and_json_keeps_them(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text(f'format = 1\n[plan]\ntitle = "x"\n"{NASTY}" = 3\n', "utf-8")
    told = ran(["check", str(tmp_path / "plan.toml")])
    assert told.code == 2
    assert "\\u001b" in told.err
    assert not HIDDEN.search(told.err)
    title = json.loads(f'"{NASTY.replace(chr(92) + "U000E0041", "")}"')
    text = DEMO.read_text("utf-8").replace(
        'title = "K-410', 'title = "' + NASTY.replace("\\U000E0041", "") + "K-410", 1
    )
    (tmp_path / "plan.toml").write_text(text, "utf-8")
    told = ran(["check", str(tmp_path / "plan.toml"), "--json"])
    assert not HIDDEN.search(told.out)
    assert json.loads(told.out)["plan"]["title"].startswith(title)


@pytest.mark.parametrize("command", ["sheet", "kit", "record"])
@pytest.mark.parametrize("suffix", [".md", ".csv"])
def test_text_files_carry_no_hidden_sign_either(command: str, suffix: str, tmp_path: Path) -> None:
    text = DEMO.read_text("utf-8").replace('title = "', f'title = "{NASTY}')
    (tmp_path / "plan.toml").write_text(text, "utf-8")
    from splitline.ui.work.desk import Desk

    at = Desk(tmp_path / "plan.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    target = tmp_path / f"out{suffix}"
    assert ran([command, str(tmp_path / "plan.toml"), "-o", str(target)]).code == 0
    written = target.read_text("utf-8-sig")
    assert "\\u001b" in written or (command, suffix) == ("record", ".csv")  # no entry, no title
    assert not HIDDEN.search(written)
