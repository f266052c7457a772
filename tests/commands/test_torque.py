"""splitline torque: the same numbers as a plan gives, in either system, and plain words for what cannot be read."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from splitline.cli import main

PASTE = "molybdenum disulfide paste"
M36 = ("torque", "--thread", "M36", "--grade", "ASTM A193 B7", "--stress", "345 MPa", "--lubricant", PASTE)
NEWTON_METRE_PER_LBF_IN = 0.1129848290276167

PLAN = """
format = 1
[plan]
title = "the same bolt"
[[joint]]
id = "bolt"
title = "bolt"
[joint.bolting]
thread = "M36"
grade = "ASTM A193 B7"
kind = "through-stud"
clamp_length = "220 mm"
[joint.friction]
lubricant = "molybdenum disulfide paste"
[joint.target]
bolt_stress = "345 MPa"
[joint.load]
holds_pressure = false
[joint.tightening]
method = "torque wrench"
"""


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main([*arguments, "--json"]) == 0
    joint: dict[str, Any] = json.loads(capsys.readouterr().out)["joints"][0]
    return joint


def test_it_says_what_check_says_of_a_plan(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    quick = answer(capsys, *M36, "--clamp", "220 mm")
    plan = tmp_path / "plan.toml"
    plan.write_text(PLAN, "utf-8")
    main(["check", str(plan), "--json"])
    planned = json.loads(capsys.readouterr().out)["joints"][0]
    assert quick["results"] == planned["results"]
    assert quick["checks"] == planned["checks"]


def test_working_is_that_of_check(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    main([*M36, "--clamp", "220 mm"])
    quick = capsys.readouterr().out
    plan = tmp_path / "plan.toml"
    plan.write_text(PLAN, "utf-8")
    main(["check", str(plan), "--working"])
    planned = capsys.readouterr().out
    assert "  Working\n" in quick
    cut = slice(quick.index("  Working\n"), quick.index("Overall:"))
    assert quick[cut] == planned[planned.index("  Working\n") : planned.index("Overall:")]


def test_a_textbook_torque(capsys: pytest.CaptureFixture[str]) -> None:
    # Wentzell, Machine Design, Ex. 6.1 p. 120: 3/4-10, proof 85 ksi × 0.334 in² × 0.85, K = 0.2: 3619.73 lbf·in
    load = 0.85 * 85_000 * 0.334
    main([
        "torque", "--thread", "3/4-10UNC", "--grade", "SAE grade 5", "--preload", f"{load} lbf", "--nut-factor", "0.2",
        "--json",
    ])  # fmt: skip
    joint = json.loads(capsys.readouterr().out)["joints"][0]
    assert joint["results"]["torque"] == pytest.approx(3619.73 * NEWTON_METRE_PER_LBF_IN, rel=1e-4)


def test_both_unit_systems_give_the_same_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    common = ("torque", "--thread", "M36", "--grade", "B7", "--lubricant", PASTE)
    metric = answer(capsys, *common, "--stress", "344.73786465841806 MPa", "--clamp", "254 mm")
    inch = answer(capsys, *common, "--stress", "50 ksi", "--clamp", "10 in")
    for key, value in metric["results"].items():
        assert inch["results"][key] == pytest.approx(value, rel=1e-9), key


def test_a_given_torque_turned_round_gives_its_preload(capsys: pytest.CaptureFixture[str]) -> None:
    forward = answer(capsys, *M36)["results"]
    back = answer(
        capsys, "torque", "--thread", "M36", "--grade", "B7", "--lubricant", PASTE, "--torque",
        f"{forward['torque']} N*m",
    )["results"]  # fmt: skip
    assert back["preload"] == pytest.approx(forward["preload"], rel=1e-9)


def test_what_was_not_asked_is_missing_and_never_ok(capsys: pytest.CaptureFixture[str]) -> None:
    joint = answer(capsys, *M36)
    verdicts = {check["verdict"] for check in joint["checks"]}
    assert "missing" in verdicts
    assert joint["verdict"] == "missing"
    assert "stretch" not in joint["results"]
    main([*M36, "--brief"])
    said = capsys.readouterr().out
    assert "Options that fill what is missing: " in said
    assert "--clamp" in said
    assert "Working" not in said


def test_inch_threads_print_in_us_units(capsys: pytest.CaptureFixture[str]) -> None:
    inch = ("torque", "--thread", "1 3/4-8UN", "--grade", "B7", "--stress", "50 ksi", "--nut-factor", "0.15", "--brief")
    main([*inch])
    assert "ft·lbf" in capsys.readouterr().out
    main([*inch, "--units", "SI"])
    assert "N·m" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "flag", "said"),
    [
        (("--thread", "M48x60"), "--thread", "nearest: M48x5"),
        (("--thread", "5/8-99UNC"), "--thread", "nearest: 5/8"),
        (("--thread", "M36", "--grade", "B77"), "--grade", 'nearest: "ASTM A193 B7"'),
        (("--thread", "M36", "--clamp", "0 mm"), "--clamp", "above 0"),
        (("--thread", "M36", "--stress", "345"), "--stress", "has no unit"),
        (("--thread", "M36", "--nut-factor", "much"), "--nut-factor", "plain number"),
        (("--thread", "M36", "--thread-friction", "2"), "--thread-friction", "at most 1"),
        (("--thread", "M36", "--thread-friction", "0"), "--thread-friction", "0.01"),
        (("--thread", "M36", "--kind", "rivet"), "--kind", "through-stud"),
        (("--thread", "M36", "--lubricant", "honey"), "--lubricant", "not in the library"),
    ],
)
def test_what_cannot_be_read(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], flag: str, said: str
) -> None:
    assert main(["torque", *arguments]) == 2
    got = capsys.readouterr()
    assert not got.out
    line = next(line for line in got.err.splitlines() if line.startswith(f"splitline torque: {flag}: "))
    assert said in line


def test_all_mistakes_come_together(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["torque", "--thread", "M48x60", "--grade", "B77", "--stress", "345"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 3


def test_without_friction_there_is_no_torque_and_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["torque", "--thread", "M36", "--grade", "B7", "--stress", "345 MPa", "--brief"]) == 1
    said = capsys.readouterr().out
    assert "Torque: no lubricant and no friction is given" in said


def test_an_overloaded_bolt_fails(capsys: pytest.CaptureFixture[str]) -> None:
    overload = ("torque", "--thread", "M36", "--grade", "B7", "--stress", "700 MPa", "--lubricant", PASTE, "--brief")
    assert main([*overload]) == 1
    assert "▲ fails" in capsys.readouterr().out


def test_the_site_s_own_library_of_the_folder_counts(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(
        '[[lubricants]]\nname = "site paste"\nsource = "test sheet 3"\nthread_low = 0.1\nthread = 0.12\n'
        "thread_high = 0.14\nbearing_low = 0.1\nbearing = 0.12\nbearing_high = 0.14\n",
        "utf-8",
    )
    site = answer(capsys, *M36[:-1], "site paste")["results"]
    shipped = answer(capsys, *M36)["results"]
    assert site["torque"] > shipped["torque"]
    main([*M36[:-1], "site paste"])
    assert "test sheet 3" in capsys.readouterr().out


def test_help_shows_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as done:
        main(["torque", "--help"])
    assert done.value.code == 0
    assert 'splitline torque --thread M36 --grade "ASTM A193 B7"' in capsys.readouterr().out


def test_the_thread_must_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["torque", "--grade", "B7"]) == 2
    assert "name the bolt, as in --thread M36" in capsys.readouterr().err


def test_names_of_the_library_can_be_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["torque", "--list", "lubricants"]) == 0
    said = capsys.readouterr().out.splitlines()
    assert any(line.startswith("molybdenum disulfide paste  (MoS2 paste") for line in said)
    assert main(["torque", "--list", "grades"]) == 0
    assert "ASTM A193 B7" in capsys.readouterr().out


def test_the_long_form_is_the_long_form(capsys: pytest.CaptureFixture[str]) -> None:
    """T = F [d2/2 (tan λ + μ sec 30°)/(1 − μ tan λ sec 30°) + μ_b D_m/2], computed here by hand."""
    found = answer(
        capsys, "torque", "--thread", "M36", "--grade", "B7", "--preload", "280 kN", "--thread-friction", "0.12",
        "--bearing-friction", "0.10", "--hole", "39 mm", "--bearing-diameter", "55.9 mm",
    )["results"]  # fmt: skip
    pitch_diameter = 36e-3 - 0.649519 * 4e-3
    lead = 4e-3 / (math.pi * pitch_diameter)
    slope = 0.12 / math.cos(math.pi / 6)
    by_hand = 280e3 * (pitch_diameter / 2 * (lead + slope) / (1 - lead * slope) + 0.10 * (55.9e-3 + 39e-3) / 2 / 2)
    assert found["torque"] == pytest.approx(by_hand, rel=1e-6)


OTHER = {
    "--thread": "M42", "--grade": "ASTM A193 B16", "--yield-strength": "600 MPa", "--tensile-strength": "900 MPa",
    "--kind": "stud", "--clamp": "150 mm", "--shank-diameter": "30 mm", "--shank-length": "80 mm",
    "--heater-bore": "8 mm", "--engagement": "50 mm", "--tapped-material": "ASTM A266 grade 2", "--nut": "hex",
    "--hole": "42 mm", "--across-flats": "55 mm", "--bearing-diameter": "58 mm", "--bearing-material": "ASTM A216 WCB",
    "--washer-thickness": "6 mm", "--member-material": "ductile iron, ASTM A395 60-40-18", "--member-diameter": "70 mm",
    "--lubricant": "machine oil", "--thread-friction": "0.13", "--bearing-friction": "0.13", "--nut-factor": "0.2",
    "--stress": "300 MPa", "--yield-fraction": "0.4", "--preload": "200 kN", "--torque": "900 N*m",
    "--stretch": "0.2 mm", "--maker-torque": "2000 N*m", "--method": "stretch", "--scatter": "0.1",
}  # fmt: skip
INSTEAD = {  # what the option takes the place of
    "--thread-friction": ("--lubricant",), "--bearing-friction": ("--lubricant",), "--nut-factor": ("--lubricant",),
    "--yield-fraction": ("--stress",), "--preload": ("--stress",), "--torque": ("--stress",), "--stretch": ("--stress",),
    "--yield-strength": ("--grade",), "--tensile-strength": ("--grade",), "--shank-length": (),
}  # fmt: skip


def test_every_option_does_something(capsys: pytest.CaptureFixture[str]) -> None:
    """An option that changes no figure and no check is worse than none: somebody believes it was taken."""
    from splitline.commands.torque import GROUPS

    base = {"--thread": "M36", "--grade": "ASTM A193 B7", "--clamp": "220 mm", "--stress": "345 MPa",
            "--lubricant": PASTE, "--member-material": "ASTM A105", "--shank-diameter": "33 mm"}  # fmt: skip
    flags = [option.flag for options in GROUPS.values() for option in options]
    assert sorted(OTHER) == sorted(flags)

    def told(options: dict[str, str]) -> Any:
        assert main(["torque", *(word for pair in options.items() for word in pair), "--json"]) < 2, options
        joint = json.loads(capsys.readouterr().out)["joints"][0]
        return joint["results"], [
            (c["key"], c["verdict"], c["basis"], c.get("demand"), c.get("limit")) for c in joint["checks"]
        ]

    for flag in flags:
        without = {key: value for key, value in base.items() if key not in INSTEAD.get(flag, ())}
        if flag in ("--thread-friction", "--bearing-friction"):
            without |= {"--thread-friction": "0.1", "--bearing-friction": "0.1"}
        if flag == "--tapped-material":
            without |= {"--kind": "stud", "--engagement": "50 mm"}
        if flag == "--engagement":
            without |= {"--kind": "stud", "--tapped-material": "ASTM A266 grade 2"}
        if flag == "--tensile-strength":
            without |= {"--yield-strength": "600 MPa", "--kind": "stud", "--engagement": "50 mm",
                        "--tapped-material": "ASTM A266 grade 2"}  # fmt: skip
        assert told({**without, flag: OTHER[flag]}) != told(without), flag
