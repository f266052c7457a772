"""What is missing is said in a planner's words, and all of it at once."""

from __future__ import annotations

import datetime as dt

import pytest

from splitline.assess.assessment import assess
from splitline.assess.result import Check
from splitline.assess.speak import in_words
from splitline.library.store import Library
from splitline.plan.read import read_text
from tests.assess.lifts import assessed, lift


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("needs bolting.clamp_length, member.modulus", "needs bolting › clamp_length, member › modulus"),
        ("needs leg.2.pick", "needs leg 2 › pick"),
        ("needs part.1.at", "needs part 1 › at (x, y, z)"),
        ("say holds_pressure = false", "say holds_pressure = false"),
        ("no row in library.toml", "no row in library.toml"),
        ("10.9 and 0.15 of 3.5 kN, 20 to 25 mm, e.g. wet", "10.9 and 0.15 of 3.5 kN, 20 to 25 mm, e.g. wet"),
        ("ASTM A193 B7 (ISO 898-1), M42x4.5", "ASTM A193 B7 (ISO 898-1), M42x4.5"),
    ],
)
def test_names_of_fields_are_said_as_a_card_shows_them(text: str, words: str) -> None:
    assert in_words(text) == words


def test_a_missing_check_keeps_the_file_s_own_names_for_programs() -> None:
    check = Check(
        "torque", "Torque", "at most", None, None, "torque", None, "missing", "", needs=("bolting.clamp_length",)
    )
    assert check.said() == "needs bolting › clamp_length"
    assert check.needs == ("bolting.clamp_length",)


def test_a_lift_says_everything_it_wants_at_once() -> None:
    given = lift(500.0, (0.0, 0.0, 0.0), [{"name": "a"}, {"name": "b", "pick": ["1 m", "0 m", "0 m"]}])
    del given["part"][0]["mass"]
    needs = {need for check in assessed(given).checks if check.verdict == "missing" for need in check.needs}
    wanted = {"part.1.mass", "leg.1.pick", "crane", "hook.above_picks"}
    wanted |= {f"leg.{n}.{what}" for n in (1, 2) for what in ("sling", "capacity", "fitting", "fitting_capacity")}
    assert wanted <= needs


def test_a_joint_without_bolts_says_all_it_will_want_at_once() -> None:
    """Fixing one thing does not bring the next to light: target, friction, grade and layout are asked for together."""
    draft = read_text('format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "A"\n')
    found = assess(draft.plan, Library.load(), dt.date(2026, 1, 1)).items[0]
    needs = {need for check in found.checks if check.verdict == "missing" for need in check.needs}
    assert {
        "bolting",
        "bolting.thread",
        "bolting.grade",
        "target",
        "friction.lubricant",
        "layout",
        "tightening",
    } <= needs
    assert {check.verdict for check in found.checks} == {"missing"}


def test_a_part_without_mass_and_place_is_asked_for_both() -> None:
    text = 'format = 1\n[plan]\ntitle = "x"\n[[lift]]\nid = "a"\ntitle = "A"\n[[lift.part]]\nname = "cover"\n'
    found = assess(read_text(text).plan, Library.load(), dt.date(2026, 1, 1)).items[0]
    needs = {need for check in found.checks if check.verdict == "missing" for need in check.needs}
    assert {"part.1.mass", "part.1.at", "mass_basis"} <= needs
