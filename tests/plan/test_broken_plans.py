"""Every mistake of a plan is named at once, with its place, line and what to write."""

from __future__ import annotations

import pytest

from splitline.plan.read import read_text

HEAD = 'format = 1\n[plan]\ntitle = "x"\n'
JOINT = HEAD + '[[joint]]\nid = "a"\ntitle = "A"\n'
STUD = JOINT + '[joint.bolting]\nkind = "stud"\n'


def said(text: str) -> list[str]:
    return [str(problem) for problem in read_text(text).problems]


ONE = [
    (STUD + 'clamp_length = "268 bar"', 'line 9: joint "a" › bolting › clamp_length: "bar" measures a gauge pressure'),
    (STUD + 'clamp_length = "26,8 mm"', "use a point for decimals"),
    (STUD + 'clamp_length = "1 268 mm"', 'as in "1268 mm"'),
    (STUD + "clamp_length = 268", '268 has no unit: a length is written with one, as in "268 mm"'),
    (STUD + 'clamp_length = "0 mm"', '"0 mm" must be above 0'),
    (STUD + 'clamp_lenght = "268 mm"', 'clamp_lenght: unknown key; did you mean "clamp_length"?'),
    (STUD + 'pressure = "60 bar"', "unknown key here; it belongs in [[joint.case]] or [[joint.zone]]"),
    (STUD + 'colour = "red"', "unknown key; known here: thread, grade"),
    (STUD + "thread = {}", "a table is not a text"),
    (STUD + "thread = 48", "48 is not a text: write it in quotes"),
    (STUD + 'thread = "M48x30"', 'nearest: M48x5, M48x4, M48x3'),
    (STUD + 'thread = "1 3/4-999UN"', "nearest: 1 3/4-"),
    (STUD + 'thread = "48"', "metric"),
    (STUD + 'grade = "ASTM A193 B77"', 'nearest: "ASTM A193 B7"'),
    (STUD + 'left_hand = "yes"', "neither true nor false"),
    (JOINT + '[joint.bolting]\nkind = "Studs"', 'did you mean "stud"?'),
    (JOINT + '[joint.bolting]\nthread = "M48x3"', "kind: missing: add it, as in kind = \"stud\" (stud, through-stud,"),
    (JOINT + 'bolting = "M48x3"', "a table is wanted here, not a value: write [joint.bolting]"),
    (JOINT + '[joint.case]\nname = "design"', "a list of tables is wanted here: write [[joint.case]]"),
    (JOINT + "case = [1]", "case entry 1: a table is wanted here: write [[joint.case]]"),
    (JOINT + "[[joint.bolting]]\nkind = 'stud'", "a table is wanted here, not a value: write [joint.bolting]"),
    (JOINT + '[[joint.case]]\npressure = "60 bar"', "case 1 › name: missing: add it, as in name"),
    (JOINT + '[[joint.case]]\nname = "hot"\npressure = 60', 'case "hot" › pressure: 60 has no unit'),
    (JOINT + '[joint.layout]\nshape = "circle"\nbolts = 2', "2 must be at least 3 and at most 400"),
    (JOINT + '[joint.layout]\nshape = "circle"\nbolts = 401', "401 must be at most 400"),
    (JOINT + '[joint.layout]\nshape = "circle"\nbolts = 24.0', "24.0 is not a whole number"),
    (JOINT + '[joint.layout]\nshape = "circle"\nside_a = ["0 mm", "1 mm"]', "side_a belongs to shape split-line"),
    (JOINT + '[joint.target]\npreload = "5 kN"\ntorque = "5 N*m"', "only one target can stand; preload and torque are given"),
    (JOINT + "[joint.friction]\nthread = 0.005", "0.005 must be at least 0.01 and at most 1"),
    (JOINT + '[joint.friction]\nthread = "0.12"', "write it without quotes: 0.12"),
    (JOINT + "[joint.friction]\nthread = nan", "not a finite number"),
    (JOINT + '[joint.friction]\nlubricant = "mollybdenum paste"', "nearest:"),
    (JOINT + '[joint.tightening]\nmethod = "turn"\npasses = [0.3, 1.5]', "passes: entry 2: 1.5 must be at most 1.2"),
    (JOINT + '[joint.tightening]\nmethod = "turn"\ntools_together = 3', "3 is not one of 1, 2, 4"),
    (JOINT + '[joint.tightening]\nmethod = "turn"\ngauge_step = "5 mm"', 'write "5 bar" or "5 N*m"'),
    (
        JOINT + '[joint.tightening]\nmethod = "turn"\n[joint.tightening.tool]\ncalibration_due = "2027-03-01"',
        "line 10: joint \"a\" › tightening › tool 1 › calibration_due: \"2027-03-01\" is not a date",
    ),
    (HEAD + '[[lift]]\nid = "l"\ntitle = "L"\n[[lift.part]]\nmass = "3 ton"', 'write "t" for 1000 kg'),
    (HEAD + '[[lift]]\nid = "l"\ntitle = "L"\n[[lift.part]]\nat = ["0 mm", "0 mm"]', "2 values: wanted is a point"),
    (HEAD + '[[lift]]\nid = "l"\ntitle = "L"\n[[lift.part]]\nat = "unknwon"', 'did you mean "unknown"?'),
    (HEAD + '[[lift]]\nid = "l"\ntitle = "L"\n[[lift.leg]]\npick = ["0 mm", 3, "1 mm"]', "entry 2: 3 has no unit"),
    (HEAD + '[[lift]]\nid = "l"\ntitle = "L"\n[[lift.leg]]\nbeam_point = 1', "beam_point needs a [lift.spreader]"),
    (HEAD + '[[fit]]\nid = "f"\ntitle = "F"\ntaper = "30"', 'write it as "1:30"'),
    (HEAD + '[[fit]]\nid = "f"\ntitle = "F"\nshaft_diameter = "160 mm"\nhub_outer = "150 mm"', "hub_outer must be more than"),
    (HEAD + '[[window]]\nid = "w"\ntitle = "W"\nfrom_ = "a.done"', 'did you mean "from"?'),
    (HEAD + '[[window]]\nid = "w"\ntitle = "W"\nfrom = "a.end"', "is not a moment"),
    (HEAD + '[[clearance]]\nid = "c"\ntitle = "C"', "kind: missing: add it, as in kind"),
    (HEAD + '[[joint]]\nid = "Big One"\ntitle = "A"', "is not an id: lower-case letters, digits and hyphens"),
    (HEAD + '[[joint]]\ntitle = "A"', "joint 1 › id: missing: add it, as in id"),
    (HEAD + '[joint]\nid = "a"\ntitle = "A"', "there can be several: write [[joint]]"),
    (HEAD + '[[jiont]]\nid = "a"', 'jiont: unknown; did you mean "joint"?'),
    ('[plan]\ntitle = "x"', "format: missing: add format = 1"),
    ("format = 1", 'plan: missing: add [plan] with title = "..."'),
    ("format = 1\n[plan]", 'plan › title: missing: add it, as in title = '),
    ('format = "1"\n[plan]\ntitle = "x"', "write format = 1"),
    ("format = 0\n[plan]\ntitle = 'x'", "write format = 1"),
    ("format = 1\nplan = 3", "a table is wanted here: write [plan]"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), ONE)
