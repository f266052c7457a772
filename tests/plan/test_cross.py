"""Values that cannot be right together. Root diameters: ISO 724 basic minor of the bolt, d - 1.226869 P."""

from __future__ import annotations

import pytest

from splitline.plan.read import read_text

HEAD = 'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\ntitle = "A"\n'


def said(bolting: str, rest: str = "") -> list[str]:
    text = f'{HEAD}[joint.bolting]\nkind = "stud"\nthread = "M48x3"\n{bolting}\n{rest}'
    return [str(problem) for problem in read_text(text).problems]


@pytest.mark.parametrize(
    ("bolting", "words"),
    [
        ('shank_diameter = "49 mm"', "49 mm is more than the thread M48x3 (48 mm)"),
        ('shank_diameter = "53 mm"\nhole_diameter = "52 mm"', "more than the hole of 52 mm"),
        ('heater_bore = "44.4 mm"', "leaves nothing of M48x3: its root is 44.32 mm"),
        ('shank_diameter = "20 mm"\nheater_bore = "20 mm"', "leaves nothing of the shank of 20 mm"),
        ('hole_diameter = "48 mm"', "does not let M48x3 through"),
        ('hole_diameter = "52 mm"\nbearing_diameter = "52 mm"', "does not cover the hole"),
        ('clamp_length = "200 mm"\nshank_length = "201 mm"', "more than the clamp length 200 mm"),
        ('yield_strength = "900 MPa"\ntensile_strength = "800 MPa"', "more than the tensile strength 800 MPa"),
    ],
)
def test_impossible(bolting: str, words: str) -> None:
    found = said(bolting)
    assert len(found) == 1, found
    assert words in found[0]


@pytest.mark.parametrize(
    "bolting",
    [
        'shank_diameter = "48 mm"',  # full shank
        'shank_diameter = "49 mm"\nhole_diameter = "49 mm"',  # a fitted stud fills its hole
        'heater_bore = "14 mm"\nshank_diameter = "44 mm"',
        'clamp_length = "200 mm"\nshank_length = "200 mm"',
    ],
)
def test_possible(bolting: str) -> None:
    assert said(bolting) == []


def test_another_size_is_held_against_its_own_thread() -> None:
    size = '[[joint.size]]\nbolts = [1]\n[joint.size.bolting]\nthread = "M64x4"\nheater_bore = "45 mm"\n'
    assert said("", size) == []
    found = said("", size.replace("M64x4", "M36x4"))
    assert len(found) == 1
    assert "size 1 › bolting › heater_bore" in found[0]


def test_bolts_that_overlap_and_a_circle_off_its_flange() -> None:
    layout = '[joint.layout]\nshape = "circle"\nbolts = 24\ndiameter = "360 mm"\n'
    assert "they overlap" in said("", layout)[0]
    member = '[joint.member]\nouter_diameter = "500 mm"\ninner_diameter = "450 mm"\n'
    assert "reaches beyond the bolt circle" in said("", layout.replace("360", "440") + member)[0]
    assert "does not reach the bolt circle" in said("", layout.replace("360", "510") + member)[0]


PLAN = 'format = 1\n[plan]\ntitle = "x"\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[joint.acceptance]\nstretch_low = "0.5 mm"\nstretch_high = "0.4 mm"', "more than the greatest accepted, 0.4 mm"),
        ('[joint.acceptance]\ntorque_low = "5 N*m"\ntorque_high = "4 N*m"', "more than the greatest accepted"),
        ('[joint.layout]\nshape = "circle"\n[[joint.zone]]\nfrom = "0 mm"', "zone 1: zones belong to a split line"),
        ('[joint.layout]\nshape = "split-line"\n[[joint.zone]]\nfrom = "9 mm"\nto = "9 mm"', "must be more than from, 9 mm"),
    ],
)  # fmt: skip
def test_impossible_in_a_joint(text: str, words: str) -> None:
    found = [str(problem) for problem in read_text(HEAD + text).problems]
    assert len(found) == 1, found
    assert words in found[0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[lift]]\nid = 'l'\ntitle = 'L'\n[[lift.leg]]\npull_axis = [0, 0, 0]", "leg 1 › pull_axis: [0, 0, 0] is no direction"),
        ("[[lift]]\nid = 'l'\ntitle = 'L'\n[lift.spigot]\naxis = [0, 0.0, 0]", "spigot › axis: [0, 0, 0] is no direction"),
        ("[[lift]]\nid = 'l'\ntitle = 'L'\nminimum_angle = '91 deg'", "must be at most 90 deg"),
        ("[[lift]]\nid = 'l'\ntitle = 'L'\n[[lift.leg]]\nchoke_angle = '-1 deg'", "must be at least 0"),
        ("[[insertion]]\nid = 'i'\ntitle = 'I'\nfriction = [0.2, 0.1]", "the low value comes first"),
    ],
)  # fmt: skip
def test_impossible_elsewhere(text: str, words: str) -> None:
    found = [str(problem) for problem in read_text(PLAN + text).problems]
    assert len(found) == 1, found
    assert words in found[0]
