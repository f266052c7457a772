"""splitline lift: symmetric sets of the tables, and plain words for options that cannot be read."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from splitline.cli import main

FLATTER = ("--minimum-angle", "29 deg")  # legs drawn at 30 degrees lie flatter within their length tolerance
POUND = 0.45359237 * 9.80665


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main(["lift", *arguments, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)["lifts"][0]["results"]
    return found


def test_two_legs_at_30_degrees(capsys: pytest.CaptureFixture[str]) -> None:
    # Spellman, Mathematics and Statistics for the Environment, Example 11.3: 2,000 lb at 30 degrees: 2,000 lb a leg
    r = answer(capsys, "--mass", "2000 lb", "--legs", "2", "--span", "8 ft", "--angle", "30 deg", *FLATTER)
    assert r["leg_tension"] == pytest.approx([2000 * POUND] * 2, rel=1e-3)
    assert r["leg_angle"] == pytest.approx([math.radians(30)] * 2, rel=1e-4)


def test_the_least_angle_is_held_within_the_doubts(capsys: pytest.CaptureFixture[str]) -> None:
    """Legs drawn at the least angle of 30 degrees (ASME B30.9) lie flatter when they come out long."""
    assert main(["lift", "--mass", "2000 lb", "--legs", "2", "--span", "8 ft", "--angle", "30 deg"]) == 1
    assert "flattest angle from the horizontal: has 29." in capsys.readouterr().out
    assert main(["lift", "--mass", "2000 lb", "--legs", "2", "--span", "8 ft", "--angle", "31 deg"]) == 0


def test_ring_and_height(capsys: pytest.CaptureFixture[str]) -> None:
    # Schaum's Engineering Mechanics (McLean) Ex 6.6-6: ring of radius 2 ft, hook 4 ft above, 200 lb: 74.5 lb a leg
    r = answer(capsys, "--mass", "200 lb", "--legs", "3", "--ring", "4 ft", "--height", "4 ft")
    assert r["leg_tension"] == pytest.approx([74.5 * POUND] * 3, rel=0.002)


def test_four_legs_print(capsys: pytest.CaptureFixture[str]) -> None:
    rope = ("--sling", "wire rope 28 mm 6x36 IWRC", "--length", "3100 mm")
    code = main(["lift", "--mass", "6.4 t", "--legs", "4", "--span", "1800 mm", "--width", "1200 mm", *rope, "--brief"])
    said = capsys.readouterr().out
    assert code == 0
    assert "69.59° from the horizontal, 20.41° from the vertical" in said
    assert "nobody under it" in said


def test_too_small_a_sling_fails(capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        main(["lift", "--mass", "6.4 t", "--legs", "2", "--span", "2 m", "--angle", "45 deg", "--capacity", "2 t"]) == 1
    )
    assert "fails" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--mass", "3 ton", "--legs", "1", "--length", "2 m"), "short ton"),
        (("--mass", "3 t", "--legs", "4", "--span", "2 m", "--length", "1 m"), "do not reach"),
        (("--mass", "3 t", "--legs", "3", "--span", "2 m", "--length", "2 m"), "--ring"),
        (("--mass", "3 t", "--legs", "2", "--span", "2 m"), "exactly one of"),
        (("--mass", "3 t", "--legs", "0", "--length", "2 m"), "1 to 12"),
        (("--mass", "3 t", "--legs", "2", "--span", "2 m", "--angle", "95 deg"), "--angle"),
        (("--mass", "3 t", "--legs", "2", "--span", "2 m", "--angle", "60 deg", "--sling", "wire roope 28"), "nearest"),
        (("--mass", "3 t", "--legs", "2", "--span", "2 m", "--angle", "60 deg", "--dynamic", "much"), "--dynamic"),
    ],
)
def test_mistakes_are_said_beside_their_option(
    arguments: tuple[str, ...], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["lift", *arguments]) == 2
    assert words in capsys.readouterr().err