def test_one_mistake_one_sentence(text: str, words: str) -> None:
    found = said(text)
    assert len(found) == 1, found
    assert words in found[0]


def test_seven_mistakes_at_once_each_with_its_line() -> None:
    text = (
        STUD
        + """\
thread = "M48y3"
clamp_length = "268"
grad = "ASTM A193 B7"
[joint.layout]
shape = "circel"
[joint.tightening]
method = "hydraulic wrench"
passes = [0.3, 1,5]
order = "crosswise"
[[step]]
id = "s"
joint = "b"
"""
    )
    problems = read_text(text).problems
    assert [problem.line for problem in problems] == [9, 10, 11, 13, 16, 17, 20]
    assert [problem.where for problem in problems][:3] == [
        'joint "a" › bolting › thread', 'joint "a" › bolting › clamp_length', 'joint "a" › bolting › grad',
    ]  # fmt: skip
    assert [problem.path for problem in problems][-1] == ("step", 0, "joint")


def test_mistakes_between_fields_show_beside_mistakes_in_fields() -> None:
    found = said(STUD + 'clamp_length = 3\n[joint.target]\npreload = "1 kN"\ntorque = "1 N*m"\n[joint.layout]\nshape = "circle"\n'
                 'bolts = 8\n[joint.acceptance]\nmeasured_bolts = [9]\ngap_max = 1')  # fmt: skip
    assert len(found) == 4
    assert any("only one target" in each for each in found)
    assert any("bolt 9 does not exist (there are 8)" in each for each in found)


def test_an_item_with_a_mistake_stays_out_of_the_plan_and_the_others_are_in() -> None:
    draft = read_text(STUD + 'thread = 3\n[[joint]]\nid = "b"\ntitle = "B"\n')
    assert [joint.id for joint in draft.plan.joints] == ["b"]
    assert draft.item("joint", 0) is None
    assert draft.item("joint", 1) is draft.plan.joints[0]
    assert [problem.path for problem in draft.item_problems("joint", 0)] == [("joint", 0, "bolting", "thread")]
    assert draft.problem_at(("joint", 0, "bolting", "thread")) is not None


def test_a_heading_with_a_mistake_keeps_what_reads() -> None:
    plan = read_text('format = 1\n[plan]\ntitle = 7\nmachine = "K-1"\ndisplay = "imperial"').plan
    assert (plan.info.title, plan.info.machine, plan.info.display) == ("", "K-1", None)


def test_the_same_mistake_is_said_once() -> None:
    text = HEAD + '[[item]]\nid = "i"\ntitle = "I"\nused_in = ["zz", "zz"]\n'
    assert len(said(text)) == 1
