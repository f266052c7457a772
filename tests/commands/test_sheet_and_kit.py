"""splitline sheet and splitline kit from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from splitline.cli import main

ROOT = Path(__file__).parents[2]
DEMO = str(ROOT / "plans" / "k410-closeup.toml")
WRONG = str(ROOT / "plans" / "wrong-on-purpose.toml")


@pytest.mark.parametrize("suffix", ["pdf", "md", "csv"])
def test_sheets_are_written_by_suffix(tmp_path: Path, capsys: pytest.CaptureFixture[str], suffix: str) -> None:
    target = tmp_path / f"out.{suffix}"
    assert main(["sheet", WRONG, "-o", str(target), "--paper", "Letter", "--units", "US"]) == 0
    assert "sheets written" in capsys.readouterr().out
    assert target.stat().st_size > 1000


def test_one_item_gives_its_own_sheets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "out.md"
    assert main(["sheet", DEMO, "-o", str(target), "--item", "bundle-push"]) == 0
    assert "2 sheets written" in capsys.readouterr().out
    text = target.read_text("utf-8")
    assert "Insertion sheet I1: Bundle into the casing" in text
    assert "Bolting sheet" not in text


def test_the_toolbox_print_leaves_the_working_out(tmp_path: Path) -> None:
    target = tmp_path / "out.md"
    assert main(["sheet", DEMO, "-o", str(target)]) == 0
    text = target.read_text("utf-8")
    assert "Bolting sheet J1: Discharge head" in text
    assert "Why this torque" not in text
    assert main(["sheet", DEMO, "-o", str(target), "--force", "--working"]) == 0
    assert "Why this torque" in target.read_text("utf-8")


def test_units_are_those_asked_for(tmp_path: Path) -> None:
    target = tmp_path / "out.md"
    assert main(["sheet", DEMO, "-o", str(target), "--item", "discharge-head", "--units", "US"]) == 0
    text = target.read_text("utf-8")
    assert "ft·lbf" in text
    assert "psi" in text
    assert "Socket, across flats: 90 mm" in text  # a metric nut takes a metric socket


def test_what_cannot_be_printed_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", DEMO, "-o", str(tmp_path / "x.doc")]) == 2
    assert ".pdf, .md, .csv" in capsys.readouterr().err
    assert main(["sheet", DEMO, "-o", str(tmp_path / "x.md"), "--item", "nobody"]) == 2
    assert 'no sheet for "nobody"' in capsys.readouterr().err
    broken = tmp_path / "broken.toml"
    broken.write_text('format = 1\n[plan]\ntitle = "t"\n[[joint]]\nid = "J!"\ntitle = "x"\n', "utf-8")
    assert main(["sheet", str(broken), "-o", str(tmp_path / "x.md")]) == 2
    assert "cannot be printed" in capsys.readouterr().err
    assert not list(tmp_path.glob("x.*"))


def test_the_kit_list_as_text_json_and_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["kit", DEMO]) == 0
    text = capsys.readouterr().out
    assert "Sockets and keys\n      2 + 1  socket; 90 mm" in text  # unlike sockets have no total
    assert main(["kit", DEMO, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["sections"][0]["lines"][0]["total"] == 3
    for suffix in ("md", "csv", "pdf"):
        assert main(["kit", WRONG, "-o", str(tmp_path / f"kit.{suffix}")]) == 0
    assert "missing" in (tmp_path / "kit.csv").read_text("utf-8-sig")


@pytest.mark.parametrize("command", ["sheet", "kit"])
def test_help_shows_an_example(capsys: pytest.CaptureFixture[str], command: str) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert f"splitline {command} plans/k410-closeup.toml" in capsys.readouterr().out
