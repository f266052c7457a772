"""A PIN where a name that has one signs: nothing is signed without it, and the file tells it to nobody."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from splitline import cli
from splitline.errors import RecordError
from splitline.record.entry import Signed
from splitline.record.pins import FILE, check_pin, pins_of, set_pin
from splitline.ui.work import asks
from splitline.ui.work.asking import Question
from splitline.ui.work.pad import PadScreen
from tests.record.helpers import Ticking
from tests.ui.work_helpers import desk, plan_file


def test_a_pin_is_kept_as_a_salted_hash(tmp_path: Path) -> None:
    set_pin(tmp_path, "Ines", "4711")
    set_pin(tmp_path, "Tomas", "4711")
    pins = pins_of(tmp_path)
    assert pins.right("Ines", "4711")
    assert not pins.right("Ines", "4712")
    assert not pins.right("Aiko", "")
    assert not pins.asks("Aiko")
    assert "4711" not in (tmp_path / FILE).read_text("utf-8")
    assert pins.kept["Ines"] != pins.kept["Tomas"]
    assert (tmp_path / FILE).stat().st_mode & 0o077 == 0
    set_pin(tmp_path, "Ines", None)
    assert not pins_of(tmp_path).asks("Ines")


@pytest.mark.parametrize("pin", ["", "123", "12a4", "0000", "1" * 13, "١٢٣٤"])
def test_what_is_no_pin_is_said(tmp_path: Path, pin: str) -> None:
    assert check_pin(pin)
    with pytest.raises(RecordError, match="nothing was changed"):
        set_pin(tmp_path, "Ines", pin)
    assert not (tmp_path / FILE).exists()


def test_pins_that_cannot_be_read_let_nobody_sign(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text('[[person]]\nname = "Ines"\nsalt = "zz"\npin = "00"\n', "utf-8")
    with pytest.raises(RecordError, match="nobody can sign"):
        pins_of(tmp_path)


class Asked:
    """A screen that answers its questions from a list."""

    now = None
    system: Any = "SI"

    def __init__(self, path: Path, *answers: str | None) -> None:
        self.desk = desk(path, clock=Ticking())
        self.answers, self.asked = list(answers), []  # type: ignore[var-annotated]

    async def ask(self, question: Question) -> str | None:
        self.asked.append(question)
        return self.answers.pop(0)


async def test_who_has_a_pin_signs_with_it(tmp_path: Path) -> None:
    path = plan_file(tmp_path)
    set_pin(tmp_path, "Aiko", "2468")
    assert await asks.signer(Asked(path, "Tomas"), "Sign") == "Tomas"
    screen = Asked(path, "Aiko", "1357", "2468")
    assert await asks.signer(screen, "Sign") == "Aiko"
    pads = [question for question in screen.asked if isinstance(question, PadScreen)]
    assert len(pads) == 2
    assert await asks.signer(Asked(path, "Aiko", None), "Sign") is None
    assert await asks.signer(Asked(path, "Aiko", "1", "2", "3"), "Sign") is None
    assert not [e for e in screen.desk.journal.refresh().entries if isinstance(e, Signed)]


def test_the_command_asks_twice_and_says_what_is_wrong(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = iter(["4711", "4711", "4711", "4712", "12"])
    monkeypatch.setattr("getpass.getpass", lambda _: next(typed))
    assert cli.main(["pin", str(tmp_path), "Ines"]) == 0
    assert cli.main(["pin", str(tmp_path), "Ines"]) == 2
    assert "not the same" in capsys.readouterr().err
    assert cli.main(["pin", str(tmp_path), "Tomas"]) == 2
    assert pins_of(tmp_path).right("Ines", "4711")
    assert cli.main(["pin", str(tmp_path), "Ines", "--remove"]) == 0
    assert not pins_of(tmp_path).asks("Ines")
